import {
  dayStartText,
  parseDayStart,
  parseSlips,
  parseUp,
  slipsText,
  upText,
  upWords,
} from '../ladder/rules.ts'
import { parseStep, stepText } from '../ladder/rungs.ts'
import { changesFromText, parseChangesFrom } from '../music/changes.ts'
import { CLICKED } from '../music/clicked.ts'
import { meterText, parseMeter } from '../music/meter.ts'
import { ok, problem } from '../music/result.ts'
import { parseTempo, splitGoal, typed } from '../music/tempo.ts'
import { may, needs, orNull } from './field.ts'
import {
  day,
  length,
  musical,
  oneOf,
  type Today,
  tempo,
  type ValueKind,
  whole,
  wordList,
  words,
} from './kinds.ts'

/** open: nobody knows yet, the rehearsal will say. */
const SURENESS = ['open', 'guess', 'printed', 'conductor'] as const
/** How much the plan of a day gives to a passage. */
export const MATTERS = ['must', 'as usual', 'can wait'] as const
/** More rests than these are counted from a cue. */
export const MOST_RESTS = 99
const MOST_MEASURES = 999

const TEMPO = '112 (quarters), 63.5 or dotted-quarter=80'

/** First and last measure of "41-44"; one measure is both. Null for any other place ("letter C"). */
export const range = (place: string): { readonly first: number; readonly last: number } | null => {
  const m = /^(?:mm?\.?\s*)?(\d{1,4})(?:\s*[-\u2013]\s*(\d{1,4}))?$/i.exec(place)
  return m ? { first: Number(m[1]), last: Number(m[2] ?? m[1]) } : null
}

/** "41-44", or any place that the part is known by. */
const place: ValueKind<string> = {
  ...words(40),
  read: (text, label, a) => {
    const found = range(text)
    if (!found) return words(40).read(text, label, a)
    const { first, last } = found
    if (first < 1 || last < first)
      return problem(label, text, 'the first and last measure as printed, like 41-44')
    return ok(first === last ? `${first}` : `${first}-${last}`)
  },
}

/** A new place brings its own number of measures, and counts on from its first. */
const counted = (text: string) => {
  const found = range(text)
  return { numbers: undefined, ...(found ? { count: found.last - found.first + 1 } : {}) }
}

/** The slower end of a goal that may be typed as a range. */
const goal: ValueKind<string> = {
  ...tempo,
  read: (text, label, a) => {
    const { goal: low, top } = splitGoal(text)
    const [slow, fast] = [tempo.read(low, label, a), tempo.read(top ?? low, label, a)]
    return slow.ok && !fast.ok ? fast : slow
  },
}

/** "116-124" is a goal and its upper end. */
const upperEnd = (text: string, { felt }: Today) => {
  const { top } = splitGoal(text)
  const fast = top === null ? null : parseTempo(top, 'upper goal', felt)
  return fast?.ok ? { goalTop: typed(fast.value) } : {}
}

const clicked = (k: keyof typeof CLICKED): ValueKind<string> =>
  musical<unknown>((s, field = k) => CLICKED[k].parse(s, field), CLICKED[k].show as (c: unknown) => string)

const readyBy = may(day, {
  label: 'ready by',
  hint: 'The day it has to be ready by: March 14, Friday, in 6 days.',
  option: ['--ready-by <date>', 'the day it has to be ready by: "March 14", Friday, "in 6 days"'],
  empty: 'no date',
})

export const PIECE = {
  title: needs(words(120), 'the title as printed on your part', {
    label: 'title',
    hint: 'As printed on your part.',
    option: ['--title <text>', 'as printed on your part'],
  }),
  readyBy,
  concert: may(day, {
    label: 'concert',
    hint: 'The day of the concert: March 14, Friday, in 6 days.',
    option: ['--concert <date>', 'the day of the concert'],
  }),
  sure: may(oneOf(SURENESS), {
    label: 'goals are',
    hint: `How sure the goal tempos are: ${SURENESS.join(', ')}.`,
    option: ['--sure <word>', 'how sure the goals are: open, guess, printed or conductor'],
  }),
}

/** How its ladder is climbed; what is not said is as usual. */
export const CLIMB = {
  clean: may(musical(parseUp, upText, upWords), {
    label: 'to go up',
    hint: 'Clean repetitions to go up a rung: 3 in a row, 8 in all, or 4 of 5.',
    option: ['--clean <rule>', 'clean repetitions to go up a rung: 3-in-a-row, 8-in-all or 4-of-5'],
  }),
  step: may(musical(parseStep, stepText), {
    label: 'step',
    hint: 'From rung to rung: notch (the traditional scale), 4% or +4.',
    option: ['--step <step>', 'from rung to rung: notch (the traditional scale), 4% or +4'],
  }),
  slips: may(musical(parseSlips, slipsText), {
    label: 'slips',
    hint: 'Slips in a row that take you down a rung, like 2; or never.',
    option: ['--slips <number>', 'slips in a row that take you down a rung: 2, or never'],
  }),
  dayStart: may(musical(parseDayStart, dayStartText), {
    label: 'day start',
    hint: 'The share of the ceiling where a day begins, from 80% to 100%. Usual: 97%.',
    option: ['--day-start <share>', 'the share of the ceiling where a day begins: 97%'],
  }),
}

/** In the order of the form. */
export const PASSAGE = {
  name: needs(words(80), 'a name, like: run at the weir', {
    label: 'name',
    hint: 'What you call it, like: run at the weir.',
    option: ['--name <text>', 'what you call it'],
    empty: 'by its measures',
  }),
  measures: may(place, {
    label: 'place',
    hint: 'First and last measure as printed, like 41-44; or any place, like letter C.',
    option: ['--in <measures>', 'its measures as printed: 41-44'],
    also: counted,
  }),
  count: needs(whole(MOST_MEASURES, 'measures'), 'how many measures, like 4, or their place, like 41-44', {
    label: 'measures',
    hint: 'How many whole measures, not counting a pick-up.',
    option: ['--measures <number>', 'how many measures, if the place does not say'],
  }),
  numbers: may(wordList(12, 1000), {
    label: 'numbers',
    hint: 'Measure numbers, pick-up included, if they do not simply count up: 41 42 41 42 43.',
    option: ['--numbers <list>', 'measure numbers, if they do not simply count up: "41 42 41 42 43"'],
  }),
  meter: needs(musical(parseMeter, meterText), 'a meter, like 4/4', {
    label: 'meter',
    hint: '4/4, 6/8, 2+2+3/8 and so on.',
    option: ['--meter <meter>', '4/4, 6/8, 2+2+3/8 ...'],
    empty: '4/4',
  }),
  /** Shorter than a measure; null = none. */
  pickup: orNull(length, {
    label: 'pick-up',
    hint: 'The length of the pick-up, like eighth or dotted-quarter.',
    option: ['--pickup <note value>', 'length of the pick-up'],
    empty: 'none',
  }),
  /** Inside its last measure. */
  ends: may(words(24), {
    label: 'ends',
    hint: 'Where it ends, if inside its last measure, like 44.3.',
    option: ['--ends <place>', 'where it ends, if inside its last measure: 44.3'],
  }),
  goal: needs(goal, TEMPO, {
    label: 'goal tempo',
    hint: `Beats a minute, like ${TEMPO}; or a range, like 116-124.`,
    option: ['--goal <tempo>', 'goal tempo: 120, dotted-quarter=80, or a range: 116-124'],
    also: upperEnd,
  }),
  goalTop: may(tempo, {
    label: 'upper goal',
    hint: 'The upper end of a goal range, like 120.',
    option: ['--goal-top <tempo>', 'upper end of a goal range'],
  }),
  start: may(tempo, {
    label: 'start tempo',
    hint: 'The first tempo of the ladder; faster than the goal, and the ladder leads down.',
    option: ['--start <tempo>', 'start tempo; leave it out, and the first visit finds it'],
    empty: 'the first visit finds it',
  }),
  ...CLIMB,
  readyBy,
  /** Length of the running notes. */
  run: may(length, {
    label: 'run',
    hint: 'The length of the running notes, for altered rhythms, like 16th or 1/12.',
    option: ['--run <length>', 'length of the running notes: 16th, or 1/12'],
  }),
  matters: may(oneOf(MATTERS), {
    label: 'matters',
    hint: 'How much it matters: must, as usual or can wait.',
    option: ['--matters <word>', 'how much it matters: must, "as usual" or "can wait"'],
    empty: 'as usual',
  }),
  /** From which share of the goal its tempo changes are played: "always", "60%". */
  tempoChanges: may(musical(parseChangesFrom, changesFromText), {
    label: 'tempo change',
    hint: 'Tempo changes are played from this share of the goal on: always, or 60%. Usual: 80%.',
    option: [
      '--tempo-changes <when>',
      'play tempo changes from this share of the goal on: always, or 60% (usually 80%)',
    ],
  }),
  /** How it is clicked, each as music/clicked.ts reads it: "quarter; half from 100", "all; 1 from 112", "2". */
  pulse: may(clicked('pulse'), {
    label: 'pulse',
    hint: 'The note value to count and click: half, or quarter; half from 100.',
    option: ['--pulse <note value>', 'the note value to count and click: half, or "quarter; half from 100"'],
  }),
  subdivide: may(clicked('subdivide'), {
    label: 'subdivide',
    hint: 'Clicks per beat: 2, or 2; 1 from 80.',
    option: ['--subdivide <number>', 'clicks per beat: 2, or "2; 1 from 80"'],
  }),
  beats: may(clicked('beats'), {
    label: 'beats',
    hint: 'The beats that click: 2,4, or all; 1 from 112.',
    option: ['--beats <numbers>', 'the beats that click: 2,4, or "all; 1 from 112"'],
  }),
  on: may(clicked('on'), {
    label: 'measures on',
    hint: 'This many measures click: 2, or all; 2 from 126.',
    option: ['--on <measures>', 'this many measures click, with --off: 2, or "all; 2 from 126"'],
  }),
  off: may(clicked('off'), {
    label: 'measures off',
    hint: 'Then this many are silent: 2.',
    option: ['--off <measures>', 'then this many are silent'],
  }),
  rests: may(whole(MOST_RESTS, 'measures'), {
    label: 'rests',
    hint: 'Measures of rest to count before the entrance, like 8.',
    option: ['--rests <measures>', 'measures of rest to count before the entrance'],
  }),
  /** The guide voice taps its notes while it is practiced as written. */
  guide: may(oneOf(['notes']), {
    label: 'guide',
    hint: 'What the guide taps while you play it as written: notes.',
    option: ['--guide <what>', 'notes: the guide taps the notes of an imported part'],
  }),
  note: may(words(400), {
    label: 'note',
    hint: 'A word on the music, shown while you practice.',
    option: ['--note <text>', 'a word on the music, shown while you practice'],
  }),
}

export const SECTION = {
  name: needs(words(80), 'a name, like 2', {
    label: 'name',
    hint: 'What you call it, like 2.',
    option: ['--name <text>', 'what you call it'],
  }),
  from: needs(words(24), 'a place, like 43 or 43.2', {
    label: 'from',
    hint: 'Where it begins, like 43 or 43.2.',
    option: ['--from <place>', 'where it begins: 43, or 43.2'],
  }),
  to: needs(words(24), 'a place, like 44.2, or end', {
    label: 'to',
    hint: 'Where it ends, like 44.2, usually after the first note of the next section; or end.',
    option: ['--to <place>', 'where it ends: 44.2, or end'],
  }),
}

/** What is asked for a new passage: the title of its piece, then these. */
export const ASKED = ['title', 'measures', 'name', 'meter', 'pickup', 'goal', 'start', 'readyBy'] as const

/** What has fields, from the whole down. */
export const TABLES = { piece: PIECE, passage: PASSAGE, section: SECTION } as const
export type Level = keyof typeof TABLES
