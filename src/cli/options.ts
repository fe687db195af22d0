import { type Manner, OUTPUTS, type OutputWord } from '../app/preferences.ts'
import { ladderNamed, type Presets, rhythmNamed } from '../app/presets.ts'
import { TAKES, type TakeKind } from '../ladder/key.ts'
import { parseDayStart, parseSlips, parseUp } from '../ladder/rules.ts'
import { parseStep, type RungStep, rungs } from '../ladder/rungs.ts'
import { parseChangesFrom } from '../music/changes.ts'
import { parseClicked } from '../music/clicked.ts'
import { wholeNumber } from '../music/fraction.ts'
import { parseMeter } from '../music/meter.ts'
import { parseLength, parseNoteValue } from '../music/note-value.ts'
import { attempt, given, ok, problem, type Result, wrong } from '../music/result.ts'
import { parseTempo, type Tempo } from '../music/tempo.ts'
import { MOST_RESTS } from '../repertoire/fields.ts'
import type { Fast } from '../visit/fast.ts'
import { GUIDES, type Wishes } from '../visit/subject.ts'
import type { End } from '../visit/takes.ts'
import type { LadderPreset } from '../warm-up/preset.ts'
import type { Typed } from './commands.ts'

export const parseSteps = (t: Typed<'ladder'>): Result<RungStep> => {
  if (t.rungs !== undefined && t.step !== undefined)
    return problem('--rungs', t.rungs, 'either --rungs or --step, not both')
  if (t.rungs === undefined) return parseStep(t.step ?? 'notch')
  const n = wholeNumber(t.rungs, 'number of rungs', 2, 200)
  return n.ok ? ok({ kind: 'count', rungs: n.value }) : n
}

/** Goal, and the start where one was typed; a goal below the start is refused. */
export const parseEnds = (
  t: Typed<'ladder'>,
): Result<{ readonly start: Tempo | null; readonly goal: Tempo }> =>
  attempt(need => {
    if (t.goal === undefined) need(problem('goal tempo', '', '--goal with beats a minute, like --goal 120'))
    const goal = need(parseTempo(t.goal ?? '', 'goal tempo'))
    const start = t.start === undefined ? null : need(parseTempo(t.start, 'start tempo'))
    if (start) need(rungs(start, goal, { kind: 'notch' }, t.down ? 'down' : 'up'))
    else if (t.down)
      need(problem('start tempo', '', '--start with the faster tempo from which the ladder leads down'))
    return { start, goal }
  })

/** One of some words. */
export const oneOf = <const T extends string>(
  typed: string,
  field: string,
  words: readonly T[],
): Result<T> => {
  const found = words.find(w => w === typed)
  const list = words.join(', ').replace(/, ([^,]*)$/, ' or $1')
  return found === undefined ? problem(field, typed, list) : ok(found)
}

const maybe = <T>(text: string | undefined, read: (text: string) => Result<T>): Result<T | undefined> =>
  text === undefined ? ok(undefined) : read(text)

/** One at the goal after ten slow ones, as typed, else as the rules have it; only upward and in even rhythm. */
export const parseFast = (t: Typed<'practice'>, rules: LadderPreset['fast']): Result<Fast | null> => {
  const typed = t.slowFast === true ? 'beat' : t.slowFast
  const apart = t.down || t.rhythm !== undefined
  if (typed !== undefined && typed !== 'beat' && typed !== 'section')
    return problem('slow-fast', typed, 'beat or section')
  if (typed !== undefined && apart)
    return problem('slow-fast', typed, 'the even rhythm, on a ladder that leads up')
  const what = apart ? undefined : (typed ?? rules)
  return ok(what === undefined ? null : what === 'beat' ? 'beat' : 'goal')
}

/** What is asked of a visit by options; names are those of the presets. */
export const parseAsked = (t: Typed<'practice'>, presets: Presets): Result<Wishes> =>
  attempt(need => {
    const rules = need(maybe(t.rules, name => ladderNamed(presets, name)))
    const step = t.step ?? (t.rungs === undefined ? rules?.step : undefined)
    if (t.rests !== undefined && t.take !== ENTRANCE)
      need(wrong('--rests counts the rests before an entrance. Add --take entrance.'))
    return given({
      start: need(maybe(t.start, s => parseTempo(s, 'start tempo'))),
      goal: need(maybe(t.goal, s => parseTempo(s, 'goal tempo'))),
      down: t.down,
      // A passage's own step holds where none is asked for.
      step:
        (step ?? t.rungs) === undefined
          ? undefined
          : need(parseSteps({ ...t, ...(step === undefined ? {} : { step }) })),
      up: need(maybe(t.clean ?? rules?.clean, parseUp)),
      slips: need(maybe(t.slips, parseSlips)) ?? rules?.slips,
      dayStart: need(maybe(t.dayStart ?? rules?.dayStart, parseDayStart)),
      fast: need(parseFast(t, rules?.fast)),
      meter: need(maybe(t.meter, s => parseMeter(s))),
      measures: need(maybe(t.measures, s => wholeNumber(s, 'measures', 1, 999))),
      pickup: need(maybe(t.pickup, s => parseNoteValue(s, 'pick-up'))),
      clicked: need(parseClicked(t)),
      countIn: need(maybe(t.countIn, s => wholeNumber(s, 'count-in', 1, 8))),
      freeRitardando: t.freeRitardando,
      changesFrom: need(maybe(t.tempoChanges, s => parseChangesFrom(s))),
      rests: need(maybe(t.rests, s => wholeNumber(s, 'rests', 1, MOST_RESTS))),
      run: need(maybe(t.run, s => parseLength(s, 'running notes'))),
      guide: need(maybe(t.guide, s => oneOf(s, 'guide', GUIDES))),
      rhythm: need(maybe(t.rhythm, rhythmNamed(presets))),
    })
  })

/** Where joined sections meet. */
export const parseSeam = (t: Typed<'practice'>): Result<'beat' | 'measure' | undefined> =>
  maybe(t.seam, s => oneOf(s, 'seam', ['beat', 'measure']))

export const parseOutput = (typed: string | undefined): Result<OutputWord | undefined> =>
  maybe(typed, s => oneOf(s, 'output', OUTPUTS))

/** What sounds needs a terminal or `--plain`, and an output that there is. `what` = its name in a sentence. */
export const parseHow = (
  ctx: { readonly tty: boolean; readonly plain: boolean },
  output: string | undefined,
  what: string,
): Result<Manner> =>
  ctx.tty || ctx.plain
    ? attempt(need => given({ output: need(parseOutput(output)) }))
    : wrong(`${what} needs a terminal; --plain gives lines instead of a screen.`)

const ENTRANCE = 'entrance'
/** A take from the entrance is "entry" in the journal, as ever. */
const parseTake = (s: string): Result<TakeKind> => {
  const take = oneOf(
    s,
    'take',
    TAKES.map(k => (k === 'entry' ? ENTRANCE : k)),
  )
  if (!take.ok) return take
  return ok(take.value === ENTRANCE ? 'entry' : take.value)
}

/** How it is practiced this time, and what is played first. */
export const parseManner = (
  t: Typed<'practice'>,
): Result<Manner & { readonly take?: TakeKind; readonly end?: End }> =>
  attempt(need =>
    given({
      output: need(parseOutput(t.output)),
      after: need(maybe(t.after, s => oneOf(s, 'after', ['wait', 'go-on']))),
      rest: need(maybe(t.rest, s => oneOf(s, 'rest', ['usual', 'as-long']))),
      keys: need(maybe(t.keys, s => oneOf(s, 'keys', ['all', 'pedals']))),
      take: need(maybe(t.take, parseTake)),
      end: need(maybe(t.end, s => oneOf(s, 'end', ['lower', 'upper']))),
    }),
  )
