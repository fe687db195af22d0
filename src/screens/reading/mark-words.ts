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
