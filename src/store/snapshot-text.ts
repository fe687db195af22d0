import type { Last, Visit } from '../ladder/history.ts'
import type { Tempo } from '../music/tempo.ts'
import { type FileSummary, hashOf, type VisitRow } from './file-summary.ts'
import { RECORD_VERSION } from './log.ts'
import { KIND_NAMES } from './record.ts'

/** Raised whenever the same lines would come to another summary than before. */
export const SNAPSHOT_VERSION = 4

/** The first line: by whom this was written, for which lines, and the hash of the rest. */
const heading = (body: string): string =>
  `gradino snapshot ${SNAPSHOT_VERSION} ${RECORD_VERSION} ${KIND_NAMES.join(',')} ${hashOf(body)}`

type PackedLast = readonly [tempo: number, slipped: 0 | 1, time: string, offset: number]
type PackedVisit = readonly [
  key: number,
  time: string,
  offset: number,
  clean: number,
  verdicts: number,
  played: number,
  seconds: number,
  ceiling: number,
  goal: 0 | 1,
  last: PackedLast | null,
  rule: number,
  /** Place and tempo of each. */
  stops: readonly number[],
  /** Seconds; 0 = none. */
  air: number,
]
type PackedRow = readonly [id: string, events: number, lines: string, visit: PackedVisit | null]
type Packed = {
  /** Keys, rules and places. */
  readonly words: readonly string[]
  readonly tempos: readonly Tempo[]
  readonly files: readonly (Omit<FileSummary, 'rows'> & { readonly rows: readonly PackedRow[] })[]
}

/** Things that come again and again, by their place in a list. */
const list = <T>(label: (one: T) => string) => {
  const places = new Map<string, number>()
  const all: T[] = []
  return {
    all,
    place: (one: T): number => {
      const known = places.get(label(one))
      if (known !== undefined) return known
      places.set(label(one), all.length)
      return all.push(one) - 1
    },
  }
}

const bit = (b: boolean): 0 | 1 => (b ? 1 : 0)

/** What stands in the snapshot file. */
export const snapshotText = (files: readonly FileSummary[]): string => {
  const words = list<string>(word => word)
  const tempos = list<Tempo>(t => `${t.unit.n}/${t.unit.d} ${t.bpm.n}/${t.bpm.d}`)
  const last = (l: Last): PackedLast => [tempos.place(l.tempo), bit(l.slipped), l.time, l.offset]
  const visit = (v: Visit): PackedVisit => [
    words.place(v.key),
    v.time,
    v.offset,
    v.clean,
    v.verdicts,
    v.played,
    v.seconds,
    v.ceiling ? tempos.place(v.ceiling) : -1,
    bit(v.goal),
    v.last && last(v.last),
    words.place(v.rule),
    v.stops.flatMap(s => [words.place(s.place), tempos.place(s.tempo)]),
    v.air ?? 0,
  ]
  const row = (r: VisitRow): PackedRow => [r.id, r.events, r.lines, r.visit && visit(r.visit)]
  const packed: Packed = {
    files: files.map(f => ({ ...f, rows: f.rows.map(row) })),
    words: words.all,
    tempos: tempos.all,
  }
  const body = JSON.stringify(packed)
  return `${heading(body)}\n${body}\n`
}

const pairs = (all: readonly number[]): readonly (readonly [number, number])[] =>
  all.flatMap((one, i) => (i % 2 === 0 ? [[one, all[i + 1] as number] as const] : []))

const unpack = ({ files, words, tempos }: Packed): readonly FileSummary[] => {
  const last = ([tempo, slipped, time, offset]: PackedLast): Last => ({
    tempo: tempos[tempo] as Tempo,
    slipped: slipped === 1,
    time,
    offset,
  })
  const row = ([id, events, lines, v]: PackedRow): VisitRow => {
    if (!v) return { id, events, lines, visit: null }
    const [key, time, offset, clean, verdicts, played, seconds, ceiling, goal, stopped, rule, stops, air] = v
    const visit: Visit = {
      id,
      key: words[key] as string,
      time,
      offset,
      clean,
      verdicts,
      played,
      seconds,
      ceiling: tempos[ceiling] ?? null,
      goal: goal === 1,
      last: stopped && last(stopped),
      rule: words[rule] as string,
      stops: pairs(stops).map(([place, at]) => ({
        place: words[place] as string,
        tempo: tempos[at] as Tempo,
      })),
      air: air === 0 ? null : air,
    }
    return { id, events, lines, visit }
  }
  return files.map(f => ({ ...f, rows: f.rows.map(row) }))
}

/**
 * The files of a snapshot; null when this program did not write it, or wrote it otherwise than it would now, or it is
 * damaged: its hash vouches for the rest. Never throws.
 */
export const parseSnapshot = (text: string): readonly FileSummary[] | null => {
  const end = text.indexOf('\n')
  const body = text.slice(end + 1, -1)
  if (text.slice(0, end) !== heading(body)) return null
  return unpack(JSON.parse(body) as Packed)
}
