import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { airs, breathLimit, longestAir, moreBreath as moreBreathFor } from '../../src/click/air.ts'
import { formSeconds } from '../../src/click/tempo-map.ts'
import { playedForm } from '../../src/music/changes.ts'
import type { Breath, Form } from '../../src/music/form.ts'
import { equal, type Frac, frac, less, toNumber, zero } from '../../src/music/fraction.ts'
import type { Note } from '../../src/music/groups.ts'
import { compareTempo, scaleTempo, type Tempo, typed } from '../../src/music/tempo.ts'
import { anyForm } from '../music/any-form.ts'
import { music, tempoOf } from './support.ts'

const said = (seconds: number) => ({ seconds, said: true })
const moreBreath = (p: Played, at: Tempo, seconds: number, notes: readonly Note[] = []) =>
  moreBreathFor(p, at, said(seconds), notes)
type Played = Parameters<typeof moreBreathFor>[0]

/** Twelve beats in one breath. */
const form = music('4/4', 3, '138')
const twelve = { form, goal: tempoOf('138') }
const slow = (at: Frac, below: string): Breath => ({
  at,
  kind: 'slow-breath',
  adds: frac(1, 4),
  below: tempoOf(below),
})
const withBreaths = (...breaths: readonly Breath[]) => ({ ...twelve, form: { ...form, breaths } })

describe('twelve beats in one breath', () => {
  test.each([
    ['138', 5.22],
    ['96', 7.5],
    ['60', 12],
  ])('at %s take %d seconds', (t, seconds) => {
    expect(longestAir(form, tempoOf(t)).seconds).toBeCloseTo(seconds, 2)
  })
})

describe('twelve beats for a player who has 8.0 seconds', () => {
  test('need one more breath at 88, in the middle, below 90; at 92 none', () => {
    const more = moreBreath(twelve, tempoOf('88'), 8)
    expect(more?.at).toEqual(frac(3, 2))
    expect(more?.below && typed(more.below)).toBe('90')
    expect(more?.air.seconds).toBeCloseTo(8.18, 2)
    expect(moreBreath(twelve, tempoOf('92'), 8)).toBeNull()
  })

  test('with that breath need another one below 45, in the half that is longest', () => {
    const more = moreBreath(withBreaths(slow(frac(3, 2), '90')), tempoOf('40'), 8)
    expect(more?.below && typed(more.below)).toBe('45')
    // The first half: the second is no longer.
    expect(more?.at).toEqual(frac(3, 4))
  })

  test('a slow breath near the middle that is taken only below a lower tempo is taken below a higher one', () => {
    const more = moreBreath(withBreaths(slow(frac(5, 4), '60')), tempoOf('80'), 8)
    expect(more).toMatchObject({ at: frac(5, 4), instead: true })
    expect(more?.below && typed(more.below)).toBe('90')
    // One near the end serves nobody here.
    expect(moreBreath(withBreaths(slow(frac(11, 4), '60')), tempoOf('80'), 8)).toMatchObject({
      at: frac(3, 2),
      instead: false,
    })
  })

  test('of two stretches each is needed below its own tempo', () => {
    const two = withBreaths({ at: frac(5, 4), kind: 'breath', adds: zero })
    const more = moreBreath(two, tempoOf('40'), 8)
    // Seven quarters in 8 s are 52.5 a minute; the five before them 37.5. A tempo is said in whole beats.
    expect(more?.below && typed(more.below)).toBe('53')
    const then = withBreaths({ at: frac(5, 4), kind: 'breath', adds: zero }, slow(frac(2), '53'))
    expect(moreBreath(then, tempoOf('40'), 8)).toBeNull()
    const after = moreBreath(then, tempoOf('36'), 8)
    expect(after?.below && typed(after.below)).toBe('38')
  })
})

describe('where the notes are known', () => {
  const note = (at: Frac, length: Frac): Note => ({ at, length })
  const quarters = (...at: readonly number[]): readonly Note[] => at.map(n => note(frac(n, 4), frac(1, 4)))

  test('a rest near the middle is the place', () => {
    // Beat 6 (42.2) is a rest.
    expect(moreBreath(twelve, tempoOf('60'), 8, quarters(0, 1, 2, 3, 4, 6, 7, 8, 9, 10, 11))?.at).toEqual(
      frac(5, 4),
    )
    // A rest after the first beat is too early: the middle it is.
    expect(moreBreath(twelve, tempoOf('60'), 8, quarters(0, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11))?.at).toEqual(
      frac(3, 2),
    )
  })

  test('a note is not cut in two', () => {
    const held = [...quarters(0, 1, 2, 3, 4), note(frac(5, 4), frac(2, 4)), ...quarters(7, 8, 9, 10, 11)]
    expect(moreBreath(twelve, tempoOf('60'), 8, held)?.at).toEqual(frac(5, 4))
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

test('in any music the breaths and what stops add are all of its time', () => {
  fc.assert(
    fc.property(anyForm, form => {
      const first = (form.marks[0] as Form['marks'][number]).tempo
      const all = airs(form, first)
      expect(all.reduce((n, a) => n + a.seconds, 0)).toBeLessThanOrEqual(formSeconds(form, first) + 1e-6)
      all.slice(1).forEach((a, i) => {
        expect(equal(a.from, all[i]?.to ?? zero)).toBe(true)
      })
    }),
    { numRuns: 300 },
  )
})

test('through tempo changes the tempo found is that of the first mark', () => {
  const changing: Form = {
    ...music('4/4', 2, '120'),
    marks: [
      { at: zero, tempo: tempoOf('120') },
      { at: frac(1), tempo: tempoOf('60') },
    ],
  }
  // 2 + 4 seconds as written; in 8 seconds at three quarters of it, where changes are played from there on.
  const played = { form: { ...changing, changesFrom: frac(1, 2) }, goal: tempoOf('120') }
  expect(moreBreath(played, tempoOf('80'), 8)?.below).toEqual(tempoOf('90'))
  // Changes from 90 on, where they fit: below it eight even quarters fit from 60 on.
  const later = { form: { ...changing, changesFrom: frac(3, 4) }, goal: tempoOf('120') }
  expect(moreBreath(later, tempoOf('55'), 8)?.below).toEqual(tempoOf('60'))
  expect(moreBreath(later, tempoOf('60'), 8)).toBeNull()
  expect(moreBreath(later, tempoOf('90'), 8)).toBeNull()
})

describe('how long one breath can be', () => {
  test('is what the player said, else the longest that was done clean, else nobody knows', () => {
    expect(breathLimit(8, 9)).toEqual(said(8))
    expect(breathLimit(undefined, 7.27)).toEqual({ seconds: 7.27, said: false })
    expect(breathLimit(undefined, 0)).toBeNull()
    expect(breathLimit(undefined, null)).toBeNull()
  })

  test('where nobody has said so, twelve seconds are the player’s own, and what is longer is worth a word', () => {
    const done = { seconds: 5, said: false }
    // Twelve quarters at 60 take 12 s.
    expect(moreBreathFor(twelve, tempoOf('60'), done)).toBeNull()
    expect(moreBreathFor(twelve, tempoOf('59'), done)?.at).toEqual(frac(3, 2))
    expect(moreBreath(twelve, tempoOf('60'), 5)?.at).toEqual(frac(3, 2))
  })

  test('what is needed below the goal is named up to the goal itself; what is needed there too has no end', () => {
    // At 138 twelve quarters take 5.217 s.
    const all = (seconds: number) => moreBreath(twelve, tempoOf('100'), seconds)?.below
    expect(all(5.22)).toEqual(tempoOf('138'))
    expect(all(5.2)).toBeNull()
  })

  test('what was done is known to a hundredth: the same breath is not longer than itself', () => {
    // Eight quarters at 66 take 7.273 s.
    const two = { form: music('4/4', 2, '138'), goal: tempoOf('138') }
    expect(moreBreathFor(two, tempoOf('66'), { seconds: 7.27, said: false })).toBeNull()
    expect(moreBreathFor(two, tempoOf('66'), said(7.27))).not.toBeNull()
    // Twelve quarters at 59 take 12.203 s.
    expect(moreBreathFor(twelve, tempoOf('59'), { seconds: 12.2, said: false })).toBeNull()
    expect(moreBreathFor(twelve, tempoOf('59'), { seconds: 12.19, said: false })).not.toBeNull()
  })
})

test('in any music the breath stands inside the stretch, and from the tempo that is named the stretch fits', () => {
  const seen = { none: 0, some: 0, changing: 0 }
  fc.assert(
    fc.property(
      anyForm,
      fc.integer({ min: 1, max: 12 }),
      fc.constantFrom(frac(1, 2), frac(7, 10), frac(9, 10), frac(1)),
      (any, capacity, share) => {
        const goal = (any.marks[0] as Form['marks'][number]).tempo
        const at = scaleTempo(goal, share)
        const more = moreBreath({ form: any, goal }, at, capacity)
        const long = longestAir(playedForm(any, at, goal), at)
        expect(more === null).toBe(long.seconds <= capacity + 1e-9)
        if (!more) return void seen.none++
        seen.some++
        if (any.marks.length > 1) seen.changing++
        if (more.below) {
          expect(compareTempo(more.below, at)).toBeGreaterThan(0)
          expect(compareTempo(more.below, goal)).toBeLessThanOrEqual(0)
          expect(more.below.bpm.d).toBe(1)
        }
        if (more.at) {
          expect(less(more.air.from, more.at)).toBe(true)
          expect(less(more.at, more.air.to)).toBe(true)
        }
        const whole = { ...any, breaths: (any.breaths ?? []).filter(b => b.kind !== 'slow-breath') }
        // Slow breaths apart, every stretch that begins there fits from that tempo on.
        const same = (first: Tempo) =>
          airs(playedForm(whole, first, goal), first).find(
            a => equal(a.from, more.air.from) && equal(a.to, more.air.to),
          )
        const stretch = same(more.below ?? goal)
        // Tempos are named in whole beats: a goal like 239.083 may fit by a hair where 239 does not.
        const fast = toNumber(goal.bpm)
        if (stretch && !more.below)
          expect((stretch.seconds * fast) / Math.floor(fast)).toBeGreaterThan(capacity * 0.999999)
        else if (stretch) expect(stretch.seconds).toBeLessThanOrEqual(capacity * 1.000001)
      },
    ),
    { numRuns: 500 },
  )
  for (const [what, times] of Object.entries(seen)) expect(times, what).toBeGreaterThan(30)
})
