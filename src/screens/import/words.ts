import {
  type GoalFrom,
  goalsOf,
  type ImportRow,
  isText,
  printedIn,
  rowsOf,
  type State,
  type Which,
} from './state.ts'

export const LABELS: Readonly<Record<ImportRow, string>> = {
  file: 'file',
  part: 'part',
  movement: 'movement',
  pieces: 'becomes',
  which: 'measures',
  from: 'from',
  to: 'to',
  goal: 'goal',
  tempo: 'tempo',
}

/** Asked for where it is not said yet. */
export const MISSING = {
  movement: 'Choose a movement first: its measures are counted by themselves.',
  from: 'Type the first measure, or a rehearsal mark.',
  to: 'Type the last measure, or the mark it goes up to.',
  tempo: 'Type the goal tempo, like 96 or half=63.',
  file: 'Type the name of the file, or drop the file here.',
} as const

export const BUSY = { file: 'Reading the file ...', part: 'Reading the part ...' } as const

export const TITLE = 'A part from a score'
const ASKS_FILE = 'Drop the file here, or type its name: .musicxml, .xml or .mxl.'

const WHICH: Readonly<Record<Which, string>> = {
  both: 'the hardest passages, and the whole part to cut',
  hard: 'the hardest passages',
  whole: 'the whole part',
  some: 'from one measure to another',
}

const goalText = (s: State, from: GoalFrom): string => {
  if (from === 'typed') return 'another tempo, typed'
  if (from === 'open') return 'left open: the rehearsal will say'
  const printed = printedIn(s)
  if (printed.kind === 'absurd') return `${printed.text}, from its playback`
  if (printed.kind === 'none') return 'none is printed'
  return printed.kind === 'printed' ? `as printed: ${printed.text}` : `${printed.text}, from the file`
}

const movementText = (s: State, at: number): string => {
  const names = s.offer?.movements ?? []
  const name = names[at - 1] ?? ''
  if (at === 0) return names.length === 2 ? 'both' : `all ${names.length}`
  return /^movement \d+/.test(name) || /^[IVX]+\b/.test(name) ? name : `${at}. ${name}`
}

/** All that a line offers, and which of it stands; empty where it is typed. */
export const choicesIn = (
  s: State,
  row: ImportRow,
): { readonly all: readonly string[]; readonly at: number } => {
  const { offer } = s
  if (!offer) return { all: [], at: 0 }
  if (row === 'part') return { all: offer.parts.map(p => p.name), at: s.part }
  if (row === 'movement')
    return { all: ['', ...offer.movements].map((_, i) => movementText(s, i)), at: s.movement }
  if (row === 'pieces')
    return { all: ['one piece', `${offer.movements.length} pieces, one a movement`], at: s.apart ? 1 : 0 }
  if (row === 'which') {
    const all = Object.keys(WHICH) as Which[]
    return { all: all.map(w => WHICH[w]), at: all.indexOf(s.which) }
  }
  if (row === 'goal') {
    const all = goalsOf(s)
    return { all: all.map(g => goalText(s, g)), at: all.indexOf(s.goal) }
  }
  return { all: [], at: 0 }
}

/** What stands in a line. */
export const standsIn = (s: State, row: ImportRow): string => {
  const { all, at } = choicesIn(s, row)
  return all[at] ?? ''
}

/** Below the lines: the other choices of the one in hand, or what may be typed in it. */
export const underLine = (s: State): string => {
  const { row } = s
  if (row === 'file') return ASKS_FILE
  if (row === 'from')
    return 'A measure as printed, or a rehearsal mark: 12, C, C+4 (the fourth measure after C).'
  if (row === 'to') return 'The last measure; a mark means up to the measure before it.'
  if (row === 'tempo') return 'Like 96, half=63 or dotted-quarter=60; 116-124 is no single tempo.'
  const { all, at } = choicesIn(s, row)
  const others = all.filter((_, i) => i !== at)
  return others.length === 0 ? '' : `or: ${others.join(' · ')}`
}

/** A printed tempo that nobody can mean is asked about. */
export const asksGoal = (s: State): string => {
  const printed = printedIn(s)
  return s.offer && s.goal === 'score' && printed.kind === 'absurd'
    ? `${printed.printed} is printed, which can't be meant. ${printed.text} is its playback tempo: is it right?`
    : ''
}

/** The screen as one line, where lines are said. */
export const said = (s: State): string =>
  rowsOf(s)
    .map(row => `${LABELS[row]}: ${isText(row) ? s.texts[row].text : standsIn(s, row)}`)
    .join(', ')
