import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  MOST_RUNGS,
  parseStep,
  type RungStep,
  rungAtOrBelow,
  rungs,
  stepText,
  twoUpTo,
} from '../../src/ladder/rungs.ts'
import { frac, toNumber } from '../../src/music/fraction.ts'
import { NOTE_VALUES } from '../../src/music/note-value.ts'
import { ok } from '../../src/music/result.ts'
import {
  compareTempo,
  inUnit,
  MARKS,
  sameTempo,
  type Tempo,
  tempo,
  tempoRatio,
  typed,
} from '../../src/music/tempo.ts'
import { anyTempo, anyText } from '../music/any.ts'

const NOTCH: RungStep = { kind: 'notch' }
const percent = (by: number): RungStep => ({ kind: 'percent', by: frac(by * 10, 10) })
const fixed = (by: number): RungStep => ({ kind: 'fixed', by: frac(by) })
const DOTTED = frac(3, 8)

const built = (start: Tempo, goal: Tempo, step: RungStep): readonly Tempo[] => {
  const r = rungs(start, goal, step)
  if (!r.ok) throw new Error(r.problem.accepted)
  return r.value
}
/** The rungs as they are typed, in one line. */
const said = (start: number, goal: number, step: RungStep = NOTCH): string =>
  built(tempo(start), tempo(goal), step).map(typed).join(' ')

describe('a ladder by notches', () => {
  it('from 60 to 120 has 17 rungs, all marks of the scale', () => {
    expect(said(60, 120)).toBe('60 63 66 69 72 76 80 84 88 92 96 100 104 108 112 116 120')
  })

  it('from 61 to 127 keeps both ends and leaves out 126, which is too near to the goal', () => {
    expect(said(61, 127)).toBe('61 63 66 69 72 76 80 84 88 92 96 100 104 108 112 116 120 127')
  })

  it('leaves out a mark nearer than half a step: 118 to 138 has no 120, 117 to 138 has', () => {
    expect(said(118, 138)).toBe('118 126 132 138')
    expect(said(117, 138)).toBe('117 120 126 132 138')
  })

  it('above 208 goes on by the doubled marks, below 40 by 2', () => {
    expect(said(192, 264)).toBe('192 200 208 216 224 232 240 252 264')
    expect(said(31, 46)).toBe('31 32 34 36 38 40 42 44 46')
  })

  it('from any whole number to any other, 40 to 208, each step is from 1.73 to 8.54 %', () => {
    let [least, most] = [1, 0]
    for (let a = 40; a <= 208; a++)
      for (let b = a + 1; b <= 208; b++) {
        const all = built(tempo(a), tempo(b), NOTCH).map(t => toNumber(t.bpm))
        // Two ends with nothing between may stand as near as they were typed.
        if (all.length === 2 && b / a < 1.0173) continue
        all.slice(1).forEach((x, i) => {
          const step = x / (all[i] as number) - 1
          least = Math.min(least, step)
          most = Math.max(most, step)
        })
      }
    expect(least).toBeGreaterThanOrEqual(0.0173)
    expect(most).toBeLessThanOrEqual(0.0854)
  })
})

describe('a ladder by other steps', () => {
  it('by 4 % from 60: 62.4, 64.9 and so on, rounded to 0.01', () => {
    expect(said(60, 75, percent(4))).toBe('60 62.4 64.9 67.49 70.19 73 75')
  })

  it('by +4: the last rung before the goal goes when it is nearer than 2', () => {
    expect(said(100, 113, fixed(4))).toBe('100 104 108 113')
    expect(said(100, 114, fixed(4))).toBe('100 104 108 112 114')
  })

  it('13 rungs from 60 to 120 are the twelve equal ratios of an octave, with both ends', () => {
    const all = built(tempo(60), tempo(120), { kind: 'count', rungs: 13 })
    expect(all).toHaveLength(13)
    all.slice(1).forEach((t, i) => {
      expect(tempoRatio(t, all[i] as Tempo)).toBeCloseTo(2 ** (1 / 12), 3)
    })
    expect(said(80, 90, { kind: 'count', rungs: 2 })).toBe('80 90')
    expect(built(tempo(60), tempo(240), { kind: 'count', rungs: 200 })).toHaveLength(200)
  })

  it.each([1, 0, -3, 2.5, 201, Number.NaN])('%d rungs are refused', n => {
    expect(rungs(tempo(60), tempo(120), { kind: 'count', rungs: n })).toMatchObject({
      ok: false,
      problem: { field: 'number of rungs' },
    })
  })

  it('a step so fine that there would be more than 200 rungs is refused, not cut off', () => {
    expect(rungs(tempo(20), tempo(900), percent(0.5))).toMatchObject({
      ok: false,
      problem: { field: 'step' },
    })
    expect(rungs(tempo(20), tempo(900), { kind: 'fixed', by: frac(1, 2) }).ok).toBe(false)
    expect(rungs(tempo(900), tempo(20), percent(0.5), 'down')).toMatchObject({
      ok: false,
      problem: { field: 'step' },
    })
  })
})

describe('the ends of a ladder', () => {
  it('a goal below the start is refused', () => {
    expect(rungs(tempo(120), tempo(60), NOTCH)).toMatchObject({
      ok: false,
      problem: { field: 'goal tempo', got: '60' },
    })
    expect(rungs(tempo(100), tempo(60, DOTTED), NOTCH).ok).toBe(false)
  })

  it('equal ends make one rung, in the note value of the goal', () => {
    expect(built(tempo(120), tempo(80, DOTTED), NOTCH)).toEqual([tempo(80, DOTTED)])
    expect(rungs(tempo(120), tempo(120), NOTCH, 'down')).toEqual(ok([tempo(120)]))
  })

  it('rungs count in the note value of the goal; the start is converted exactly', () => {
    const all = built(tempo(100), tempo(80, DOTTED), NOTCH)
    expect(all.map(t => t.unit)).toEqual(all.map(() => DOTTED))
    expect(all[0]?.bpm).toEqual(frac(200, 3))
    expect(all.slice(1).map(typed)).toEqual([
      'dotted-quarter=69',
      'dotted-quarter=72',
      'dotted-quarter=76',
      'dotted-quarter=80',
    ])
  })

  const anyStep: fc.Arbitrary<RungStep> = fc.oneof(
    fc.constant(NOTCH),
    fc.integer({ min: 5, max: 500 }).map(tenths => ({ kind: 'percent' as const, by: frac(tenths, 10) })),
    fc.integer({ min: 5, max: 1000 }).map(tenths => ({ kind: 'fixed' as const, by: frac(tenths, 10) })),
    fc.integer({ min: 2, max: MOST_RUNGS }).map(n => ({ kind: 'count' as const, rungs: n })),
  )
  /** Ends anywhere, and ends that nearly meet, where rounding to 0.01 bites. */
  const ends = fc.oneof(
    fc.tuple(anyTempo, anyTempo),
    fc
      .tuple(fc.integer({ min: 1000, max: 998_000 }), fc.integer({ min: 0, max: 60 }))
      .map(([n, more]): [Tempo, Tempo] => [
        { unit: frac(1, 4), bpm: frac(n, 1000) },
        { unit: frac(1, 4), bpm: frac(n + more, 1000) },
      ]),
  )

  it('stand exactly, whatever the tempos and the step, and the rungs between climb', () => {
    fc.assert(
      fc.property(ends, anyStep, ([a, b], step) => {
        const [start, goal] = compareTempo(a, b) <= 0 ? [a, b] : [b, a]
        const r = rungs(start, goal, step)
        if (!r.ok) {
          expect(r.problem.field).toBe('step')
          return
        }
        const all = r.value
        expect(all.length).toBeLessThanOrEqual(MOST_RUNGS)
        expect(sameTempo(all[0] as Tempo, start)).toBe(true)
        expect(all.at(-1)).toEqual(goal)
        all.slice(1).forEach((t, i) => {
          expect(t.unit).toEqual(goal.unit)
          expect(compareTempo(t, all[i] as Tempo)).toBeGreaterThan(0)
        })
      }),
      { numRuns: 300 },
    )
  })

  it('no step is wider than one and a half, nor narrower than half of what was asked', () => {
    const range = fc.tuple(fc.integer({ min: 30, max: 200 }), fc.integer({ min: 1, max: 300 }))
    fc.assert(
      fc.property(range, fc.integer({ min: 5, max: 300 }), ([from, more], tenths) => {
        const step: RungStep = { kind: 'percent', by: frac(tenths, 10) }
        const r = rungs(tempo(from), tempo(from + more), step)
        if (!r.ok || r.value.length === 2) return
        const by = tenths / 1000
        const rounding = 0.01 / from
        r.value.slice(1).forEach((t, i) => {
          const ratio = tempoRatio(t, r.value[i] as Tempo)
          expect(ratio).toBeGreaterThan(1 + by / 2 - rounding)
          expect(ratio).toBeLessThan((1 + by) * (1 + (by / 2) * 1.2) + rounding)
        })
      }),
      { numRuns: 500 },
    )
  })
})

describe('a step as it is typed', () => {
  it('is notch, 4% or +4', () => {
    expect(parseStep('notch')).toEqual(ok(NOTCH))
    expect(parseStep('4%')).toEqual(ok(percent(4)))
    expect(parseStep(' 2.5 % ')).toEqual(ok(percent(2.5)))
    expect(parseStep('+4')).toEqual(ok(fixed(4)))
  })

  it.each(['', '4', 'notches', '%', '+', '0.4%', '51%', '+0.4', '+101', '-4', '+4%', '4%%', 'Notch'])(
    '%j is refused with what is accepted',
    s => {
      expect(parseStep(s)).toMatchObject({ ok: false, problem: { field: 'step', got: s } })
    },
  )

  it('never throws, and reads back from its text', () => {
    fc.assert(
      fc.property(anyText, s => {
        const read = parseStep(s)
        if (read.ok) expect(parseStep(stepText(read.value))).toEqual(read)
      }),
      { numRuns: 500 },
    )
    fc.assert(
      fc.property(
        fc.integer({ min: 500, max: 50_000 }),
        fc.constantFrom('percent' as const, 'fixed' as const),
        (n, k) => {
          const step: RungStep = { kind: k, by: frac(n, 1000) }
          expect(parseStep(stepText(step))).toEqual(ok(step))
        },
      ),
    )
    expect(stepText({ kind: 'count', rungs: 12 })).toBe('12 rungs')
    expect(stepText(NOTCH)).toBe('notch')
  })
})

describe('two notches up to the last ceiling', () => {
  const all = MARKS.filter(m => m >= 88 && m <= 132).map(m => tempo(m))
  const passed = (from: number, ceiling: number | null) =>
    twoUpTo(
      all,
      all.findIndex(t => typed(t) === String(from)),
      ceiling === null ? null : tempo(ceiling),
    )
      .map(typed)
      .join(' ')

  it('from 104 with a ceiling of 120: every second rung, 120 itself, then one by one', () => {
    expect(passed(104, 120)).toBe('88 92 96 100 104 112 120 126 132')
  })

  it('an odd number of rungs below the ceiling: the last step to it is one notch', () => {
    expect(passed(104, 116)).toBe('88 92 96 100 104 112 116 120 126 132')
  })

  it('a ceiling off the ladder ends it at the rung below', () => {
    expect(passed(104, 118)).toBe(passed(104, 116))
    expect(passed(104, 200)).toBe('88 92 96 100 104 112 120 132')
  })

  it('without a ceiling, or with one at or below the start, nothing is passed over', () => {
    for (const ceiling of [null, 104, 96, 60]) expect(passed(104, ceiling)).toBe(all.map(typed).join(' '))
  })

  it('what lies below where the visit begins stays, for slips', () => {
    fc.assert(
      fc.property(fc.nat({ max: all.length - 1 }), fc.constantFrom(...MARKS), (from, ceiling) => {
        const left = twoUpTo(all, from, tempo(ceiling))
        expect(left.slice(0, from + 1)).toEqual(all.slice(0, from + 1))
        expect(left.at(-1)).toEqual(all.at(-1))
      }),
    )
  })
})

describe('the highest rung at or below a tempo', () => {
  const all = built(tempo(60), tempo(120), NOTCH)

  it('105.6 is the rung of 104; 104 itself too; below all is the lowest', () => {
    expect(all[rungAtOrBelow(all, tempo(105.6))]).toEqual(tempo(104))
    expect(all[rungAtOrBelow(all, tempo(104))]).toEqual(tempo(104))
    expect(rungAtOrBelow(all, tempo(40))).toBe(0)
    expect(rungAtOrBelow(all, tempo(300))).toBe(all.length - 1)
  })

  it('is the same in any note value', () => {
    for (const unit of NOTE_VALUES)
      expect(all[rungAtOrBelow(all, inUnit(tempo(105.6), unit))]).toEqual(tempo(104))
  })
})

describe('the limits of a step', () => {
  it.each(['0.5%', '50%', '+0.5', '+100'])('%s is one', s => {
    expect(parseStep(s).ok).toBe(true)
  })
  it.each(['0.4%', '50.1%', '100%', '+0.4', '+100.1', '4', '%', '+'])('%s is none', s => {
    expect(parseStep(s).ok).toBe(false)
  })
})
