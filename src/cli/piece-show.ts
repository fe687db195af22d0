import { type Context, must, type Outcome } from '../app/context.ts'
import { type AirWord, airWord } from '../app/instruments.ts'
import { instantOf, type Known, known } from '../app/known.ts'
import { pieceJson, type Repertoire, repertoireNow } from '../app/repertoire-rows.ts'
import { longestClean } from '../ladder/air.ts'
import { sectionKey } from '../ladder/key.ts'
import { standing } from '../ladder/standing.ts'
import { measureName } from '../music/place.ts'
import { spoken, spokenGoal, type Tempo, typed } from '../music/tempo.ts'
import {
  adviceText,
  breathAdvice,
  breathes,
  breathText,
  type Music,
  oneBreath,
  parseCapacity,
  tenths,
} from '../repertoire/breath-advice.ts'
import { type ListKey, linesOf } from '../repertoire/entries.ts'
import { findPiece } from '../repertoire/find-piece.ts'
import { ladderOf, musicOf } from '../repertoire/ladder-of.ts'
import type { Passage, Piece, Section } from '../repertoire/piece.ts'
import type { Row } from '../screens/home/row.ts'
import { inOneLine } from '../screens/home/words.ts'
import { openSettings } from '../store/settings.ts'

/** `gradino piece show`, as typed. */
export type ShowTyped = { readonly breathSeconds?: string }

/** A passage or section with its ladder's numbers. */
type Unit = {
  readonly music: Music
  readonly ceiling: Tempo | null
  readonly next: Tempo | null
  readonly finding: boolean
  /** Ceilings from before its music changed and its history began anew. */
  readonly earlier: readonly Tempo[]
}

const unitOf = (ctx: Context, all: Known, p: Passage, s: Section | null): Unit => {
  const own = s ? [s] : []
  const { ceiling, next, finding } = standing(ladderOf(p, own), all, instantOf(ctx))
  return {
    music: { ...musicOf(p, own), ...(s ? { end: s.to } : {}) },
    ceiling,
    next,
    finding,
    earlier: ((s ?? p).was ?? []).flatMap(id => all.of(sectionKey(id))?.ceiling ?? []),
  }
}

/** What is said of breath or bow: seconds that the player can, and the longest that was done clean. */
type Air = { readonly word: AirWord | null; readonly capacity: number | null; readonly done: number | null }

/** Seconds in one breath at the goal and where the next visit begins, and what to do where that is too much. */
const breathLines = ({ music, next }: Unit, { word, capacity, done }: Air): readonly string[] => {
  const tempos = [music.goal, ...(next ? [next] : [])]
  const advice =
    capacity === null
      ? []
      : tempos.flatMap(t => {
          const a = breathAdvice(music, t, capacity)
          return a ? [`too long for one ${word}: ${adviceText(a, t, capacity)}`] : []
        })
  if (word === null || (capacity === null && !breathes(music.form))) return []
  return [
    `in one ${word} ${tempos.map(t => `${breathText(oneBreath(music, t))} at ${spoken(t)}`).join(', ')}${doneText(done)}`,
    ...advice,
  ]
}

const doneText = (done: number | null): string =>
  done === null ? '' : `; longest done clean ${tenths(done)} s`

const earlierLine = (u: Unit): readonly string[] =>
  u.earlier.length > 0 ? [`before its music changed: ceiling ${u.earlier.map(spoken).join(', ')}`] : []

const listLine = (label: string, key: ListKey, p: Passage): readonly string[] =>
  p[key]
    ? [
        `${label} ${linesOf(key, p)
          .map(l => l.text)
          .join('; ')}`,
      ]
    : []

const labelled = (label: string, value: string | undefined): readonly string[] =>
  value === undefined ? [] : [`${label} ${value}`]

const sectionLines = (u: Unit, s: Section, air: Air): readonly string[] => [
  `section ${s.name}, ${s.from} to ${s.to}: ${[
    u.next === null ? '' : `next ${u.finding ? `about ${spoken(u.next)}` : `from ${spoken(u.next)}`}`,
    u.ceiling === null ? 'no ceiling yet' : `ceiling ${spoken(u.ceiling)}`,
    `goal ${spokenGoal(u.music.goal, u.music.top)}`,
  ]
    .filter(Boolean)
    .join(', ')}`,
  ...[...earlierLine(u), ...breathLines(u, air)].map(line => `  ${line}`),
]

type Shown = {
  readonly row: Row
  readonly passage: Passage
  readonly unit: Unit
  readonly sections: readonly (readonly [Section, Unit])[]
}

const inFull = (
  { row: r, passage: p, unit, sections }: Shown,
  today: string,
  air: Air,
): readonly string[] => [
  '',
  `  ${r.place}`,
  ...[
    r.music,
    inOneLine(r, today),
    ...earlierLine(unit),
    ...(r.start ? [`start ${spoken(r.start)}`] : []),
    ...listLine('rehearsal marks', 'rehearsals', p),
    ...listLine('meter changes', 'changes', p),
    ...listLine('tempos', 'tempos', p),
    ...listLine('breaths and marks', 'breaths', p),
    ...breathLines(unit, air),
    ...labelled('running notes', p.run),
    ...(p.guide ? ['the guide taps the notes'] : []),
    ...listLine('rhythms', 'rhythms', p),
    ...labelled('tempos change from', p.tempoChanges),
    ...labelled('counted in', p.pulse),
    ...labelled('clicks to a beat', p.subdivide),
    ...labelled('beats that click', p.beats),
    ...(p.on === undefined ? [] : labelled('measures that click', `${p.on}, off ${p.off}`)),
    ...labelled('rests before the entry', p.rests === undefined ? undefined : String(p.rests)),
    ...labelled('heard as', p.exposure),
    ...(r.note === '' ? [] : [r.note]),
    ...(r.join ? [`${r.join.says}: gradino practice "${r.join.name}"`] : []),
    ...sections.flatMap(([s, u]) => sectionLines(u, s, air)),
  ].map(line => `    ${line}`),
]

const unitJson = (u: Unit, capacity: number | null) => {
  const tempos = { goal: u.music.goal, next: u.next }
  const each = <V>(f: (t: Tempo) => V) => ({ goal: f(tempos.goal), next: tempos.next && f(tempos.next) })
  return {
    goal: typed(u.music.goal),
    ceiling: u.ceiling && typed(u.ceiling),
    next: u.next && typed(u.next),
    finding: u.finding,
    earlier: u.earlier.map(typed),
    breath: each(t => oneBreath(u.music, t)),
    ...(capacity === null ? {} : { tooLong: each(t => breathAdvice(u.music, t, capacity)) }),
  }
}

const pieceLine = (p: Piece): readonly string[] => {
  const said = [
    ...labelled('ready by', p.readyBy),
    ...labelled('concert', p.concert),
    ...labelled('goals:', p.sure),
  ]
  return said.length > 0 ? [`  ${said.join(', ')}`] : []
}

const shownOf = (ctx: Context, all: Known, now: Repertoire, p: Passage): readonly Shown[] => {
  const row = now.rows.find(r => r.id === p.id)
  const sections = (p.sections ?? []).map(s => [s, unitOf(ctx, all, p, s)] as const)
  return row ? [{ row, passage: p, unit: unitOf(ctx, all, p, null), sections }] : []
}

/** Some passages of a piece with all that is known of them, as lines and as data. `asked`: seconds of one breath. */
export const pieceShown = async (
  ctx: Context,
  now: Repertoire,
  piece: Piece,
  ids: readonly string[],
  asked: number | null,
) => {
  const all = await known(ctx)
  const settings = (await openSettings(ctx.home, ctx.clock.wall)).now()
  const capacity = asked ?? settings.breath ?? null
  const done = longestClean(all.visits)
  const air = { word: airWord(settings), capacity, done }
  const passages = piece.passages.filter(p => ids.includes(p.id))
  const shown = passages.flatMap(p => shownOf(ctx, all, now, p))
  const json = pieceJson(now, piece, passages)
  return {
    lines: [
      piece.title,
      ...pieceLine(piece),
      ...(shown.length > 0 ? shown.flatMap(s => inFull(s, now.around.today, air)) : ['  no passage yet']),
      ...now.notes,
    ],
    json: {
      ...json,
      sure: piece.sure ?? null,
      longestClean: done,
      passages: json.passages.map((j, i) => {
        const s = shown[i]
        if (!s) return j
        const {
          changes = [],
          tempos = [],
          breaths = [],
          rhythms = [],
          rehearsals = [],
          notes = [],
        } = s.passage
        const { goal: _, ceiling: __, next: ___, finding: ____, ...unit } = unitJson(s.unit, capacity)
        return {
          ...j,
          ...unit,
          numbers: s.unit.music.numbers,
          order: s.unit.music.numbers.map((_, i, all) => measureName(all, i)),
          changes,
          tempos,
          breaths,
          rhythms,
          rehearsals,
          guide: s.passage.guide ?? null,
          notes: notes.length,
          sections: s.sections.map(([section, u]) => ({
            id: section.id,
            name: section.name,
            from: section.from,
            to: section.to,
            ...unitJson(u, capacity),
          })),
        }
      }),
    },
  }
}

/** A piece with all its passages, or one of them. */
export const pieceShowCommand = async (ctx: Context, name: string, t: ShowTyped): Promise<Outcome> => {
  const capacity = t.breathSeconds === undefined ? null : must(parseCapacity(t.breathSeconds))
  const now = await repertoireNow(ctx)
  const { in: kept, passage } = must(findPiece(now.kept, name, false, now.notes))
  const ids = passage ? [passage.id] : kept.piece.passages.map(p => p.id)
  return pieceShown(ctx, now, kept.piece, ids, capacity)
}
