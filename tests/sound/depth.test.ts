import { describe, expect, test } from 'vitest'
import { adaptiveDepth } from '../../src/sound/depth.ts'

const MINUTE = 60_000

describe('how far ahead sound is handed over', () => {
  test('100 ms; after a gap 200, after another 400, and no more', () => {
    const d = adaptiveDepth(false)
    expect(d.ms()).toBe(100)
    const after = [0, 2000, 4000].map(t => {
      d.ranDry(t)
      return d.ms()
    })
    expect(after).toEqual([200, 400, 400])
  })

  test('a gap that is told twice is one gap', () => {
    const d = adaptiveDepth(false)
    d.ranDry(0)
    expect(d.isNew(500)).toBe(false)
    d.ranDry(500)
    expect(d.ms()).toBe(200)
  })

  test('falls again after three quiet minutes, one step at a time', () => {
    const d = adaptiveDepth(false)
    d.ranDry(0)
    d.ranDry(2000)
    expect(d.calmed(2 * MINUTE)).toBe(false)
    expect(d.calmed(2000 + 3 * MINUTE)).toBe(true)
    expect(d.ms()).toBe(200)
    expect(d.calmed(5 * MINUTE)).toBe(false)
    expect(d.calmed(2000 + 6 * MINUTE)).toBe(true)
    expect(d.ms()).toBe(100)
    expect(d.calmed(100 * MINUTE)).toBe(false)
  })

  test('a fall that was too early makes the next wait twice as long', () => {
    const d = adaptiveDepth(false)
    d.ranDry(0)
    expect(d.calmed(3 * MINUTE)).toBe(true)
    d.ranDry(4 * MINUTE)
    expect(d.calmed(7 * MINUTE)).toBe(false)
    expect(d.calmed(10 * MINUTE)).toBe(true)
  })

  test('where a longer queue was asked for, it never falls below 200', () => {
    const d = adaptiveDepth(true)
    expect(d.ms()).toBe(200)
    expect(d.calmed(100 * MINUTE)).toBe(false)
    d.ranDry(200 * MINUTE)
    expect(d.ms()).toBe(400)
    expect(d.calmed(300 * MINUTE)).toBe(true)
    expect(d.ms()).toBe(200)
  })
})
