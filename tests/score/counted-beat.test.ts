import { expect, test } from 'vitest'
import { typed } from '../../src/music/tempo.ts'
import { head, note, partOf } from './scores.ts'

const sound = (tempo: string) => `<sound tempo="${tempo}"/>`
const goal = (beats: string, type: number, tempo: string, length: number): string => {
  const [first] = partOf([head(beats, type) + sound(tempo) + note(length)]).tempos
  return first?.tempo ? typed(first.tempo) : ''
}

// A compound meter is counted in dotted beats, cut time in halves (common practice, no source).
test.each([
  ['6', 8, '120', 12, 'dotted-quarter=80'],
  ['12', 8, '99', 24, 'dotted-quarter=66'],
  ['2', 2, '120', 16, 'half=60'],
  ['4', 4, '96', 16, '96'],
  ['3', 4, '276', 12, 'dotted-half=92'],
  ['6', 8, '40', 12, 'eighth=80'],
] as const)('%s/%d at %s quarters a minute', (beats, type, tempo, length, expected) => {
  expect(goal(beats, type, tempo, length)).toBe(expected)
})

test('a goal is a whole number in that beat', () => {
  expect(goal('6', 8, '100', 12)).toBe('dotted-quarter=67')
})
