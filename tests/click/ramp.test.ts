import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { formSeconds, tempoMap } from '../../src/click/tempo-map.ts'
import type { Form } from '../../src/music/form.ts'
import { add, type Frac, frac, toNumber, zero } from '../../src/music/fraction.ts'
import { quarters } from '../../src/music/tempo.ts'
import { eighths, framesOf, meter, music, played, RATE, tempoOf } from './support.ts'

/** Simpson's rule over the time of one whole note, 60/W, where W slides from w0 to w1 over a length. */
const integrated = (w0: number, w1: number, length: number, into: number): number => {
  const steps = 2000
  const h = into / steps
  const f = (s: number) => 60 / (w0 + ((w1 - w0) * s) / length)
  let total = f(0) + f(into)
  for (let i = 1; i < steps; i++) total += (i % 2 === 1 ? 4 : 2) * f(i * h)
  return (total * h) / 3
}

/** Seconds to a position, adding up the stretches between marks: another way than the code's closed form. */
const seconds = (form: Form, ratio: number, at: number): number => {
  const whole = (i: number) => {
    const m = form.marks[i]
    return m ? (toNumber(quarters(m.tempo)) / 4) * ratio : 1
  }
  let total = 0
  form.marks.forEach((m, i) => {
    const from = toNumber(m.at)
    const next = form.marks[i + 1]
    const to = toNumber(next?.at ?? form.length)
    if (at <= from || to <= from) return
    const w1 = m.ramp && next ? whole(i + 1) : whole(i)
    total += integrated(whole(i), w1, to - from, Math.min(at, to) - from)
  })
  return total
}

describe('7/8 as 2+2+3: one measure at eighth = 208, then one slowing evenly to eighth = 156', () => {
  const form: Form = {
    meters: [{ at: zero, meter: meter('2+2+3/8') }],
    marks: [
      { at: zero, tempo: tempoOf('eighth=208') },
      { at: eighths(7), tempo: tempoOf('eighth=208'), ramp: true },
      { at: eighths(14), tempo: tempoOf('eighth=156') },
    ],
    pickup: zero,
    length: eighths(14),
  }
  const program = played(form)
  const groups = framesOf(program, 'downbeat', 'group')
  /** Exact: 7 eighths at 208. */
  const second = (7 * 60) / 208

  test('groups stand at 0, 27,692 and 55,385, the second measure at 96,923', () => {
    expect(groups.slice(0, 4)).toEqual([0, 27_692, 55_385, 96_923])
  })

  test('in the second measure after .598564 and 1.245063 s, and it ends after 2.323586 s', () => {
    const after = [...groups.slice(4), program.end].map(f => f / RATE - second)
    expect(after[0]).toBeCloseTo(0.598564, 4)
    expect(after[1]).toBeCloseTo(1.245063, 4)
    expect(after[2]).toBeCloseTo(2.323586, 4)
  })

  test('at three quarters of the tempo all of it lasts 4/3 as long', () => {
    const slow = played(form, {}, 'eighth=156')
    const late = [...framesOf(slow, 'downbeat', 'group').slice(4), slow.end].map(f => f / RATE)
    const expected = [0.598564, 1.245063, 2.323586].map(s => ((s + second) * 4) / 3)
    late.forEach((s, i) => {
      expect(s).toBeCloseTo(expected[i] as number, 4)
    })
    expect(late).toHaveLength(3)
  })

  test('agrees with a numeric integration to a tenth of a sample', () => {
    const map = tempoMap(form, tempoOf('eighth=208'), RATE)
    for (let e = 0; e <= 14; e++)
      expect(Math.abs(map.frames(eighths(e)) - RATE * seconds(form, 1, e / 8))).toBeLessThan(0.1)
  })
})

const bpm = fc.integer({ min: 20_000, max: 300_000 }).map(t => tempoOf(String(t / 1000)))
const forms = fc
  .array(fc.record({ gap: fc.integer({ min: 1, max: 64 }), tempo: bpm, ramp: fc.boolean() }), {
    minLength: 1,
    maxLength: 5,
  })
  .map((stretches): Form => {
    let at: Frac = zero
    const marks = stretches.map(({ gap, tempo, ramp }) => {
      const mark = { at, tempo, ...(ramp ? { ramp: true as const } : {}) }
      at = add(at, frac(gap, 16))
      return mark
    })
    return { meters: [{ at: zero, meter: meter('4/4') }], marks, pickup: zero, length: at }
  })

describe('any map of marks and ramps', () => {
  test('gives the times of a numeric integration, at any ratio', () => {
    fc.assert(
      fc.property(
        forms,
        fc.integer({ min: 400, max: 1500 }),
        fc.integer({ min: 0, max: 1000 }),
        (form, k, where) => {
          const first = form.marks[0]?.tempo as ReturnType<typeof tempoOf>
          const slowed = { unit: first.unit, bpm: frac(first.bpm.n * k, first.bpm.d * 1000) }
          const at = frac(form.length.n * where, form.length.d * 1000)
          const got = tempoMap(form, slowed, RATE).frames(at)
          expect(Math.abs(got - RATE * seconds(form, k / 1000, toNumber(at)))).toBeLessThan(0.1)
        },
      ),
      { numRuns: 300 },
    )
  })

  test('lasts longer by the ratio when it is played slower', () => {
    fc.assert(
      fc.property(forms, form => {
        const first = form.marks[0]?.tempo as ReturnType<typeof tempoOf>
        const half = { unit: first.unit, bpm: frac(first.bpm.n, first.bpm.d * 2) }
        expect(formSeconds(form, half) / formSeconds(form, first)).toBeCloseTo(2, 9)
      }),
    )
  })
})

test('a ramp between almost equal tempos is almost steady, not noise', () => {
  const base = music('4/4', 64, '120')
  const form: Form = {
    ...base,
    marks: [
      { at: zero, tempo: tempoOf('120'), ramp: true },
      { at: base.length, tempo: tempoOf('120.001') },
    ],
  }
  expect(Math.abs(formSeconds(form, tempoOf('120')) - integrated(30, 30.00025, 64, 64))).toBeLessThan(1e-7)
})
