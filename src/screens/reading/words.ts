import { type KeyNames, onePedalChooses, pedalsDo } from '../words.ts'

/** What is to be done, before the first press. */
export const TASK = 'Press where it is hard: the beat before is marked, the click goes on.'

/** What the pedals do now; `keys` are their names. */
export const pedalHint = (phase: string, pedals: 1 | 2, keys: KeyNames): string => {
  switch (phase) {
    case 'ready':
      return pedalsDo(pedals, keys, 'start')
    case 'going':
      return pedalsDo(pedals, keys, 'a hard spot is here')
    case 'offer':
      return `y, Enter or ${pedals === 1 ? 'the pedal' : 'the right pedal'}: store them   Escape: leave them`
    default:
      return ''
  }
}

/** When a pedal does what, for the help. */
export const readingPedals = (pedals: 1 | 2, keys: KeyNames): readonly (readonly [string, string])[] => [
  ['before it begins', pedalHint('ready', pedals, keys)],
  ['while it sounds', pedalHint('going', pedals, keys)],
  [
    'at the end',
    pedals === 1 ? onePedalChooses('answer', ['store them', 'leave them']) : pedalHint('offer', pedals, keys),
  ],
]

/** What one pedal answers to the offer now: it goes on to the other answer, or takes the one that has stood. */
export const offerHint = (leaving: boolean, does: 'next' | 'take' | 'wake', key: string): string => {
  const now = leaving ? 'leave them' : 'store them'
  if (does === 'take') return `pedal (${key}): ${now}`
  return does === 'next'
    ? `${now}?   pedal (${key}): the other; wait: this one`
    : `pedal (${key}): choose, then ${now}`
}

/** What is said when a passage, or what is offered of it, comes up. */
export const passageSaid = (title: string, tempo: string): string => `${title}, ${tempo}.`
export const offerSaid = (names: string): string => `Store as sections: ${names}?`

/** In one word, read from two meters. */
export const SIGNS = { ready: 'READY' } as const

/** What is asked at the end of a passage. */
export const OFFER = {
  title: (n: number): string => (n === 1 ? 'Store this as a section?' : 'Store these as sections?'),
  more: (n: number): string => `  and ${n} more`,
} as const

export const SECTIONS_THERE = 'You already have these sections.'
export const NONE_MARKED = 'No hard spot was marked.'
export const ALL_MARKED = 'Your marks cover the whole passage, so there is no section to cut.'
export const NOT_YET = 'Not yet: from the first note on.'
export const hardSpot = (place: string): string => `Hard spot: ${place}.`
export const spotTakenBack = (place: string): string => `Taken back: ${place}.`
const WHY = {
  lost: 'The sound was lost',
  slept: 'The computer slept',
  noted: 'You stopped for a note',
} as const
export const interruptedText = (by: keyof typeof WHY): string =>
  `${WHY[by]}; a press starts the passage again, and the marks stay.`

/** What stays in the terminal of each passage. */
export const sectionsThere = (passage: string): string => `${passage}: you already have these sections.`
export const noneMarked = (passage: string): string => `${passage}: no hard spot was marked.`
export const onlyMarked = (passage: string, places: string): string =>
  `${passage}: marked ${places}; no section was stored.`
