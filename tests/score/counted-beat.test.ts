import { expect, test } from 'vitest'
import { typed } from '../../src/music/tempo.ts'
import { head, note, partOf } from './scores.ts'

const sound = (tempo: string) => `<sound tempo="${tempo}"/>`
const goal = (beats: string, type: number, tempo: string, length: number): string => {
  const [first] = partOf([head(beats, type) + sound(tempo) + note(length)]).tempos
  return first?.tempo ? typed(first.tempo) : ''
}

// A compound meter is counted in dotted beats, cut time in halves; nobody counts more than 208 or less than 30 a minute, the
// ends of the traditional scale (common practice, no source).
test.each([
  ['6', 8, '120', 12, 'dotted-quarter=80'],
  ['12', 8, '99', 24, 'dotted-quarter=66'],
  ['2', 2, '120', 16, 'half=60'],
  ['4', 4, '96', 16, '96'],
  ['4', 8, '96', 8, '96'],
  ['3', 8, '66', 6, 'eighth=132'],
  ['3', 4, '276', 12, 'dotted-half=92'],
  ['6', 8, '40', 12, 'eighth=80'],
  ['5', 8, '60', 10, 'eighth=120'],
  // up to 208, down to 30
  ['4', 4, '208', 16, '208'],
  ['4', 4, '210', 16, 'half=105'],
  ['4', 4, '30', 16, '30'],
  ['4', 4, '29', 16, 'eighth=58'],
  ['2', 2, '416', 16, 'half=208'],
  ['2', 2, '420', 16, 'whole=105'],
  ['2', 2, '58', 16, '58'],
  ['2', 2, '60', 16, 'half=30'],
  // three in one, two and four in halves of the measure
  ['2', 4, '240', 8, 'half=120'],
  ['3', 4, '240', 12, 'dotted-half=80'],
  ['6', 8, '330', 12, 'dotted-half=110'],
  ['12', 8, '330', 24, 'dotted-half=110'],
  ['9', 8, '330', 18, 'dotted-half=110'],
  // a dotted beat is counted in its thirds
  ['6', 8, '44', 12, 'eighth=88'],
  ['6', 8, '45', 12, 'dotted-quarter=30'],
  ['6', 4, '80', 24, '80'],
] as const)('%s/%d at %s quarters a minute', (beats, type, tempo, length, expected) => {
  expect(goal(beats, type, tempo, length)).toBe(expected)
})

test('a goal is a whole number in that beat', () => {
  expect(goal('6', 8, '100', 12)).toBe('dotted-quarter=67')
})
