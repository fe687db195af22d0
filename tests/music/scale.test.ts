import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { EXTENDED_MARKS, MARKS, markAtOrBelow, nearestMark } from '../../src/music/tempo.ts'

const steps = (marks: readonly number[]): readonly number[] =>
  marks.slice(1).map((m, i) => m - (marks[i] as number))
const isMark = (m: number) => EXTENDED_MARKS.includes(m)

describe('the traditional tempo scale', () => {
  it('has 39 marks from 40 to 208', () => {
    expect(MARKS).toHaveLength(39)
    expect([MARKS[0], MARKS.at(-1)]).toEqual([40, 208])
  })

  it('goes by 2 up to 60, by 3 up to 72, by 4 up to 120, by 6 up to 144, by 8 up to 208', () => {
    // "Metronome 'Scale'", Horn mailing list, University of Memphis, May 2009.
    const by = (m: number) => (m < 60 ? 2 : m < 72 ? 3 : m < 120 ? 4 : m < 144 ? 6 : 8)
    expect(steps(MARKS)).toEqual(MARKS.slice(0, -1).map(by))
  })

  it('repeats itself at double tempo: every mark from 80 up is twice another', () => {
    // The same posting: 40-80 doubled gives 80-160, and doubled again 160-208.
    for (const m of MARKS.filter(m => m >= 80)) expect(MARKS).toContain(m / 2)
  })

  it('each step is from 3.4 to 5.6 % of the mark below', () => {
    const shares = steps(MARKS).map((s, i) => s / (MARKS[i] as number))
    expect(Math.min(...shares)).toBeCloseTo(2 / 58, 10)
    expect(Math.max(...shares)).toBeCloseTo(4 / 72, 10)
  })
})

describe('the scale carried on', () => {
  it('goes by 2 below 40', () => {
    const below = EXTENDED_MARKS.filter(m => m < 40)
    expect(below).toEqual(Array.from({ length: 19 }, (_, i) => 2 + 2 * i))
  })

  it('above 208 the marks above 104 come back doubled: 216, 224 ... 416', () => {
    const above = EXTENDED_MARKS.filter(m => m > 208 && m <= 416)
    expect(above.slice(0, 4)).toEqual([216, 224, 232, 240])
    expect(above.map(m => m / 2)).toEqual(MARKS.filter(m => m > 104))
  })

  it('is in order, each mark once, and no step above 40 is coarser than on the scale itself', () => {
    EXTENDED_MARKS.forEach((m, i) => {
      const next = EXTENDED_MARKS[i + 1] ?? 999
      expect(next).toBeGreaterThan(m)
      if (m >= 40) expect(next / m).toBeLessThanOrEqual(76 / 72 + 1e-9)
    })
    expect(EXTENDED_MARKS.at(-1)).toBeLessThanOrEqual(999)
  })
})

describe('marks near a tempo', () => {
  it('the highest mark at or below 105.6 is 104, at 104 it is 104 itself', () => {
    expect(markAtOrBelow(105.6)).toBe(104)
    expect(markAtOrBelow(104)).toBe(104)
    expect(markAtOrBelow(1)).toBe(2)
  })

  it('is never above the tempo, and no mark lies between', () => {
    fc.assert(
      fc.property(fc.integer({ min: 20, max: 9990 }), tenths => {
        const bpm = tenths / 10
        const m = markAtOrBelow(bpm)
        expect(isMark(m) && m <= bpm).toBe(true)
        expect(EXTENDED_MARKS.some(x => x > m && x <= bpm)).toBe(false)
      }),
    )
  })

  it('the nearest is nearest by ratio: 61.5 lies nearer to 63 than to 60', () => {
    expect(nearestMark(61.5)).toBe(63)
    fc.assert(
      fc.property(fc.integer({ min: 20, max: 9990 }), tenths => {
        const bpm = tenths / 10
        const off = (m: number) => Math.max(m / bpm, bpm / m)
        const m = nearestMark(bpm)
        for (const other of EXTENDED_MARKS) expect(off(m)).toBeLessThanOrEqual(off(other) + 1e-12)
      }),
    )
  })
})
