/** What the foot can say. `both` = the other pedal within 120 ms. */
export type Pedal = 'right' | 'left' | 'both'

/**
 * Where a press falls. `open` = the repetition may be judged; `held` = at a note that waits for the pedal; `settled` =
 * judged, but its last measure still sounds.
 */
export type Moment =
  | 'ready'
  | 'early'
  | 'held'
  | 'open'
  | 'settledClean'
  | 'settledSlip'
  | 'afterClean'
  | 'afterSlip'
  | 'afterCut'
  | 'hold'

export type Meaning =
  | 'start'
  | 'notYet'
  | 'stopSlip'
  | 'clean'
  | 'notClean'
  | 'hold'
  | 'goOn'
  | 'toClean'
  | 'toSlip'
  | 'takeBack'
  | 'already'
  | 'unclear'

type Row = { readonly right: Meaning; readonly left: Meaning }

/** Two pedals: right = clean, left = not clean. */
const TWO: Readonly<Record<Moment, Row>> = {
  ready: { right: 'start', left: 'start' },
  early: { right: 'notYet', left: 'stopSlip' },
  held: { right: 'goOn', left: 'stopSlip' },
  open: { right: 'clean', left: 'notClean' },
  settledClean: { right: 'already', left: 'toSlip' },
  settledSlip: { right: 'toClean', left: 'already' },
  afterClean: { right: 'hold', left: 'toSlip' },
  afterSlip: { right: 'toClean', left: 'hold' },
  afterCut: { right: 'hold', left: 'hold' },
  hold: { right: 'start', left: 'start' },
}

/** One pedal gives every verdict; an error costs a repetition but never stores a false clean. */
const ONE: Readonly<Record<Moment, Meaning>> = {
  ready: 'start',
  early: 'stopSlip',
  held: 'goOn',
  open: 'clean',
  settledClean: 'already',
  settledSlip: 'already',
  afterClean: 'takeBack',
  afterSlip: 'takeBack',
  afterCut: 'takeBack',
  hold: 'start',
}

/** What a press means at a moment, with one pedal or two. */
export const judge = (moment: Moment, pedal: Pedal, pedals: 1 | 2): Meaning => {
  if (pedal === 'both') return 'unclear'
  return pedals === 1 ? ONE[moment] : TWO[moment][pedal]
}
