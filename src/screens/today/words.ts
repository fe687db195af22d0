import type { Controls } from '../../terminal/key-table.ts'
import { keyLabel } from '../../terminal/words.ts'

/** What is said where it is too much for the days that are left. */
export const wayWords = {
  title: (minutes: number): string =>
    `${minutes} minutes a day probably won't get everything ready by then. What would you rather do?`,
  minutes: (minutes: number): string => `${minutes} minutes a day`,
  lower: (percent: number): string => `Everything a little lower: ${percent} % of the goals`,
  later: 'Not now: ask again tomorrow',
  changes: 'o changes that.',
} as const

/** On which days of the week the player plays. */
export const daysWords = {
  title: 'Which days do you play? Only those count until your date.',
  on: (days: string): string => days.replace(/^./, c => c.toUpperCase()),
  others: 'Other days: I type them later',
  counted: (days: string): string => `Practice days until a date: ${days}.`,
  type: 'Every day counts until you type yours: gradino setup --days mon,wed,fri',
} as const

/** "Coda at 96" */
export const manyWords = (name: string, bpm: number): string => `${name} at ${bpm}`

export const someWords = (ready: readonly string[], lower: readonly string[]): string =>
  ready.length === 0
    ? `All in turn, as far as each gets: ${lower.join('; ')}`
    : `Ready: ${ready.join('; ')}. The others every third day: ${lower.join('; ')}`

/** What the player chose, where the plan says it again. */
export const chosenWords = (k: 'some' | 'lower', percent: number): string =>
  k === 'lower'
    ? `Planned for ${percent} % of the goals, as you chose. ${wayWords.changes}`
    : `Planned to get as many ready as possible, as you chose. ${wayWords.changes}`

export const mattersWords = (passage: string, matters: string): string =>
  `${passage}: ${matters}${matters === 'today' ? ', this day' : ' from now on'}.`

export const lightWords = (light: boolean): string =>
  light
    ? 'The last evening before a date stays light: one run, two slow repetitions.'
    : 'The last evening before a date has short turns as usual.'

export const NO_WAYS = 'Nothing to choose: everything in the plan can be ready.'
export const NO_PASSAGE = "This line isn't a passage. Choose one that is."

/** Said once; the rule stays the player's. */
export const rowWords = (passage: string, n: number): string =>
  n > 3
    ? `${passage}: cold takes at your ceiling fail more than half the time. Four clean in a row may hold better: edit the passage, "to go up".`
    : `${passage}: cold takes at your ceiling are nearly always clean. Two in a row may do: edit the passage, "to go up".`

/** The close of a day. */
export const closeWords = {
  title: 'That was the day. Anything to keep?',
  leave: 'Nothing more: stop here',
  /** What is typed then. */
  words: {
    pain: 'Something hurts',
    tomorrow: 'First thing tomorrow: type it',
    teacher: 'Ask the teacher: type it',
  },
  tomorrow: (label: string): string => `First thing tomorrow: ${label}`,
  teacher: (label: string): string => `Ask the teacher: ${label}`,
  kept: (what: string): string => `Kept: ${what}.`,
} as const

/** What is asked once after a date; each may be left out. */
export const AFTER_FIELDS = [
  {
    key: 'tempo',
    label: 'true tempo',
    hint: 'As it was taken: 126 or half=63, or a ratio like x0.92. Empty: as it was.',
  },
  { key: 'spots', label: 'spots', hint: 'What was hard, in your own words. Kept as a note.' },
  {
    key: 'next',
    label: 'next date',
    hint: 'The day it has to be ready by again: Friday, in 6 days, March 14. Empty: no date.',
  },
] as const

/** What the keys do while the answers are typed. */
export const afterKeys = ({ right, left, pedals }: Controls): readonly string[] => [
  `Enter${pedals === 2 ? ` or right (${keyLabel(right)})` : ''}: next; the last one saves   up, down: choose`,
  `Escape or ${pedals === 2 ? `left (${keyLabel(left)})` : `the pedal (${keyLabel(right)})`}: later; what you typed stays`,
]

export const DAY_IN_ORDER =
  'The day, in its order. What you played is marked as done; skipping and moving cost nothing, and the clock times follow.'
export const TURN_ENDS = 'Each turn ends at the next rung up or down, at most a minute over.'
export const GO_ON = 'Press a pedal to go on, even early.'

export const howWasIt = (piece: string): string => `${piece}: How was it?`
