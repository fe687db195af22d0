import type { Passage, Section } from '../../src/repertoire/piece.ts'

/** Four measures, without sections. */
export const WEIR: Passage = {
  id: 'weir0001',
  name: 'run at the weir',
  measures: '41-44',
  meter: '4/4',
  count: 4,
  pickup: null,
  goal: '120',
}

/** The two that they are cut into. */
export const UP_AND_DOWN: readonly [Section, Section] = [
  { id: 's0000001', name: 'up', from: '41', to: '43' },
  { id: 's0000002', name: 'down', from: '43', to: 'end' },
]
