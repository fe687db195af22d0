/** What the foot can say. `both` = the other pedal within 120 ms. */
export type Pedal = 'right' | 'left' | 'both'

export type Meaning =
  | 'start'
  | 'notYet'
  | 'stopSlip'
  | 'clean'
  | 'notClean'
  | 'hold'
  | 'goOn'
  | 'resume'
  | 'toClean'
  | 'toSlip'
  | 'already'
  | 'take'
  | 'unclear'

/** Where a press falls, when that is, and what one pedal, the right and the left of two mean there. */
type PedalRow = {
  readonly moment: string
  /** As the help says it; null = the row before says it too. */
  readonly when: string | null
  /** Where one pedal differs: its last beat, not its last measure; null = it is told elsewhere. */
  readonly whenOne?: string | null
  readonly one: Meaning
  readonly right: Meaning
  readonly left: Meaning
}

/**
 * What a press means, one row a moment. Two pedals: right = clean, left = not clean. One pedal: until the next first note a
 * second press turns a clean, so a slip on the last note is a slip of the ladder, and no foot can leave a false clean.
 */
export const PEDAL_TABLE = [
  { moment: 'ready', when: 'before the first repetition', one: 'start', right: 'start', left: 'start' },
  {
    moment: 'early',
    when: 'before the last measure',
    whenOne: 'before the last beat',
    one: 'stopSlip',
    right: 'notYet',
    left: 'stopSlip',
  },
  { moment: 'held', when: 'at a mark that waits', one: 'goOn', right: 'goOn', left: 'stopSlip' },
  {
    moment: 'open',
    when: 'from the last measure on',
    whenOne: 'from the last beat on',
    one: 'clean',
    right: 'clean',
    left: 'notClean',
  },
  { moment: 'settledClean', when: null, one: 'toSlip', right: 'already', left: 'toSlip' },
  { moment: 'settledSlip', when: null, one: 'hold', right: 'toClean', left: 'already' },
  {
    moment: 'afterClean',
    when: 'pause and count-in after clean',
    one: 'toSlip',
    right: 'hold',
    left: 'toSlip',
  },
  {
    moment: 'afterSlip',
    when: 'pause and count-in after not clean',
    one: 'hold',
    right: 'toClean',
    left: 'hold',
  },
  { moment: 'afterCut', when: 'after a stop', one: 'hold', right: 'hold', left: 'hold' },
  { moment: 'hold', when: 'waiting', one: 'resume', right: 'resume', left: 'resume' },
  // Nothing else is asked and nothing sounds. One pedal passes by what is offered: see CHOICE_TABLE.
  {
    moment: 'offered',
    when: 'waiting, with an offer',
    whenOne: null,
    one: 'resume',
    right: 'take',
    left: 'resume',
  },
] as const satisfies readonly PedalRow[]

/**
 * Where a press falls. `open` = the repetition may be judged; `held` = at a note that waits for the pedal; `settled` =
 * judged, but its last measure still sounds.
 */
export type Moment = (typeof PEDAL_TABLE)[number]['moment']

/** A meaning in the words of the hint and of the help. */
export const MEANING_WORDS: Readonly<Record<Meaning, string>> = {
  start: 'start',
  notYet: 'not yet',
  stopSlip: 'stop, not clean',
  clean: 'clean',
  notClean: 'not clean',
  hold: 'wait',
  goOn: 'go on',
  resume: 'go on',
  toClean: 'no, clean',
  toSlip: 'no, not clean',
  already: 'already counted',
  take: 'take it',
  unclear: 'stop, nothing is counted',
}

const ROWS: ReadonlyMap<string, PedalRow> = new Map(PEDAL_TABLE.map(r => [r.moment, r]))

/** What a press means at a moment, with one pedal or two. */
export const judge = (moment: Moment, pedal: Pedal, pedals: 1 | 2): Meaning => {
  if (pedal === 'both') return 'unclear'
  const row = ROWS.get(moment) as PedalRow
  return pedals === 1 ? row.one : row[pedal]
}

/** What each press does and when, for the help: one line a moment that has its own. */
export const pedalLines = (pedals: 1 | 2): readonly { readonly when: string; readonly does: string }[] => [
  ...[...ROWS.values()].flatMap(r => {
    const when = pedals === 1 && r.whenOne !== undefined ? r.whenOne : r.when
    const [one, right, left] = [MEANING_WORDS[r.one], MEANING_WORDS[r.right], MEANING_WORDS[r.left]]
    const does = pedals === 1 ? one : right === left ? right : `right ${right}; left ${left}`
    return when === null ? [] : [{ when, does }]
  }),
  ...(pedals === 2 ? [{ when: 'both at once', does: MEANING_WORDS.unclear }] : []),
]

/**
 * Where something is to be chosen, one pedal has two things to say with one press: the next choice, and this one. A press
 * goes on to the next choice as long as the presses follow each other; when a choice has stood for a moment, a press takes
 * it. Silence chooses nothing: after a while the press only wakes the choice again.
 */
const CHOICE_TABLE = [
  { moment: 'passing', until: 2000, one: 'next', right: 'take', left: 'next' },
  { moment: 'standing', until: 12_000, one: 'take', right: 'take', left: 'next' },
  { moment: 'asleep', until: Number.POSITIVE_INFINITY, one: 'wake', right: 'take', left: 'next' },
] as const

export type Choosing = (typeof CHOICE_TABLE)[number]

/** The row that counts so many milliseconds after the latest press or announcement. */
export const choosing = (since: number): Choosing => CHOICE_TABLE.find(r => since < r.until) as Choosing

/** What a press says to a list of choices. */
export const chosen = (since: number, pedal: 'right' | 'left', pedals: 1 | 2): 'next' | 'take' | 'wake' =>
  pedals === 1 ? choosing(since).one : choosing(since)[pedal]
