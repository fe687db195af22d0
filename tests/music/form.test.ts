import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type BreathKind, type Form, measures, meterAt, plainForm, waitsIn } from '../../src/music/form.ts'
import { add, compare, type Frac, frac, less, mul, sub, zero } from '../../src/music/fraction.ts'
import { type Meter, measureLength, meterText, parseMeter } from '../../src/music/meter.ts'
import { tempo } from '../../src/music/tempo.ts'
import { anyMeter } from './any.ts'

const meter = (s: string): Meter => {
  const read = parseMeter(s)
  if (!read.ok) throw new Error(read.problem.accepted)
  return read.value
}

/** Measures as a musician reads them: number, meter, where it begins. */
const read = (f: Form) => measures(f).map(m => [m.number, meterText(m.meter), m.from])

describe('the measures of a form', () => {
  it('four measures of 3/4 begin three quarters apart', () => {
    expect(read(plainForm(meter('3/4'), 4, tempo(96)))).toEqual([
      [1, '3/4', zero],
      [2, '3/4', frac(3, 4)],
      [3, '3/4', frac(3, 2)],
      [4, '3/4', frac(9, 4)],
    ])
  })

  it('a pick-up is measure 0: it takes its count from the bar line that it misses', () => {
    const f = plainForm(meter('4/4'), 2, tempo(96), frac(1, 4))
    const [pickup, first, second] = measures(f)
    expect(pickup).toMatchObject({ number: 0, from: zero, to: frac(1, 4), barline: frac(-3, 4) })
    expect(first).toMatchObject({ number: 1, from: frac(1, 4), barline: frac(1, 4) })
    expect(second?.to).toEqual(frac(9, 4))
  })

  it('meters change at bar lines: 3/4, 2+2+3/8, 4/4', () => {
    const f: Form = {
      meters: [
        { at: zero, meter: meter('3/4') },
        { at: frac(3, 2), meter: meter('7/8') },
        { at: frac(13, 4), meter: meter('4/4') },
      ],
      marks: [{ at: zero, tempo: tempo(72) }],
      pickup: zero,
      length: frac(17, 4),
    }
    expect(read(f)).toEqual([
      [1, '3/4', zero],
      [2, '3/4', frac(3, 4)],
      [3, '7/8', frac(3, 2)],
      [4, '7/8', frac(19, 8)],
      [5, '4/4', frac(13, 4)],
    ])
    expect(meterText(meterAt(f, frac(3, 2)))).toBe('7/8')
    expect(meterText(meterAt(f, frac(149, 100)))).toBe('3/4')
  })

  it('the last measure may be cut short, and so may a pick-up', () => {
    const whole = plainForm(meter('4/4'), 1, tempo(60), frac(1, 4))
    expect(measures({ ...whole, length: frac(3, 4) }).at(-1)).toMatchObject({ number: 1, to: frac(3, 4) })
    expect(measures({ ...whole, length: frac(1, 8) })).toEqual([
      expect.objectContaining({ number: 0, to: frac(1, 8) }),
    ])
  })

  it('a form without a meter is a mistake in the program', () => {
    expect(() => meterAt({ meters: [], marks: [], pickup: zero, length: zero }, zero)).toThrow(RangeError)
  })

  it('whatever the meters and the pick-up: no gap, no overlap, from the first note to the end', () => {
    const form = fc
      .tuple(
        fc.array(fc.tuple(anyMeter, fc.integer({ min: 1, max: 4 })), { minLength: 1, maxLength: 4 }),
        fc.integer({ min: 0, max: 7 }),
        fc.integer({ min: 1, max: 16 }),
      )
      .map(([parts, missing, cut]): Form => {
        const pickup = mul(measureLength((parts[0] as [Meter, number])[0]), frac(missing, 8))
        const meters: { at: Frac; meter: Meter }[] = []
        let at = pickup
        for (const [m, count] of parts) {
          meters.push({ at: meters.length === 0 ? zero : at, meter: m })
          for (let i = 0; i < count; i++) at = add(at, measureLength(m))
        }
        return { meters, marks: [{ at: zero, tempo: tempo(60) }], pickup, length: mul(at, frac(cut, 16)) }
      })
    fc.assert(
      fc.property(form, f => {
        const all = measures(f)
        expect(all[0]?.from).toEqual(zero)
        expect(all.at(-1)?.to).toEqual(f.length)
        all.forEach((m, i) => {
          const next = all[i + 1]
          expect(less(m.from, m.to)).toBe(true)
          expect(m.meter).toEqual(meterAt(f, m.from))
          // Only the pick-up and the last measure may be shorter than their meter says.
          if (m.number > 0) expect(m.barline).toEqual(m.from)
          const full = compare(sub(m.to, m.barline), measureLength(m.meter))
          expect(next ? full === 0 : full <= 0).toBe(true)
          if (next) expect([next.from, next.number]).toEqual([m.to, m.number + 1])
        })
      }),
      { numRuns: 500 },
    )
  })
})

describe('the marks at which the music waits', () => {
  const at = (place: Frac, kind: BreathKind, waits?: true) => ({
    at: place,
    kind,
    adds: zero,
    ...(waits ? { waits } : {}),
  })
  const waits = (...breaths: readonly ReturnType<typeof at>[]) =>
    waitsIn({ ...plainForm(meter('4/4'), 2, tempo(60)), breaths }).map(b => [b.at, b.kind])

  it('stand inside it: before the first note and after the last nothing waits', () => {
    expect(
      waits(
        at(zero, 'caesura', true),
        at(frac(1), 'fermata', true),
        at(frac(3, 2), 'breath'),
        at(frac(2), 'fermata', true),
      ),
    ).toEqual([[frac(1), 'fermata']])
  })

  it('are one a place, the first that is written', () => {
    const both = [at(frac(1), 'fermata', true), at(frac(1), 'caesura', true), at(frac(5, 4), 'caesura', true)]
    expect(waits(...both)).toEqual([
      [frac(1), 'fermata'],
      [frac(5, 4), 'caesura'],
    ])
  })
})
