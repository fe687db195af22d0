import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  add,
  compare,
  decimal,
  div,
  equal,
  type Frac,
  floor,
  frac,
  fractionText,
  less,
  max,
  min,
  mix,
  mul,
  mulNear,
  neg,
  one,
  parseDecimal,
  parseFraction,
  roundTimes,
  sub,
  sum,
  times,
  toNumber,
  wholeNumber,
  wholeTimes,
  zero,
} from '../../src/music/fraction.ts'
import { anyFrac, anyText } from './any.ts'

const law = (f: (a: Frac, b: Frac, c: Frac) => void) =>
  fc.assert(
    fc.property(anyFrac, anyFrac, anyFrac, (a, b, c) => {
      f(a, b, c)
    }),
    { numRuns: 500 },
  )

describe('a fraction of a whole note', () => {
  it('is always reduced, with the sign above', () => {
    expect(frac(6, 8)).toEqual({ n: 3, d: 4 })
    expect(frac(3, -4)).toEqual({ n: -3, d: 4 })
    expect(frac(-0, 5)).toEqual({ n: 0, d: 1 })
    law((a, b) => {
      for (const f of [add(a, b), sub(a, b), mul(a, b), neg(a)]) {
        expect(frac(f.n, f.d)).toEqual(f)
        expect(f.d).toBeGreaterThan(0)
        expect(Object.is(f.n, -0)).toBe(false)
      }
    })
  })

  it('three triplet eighths are exactly a quarter, seven septuplet eighths exactly a half', () => {
    expect(sum([frac(1, 12), frac(1, 12), frac(1, 12)])).toEqual(frac(1, 4))
    expect(times(frac(1, 14), 7)).toEqual(frac(1, 2))
  })

  it('refuses a denominator of 0 and what cannot be exact', () => {
    expect(() => frac(1, 0)).toThrow(RangeError)
    expect(() => div(one, zero)).toThrow(RangeError)
    expect(() => frac(0.5, 1)).toThrow(RangeError)
    expect(() => mul(frac(1, 2 ** 52 - 1), frac(1, 3 ** 32))).toThrow(/too fine/)
  })
})

describe('the laws of a field', () => {
  it('order and grouping of sums and products do not matter', () =>
    law((a, b, c) => {
      expect(add(a, b)).toEqual(add(b, a))
      expect(mul(a, b)).toEqual(mul(b, a))
      expect(add(add(a, b), c)).toEqual(add(a, add(b, c)))
      expect(mul(mul(a, b), c)).toEqual(mul(a, mul(b, c)))
    }))

  it('a product of a sum is the sum of the products', () =>
    law((a, b, c) => expect(mul(a, add(b, c))).toEqual(add(mul(a, b), mul(a, c)))))

  it('0 and 1 change nothing; everything has an opposite, and an inverse but for 0', () =>
    law(a => {
      expect(add(a, zero)).toEqual(a)
      expect(mul(a, one)).toEqual(a)
      expect(add(a, neg(a))).toEqual(zero)
      if (a.n !== 0) expect(mul(a, div(one, a))).toEqual(one)
    }))

  it('taking away undoes adding, dividing undoes multiplying', () =>
    law((a, b) => {
      expect(sub(add(a, b), b)).toEqual(a)
      if (b.n !== 0) expect(div(mul(a, b), b)).toEqual(a)
    }))
})

describe('the order of fractions', () => {
  it('is that of the integers behind them', () =>
    law((a, b) => {
      const truth = BigInt(a.n) * BigInt(b.d) - BigInt(b.n) * BigInt(a.d)
      expect(Math.sign(compare(a, b))).toBe(truth < 0n ? -1 : truth > 0n ? 1 : 0)
      expect(less(a, b)).toBe(truth < 0n)
      expect(equal(a, b)).toBe(truth === 0n)
    }))

  it('agrees with itself in a chain, and is kept by adding', () =>
    law((a, b, c) => {
      const sorted = [a, b, c].sort(compare)
      expect(compare(sorted[0] as Frac, sorted[2] as Frac)).toBeLessThanOrEqual(0)
      expect(compare(add(a, c), add(b, c))).toBe(compare(a, b))
      expect([min(a, b), max(a, b)].sort(compare)).toEqual([a, b].sort(compare))
    }))

  it('tells apart what decimals cannot', () => {
    const most = Number.MAX_SAFE_INTEGER
    const [a, b] = [frac(most - 1, most - 2), frac(most, most - 1)]
    expect(toNumber(a)).toBe(toNumber(b))
    expect(compare(a, b)).toBeGreaterThan(0)
  })
})

describe('whole numbers out of fractions', () => {
  it('three eighths hold an eighth three times, and a quarter not a whole number of times', () => {
    expect(wholeTimes(frac(3, 8), frac(1, 8))).toBe(3)
    expect(wholeTimes(frac(3, 8), frac(1, 4))).toBeNull()
    law((a, b) => {
      if (b.n === 0) return
      const k = wholeTimes(a, b)
      if (k === null) expect(div(a, b).d).toBeGreaterThan(1)
      else expect(times(b, k)).toEqual(a)
    })
  })

  it('beat 919 (the first is 0) at 92 and 48 kHz begins at frame 28,768,696', () => {
    expect(roundTimes(frac(919 * 60, 92), 48_000)).toBe(28_768_696)
  })

  it('rounds to the nearest frame, a half up, below 0 too', () => {
    expect(roundTimes(frac(1, 2), 1)).toBe(1)
    expect(roundTimes(frac(-1, 2), 1)).toBe(0)
    expect(roundTimes(frac(-3, 2), 1)).toBe(-1)
    expect(roundTimes(frac(1, 3), 2)).toBe(1)
  })

  it('is never more than half a frame off, over any length', () => {
    const part = fc.integer({ min: -(2 ** 35), max: 2 ** 35 })
    fc.assert(
      fc.property(
        part,
        fc.integer({ min: 1, max: 2 ** 20 }),
        fc.integer({ min: 0, max: 192_000 }),
        (n, d, rate) => {
          const a = frac(n, d)
          const frame = BigInt(roundTimes(a, rate))
          // 2·|frame - a·rate| <= 1, and exactly a half goes up.
          const twiceOff = 2n * (frame * BigInt(a.d) - BigInt(a.n) * BigInt(rate))
          expect(twiceOff > -BigInt(a.d) && twiceOff <= BigInt(a.d)).toBe(true)
        },
      ),
      { numRuns: 1000 },
    )
  })
})

describe('decimals that a person types', () => {
  it('are exact: 63.5 is 127/2', () => {
    expect(parseDecimal('63.5')).toEqual(frac(127, 2))
    expect(parseDecimal(' 112 ')).toEqual(frac(112))
    expect(parseDecimal('0.001')).toEqual(frac(1, 1000))
  })

  it.each(['', '.5', '5.', '-4', '+4', '1e3', '1,5', '0x10', '1.2345', 'Infinity', '٤'])('%j is none', s => {
    expect(parseDecimal(s)).toBeNull()
  })

  it('come back as they were typed', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 999_999_999 }), thousandths => {
        const a = frac(thousandths, 1000)
        expect(parseDecimal(decimal(a))).toEqual(a)
      }),
    )
  })

  it('never throw, whatever is typed', () => {
    fc.assert(
      fc.property(anyText, s => {
        parseDecimal(s)
      }),
      { numRuns: 2000 },
    )
  })
})

describe('fractions as text', () => {
  it.each([
    ['3/16', frac(3, 16)],
    ['6/32', frac(3, 16)],
    ['5', frac(5)],
    ['-1/4', frac(-1, 4)],
    [' 1/12 ', frac(1, 12)],
  ])('"%s"', (s, f) => {
    expect(parseFraction(s)).toEqual(f)
    expect(parseFraction(fractionText(f))).toEqual(f)
  })

  it.each(['', '1/0', '1/4097', '1/', '/2', '1.5', '1/2/3', '1 / 2', '1234567', '١/٢'])('"%s" is none', s => {
    expect(parseFraction(s)).toBeNull()
  })
})

describe('products and ways between that may be too fine', () => {
  it('are exact while they can be', () => {
    law((a, b) => {
      expect(mulNear(a, b)).toEqual(mul(a, b))
      expect(mix(a, b, zero)).toEqual(a)
      expect(mix(a, b, one)).toEqual(b)
      expect(mix(a, b, frac(1, 2))).toEqual(div(add(a, b), frac(2)))
    })
  })

  it('else right to a millionth, where a plain product throws', () => {
    const [fine, finer] = [frac(1_000_003, 999_999_937), frac(999_999_929, 1_000_000_007)]
    expect(() => mul(fine, finer)).toThrow(RangeError)
    expect(Math.abs(toNumber(mulNear(fine, finer)) - toNumber(fine) * toNumber(finer))).toBeLessThan(1e-6)
    expect(
      Math.abs(toNumber(mix(fine, finer, frac(1, 3))) - (toNumber(fine) * 2 + toNumber(finer)) / 3),
    ).toBeLessThan(1e-6)
  })
})

it('the greatest whole number not above a fraction', () => {
  expect([frac(7, 2), frac(-7, 2), frac(4), frac(-4), zero].map(floor)).toEqual([3, -4, 4, -4, 0])
  law(a => {
    const rest = sub(a, frac(floor(a)))
    expect([compare(zero, rest) <= 0, less(rest, one)]).toEqual([true, true])
  })
})

it('a whole number is read within its limits, both of them included', () => {
  for (const n of [2, 3, 12])
    expect(wholeNumber(String(n), 'measures', 2, 12)).toEqual({ ok: true, value: n })
  for (const s of ['1', '13', '-2', '2.5', '', 'two', '1234567']) {
    const r = wholeNumber(s, 'measures', 2, 12)
    expect(r.ok || r.problem).toMatchObject({
      field: 'measures',
      got: s,
      accepted: 'a whole number from 2 to 12',
    })
  }
  expect(wholeNumber(' 7 ', 'measures', 2, 12)).toEqual({ ok: true, value: 7 })
})

describe('parts whose products are too large for plain numbers', () => {
  const [a, b] = [frac(1, 5 * 2 ** 27), frac(1, 7 * 2 ** 27)]

  it('are added, subtracted, multiplied and compared exactly', () => {
    // 1/5 + 1/7 = 12/35, 1/5 - 1/7 = 2/35.
    expect(add(a, b)).toEqual(frac(3, 35 * 2 ** 25))
    expect(sub(a, b)).toEqual(frac(1, 35 * 2 ** 26))
    expect(mul(frac(2 ** 40, 3), frac(9, 2 ** 38))).toEqual(frac(12))
    expect([compare(a, b), compare(b, a)]).toEqual([1, -1])
    const large = frac(2 ** 40 + 1, 2 ** 30)
    expect(compare(large, { ...large })).toBe(0)
  })
})
