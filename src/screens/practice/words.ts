import { clickWords, tempoWords } from '../../click/by-tempo.ts'
import type { LadderState } from '../../ladder/event.ts'
import { type Rules, upWords } from '../../ladder/rules.ts'
import { decimal } from '../../music/fraction.ts'
import { inUnit, sameTempo, spoken, spokenGoal, type Tempo } from '../../music/tempo.ts'
import type { Wrong } from '../../repertoire/note.ts'
import { type KeyChoice, keyOf } from '../../terminal/key-table.ts'
import { lastRungDone } from '../../visit/answer.ts'
import { type Choosing, judge, MEANING_WORDS, type Moment } from '../../visit/pedal-table.ts'
import type { Remark, Session } from '../../visit/session.ts'
import { clickOf } from '../../visit/sounding.ts'
import { type KeyNames, pedalsDo } from '../words.ts'
import { WRONG_ROWS } from './key-table.ts'

/** One short sentence for what was understood; empty when there is nothing to say. */
export const noteText = (n: Remark): string => {
  switch (n.kind) {
    case 'up':
      return `Clean. A rung up: ${spoken(n.tempo)}.`
    case 'stays':
      return `Clean, and the rung is done. Nothing above ${spoken(n.tempo)} now.`
    case 'down':
      return `A rung down: ${spoken(n.tempo)}.`
    case 'moved':
      return `By hand: ${spoken(n.tempo)} from the next count-in.`
    case 'listen':
      return `The goal, ${spoken(n.tempo)}: only listen. Nothing is counted.`
    case 'place':
      // What three stops lead to is said beside the ladder.
      return SENTENCES.cut
    case 'held':
      return n.pedals === 2
        ? 'Held: the right pedal goes on, the left one stops.'
        : 'Held: the pedal goes on.'
    case 'trouble':
    case 'refused':
      return n.text
    default:
      return SENTENCES[n.kind]
  }
}

const SENTENCES: Readonly<
  Record<
    Exclude<
      Remark['kind'],
      'up' | 'stays' | 'down' | 'moved' | 'listen' | 'place' | 'held' | 'trouble' | 'refused'
    >,
    string
  >
> = {
  none: '',
  start: '',
  notYet: 'Not yet: the verdict counts from the last measure on.',
  heard: 'Heard ...',
  clean: 'Clean.',
  slip: 'Not clean.',
  cut: 'Stopped; not clean.',
  hold: 'Waiting for you.',
  already: 'Already counted.',
  unclear: 'Both pedals: not counted.',
  unanswered: 'No verdict: not counted, the row starts again.',
  waiting: 'Clean or not clean?',
  takenBack: 'Taken back.',
  nothingToTakeBack: 'Nothing to take back in this visit.',
  suggest: 'Down three times. Try a smaller section, an altered rhythm or another section.',
  back: 'Back to the ladder.',
  listened: 'That was the goal.',
  goal: 'The goal is reached. Tomorrow: once, cold.',
}

/** What can go wrong, in the order of the keys that say so. */
export const wrongsOf = (bow: boolean): readonly Wrong[] => [
  'notes',
  'rhythm',
  bow ? 'bow' : 'breath',
  'sound',
]

/** Whether it is asked now what went wrong. */
export const asksWhat = (n: Remark): boolean =>
  n.kind === 'slip' || n.kind === 'cut' || n.kind === 'down' || n.kind === 'place'

/** "N notes", "R rhythm": what can be said after a slip, by which key. */
export const wrongWords = (wrongs: readonly Wrong[], choice: KeyChoice): readonly string[] =>
  wrongs.flatMap((w, i) => {
    const row = WRONG_ROWS[i]
    const key = row ? keyOf(row, choice) : ''
    return key === '' ? [] : [`${key} ${w}`]
  })

/** The sentence, and after a slip which key says what went wrong, where that is kept. */
export const noteWithHint = (n: Remark, wrongs: readonly string[] | null): string =>
  wrongs && asksWhat(n) ? `${noteText(n)}   ${wrongs.join('  ')}` : noteText(n)

/** After Ctrl+Z and fg. */
export const STOPPED = "You stopped the program; that repetition doesn't count."
/** Before the first repetition: most likely a pedal that was not learned. Later a sheet on the keyboard would say it. */
export const UNKNOWN_KEY = "That key does nothing here. If it's your pedal, teach it in set-up."
export const NOTHING_ASKED = 'There is no question right now.'
export const LOCKED = 'only the pedals work; type open for the other keys, Ctrl+C leaves'
export const UNLOCKED = 'The other keys work again.'

/** What one pedal can choose while nothing sounds. */
export const CHOICE_WORDS = {
  start: 'start',
  goOn: 'go on',
  cold: 'a cold take first',
  yes: 'what is offered',
  join: 'the seam, then as one',
  round: 'a round of rhythms',
  finish: 'finish',
  close: 'close',
} as const

/** How one pedal chooses while it waits, for the help. */
export const ONE_PEDAL_CHOOSES: readonly string[] = [
  'While it waits, a second press within two seconds goes to the next choice: what is offered, rhythms, finish. Once a choice has stood for two seconds, a press takes it.',
]

/** What one pedal does to the choices now: goes on to the next one, or takes the one that has stood. */
export const choiceHint = (
  choice: { readonly now: string; readonly first: string; readonly moment: Choosing['moment'] },
  key: string,
): string => {
  const { now, first, moment } = choice
  if (moment === 'passing') return `${now}?   pedal (${key}): something else; wait: this one`
  return `pedal (${key}): ${moment === 'standing' ? now : first}`
}

/** "half = 66, quarter = 132" where another note value clicks than that of the tempo, else the tempo alone. */
export const tempoLine = (s: Session, t: Tempo): string =>
  tempoWords(t, s.setup.form, clickOf(s.setup, t).pulse)

/** What is not plain about the click of a rung: subdivisions, the beats and measures that click. */
export const clickedLine = (s: Session, t: Tempo): string => clickWords(clickOf(s.setup, t)).join(', ')

/** How many clean repetitions this rung asks for, and by which rule. */
export const needed = (s: LadderState, rules: Rules): { readonly n: number; readonly words: string } => {
  if (s.finding) return { n: 0, words: 'finding the start' }
  // What is done is not counted a second time.
  if (lastRungDone({ ladder: s })) return { n: 0, words: s.goal ? 'the goal is reached' : 'done for now' }
  if (s.at === s.rungs.length - 1 && !rules.capped)
    return { n: rules.top, words: upWords({ kind: 'row', n: rules.top }) }
  return { n: rules.up.n, words: upWords(rules.up) }
}

const COUNTS = ['none', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight']

/** "two of three in a row"; where nothing is counted what is done instead: "finding the start", "once". */
export const rowWords = ({ ladder, setup }: Session): string => {
  const { words } = needed(ladder, setup.opening.rules)
  if (ladder.finding || (lastRungDone({ ladder }) && !setup.ends)) return words
  return setup.ends?.tries === 1 ? 'once' : `${COUNTS[ladder.row] ?? ladder.row} of ${words}`
}

/** The same in figures, where there is little room: "2 of 3 in a row". */
export const rowBrief = (s: Session): string => {
  const { n } = needed(s.ladder, s.setup.opening.rules)
  return rowWords(s)
    .replace(/^\S+ of /, `${s.ladder.row} of `)
    .replace(/ of (two|three|four|five|six|seven|eight) /, ` of ${n} `)
}

/** What the pedals do at this moment. */
export const pedalHint = (m: Moment, pedals: 1 | 2, keys: KeyNames): string => {
  const does = (pedal: 'right' | 'left'): string => MEANING_WORDS[judge(m, pedal, pedals)]
  return pedalsDo(pedals, keys, does('right'), does('left'))
}

/** What two pedals do where something is offered; at the end of a visit nothing goes on. */
export const offerHint = (offer: string, ended: boolean, keys: KeyNames): string => {
  const does = (pedal: 'right' | 'left'): string => {
    const meaning = judge('offered', pedal, 2)
    return meaning === 'take' ? offer : ended ? CHOICE_WORDS.close : MEANING_WORDS[meaning]
  }
  return pedalsDo(2, keys, does('right'), does('left'))
}

/** What the end of a visit is told: tomorrow's start (null = it is looked for), pain noted today, and cautions. */
export type Ending = {
  readonly tomorrow: Tempo | null
  readonly pain: boolean
  readonly cautions: readonly string[]
  /** Neighbors that are ready to be joined. */
  readonly offer?: string
}

/** The closing view: what was reached, what was not, where tomorrow starts. */
export const closing = (s: Session, { tomorrow, pain, cautions, offer }: Ending): readonly string[] => {
  const { ladder, setup } = s
  const goal = setup.opening.rules.capped ? setup.goal : (ladder.rungs.at(-1) as Tempo)
  const earlier = setup.ceiling
  const upper = setup.top !== undefined && sameTempo(goal, setup.top)
  const called = upper ? 'upper end of the goal' : setup.open ? 'goal for now' : 'goal'
  const reached = ladder.goal
    ? `The ${called}, ${spoken(goal)}, is reached.`
    : ladder.ceiling
      ? `Reached today: ${spoken(ladder.ceiling)}, clean ${upWords(setup.opening.rules.up)}.`
      : earlier
        ? `No rung was completed today; the ceiling stays ${spoken(earlier)}.`
        : 'No rung was completed today.'
  const here = ladder.rungs[ladder.at] as Tempo
  const open = ladder.goal
    ? setup.top
      ? `What is left: a clean first take on two days at ${decimal(setup.goal.bpm)}, and on two at ${decimal(inUnit(setup.top, setup.goal.unit).bpm)}.`
      : 'What is left: a clean first take on two days.'
    : sameTempo(here, goal)
      ? `Not reached yet: the ${called}, ${spoken(goal)}. You are on it.`
      : `Not reached yet: the ${called}, ${upper ? spoken(goal) : spokenGoal(goal, setup.top)}. You are at ${spoken(here)}.`
  const start = tomorrow
    ? `Tomorrow starts at ${spoken(tomorrow)}.`
    : 'Tomorrow you look for the start again.'
  // After pain nothing is named that is still to be reached.
  return pain ? [reached, ...cautions] : [reached, open, start, ...(offer ? [`${offer}.`] : []), ...cautions]
}

/** Lines for what a screen shows by place: what can be said of a slip, and what clicks. */
export const askedWords = (wrongs: readonly string[]): string => `What went wrong? ${wrongs.join(', ')}.`
export const clickSaid = (click: string): string => `Click: ${click}.`

export const SLEPT = 'The computer slept; that repetition does not count.'

/** Under the closing sentences: what is done now. */
export const stored = (then: string): string => `Everything is stored. ${then}`
export const joinsAtEnd = (key: string): string => `${key}: their seam, then as one. Any other key closes.`
export const noteOrClose = (key: string): string => `${key}: a note. Any other key closes.`

/** Keeps what went wrong, and where. */
export type Wrongs = {
  readonly names: readonly Wrong[]
  /** Of the same verdict a second time: takes it back. Resolves with what to say. */
  readonly keep: (what: Wrong, place: string | undefined, verdict: string) => Promise<string>
}
