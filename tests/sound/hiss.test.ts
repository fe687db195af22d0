import { expect, test } from 'vitest'
import { addHiss } from '../../src/sound/stream.ts'

test('what keeps wireless headphones awake is no silence and no sound: single steps of 16 bits, as many up as down', () => {
  const out = new Int16Array(96_000)
  addHiss(out)
  expect(new Set(out)).toEqual(new Set([-1, 0, 1]))
  const mean = out.reduce((s, x) => s + x, 0) / out.length
  expect(Math.abs(mean)).toBeLessThan(0.02)
  // Never still for a tenth of a second.
  for (let i = 0; i < out.length; i += 9600) expect(out.subarray(i, i + 9600).some(x => x !== 0)).toBe(true)
})
