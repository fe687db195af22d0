import { keyLabel } from '../../terminal/key-label.ts'
import { type Controls, keyHelp } from '../../terminal/key-table.ts'
import { pedalLines } from '../../visit/pedal-table.ts'
import type { Chapter, Entry } from '../help.ts'
import { BESIDE_KEYS, OFTEN_KEYS } from './key-table.ts'
import { ONE_PEDAL_CHOOSES } from './words.ts'

const pedalEntries = ({ right, left, pedals }: Controls): readonly Entry[] => [
  pedals === 2 ? ['right, left', `${keyLabel(right)}, ${keyLabel(left)}`] : ['the pedal', keyLabel(right)],
  ...pedalLines(pedals).map(({ when, does }): Entry => [when, does]),
  ...(pedals === 1 ? ONE_PEDAL_CHOOSES.map((line): Entry => ['', line]) : []),
]

/** What the pedals and the keys of the practice screen do. */
export const practiceHelp = (c: Controls): readonly Chapter[] => [
  { title: 'The pedals', entries: pedalEntries(c) },
  { title: 'The keys', entries: keyHelp(OFTEN_KEYS, c.choice) },
  { title: 'Beside the ladder', entries: keyHelp(BESIDE_KEYS, c.choice) },
]
