import type { Command } from 'commander'
import type { Up } from '../ladder/event.ts'
import { DEFAULT_RULES, parseUp } from '../ladder/rules.ts'
import { parseStep, type Step } from '../ladder/rungs.ts'
import { FIND_FROM, markBelow } from '../ladder/start.ts'
import { compare, type Frac } from '../music/fraction.ts'
import { type Meter, measureLength, meterText, parseMeter } from '../music/meter.ts'
import { parseNoteValue } from '../music/note-value.ts'
import { ok, problem, type Result } from '../music/result.ts'
import { compareTempo, parseTempo, type Tempo, typed } from '../music/tempo.ts'
import type { Fast } from '../visit/fast.ts'
import type { LadderPreset } from '../warm-up/preset.ts'

/** The options that several commands share, as typed. */
export type Typed = {
  readonly start?: string
  readonly goal?: string
  readonly step?: string
  readonly rungs?: string
  readonly clean?: string
  readonly meter?: string
  readonly measures?: string
  readonly pickup?: string
  readonly countIn?: string
  readonly subdivide?: string
  readonly after?: string
  readonly output?: string
  readonly rhythm?: string
  readonly run?: string
  readonly guide?: string
  readonly pulse?: string
  readonly beats?: string
  readonly on?: string
  readonly off?: string
  readonly rests?: string
  readonly tempoChanges?: string
  readonly freeRitardando?: boolean
  readonly seam?: string
  readonly take?: string
  readonly end?: string
  readonly down?: boolean
  readonly rules?: string
  readonly rest?: string
  readonly keys?: string
  readonly slowFast?: string | true
}

export const withLadder = (c: Command): Command =>
  c
    .option('--start <tempo>', 'first tempo: 60, or dotted-quarter=60')
    .option('--goal <tempo>', 'goal tempo: 120, or dotted-quarter=80')
    .option('--step <step>', 'notch (the traditional scale), 4% or +4')
    .option('--rungs <number>', 'so many rungs in equal ratio, start and goal included')
    .option('--down', 'a ladder that leads down, from a faster start to a slower goal')

export const withMusic = (c: Command): Command =>
  c
    .option('--meter <meter>', '4/4, 6/8, 2+2+3/8 ...')
    .option('--measures <number>', 'measures of the passage')
    .option('--pickup <note value>', 'note value before the first bar line')
    .option('--count-in <measures>', 'measures of count-in')
    .option('--subdivide <number>', 'clicks to a beat; else 2 (3 to a dotted one) while it is slow')
    .option('--pulse <note value>', 'the note value that is counted: half, or "quarter; half from 100"')
    .option('--beats <numbers>', 'click on these beats only: 2,4, or "all; 1 from 112"')
    .option('--on <measures>', 'click so many measures, with --off: 2, or "all; 2 from 126"')
    .option('--off <measures>', 'then so many without')
    .option('--rests <measures>', 'counted rests before the entry, with --take entry')
    .option('--tempo-changes <when>', 'played from a share of the goal on: 60% (else 80%), or always')
    .option('--free-ritardando', 'no click while the tempo slows down')
    .option('--rhythm <name>', 'an altered rhythm by name or ratios: long-short, 3:1, 5:1:1:1/2')
    .option('--run <note value>', 'length of the running notes that are altered (16th)')
    .option('--guide <what>', 'notes: the guide taps the rhythm of a part that was read; or none')
    .option('--seam <what>', 'of joined sections only where they meet: beat or measure')

/** A whole number in a range, from what was typed. */
export const wholeNumber = (s: string, field: string, least: number, most: number): Result<number> => {
  const n = /^\d{1,6}$/.test(s.trim()) ? Number(s) : Number.NaN
  return n >= least && n <= most ? ok(n) : problem(field, s, `a whole number from ${least} to ${most}`)
}

export const parseSteps = (t: Typed): Result<Step> => {
  if (t.rungs !== undefined && t.step !== undefined)
    return problem('--rungs', t.rungs, 'either --rungs or --step, not both')
  if (t.rungs === undefined) return parseStep(t.step ?? 'notch')
  const n = wholeNumber(t.rungs, 'number of rungs', 2, 200)
  return n.ok ? ok({ k: 'count', rungs: n.value }) : n
}

export const parseRule = (t: Typed): Result<Up> =>
  t.clean === undefined ? ok(DEFAULT_RULES.up) : parseUp(t.clean)

/** Goal, and the start where one was typed; a goal below the start is refused. */
export const parseEnds = (t: Typed): Result<{ readonly start: Tempo | null; readonly goal: Tempo }> => {
  if (t.goal === undefined) return problem('goal tempo', '', '--goal with beats a minute, as --goal 120')
  const goal = parseTempo(t.goal, 'goal tempo')
  if (!goal.ok) return goal
  if (t.start === undefined && t.down)
    return problem('start tempo', '', '--start with the faster tempo from which the ladder leads down')
  if (t.start === undefined) return ok({ start: null, goal: goal.value })
  const start = parseTempo(t.start, 'start tempo')
  if (!start.ok) return start
  if (t.down) {
    if (compareTempo(start.value, goal.value) < 0)
      return problem(
        'goal tempo',
        t.goal,
        `a tempo not above the start (${typed(start.value)}), since the ladder leads down`,
      )
  } else if (compareTempo(start.value, goal.value) > 0)
    return problem('goal tempo', t.goal, `a tempo not below the start (${typed(start.value)})`)
  return ok({ start: start.value, goal: goal.value })
}

/** The start of a quick ladder where none was typed: the highest mark at or below 60 % of the goal. */
export const quickStart = (goal: Tempo): Tempo => markBelow(goal, FIND_FROM)

/** The music of a quick ladder or a click track: 4/4, two measures. */
export type Music = {
  readonly meter: Meter
  readonly measures: number
  readonly pickup: Frac | null
}

export const parseMusic = (t: Typed): Result<Music> => {
  const meter = parseMeter(t.meter ?? '4/4')
  if (!meter.ok) return meter
  const measures = wholeNumber(t.measures ?? '2', 'measures', 1, 999)
  if (!measures.ok) return measures
  const pickup = t.pickup === undefined ? ok(null) : parseNoteValue(t.pickup, 'pick-up')
  if (!pickup.ok) return pickup
  if (pickup.value && compare(pickup.value, measureLength(meter.value)) >= 0)
    return problem(
      'pick-up',
      t.pickup ?? '',
      `a note value shorter than a measure of ${meterText(meter.value)}`,
    )
  return ok({
    meter: meter.value,
    measures: measures.value,
    pickup: pickup.value,
  })
}

/** One at the goal after ten slow ones, as typed, else as the rules have it; only upward and in even rhythm. */
export const parseFast = (t: Typed, rules: LadderPreset['fast']): Result<Fast | null> => {
  const typed = t.slowFast === true ? 'beat' : t.slowFast
  const apart = t.down || t.rhythm !== undefined
  if (typed !== undefined && typed !== 'beat' && typed !== 'section')
    return problem('slow-fast', typed, 'beat or section')
  if (typed !== undefined && apart)
    return problem('slow-fast', typed, 'the even rhythm, on a ladder that leads up')
  const what = apart ? undefined : (typed ?? rules)
  return ok(what === undefined ? null : what === 'beat' ? 'beat' : 'goal')
}
