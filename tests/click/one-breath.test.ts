import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { airs, longestAir, slowBreathBelow } from '../../src/click/one-breath.ts'
import { formSeconds } from '../../src/click/tempo-map.ts'
import type { Form } from '../../src/music/form.ts'
import { equal, frac, zero } from '../../src/music/fraction.ts'
import { typed } from '../../src/music/tempo.ts'
import { anyForm } from '../music/any-form.ts'
import { music, tempoOf } from './support.ts'

/** Twelve beats in one breath. */
const twelve = music('4/4', 3, '138')

describe('twelve beats in one breath', () => {
  test.each([
    ['138', 5.22],
    ['96', 7.5],
    ['60', 12],
  ])('at %s take %d seconds', (t, seconds) => {
    expect(longestAir(twelve, tempoOf(t)).seconds).toBeCloseTo(seconds, 2)
  })

  test('with 8.0 seconds a slow breath is needed below 90: at 88, not at 92', () => {
    const { tempo, enoughAt } = slowBreathBelow(twelve, 8)
    expect(typed(tempo)).toBe('90')
    expect(enoughAt).toBe(92)
    expect(longestAir(twelve, tempoOf('92')).seconds).toBeLessThanOrEqual(8)
    expect(longestAir(twelve, tempoOf('88')).seconds).toBeGreaterThan(8)
  })

  test('with the slow breath in, two breaths below 90 and one from there on', () => {
    const form: Form = {
      ...twelve,
      breaths: [
        { at: frac(3, 2), kind: 'slow-breath', adds: frac(1, 4), below: slowBreathBelow(twelve, 8).tempo },
      ],
    }
    expect(airs(form, tempoOf('88')).map(a => a.seconds.toFixed(2))).toEqual(['4.09', '4.09'])
    expect(airs(form, tempoOf('92'))).toHaveLength(1)
    expect(typed(slowBreathBelow(form, 8).tempo)).toBe('90')
  })
})

test('from breath to breath: caesuras too; a fermata or a page turn is no breath; what stops add is no breath’s time', () => {
  const form: Form = {
    ...music('4/4', 4, '60'),
    breaths: [
      { at: frac(1), kind: 'breath', adds: zero },
      { at: frac(3, 2), kind: 'fermata', adds: frac(1, 4) },
      { at: frac(2), kind: 'caesura', adds: frac(1, 2) },
      { at: frac(3), kind: 'turn', adds: zero },
    ],
  }
  expect(airs(form, tempoOf('60')).map(a => a.seconds)).toEqual([4, 5, 8])
  expect(longestAir(form, tempoOf('60'))).toEqual({ from: frac(2), to: frac(4), seconds: 8 })
})

test('a fermata that waits is a place to breathe: the beat before it goes on is there for it', () => {
  const form: Form = {
    ...music('4/4', 4, '60'),
    breaths: [{ at: frac(3, 2), kind: 'fermata', adds: frac(1, 4), waits: true }],
  }
  expect(airs(form, tempoOf('60')).map(a => a.seconds)).toEqual([6, 10])
})

test('through tempo changes the tempo found is that of the first mark', () => {
  const form: Form = {
    ...music('4/4', 2, '120'),
    marks: [
      { at: zero, tempo: tempoOf('120') },
      { at: frac(1), tempo: tempoOf('60') },
    ],
  }
  // 2 + 4 seconds as written; in 8 seconds at three quarters of it.
  expect(typed(slowBreathBelow(form, 8).tempo)).toBe('90')
})

test('no mark of the scale is fast enough for a very short breath', () => {
  expect(slowBreathBelow(music('4/4', 64, '60'), 1).enoughAt).toBeNull()
})

test('in any music the breaths and what stops add are all of its time, and the tempo found is the limit', () => {
  fc.assert(
    fc.property(anyForm, fc.integer({ min: 2, max: 20 }), (form, capacity) => {
      const first = (form.marks[0] as Form['marks'][number]).tempo
      const all = airs(form, first)
      expect(all.reduce((n, a) => n + a.seconds, 0)).toBeLessThanOrEqual(formSeconds(form, first) + 1e-6)
      all.slice(1).forEach((a, i) => {
        expect(equal(a.from, all[i]?.to ?? zero)).toBe(true)
      })
      const planned = { ...form, breaths: (form.breaths ?? []).filter(b => b.kind !== 'slow-breath') }
      const { tempo } = slowBreathBelow(form, capacity)
      const longest = longestAir(planned, tempo).seconds
      // Found to 0.01 beats a minute, above.
      expect(longest).toBeLessThanOrEqual(capacity * 1.000001)
      if (tempo.bpm.n > tempo.bpm.d)
        expect(longest * (1 + 0.011 / (tempo.bpm.n / tempo.bpm.d))).toBeGreaterThan(capacity * 0.99999)
    }),
    { numRuns: 300 },
  )
})
