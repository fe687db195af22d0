import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { layOut } from '../../src/click/clicks.ts'
import { compile } from '../../src/click/compile.ts'
import { tempoMap } from '../../src/click/tempo-map.ts'
import { cutForm } from '../../src/music/cut.ts'
import { type Form, measures } from '../../src/music/form.ts'
import {
  add,
  compare,
  type Frac,
  frac,
  less,
  mulNear,
  sub,
  toNumber,
  zero,
} from '../../src/music/fraction.ts'
import { meterText } from '../../src/music/meter.ts'
import { type Tempo, typed } from '../../src/music/tempo.ts'
import { eighths, meter, music, RATE, tempoOf } from '../click/support.ts'
import { anyForm, formAndSpan } from './any-form.ts'

it('of a note that is held over the cut only what is left of it is held', () => {
  const form: Form = {
    ...music('4/4', 2, '60'),
    breaths: [{ at: frac(2), kind: 'fermata', adds: frac(1, 4), note: frac(1) }],
  }
  expect(cutForm(form, frac(3, 2), frac(2)).breaths?.[0]).toMatchObject({ at: frac(1, 2), note: frac(1, 2) })
  expect(cutForm(form, frac(1, 2), frac(2)).breaths?.[0]).toMatchObject({ at: frac(3, 2), note: frac(1) })
})

describe('a section cut out of a passage', () => {
  const changing: Form = {
    meters: [
      { at: zero, meter: meter('3/4') },
      { at: frac(3, 2), meter: meter('2+2+3/8') },
    ],
    marks: [
      { at: zero, tempo: tempoOf('120') },
      { at: frac(3, 2), tempo: tempoOf('120'), ramp: true },
      { at: frac(19, 8), tempo: tempoOf('60') },
    ],
    pickup: zero,
    length: frac(13, 4),
    breaths: [
      { at: frac(3, 4), kind: 'breath', adds: zero },
      { at: frac(3, 2), kind: 'fermata', adds: frac(1, 4) },
    ],
  }

  it('that begins on the second beat of three has two beats of pick-up, and the rest of its music', () => {
    const f = cutForm(changing, frac(1, 4), frac(9, 4))
    expect(f.pickup).toEqual(frac(1, 2))
    expect(f.length).toEqual(frac(2))
    expect(f.meters.map(m => [meterText(m.meter), m.at])).toEqual([
      ['3/4', zero],
      ['7/8', frac(5, 4)],
    ])
    expect(measures(f).map(m => [m.number, m.from])).toEqual([
      [0, zero],
      [1, frac(1, 2)],
      [2, frac(5, 4)],
    ])
    expect(f.breaths?.map(b => [b.kind, b.at])).toEqual([
      ['breath', frac(1, 2)],
      ['fermata', frac(5, 4)],
    ])
  })

  it('that begins inside a ritardando begins at the tempo there and slows on from it', () => {
    // Four of seven eighths on the way from 120 to 60.
    const f = cutForm(changing, frac(2), frac(13, 4))
    expect(f.marks.map(m => [typed(m.tempo), m.ramp ?? false, m.at])).toEqual([
      ['85.714', true, zero],
      ['60', false, eighths(3)],
    ])
    expect(f.marks[0]?.tempo.bpm).toEqual(frac(600, 7))
  })

  it('that ends inside a ritardando ends at the tempo there', () => {
    const f = cutForm(changing, frac(3, 2), frac(2))
    expect(f.marks.map(m => [m.tempo.bpm, m.ramp ?? false, m.at])).toEqual([
      [frac(120), true, zero],
      [frac(600, 7), false, eighths(4)],
    ])
  })

  it('keeps the fermata on its last note, but no breath after it', () => {
    const fermata = cutForm(changing, frac(3, 4), frac(3, 2))
    expect(fermata.breaths?.map(b => b.kind)).toEqual(['breath', 'fermata'])
    expect(cutForm(changing, zero, frac(3, 4)).breaths).toEqual([])
  })

  it('keeps a slow breath where it is taken in the whole: its tempo moves with the first mark', () => {
    const whole: Form = {
      ...music('4/4', 2, '120'),
      marks: [
        { at: zero, tempo: tempoOf('120') },
        { at: frac(1), tempo: tempoOf('90') },
      ],
      breaths: [{ at: frac(3, 2), kind: 'slow-breath', adds: frac(1, 4), below: tempoOf('100') }],
    }
    expect(typed(cutForm(whole, frac(1), frac(2)).breaths?.[0]?.below as Tempo)).toBe('75')
  })

  it.each([
    [frac(-1, 4), frac(1)],
    [frac(1), frac(1)],
    [frac(1), frac(1, 2)],
    [frac(1), frac(4)],
  ])('is refused where it lies outside the passage or has no length', (from, to) => {
    expect(() => cutForm(changing, from, to)).toThrow(RangeError)
  })
})

/** A form without the numbers of its tempos, and these alone. */
const untimed = (f: Form) => ({
  ...f,
  marks: f.marks.map(m => ({ ...m, tempo: m.tempo.unit })),
  breaths: f.breaths?.map(b => ({ ...b, below: b.below?.unit })),
})
const bpms = (f: Form): readonly number[] =>
  [...f.marks.map(m => m.tempo), ...(f.breaths ?? []).flatMap(b => b.below ?? [])].map(t => toNumber(t.bpm))

describe('any cut of any form', () => {
  it('at the ends changes nothing', () => {
    fc.assert(
      fc.property(anyForm, f => {
        expect(cutForm(f, zero, f.length)).toEqual(f)
      }),
      { numRuns: 200 },
    )
  })

  it('made in two steps is the cut made in one', () => {
    let ramps = 0
    fc.assert(
      fc.property(formAndSpan, fc.nat(64), fc.nat(64), ({ form, from, to }, a, b) => {
        const part = cutForm(form, from, to)
        const [c, d] = [frac(a, 64), frac(b, 64)].map(s => mulNear(part.length, s)).sort(compare) as [
          Frac,
          Frac,
        ]
        if (!less(c, d)) return
        if (part.marks.some(m => m.ramp)) ramps++
        const [twice, once] = [cutForm(part, c, d), cutForm(form, add(from, c), add(from, d))]
        expect(untimed(twice)).toEqual(untimed(once))
        // tempos too fine to be exact are rounded to a millionth each time
        bpms(twice).forEach((bpm, i) => {
          expect(Math.abs(bpm - (bpms(once)[i] as number))).toBeLessThan(1e-5 * Math.max(1, bpm))
        })
      }),
      { numRuns: 300 },
    )
    expect(ramps).toBeGreaterThan(30)
  })

  it('clicks what the whole clicks there, when the whole clicks it', () => {
    const seen = new Set<string>()
    let stops = 0
    fc.assert(
      fc.property(
        formAndSpan,
        fc.integer({ min: 40, max: 120 }),
        fc.nat(2),
        ({ form, from, to }, percent, more) => {
          const at = (f: Form): Tempo => {
            const { unit, bpm } = (f.marks[0] as Form['marks'][number]).tempo
            return { unit, bpm: mulNear(bpm, frac(percent, 100)) }
          }
          const o = { countIn: 0, subdivide: 1 + more }
          const part = cutForm(form, from, to)
          const whole = layOut(form, at(form), o)
          const mine = layOut(part, at(part), o)
          const inside = whole.beats.filter(c => compare(from, c.at) <= 0 && less(c.at, to))
          const heard = ({ role, beat }: { role: string; beat: number }) => ({ role, beat })
          expect(mine.beats.map(c => ({ ...heard(c), at: c.at }))).toEqual(
            inside.map(c => ({ ...heard(c), at: sub(c.at, from) })),
          )
          const cues = whole.breaths.filter(c => less(from, c.at) && less(c.at, to))
          expect(mine.breaths.map(c => c.at)).toEqual(cues.map(c => sub(c.at, from)))

          const map = tempoMap(form, at(form), RATE)
          const program = compile(part, at(part), { ...o, rate: RATE })
          const expected = [
            ...inside.map(c => map.frames(c.at) - map.frames(from)),
            ...cues.map(c => map.until(c.at) - map.frames(from)),
          ].sort((a, b) => a - b)
          const got = program.onsets.map(x => x.frame - program.firstNote)
          expect(got).toHaveLength(expected.length)
          // Half a frame for rounding; sums of many stretches agree to a thousandth.
          got.forEach((frame, i) => {
            expect(Math.abs(frame - (expected[i] as number))).toBeLessThan(0.501)
          })
          for (const c of inside) seen.add(c.role)
          if (map.frames(to) - map.until(to) > 0 || part.breaths?.some(b => b.kind === 'fermata')) stops++
        },
      ),
      { numRuns: 300 },
    )
    expect([...seen].sort()).toEqual(['beat', 'downbeat', 'group', 'sub'])
    expect(stops).toBeGreaterThan(5)
  })
})

describe('what a cut keeps', () => {
  const six = { ...music('6/8', 4, '60'), counted: meter('3/4'), changesFrom: frac(3, 4) }

  it('the meter that is counted, and from where tempo changes are played', () => {
    expect(cutForm(six, frac(3, 4), frac(9, 4))).toMatchObject({
      counted: meter('3/4'),
      changesFrom: frac(3, 4),
    })
    const plain = cutForm(music('6/8', 4, '60'), frac(3, 4), frac(9, 4))
    for (const key of ['counted', 'changesFrom', 'breaths']) expect(plain).not.toHaveProperty(key)
  })

  it('all of it is the form itself', () => {
    expect(cutForm(six, zero, six.length)).toBe(six)
  })

  it('there is nothing before the beginning, after the end, or between a place and itself', () => {
    for (const [from, to] of [
      [frac(-1, 8), frac(1)],
      [frac(1), frac(1)],
      [frac(2), frac(1)],
      [frac(1), frac(25, 8)],
    ] as const)
      expect(() => cutForm(six, from, to)).toThrow(RangeError)
    expect(cutForm(six, frac(1), six.length).length).toEqual(frac(2))
  })

  it('nothing can be cut out of music without a meter', () => {
    expect(() => cutForm({ ...six, meters: [] }, frac(1), frac(2))).toThrow(RangeError)
  })
})
