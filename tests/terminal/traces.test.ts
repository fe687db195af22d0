// Synthetic traces of a foot on a pedal, as a terminal would tell them: one press = one verdict. Every count stands in the
// name of its test. Holds, repeat delays and double taps as measured or offered by systems (see lock.test.ts).
import { describe, expect, test } from 'vitest'
import { lockFor, pedalLock, USUAL_LOCK } from '../../src/terminal/lock.ts'

const PRESSES = 4000
/** Repeat delays and intervals that systems offer, ms. */
const SYSTEMS: readonly (readonly [delay: number, interval: number])[] = [
  [250, 33],
  [375, 90],
  [500, 30],
  [660, 40],
  [750, 33],
  [1000, 33],
]

/** The same numbers in every run, between 0 and 1 (a linear congruential generator). */
const chance = (seed: number): (() => number) => {
  let x = seed
  return () => {
    x = (Math.imul(x, 1_664_525) + 1_013_904_223) >>> 0
    return x / 2 ** 32
  }
}

type Event = { readonly at: number; readonly press: number }

/**
 * Presses held for 0.3 to 4 s, every fifth followed by a nervous second tap 150 to 300 ms after it was first touched. The
 * next wanted press comes when a repetition has passed: at least 1.5 s after this one, and 0.4 s after the foot was lifted.
 */
const trace = (delay: number, interval: number, seed: number): readonly Event[] => {
  const next = chance(seed)
  const between = (least: number, most: number): number => least + (most - least) * next()
  const events: Event[] = []
  let at = 0
  for (let press = 0; press < PRESSES; press += 1) {
    const doubled = next() < 0.2
    const hold = doubled ? between(50, 120) : between(300, 4000)
    events.push({ at, press })
    for (let t = delay; t <= hold; t += interval) events.push({ at: at + t, press })
    if (doubled) events.push({ at: at + between(150, 300), press })
    at += Math.max(1500, hold + 400) + between(0, 3000)
  }
  return events
}

/** Verdicts beyond the first of a press, and presses without one. */
const count = (events: readonly Event[], lockMs: number): { double: number; lost: number } => {
  const lock = pedalLock({ lockMs })
  const verdicts = Array.from({ length: PRESSES }, () => 0)
  for (const e of events) if (lock.press('right', e.at) === 'accepted') verdicts[e.press]! += 1
  return {
    double: verdicts.reduce((sum, n) => sum + Math.max(0, n - 1), 0),
    lost: verdicts.filter(n => n === 0).length,
  }
}
const counts = ({ double, lost }: { double: number; lost: number }): string =>
  `${double} double verdicts and ${lost} lost of ${PRESSES} presses`

describe('a pedal that was learned: its lock is as long as its system takes to repeat', () => {
  for (const [i, [delay, interval]] of SYSTEMS.entries()) {
    const found = count(trace(delay, interval, i + 1), lockFor({ delay, interval }))
    test(`repeats after ${delay} ms, then every ${interval} ms: ${counts(found)}`, () => {
      expect(found.double).toBe(0)
      expect(found.lost).toBeLessThan(PRESSES / 500)
    })
  }
})

describe('a pedal that was not learned', () => {
  for (const [i, [delay, interval]] of SYSTEMS.filter(([d]) => d < USUAL_LOCK).entries()) {
    const found = count(trace(delay, interval, i + 1), USUAL_LOCK)
    test(`repeats after ${delay} ms, then every ${interval} ms: ${counts(found)}`, () => {
      expect(found).toEqual({ double: 0, lost: 0 })
    })
  }

  // What learning is for: nothing but the measured delay tells a held pedal from one that was pressed again.
  const found = count(trace(1000, 33, 6), USUAL_LOCK)
  test(`repeats after 1000 ms: ${counts(found)}, so set-up measures it`, () => {
    expect(found.double).toBeGreaterThan(PRESSES / 2)
  })
})
