import { BREATH_KINDS, type BreathKind, MAY_WAIT, ONLY_THESE_WAIT } from '../music/form.ts'
import { meterText, parseMeter } from '../music/meter.ts'
import { noteValueName, parseLength } from '../music/note-value.ts'
import { ok, printable, problem, type Result } from '../music/result.ts'
import { parseRhythm } from '../music/rhythm.ts'
import { parseTempo, typed } from '../music/tempo.ts'
import type { Passage } from './piece.ts'

/** The lists of a passage that are typed entry by entry. */
export const LISTS = ['rehearsals', 'changes', 'tempos', 'breaths', 'rhythms', 'sections'] as const
export type ListKey = (typeof LISTS)[number]
export type Entry<K extends ListKey> = NonNullable<Passage[K]>[number]

/** What reading an entry needs from outside: an id for a new section, and which rhythms have a name. */
export type Sources = { readonly newId: () => string; readonly isRhythm: (name: string) => boolean }

type Kind<E> = {
  /** What one of them is called. */
  readonly label: string
  /** Entries at one place, or of one name, are the same one; marks also differ by their kind. */
  readonly by: 'place' | 'name'
  readonly known: (e: E) => string
  readonly sort?: (e: E) => string
  /** What `read` reads: as the player types it. */
  readonly text: (e: E) => string
  /** `old` is the entry that it replaces. */
  readonly read: (s: string, field: string, from: Sources, old: E | undefined) => Result<E>
}

/** "43=3/4" in two at its first =; null without one. */
const parts = (s: string): readonly [string, string] | null => {
  const at = s.indexOf('=')
  return at < 0 ? null : [s.slice(0, at).trim(), s.slice(at + 1).trim()]
}

const REHEARSAL = 'the place and the mark that is printed there, as 43=C'
const rehearsals: Kind<Entry<'rehearsals'>> = {
  label: 'rehearsal mark',
  by: 'place',
  known: r => r.at,
  text: r => `${r.at}=${r.text}`,
  read: (s, field) => {
    const two = parts(s)
    return two && two[0] !== '' && two[1] !== ''
      ? ok({ at: two[0], text: two[1] })
      : problem(field, s, REHEARSAL)
  },
}

const CHANGE = 'the measure and its meter, as 43=3/4'
const changes: Kind<Entry<'changes'>> = {
  label: 'change',
  by: 'place',
  known: c => c.at,
  text: c => `${c.at}=${c.meter}`,
  read: (s, field) => {
    const two = parts(s)
    if (!two) return problem(field, s, CHANGE)
    const meter = parseMeter(two[1], field)
    return meter.ok ? ok({ at: two[0], meter: meterText(meter.value) }) : meter
  },
}

const TEMPO = 'the place and its tempo, as 43=half=66, and "ramp" behind it where it slides to the next one'
const tempos: Kind<Entry<'tempos'>> = {
  label: 'tempo',
  by: 'place',
  known: t => t.at,
  text: t => t.at + (t.tempo === '' ? '' : `=${t.tempo}`) + (t.ramp ? ' ramp' : ''),
  read: (s, field) => {
    const steady = s.replace(/\s+ramp$/, '')
    const ramp = steady === s ? {} : { ramp: true }
    const two = parts(steady)
    // A ramp may begin at the tempo that runs there; which one that is, the whole passage says.
    if (!two) return steady === s ? problem(field, s, TEMPO) : ok({ at: steady.trim(), tempo: '', ...ramp })
    const tempo = parseTempo(two[1], field)
    return tempo.ok ? ok({ at: two[0], tempo: typed(tempo.value), ...ramp }) : tempo
  },
}

const SLOW = 'slow'
const WAITS = 'waits'
const kindNamed = (word: string): BreathKind | null =>
  word === SLOW ? 'slow-breath' : (BREATH_KINDS.find(k => k === word) ?? null)

/** Kinds that may take time of their own. */
const ADDING: readonly BreathKind[] = ['slow-breath', 'caesura', 'fermata']

const BREATH = `a place, as 42.4; behind it ${BREATH_KINDS.join(', ').replace('slow-breath', SLOW)}; adds=half, below=96, ${WAITS}, and last word=and what it says`

/** What stands behind a mark's place: its kind, and what is said with "=". */
const marked = (
  rest: readonly string[],
): { kind: BreathKind; said: ReadonlyMap<string, string>; waits: boolean } | null => {
  const [first] = rest
  const kind = first === undefined ? 'breath' : kindNamed(first)
  const said = new Map<string, string>()
  const words = rest.slice(kind && first !== undefined ? 1 : 0)
  for (const word of words.filter(w => w !== WAITS)) {
    const two = parts(word)
    if (!two || !['adds', 'below'].includes(two[0]) || said.has(two[0])) return null
    said.set(two[0], two[1])
  }
  return { kind: kind ?? 'breath', said, waits: words.includes(WAITS) }
}

const breaths: Kind<Entry<'breaths'>> = {
  label: 'breath',
  by: 'place',
  known: b => b.at,
  sort: b => b.kind,
  text: b =>
    [
      b.at,
      b.kind === 'breath' ? '' : b.kind === 'slow-breath' ? SLOW : b.kind,
      b.below === undefined ? '' : `below=${b.below}`,
      b.adds === undefined ? '' : `adds=${b.adds}`,
      b.waits ? WAITS : '',
      b.word === undefined ? '' : `word=${b.word}`,
    ]
      .filter(Boolean)
      .join(' '),
  read: (s, field) => {
    const [, head = s, word] = /^(.*?)(?:\s+word=(.*))?$/s.exec(s) ?? []
    const [at = '', ...rest] = head.trim().split(/\s+/)
    const mark = marked(rest)
    if (!mark || at === '' || word?.trim() === '') return problem(field, s, BREATH)
    const { kind, said, waits } = mark
    const [adds, below] = [said.get('adds'), said.get('below')]
    if (adds !== undefined && !ADDING.includes(kind))
      return problem(
        `${field}, adds`,
        adds,
        'nothing here: only slow breaths, caesuras and fermatas add time',
      )
    if (below !== undefined && kind !== 'slow-breath')
      return problem(`${field}, below`, below, 'nothing here: only a slow breath is taken below a tempo')
    if (waits && !MAY_WAIT.includes(kind)) return problem(`${field}, ${WAITS}`, kind, ONLY_THESE_WAIT)
    const length = adds === undefined ? null : parseLength(adds, `${field}, adds`)
    const tempo = below === undefined ? null : parseTempo(below, `${field}, below`)
    if (length && !length.ok) return length
    if (tempo && !tempo.ok) return tempo
    if (kind === 'slow-breath' && !tempo)
      return problem(`${field}, below`, '', 'the tempo below which it is taken, as 43 slow below=96')
    return ok({
      at,
      kind,
      ...(length ? { adds: noteValueName(length.value) } : {}),
      ...(tempo ? { below: typed(tempo.value) } : {}),
      ...(waits ? { waits } : {}),
      ...(word === undefined ? {} : { word: word.trim() }),
    })
  },
}

const RHYTHM = 'the name of a rhythm, as long-short, or its ratios, as 3:1'
const rhythms: Kind<Entry<'rhythms'>> = {
  label: 'rhythm',
  by: 'name',
  known: r => r,
  text: r => r,
  read: (s, field, from) => {
    if (/^\d/.test(s)) {
      const read = parseRhythm(s, field)
      return read.ok ? ok(read.value.name) : read
    }
    return from.isRhythm(s) ? ok(s) : problem(field, s, RHYTHM)
  },
}

const SECTION = 'its name and its two places, as 2=43 to 44.2'
const sections: Kind<Entry<'sections'>> = {
  label: 'section',
  by: 'name',
  known: s => s.name,
  text: s => `${s.name}=${s.from} to ${s.to}`,
  read: (s, field, from, old) => {
    const m = /^(.+)=\s*(\S+)\s+to\s+(\S+)$/.exec(s)
    const [name, first, last] = [m?.[1]?.trim(), m?.[2], m?.[3]]
    return name && first && last
      ? ok({ ...old, id: old?.id ?? from.newId(), name, from: first, to: last })
      : problem(field, s, SECTION)
  },
}

export const KINDS: { readonly [K in ListKey]: Kind<Entry<K>> } = {
  rehearsals,
  changes,
  tempos,
  breaths,
  rhythms,
  sections,
}

/** An entry as typed; `of` is the place in the list before of the one that it was, where it was there. */
export type Line = { readonly text: string; readonly of?: number }

/** A list as lines. */
export const linesOf = <K extends ListKey>(key: K, p: Passage): readonly Line[] =>
  (p[key] ?? []).map((e, of) => ({ text: textOf(key, e), of }))

/** An entry as its line shows it. */
export const textOf = <K extends ListKey>(key: K, e: Entry<K>): string => printable(KINDS[key].text(e))

/** A list from its lines; what was not touched stays as it was, with everything that it may hold besides. */
export const readLines = <K extends ListKey>(
  key: K,
  lines: readonly Line[],
  before: Passage,
  from: Sources,
): Result<readonly Entry<K>[]> => {
  const kind: Kind<Entry<K>> = KINDS[key]
  const all: Entry<K>[] = []
  for (const [i, { text, of }] of lines.entries()) {
    const old: Entry<K> | undefined = of === undefined ? undefined : before[key]?.[of]
    const same = old !== undefined && textOf(key, old) === text
    const read = same ? ok(old) : kind.read(text.trim(), `${kind.label} ${i + 1}`, from, old)
    if (!read.ok) return read
    all.push(read.value)
  }
  return ok(all)
}
