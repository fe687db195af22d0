import type { PrintedGoal } from '../../score/offer.ts'

/** What each line is called. */
export const LABELS = {
  file: 'file',
  part: 'part',
  movement: 'movement',
  pieces: 'becomes',
  which: 'measures',
  from: 'from',
  to: 'to',
  goal: 'goal',
  tempo: 'tempo',
} as const

/** Asked for where it is not said yet. */
export const MISSING = {
  movement: 'Choose a movement first: its measures are counted by themselves.',
  from: 'Type the first measure, or a rehearsal mark.',
  to: 'Type the last measure, or the mark it goes up to.',
  tempo: 'Type the goal tempo, like 96 or half=63.',
  file: 'Type the name of the file, or drop the file here.',
} as const

/** Below a line that is typed: what may stand in it. */
export const MAY_BE = {
  file: 'Drop the file here, or type its name: .musicxml, .xml or .mxl.',
  from: 'A measure as printed, or a rehearsal mark: 12, C, C+4 (the fourth measure after C).',
  to: 'The last measure; a mark means up to the measure before it.',
  tempo: 'Like 96, half=63 or dotted-quarter=60; 116-124 is no single tempo.',
} as const

export const BUSY = { file: 'Reading the file ...', part: 'Reading the part ...' } as const

export const TITLE = 'A part from a score'

/** Which measures are taken. */
export const MEASURES = {
  both: 'the hardest passages, and the whole part to cut',
  hard: 'the hardest passages',
  whole: 'the whole part',
  some: 'from one measure to another',
} as const

/** Where the goal comes from. */
export const goalWords = (from: 'score' | 'typed' | 'open', printed: PrintedGoal): string => {
  if (from === 'typed') return 'another tempo, typed'
  if (from === 'open') return 'left open: the rehearsal will say'
  if (printed.kind === 'absurd') return `${printed.text}, from its playback`
  if (printed.kind === 'none') return 'none is printed'
  return printed.kind === 'printed' ? `as printed: ${printed.text}` : `${printed.text}, from the file`
}

/** A printed tempo that nobody can mean is asked about. */
export const absurdGoal = (printed: PrintedGoal & { kind: 'absurd' }): string =>
  `${printed.printed} is printed, which can't be meant. ${printed.text} is its playback tempo: is it right?`
