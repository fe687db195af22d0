import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { half, halfUp, inHalves, parts } from '../../src/plan/halves.ts'

const sum = (all: readonly number[]): number => all.reduce((a, b) => a + b, 0)

describe('whole and half minutes', () => {
  test('half minutes keep the sum, rounded down to a half, and move nothing by half a minute or more', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 30, noNaN: true }), { maxLength: 12, size: 'max' }),
        all => {
          const halves = inHalves(all)
          expect(sum(halves)).toBeCloseTo(Math.floor(sum(all) * 2 + 1e-6) / 2, 9)
          halves.forEach((h, i) => {
            expect((h * 2) % 1).toBe(0)
            expect(Math.abs(h - (all[i] as number))).toBeLessThan(0.5 + 1e-9)
          })
        },
      ),
    )
  })
})

test('the same sum, the largest rests rounded up', () => {
  expect(inHalves([1.2, 1.4, 2.4])).toEqual([1, 1.5, 2.5])
  expect(inHalves([0.25, 0.25])).toEqual([0.5, 0])
  expect(inHalves([])).toEqual([])
  for (const all of [inHalves([3.3, 3.3, 3.4]), inHalves([9.9, 0.1])])
    expect(all.reduce((a, b) => a + b, 0)).toBe(10)
})

test('what is a half but for the last digit is no less', () => {
  expect(inHalves([1.5 - 1e-12, 2.3, 0.2])).toEqual([1.5, 2.5, 0])
  expect(inHalves([0.1 + 0.2, 0.7, 1])).toEqual([0.5, 0.5, 1])
})

test('parts differ by half a minute at most, the longer ones first', () => {
  expect(parts(14, 3)).toEqual([5, 4.5, 4.5])
  expect(parts(14.5, 3)).toEqual([5, 5, 4.5])
  expect(parts(9, 2)).toEqual([4.5, 4.5])
  expect(parts(0.5, 1)).toEqual([0.5])
  expect(parts(5, 0)).toEqual([])
})

test('the nearest half, or the next one; what is nearly a half already stays there', () => {
  expect([1.24, 1.25, 1.74, 1.76].map(half)).toEqual([1, 1.5, 1.5, 2])
  expect([1, 1.01, 1.5, 1.5 + 1e-12, 1.51].map(halfUp)).toEqual([1, 1.5, 1.5, 1.5, 2])
})
