import { expect, test } from 'vitest'
import { beatsOf } from '../../src/click/program.ts'
import { frac, zero } from '../../src/music/fraction.ts'
import { music, played } from './support.ts'

test('the beats of a program are counted in, clicked or not; taps, cues and subdivisions are none; they are found once', () => {
  const form = {
    ...music('3/4', 2, '60'),
    breaths: [{ at: frac(3, 4), kind: 'breath' as const, adds: zero }],
  }
  const p = played(form, {
    countIn: 1,
    subdivide: 2,
    guide: { ratios: [3, 1], group: frac(1, 4) },
    only: { beats: [1] },
  })
  expect(beatsOf(p).map(b => `${b.measure}.${b.beat} at ${b.frame / p.rate}`)).toEqual([
    ...['-1.1 at 0', '-1.2 at 1', '-1.3 at 2'],
    ...['1.1 at 3', '1.2 at 4', '1.3 at 5', '2.1 at 6', '2.2 at 7', '2.3 at 8'],
  ])
  expect(beatsOf(p)).toBe(beatsOf(p))
})
