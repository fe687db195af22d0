import type { Context, Outcome } from '../app/context.ts'
import { airWord } from '../app/instruments.ts'
import type { Practiced } from '../app/now.ts'
import { pieceJson, type Repertoire, repertoireNow } from '../app/repertoire-rows.ts'
import { type BreathLimit, breathLimit } from '../click/air.ts'
import { longestClean } from '../ladder/history.ts'
import { sectionKey } from '../ladder/key.ts'
import { measureName } from '../music/place.ts'
import { goalText, spoken, type Tempo } from '../music/tempo.ts'
import {
  type AirWord,
  adviceText,
  type BreathMusic,
  breathAdvice,
  breathes,
  breathText,
  oneBreath,
  parseCapacity,
  partOf,
  tenths,
} from '../repertoire/breath-advice.ts'
import { wordsOf } from '../repertoire/change-list.ts'
import { PASSAGE } from '../repertoire/fields.ts'
import { findPiece } from '../repertoire/find-piece.ts'
import type { ListKey } from '../repertoire/lists.ts'
import { isOpen, type Passage, type Piece, type Section } from '../repertoire/piece.ts'
import type { LadderRow, PassageRow } from '../screens/home/row.ts'
import { inOneLine } from '../screens/home/words.ts'
import { openSettings } from '../store/settings.ts'
import { ifSaid, must } from './command.ts'
import type { Typed } from './commands.ts'

/** A passage or section with its music, and ceilings from before that changed and its history began anew. */
type Unit = { readonly row: LadderRow; readonly part: BreathMusic; readonly earlier: readonly Tempo[] }

const unitOf = (all: Practiced, row: LadderRow, p: Passage, s: Section | null): Unit => ({
  row,
  part: partOf(p, s),
  earlier: ((s ?? p).was ?? []).flatMap(id => all.of(sectionKey(id))?.ceiling ?? []),
})

/** What is said of breath or bow: seconds that the player can, and the longest that was done clean. */
type PlayerBreath = {
  readonly word: AirWord | null
  readonly said: number | null
  readonly done: number | null
}

/** The same limit as on the practice screen: what was done clean counts where places to breathe are marked. */
const limitOf = ({ part }: Unit, { word, said, done }: PlayerBreath): BreathLimit | null =>
  breathLimit(said ?? undefined, word && breathes(part.whole.form) ? done : null)

/** Seconds in one breath at the goal and where the next visit begins, and what to do where that is too much. */
const breathLines = (u: Unit, player: PlayerBreath): readonly string[] => {
  const { part } = u
  const { next } = u.row
  const { word, done } = player
  const limit = limitOf(u, player)
  if (word === null || (limit === null && !breathes(part.form))) return []
  const tempos = [part.goal, ...(next ? [next] : [])]
  const seconds = tempos.map(t => `${breathText(oneBreath(part, t))} at ${spoken(t)}`)
  const advice = tempos.flatMap(t => {
    const a = limit && breathAdvice(part, t, limit, word)
    return a ? [`too long for one ${word}: ${adviceText(a, t, limit)}`] : []
  })
  return [
    `in one ${word} ${seconds.join(', ')}${done === null ? '' : `; longest done clean ${tenths(done)} s`}`,
    ...advice,
  ]
}

const earlierLine = (u: Unit): readonly string[] =>
  u.earlier.length > 0 ? [`before its music changed: ceiling ${u.earlier.map(spoken).join(', ')}`] : []

const listLine = (label: string, key: ListKey, p: Passage): readonly string[] =>
  p[key] ? [`${label}: ${wordsOf(key, p).join('; ')}`] : []

const labelled = (label: string, value: string | undefined): readonly string[] =>
  value === undefined ? [] : [`${label} ${value}`]

const sectionLines = (u: Unit, air: PlayerBreath): readonly string[] => {
  const { place, next, finding, ceiling, goal, top, open } = u.row
  const numbers = [
    next === null ? '' : `next ${finding ? 'about' : 'from'} ${spoken(next)}`,
    ceiling === null ? 'no ceiling yet' : `ceiling ${spoken(ceiling)}`,
    goalText(goal, top, open),
  ]
  return [
    `${place}: ${numbers.filter(Boolean).join(', ')}`,
    ...[...earlierLine(u), ...breathLines(u, air)].map(line => `  ${line}`),
  ]
}

type PassageShown = {
  readonly row: PassageRow
  readonly passage: Passage
  readonly unit: Unit
  readonly sections: readonly (readonly [Section, Unit])[]
}

const inFull = (
  { row: r, passage: p, unit, sections }: PassageShown,
  today: string,
  air: PlayerBreath,
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
    ...labelled('clicks per beat', p.subdivide),
    ...labelled('beats that click', p.beats),
    ...(p.on === undefined ? [] : labelled('measures that click', `${p.on}, off ${p.off}`)),
    ...labelled('rests before the entrance', p.rests === undefined ? undefined : String(p.rests)),
    ...labelled(PASSAGE.matters.label, p.matters),
    ...labelled('hard:', p.hard),
    ...(p.whole ? ['whole part: cut it with piece split'] : []),
    ...(r.note === '' ? [] : [r.note]),
    ...(r.join ? [`${r.join.says}: gradino practice "${r.join.name}"`] : []),
    ...sections.flatMap(([, u]) => sectionLines(u, air)),
  ].map(line => `    ${line}`),
]

const unitJson = (u: Unit, player: PlayerBreath) => {
  const limit = limitOf(u, player)
  const { goal, ceiling, next, finding } = u.row
  const each = <V>(f: (t: Tempo) => V) => ({ goal: f(goal), next: next && f(next) })
  return {
    goal,
    ceiling,
    next,
    finding,
    earlier: u.earlier,
    breath: each(t => oneBreath(u.part, t)),
    ...(limit && { tooLong: each(t => breathAdvice(u.part, t, limit, player.word ?? 'breath')) }),
  }
}

const pieceLine = (p: Piece): readonly string[] => {
  const said = [
    ...labelled('ready by', p.readyBy),
    ...labelled('concert', p.concert),
    ...labelled('goals:', isOpen(p) ? 'open, the rehearsal will say' : p.sure),
  ]
  return said.length > 0 ? [`  ${said.join(', ')}`] : []
}

const shownOf = ({ practiced, rows }: Repertoire, p: Passage): readonly PassageShown[] => {
  const row = rows.find(r => r.id === p.id)
  const sections = (p.sections ?? []).flatMap((s, i) => {
    const own = row?.sections[i]
    return own ? [[s, unitOf(practiced, own, p, s)] as const] : []
  })
  return row ? [{ row, passage: p, unit: unitOf(practiced, row, p, null), sections }] : []
}

/** Some passages of a piece with all that is known of them, as lines and as data. `asked`: seconds of one breath. */
export const pieceShown = async (
  ctx: Context,
  now: Repertoire,
  piece: Piece,
  ids: readonly string[],
  asked: number | null,
) => {
  const settings = (await openSettings(ctx.home, ctx.clock.wall)).now()
  const done = longestClean(now.practiced.visits)
  const air = { word: airWord(settings), said: asked ?? settings.breath ?? null, done }
  const passages = piece.passages.filter(p => ids.includes(p.id))
  const shown = passages.flatMap(p => shownOf(now, p))
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
      longestClean: done,
      passages: json.passages.map((j, i) => {
        const s = shown[i]
        if (!s) return j
        const lists = ['changes', 'tempos', 'breaths', 'rhythms', 'rehearsals'] as const
        const { goal: _, ceiling: __, next: ___, finding: ____, ...unit } = unitJson(s.unit, air)
        return {
          ...j,
          ...unit,
          numbers: s.unit.part.whole.numbers,
          order: s.unit.part.whole.numbers.map((_, i, all) => measureName(all, i)),
          ...Object.fromEntries(lists.map(key => [key, s.passage[key] ?? []])),
          guide: s.passage.guide ?? null,
          notes: s.passage.notes?.length ?? 0,
          sections: s.sections.map(([section, u]) => ({
            id: section.id,
            name: section.name,
            from: section.from,
            to: section.to,
            ...unitJson(u, air),
          })),
        }
      }),
    },
  }
}

/** A piece with all its passages, or one of them. */
export const pieceShowCommand = async (
  ctx: Context,
  name: string,
  t: Typed<'piece show'>,
): Promise<Outcome> => {
  const capacity = ifSaid(t.breathSeconds, parseCapacity) ?? null
  const now = await repertoireNow(ctx)
  const { in: kept, passage } = must(findPiece(now.kept, name, false, now.notes))
  const ids = passage ? [passage.id] : kept.piece.passages.map(p => p.id)
  return pieceShown(ctx, now, kept.piece, ids, capacity)
}
