import { spoken, type Tempo } from '../music/tempo.ts'

/** Why something cannot be practiced as it was asked for, and what to do instead. */
export const DOWN_IS_EVEN = 'A ladder that leads down is played in even rhythm. Leave out --rhythm.'
export const NO_NOTES =
  'Only a part that was read has notes to tap (gradino piece import). Leave out --guide.'
export const oneTempo = (end: string): string =>
  `This goal is one tempo, so it has no ${end} end. Leave out --end, or make it a range: gradino piece edit PIECE/PASSAGE --goal 116-124.`
export const ownMusic = (option: 'meter' | 'measures' | 'pickup'): string =>
  `The passage has its own ${option === 'pickup' ? 'pick-up' : option}. Leave out --${option}, or change it with gradino piece edit.`

/** Why a tempo above the last rung is refused; `capped`: the ladder ends short of the goal so near the date. */
export const aboveLastRung = (last: Tempo, capped: boolean): string =>
  capped ? `Stay at ${spoken(last)} or below: the date is close.` : "That's above the goal."
export const NO_FURTHER_RUNG = 'There is no further rung in that direction.'
export const TURN_IS_OVER = 'The turn is over.'
