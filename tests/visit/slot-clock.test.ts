import { describe, expect, test } from 'vitest'
import { slotClock } from '../../src/visit/slot-clock.ts'

/** A clock that jumps to the next thing that is due. */
const timing = () => {
  let t = 5000
  let due: { at: number; f: () => void } | null = null
  return {
    now: () => t,
    later: (ms: number, f: () => void) => {
      const mine = { at: t + ms, f }
      due = mine
      return () => {
        if (due === mine) due = null
      }
    },
    /** Runs what falls due until then. */
    to: (ms: number) => {
      for (let next = due; next !== null && next.at <= 5000 + ms; next = due) {
        t = next.at
        due = null
        next.f()
      }
      t = 5000 + ms
    },
    waits: () => due !== null,
  }
}
const MINUTE = 60_000

describe('the time of a turn', () => {
  test('stands still until the first press, then runs, is over, and a minute later late', () => {
    const c = timing()
    const slot = slotClock(c, 3)
    c.to(10 * MINUTE)
    expect([slot.is(), slot.minutesLeft()]).toEqual(['left', 3])
    slot.begin()
    const at = (ms: number) => {
      c.to(10 * MINUTE + ms)
      return [slot.is(), slot.minutesLeft()]
    }
    expect(at(1)).toEqual(['left', 3])
    expect(at(MINUTE - 1)).toEqual(['left', 3])
    expect(at(MINUTE)).toEqual(['left', 2])
    expect(at(2 * MINUTE + 1)).toEqual(['left', 1])
    expect(at(3 * MINUTE - 1)).toEqual(['left', 1])
    expect(at(3 * MINUTE)).toEqual(['over', 0])
    expect(at(4 * MINUTE - 1)).toEqual(['over', 0])
    expect(at(4 * MINUTE)).toEqual(['late', 0])
    expect(at(9 * MINUTE)).toEqual(['late', 0])
  })

  test('begins once', () => {
    const c = timing()
    const slot = slotClock(c, 2)
    slot.begin()
    c.to(MINUTE)
    slot.begin()
    expect(slot.minutesLeft()).toBe(1)
  })

  test('two minutes more are two minutes from now', () => {
    const c = timing()
    const slot = slotClock(c, 2)
    slot.begin()
    c.to(5 * MINUTE)
    slot.more(2)
    expect([slot.is(), slot.minutesLeft()]).toEqual(['left', 2])
    c.to(7 * MINUTE)
    expect(slot.is()).toBe('over')
  })

  test('is told at each whole minute, at its end, and when it is late; then never again', () => {
    const c = timing()
    const slot = slotClock(c, 3)
    const told: [number, string][] = []
    slot.watch(() => told.push([(c.now() - 5000) / MINUTE, slot.is()]))
    expect(c.waits()).toBe(false)
    slot.begin()
    c.to(20 * MINUTE)
    expect(told).toEqual([
      [1, 'left'],
      [2, 'left'],
      [3, 'over'],
      [4, 'late'],
    ])
    expect(c.waits()).toBe(false)
    slot.more(1)
    c.to(21 * MINUTE)
    expect(told.slice(4)).toEqual([[21, 'over']])
  })

  test('nobody is told who no longer watches, and nothing waits where nobody does', () => {
    const c = timing()
    const slot = slotClock(c, 3)
    const told: string[] = []
    const [first, second] = ['first', 'second'].map(name => slot.watch(() => told.push(name)))
    slot.begin()
    c.to(MINUTE)
    first?.()
    expect(c.waits()).toBe(true)
    c.to(2 * MINUTE)
    second?.()
    expect(c.waits()).toBe(false)
    c.to(5 * MINUTE)
    expect(told).toEqual(['first', 'second', 'second'])
  })

  test('who comes later is told as well', () => {
    const c = timing()
    const slot = slotClock(c, 2)
    slot.begin()
    expect(c.waits()).toBe(false)
    const told: number[] = []
    c.to(MINUTE / 2)
    slot.watch(() => told.push((c.now() - 5000) / MINUTE))
    c.to(2 * MINUTE)
    expect(told).toEqual([1, 2])
  })
})
