/** What is said where it is too much for the days that are left. */
export const wayWords = {
  title: (minutes: number): string =>
    `${minutes} minutes a day will hardly get all of it ready by then. What shall it be?`,
  minutes: (minutes: number): string => `${minutes} minutes a day`,
  lower: (percent: number): string => `Everything a little lower: ${percent} % of the goals`,
  later: 'Not now: ask again tomorrow',
  changes: 'o changes that.',
} as const

/** "Coda at 96" */
export const manyWords = (name: string, bpm: number): string => `${name} at ${bpm}`

export const someWords = (ready: readonly string[], lower: readonly string[]): string =>
  ready.length === 0
    ? `As far as it goes, all in turn: ${lower.join('; ')}`
    : `Ready: ${ready.join('; ')}. The others every third day: ${lower.join('; ')}`

/** What the player chose, where the plan says it again. */
export const chosenWords = (k: 'some' | 'lower', percent: number): string =>
  k === 'lower'
    ? `Planned for ${percent} % of the goals, as you chose. ${wayWords.changes}`
    : `Planned so that as many as can be are ready, as you chose. ${wayWords.changes}`

export const mattersWords = (passage: string, matters: string): string =>
  `${passage}: ${matters}${matters === 'today' ? ', this day' : ' from now on'}.`

export const lightWords = (light: boolean): string =>
  light
    ? 'The last evening before a date stays light: one run, two slow repetitions.'
    : 'The last evening before a date has short turns as usual.'

export const NO_WAYS = 'There is nothing to choose: what is planned can be ready.'
export const NO_PASSAGE = 'This line belongs to no passage: choose one that does.'

/** Said once; the rule stays the player's. */
export const rowWords = (n: number): string =>
  n > 3
    ? 'Cold takes at your ceiling fail more than half the time. Four clean in a row may hold better: edit the passage, "to go up".'
    : 'Cold takes at your ceiling are nearly always clean. Two in a row may do: edit the passage, "to go up".'

/** The close of a day. */
export const closeWords = {
  title: 'That was the day. Anything to keep?',
  leave: 'Nothing more: stop here',
  pain: 'Something hurts',
  tomorrow: (label: string): string => `First thing tomorrow: ${label}`,
  teacher: (label: string): string => `Ask the teacher: ${label}`,
  kept: (what: string): string => `Kept: ${what}.`,
} as const
