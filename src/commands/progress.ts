import { isReady, secure } from '../ladder/ready.ts'
import { rungs } from '../ladder/rungs.ts'
import { decimal, toNumber } from '../music/fraction.ts'
import { inUnit, slower, spokenGoal, type Tempo, typed } from '../music/tempo.ts'
import { type Outlook, outlookOf } from '../plan/outlook.ts'
import { dayText } from '../screens/dates.ts'
import { staircase } from '../screens/progress/staircase.ts'
import { countedText, outlookText } from '../screens/progress/words.ts'
import { wrapped } from '../screens/today/wrap.ts'
import { findPiece } from '../store/find-piece.ts'
import { repertoire } from '../store/repertoire.ts'
import { type Context, must, type Outcome } from './context.ts'
import { known, todayOf } from './known.ts'
import { ceilingOf, type Part, partsOf, rungsAbove } from './works.ts'

const COLUMNS = 80

/** A section and what may be said of it. */
type Seen = {
  readonly part: Part
  readonly outlook: Outlook
  readonly ceiling: Tempo | null
  readonly secure: Tempo | null
  readonly ready: boolean
}

const seen = (part: Part, today: string): Seen => {
  const { goal, top } = part.music
  const ceiling = ceilingOf(part)
  return {
    part,
    ceiling,
    secure: secure(part.takes),
    ready: isReady(ceiling, goal, part.takes, top),
    outlook: outlookOf({
      days: part.log,
      goal,
      ceiling,
      rungs: rungsAbove(part),
      today,
      readyBy: part.readyBy,
    }),
  }
}

const bpmIn = (t: Tempo, goal: Tempo): number => toNumber(inUnit(t, goal.unit).bpm)

/** The rungs that the staircase stands on: from the first ceiling to the goal. */
const rungsOf = (part: Part): readonly number[] => {
  const { goal } = part.music
  const reached = part.log.flatMap(d => d.ceiling ?? [])
  const all = reached[0] ? rungs(slower(reached[0], goal), goal, { k: 'notch' }) : null
  return all?.ok ? all.value.map(t => toNumber(t.bpm)) : [bpmIn(goal, goal)]
}

const stairsLines = ({ part, outlook }: Seen, today: string): readonly string[] => {
  const { goal } = part.music
  const days = part.log.flatMap(d => (d.ceiling ? [{ day: d.day, ceiling: bpmIn(d.ceiling, goal) }] : []))
  if (days.length === 0) return []
  const ahead =
    outlook.k === 'early' || outlook.k === 'range' ? { low: outlook.low, high: outlook.high } : null
  return staircase({ days, rungs: rungsOf(part), today, readyBy: part.readyBy, ahead }, d =>
    dayText(d, today),
  )
}

const sum = (all: readonly number[]): number => all.reduce((a, b) => a + b, 0)

const countedOf = ({ part, secure: surest }: Seen) => ({
  days: part.log.length,
  minutes: sum(part.log.map(d => d.minutes)),
  clean: sum(part.log.map(d => d.clean)),
  verdicts: sum(part.log.map(d => d.verdicts)),
  takes: part.takes.length,
  cleanTakes: part.takes.filter(t => t.clean).length,
  secure: surest && decimal(inUnit(surest, part.music.goal.unit).bpm),
})

const title = (s: Seen): string => {
  const { piece, label, music } = s.part
  const ceiling = s.ceiling ? `ceiling ${decimal(inUnit(s.ceiling, music.goal.unit).bpm)}, ` : ''
  return `${piece.title}, ${label}: ${ceiling}goal ${spokenGoal(music.goal, music.top)}`
}

const sectionLines = (s: Seen, today: string): readonly string[] => [
  ...wrapped(title(s), COLUMNS, 2),
  ...stairsLines(s, today),
  ...wrapped(`  ${countedText(countedOf(s))}.`, COLUMNS, 2),
  ...wrapped(
    `  ${outlookText(s.outlook, today, s.part.readyBy, s.ready, s.part.music.top !== undefined)}`,
    COLUMNS,
    2,
  ),
]

const json = (s: Seen) => ({
  key: s.part.key,
  piece: s.part.piece.title,
  passage: s.part.passage.name,
  section: s.part.section?.name ?? null,
  goal: typed(s.part.music.goal),
  goalTop: s.part.music.top ? typed(s.part.music.top) : null,
  ceiling: s.ceiling && typed(s.ceiling),
  secure: s.secure && typed(s.secure),
  ready: s.ready,
  readyBy: s.part.readyBy,
  days: s.part.log.map(d => ({
    ...d,
    minutes: Math.round(d.minutes * 10) / 10,
    best: d.best && typed(d.best),
    ceiling: d.ceiling && typed(d.ceiling),
  })),
  coldTakes: s.part.takes.map(t => ({ ...t, tempo: typed(t.tempo) })),
  outlook: s.outlook,
})

const EMPTY = 'The repertoire is empty. A first passage: gradino piece add TITLE --in 41-44 --goal 120'

/** How each section climbed, and what may come: of all that is there, a piece, a passage or a section. */
export const progressCommand = async (ctx: Context, name: string | undefined): Promise<Outcome> => {
  const today = todayOf(ctx)
  const [all, { pieces: kept, notes: damaged }] = await Promise.all([known(ctx), repertoire(ctx.home).list()])
  const notes = [...damaged, ...all.notes]
  const found = name === undefined ? null : must(findPiece(kept, name, true))
  const asked = (p: Part): boolean =>
    !found ||
    (p.piece === found.in.piece &&
      (!found.passage || p.passage === found.passage) &&
      (!found.section || p.section === found.section))
  const parts = partsOf(
    all,
    kept.map(k => k.piece),
  )
    .filter(asked)
    .map(p => seen(p, today))
  const practiced = parts.filter(s => s.part.log.length > 0)
  // A passage whose sections are practiced is not missed as a whole.
  const untouched = parts.filter(
    s => s.part.log.length === 0 && (s.part.section || !s.part.passage.sections?.length),
  )
  const waiting =
    untouched.length === 0
      ? []
      : wrapped(
          `Not practiced yet: ${untouched.map(s => `${s.part.piece.title}, ${s.part.label}`).join('; ')}.`,
          COLUMNS,
          2,
        )
  return {
    lines: [
      ...(parts.length === 0 ? [EMPTY] : []),
      ...practiced.flatMap((s, i) => [...(i > 0 ? [''] : []), ...sectionLines(s, today)]),
      ...(practiced.length > 0 && waiting.length > 0 ? [''] : []),
      ...waiting,
      ...notes,
    ],
    json: { today, sections: parts.map(json), notes },
  }
}
