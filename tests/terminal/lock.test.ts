import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { lockFor, type Pedal, type Press, pedalLock } from '../../src/terminal/lock.ts'

/** Key events of a pedal held for `hold` ms: at once, after the system's repeat delay, then at its interval. */
const held = (hold: number, delay: number, interval: number): number[] => {
  const times = [0]
  for (let t = delay; t <= hold; t += interval) times.push(t)
  return times
}
const accepted = (times: readonly number[]): number => {
  const lock = pedalLock()
  return times.filter(t => lock.press('right', t) === 'accepted').length
}
const play = (presses: readonly (readonly [Pedal, number])[]): Press[] => {
  const lock = pedalLock()
  return presses.map(([pedal, t]) => lock.press(pedal, t))
}

describe('one press, one verdict', () => {
  it('a press counts at its first event', () => {
    expect(play([['right', 12.5]])).toEqual(['accepted'])
  })

  // Repeat delays and intervals: 660/40 measured under Xorg; the others are usual defaults, from memory.
  it.each([
    [250, 33],
    [375, 90],
    [500, 30],
    [500, 33],
    [600, 40],
    [660, 40],
  ])(
    'a foot left on the pedal for two seconds is one verdict (repeat after %i ms, then every %i ms)',
    (d, r) => {
      expect(accepted(held(2000, d, r))).toBe(1)
    },
  )

  it('however long the pedal is held, if repeats begin before 750 ms and come closer than 250 ms', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 20_000 }),
        fc.integer({ min: 150, max: 749 }),
        fc.integer({ min: 10, max: 249 }),
        (hold, delay, interval) => accepted(held(hold, delay, interval)) === 1,
      ),
      { numRuns: 1000 },
    )
  })

  // The limit that no rule of time can pass: a first repeat later than the lock looks like a second press.
  it.each([
    [1000, 33, 811],
    [1800, 90, 595],
  ])(
    'with a repeat delay of %i ms, holds of 0.3 to 4 s give a second verdict when longer than that',
    (d, r, extra) => {
      const holds = Array.from({ length: 3701 }, (_, i) => 300 + i)
      const total = holds.reduce((sum, hold) => sum + accepted(held(hold, d, r)), 0)
      expect(Math.round((1000 * (total - holds.length)) / holds.length)).toBe(extra)
      expect(accepted(held(4000, d, r))).toBe(2)
    },
  )

  it('a bounce or a nervous second tap is not a second verdict; the next repetition has its own', () => {
    expect(
      play([
        ['right', 0],
        ['right', 40],
        ['right', 300],
        ['right', 900],
        ['right', 2000],
      ]),
    ).toEqual(['accepted', 'held', 'held', 'accepted', 'accepted'])
  })

  it('presses at least 750 ms apart are never lost', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 750, max: 5000 }), { maxLength: 30 }), gaps => {
        let t = 0
        const times = [0, ...gaps.map(gap => (t += gap))]
        return accepted(times) === times.length
      }),
    )
  })
})

describe('two pedals', () => {
  it('the other pedal corrects at once, though the first is still locked', () => {
    expect(
      play([
        ['right', 0],
        ['left', 121],
      ]),
    ).toEqual(['accepted', 'accepted'])
  })

  it('one foot on both pedals is no verdict, then both are locked and want 250 ms without either', () => {
    expect(
      play([
        ['right', 0],
        ['left', 120],
        ['right', 869],
        ['right', 1119],
        ['left', 1250],
      ]),
    ).toEqual(['accepted', 'both', 'held', 'accepted', 'accepted'])
    expect(
      play([
        ['right', 0],
        ['left', 60],
        ['left', 700],
        ['right', 850],
        ['right', 1200],
      ]),
    ).toEqual(['accepted', 'both', 'held', 'held', 'accepted'])
  })

  it('a foot that stays on both pedals starts nothing by itself', () => {
    const events = [
      ...held(3000, 500, 33).map(t => ['right', t] as const),
      ...held(3000, 500, 33).map(t => ['left', t + 30] as const),
    ].sort((a, b) => a[1] - b[1])
    const answers = play(events)
    expect(answers.filter(a => a === 'accepted')).toHaveLength(1)
    expect(answers.slice(0, 2)).toEqual(['accepted', 'both'])
  })

  it('hitting both while one is locked never lets the other turn the verdict', () => {
    expect(
      play([
        ['left', 0],
        ['left', 600],
        ['right', 640],
      ]),
    ).toEqual(['accepted', 'held', 'both'])
  })

  it('a pedal that is held down does not hinder a correction with the other', () => {
    const lock = pedalLock()
    for (const t of held(2000, 500, 33)) lock.press('right', t)
    expect(lock.press('left', 2010)).toBe('accepted')
  })

  it('slow players may have longer times', () => {
    const lock = pedalLock({ lockMs: 1200, quietMs: 400, pairMs: 200 })
    expect(lock.press('right', 0)).toBe('accepted')
    expect(lock.press('right', 1000)).toBe('held')
    expect(lock.press('right', 1390)).toBe('held')
    expect(lock.press('right', 1790)).toBe('accepted')
    expect(lock.press('left', 1990)).toBe('both')
  })
})

describe('the limits, to the millisecond', () => {
  const last = (presses: readonly (readonly [Pedal, number])[]) => play(presses).at(-1)

  it.each([
    [749, 'held'],
    [750, 'accepted'],
  ] as const)('a fresh press %i ms after the last of its pedal is %s', (t, answer) => {
    expect(
      last([
        ['right', 0],
        ['right', t],
      ]),
    ).toBe(answer)
  })

  it.each([
    [1249, 'held'],
    [1250, 'accepted'],
  ] as const)('a pedal that repeated until 1 s was let go when it comes again at %i ms: %s', (t, answer) => {
    expect(
      last([
        ['right', 0],
        ['right', 200],
        ['right', 400],
        ['right', 600],
        ['right', 800],
        ['right', 1000],
        ['right', t],
      ]),
    ).toBe(answer)
  })

  it.each([
    [120, 'both'],
    [121, 'accepted'],
  ] as const)('the second pedal %i ms after the first is %s', (t, answer) => {
    expect(
      last([
        ['right', 0],
        ['left', t],
      ]),
    ).toBe(answer)
  })

  it.each([
    [1349, 'held'],
    [1350, 'accepted'],
  ] as const)(
    'after both, the first press counts once the other was let go for 250 ms: at %i ms %s',
    (t, answer) => {
      expect(
        last([
          ['right', 0],
          ['left', 50],
          ['left', 290],
          ['left', 530],
          ['left', 770],
          ['left', 1010],
          ['left', 1100],
          ['right', t],
        ]),
      ).toBe(answer)
    },
  )

  it('and only the first: then the pedals are two again', () => {
    expect(
      play([
        ['right', 0],
        ['left', 50],
        ['right', 800],
        ['left', 1000],
        ['right', 1121],
      ]).slice(2),
    ).toEqual(['accepted', 'accepted', 'held'])
    expect(
      play([
        ['right', 0],
        ['left', 50],
        ['right', 900],
        ['right', 1700],
        ['left', 1900],
        ['right', 2450],
      ]).slice(2),
    ).toEqual(['accepted', 'accepted', 'accepted', 'accepted'])
  })
})

describe('how long a pedal is locked', () => {
  it.each([
    [null, 750],
    [{ delay: 660, interval: 40 }, 810],
    [{ delay: 333, interval: 30 }, 480],
    [{ delay: 250, interval: 33 }, 400],
    [{ delay: 251, interval: 33 }, 400],
    [{ delay: 256, interval: 33 }, 410],
    [{ delay: 100, interval: 33 }, 400],
    [{ delay: 1840, interval: 33 }, 1990],
    [{ delay: 3000, interval: 33 }, 2000],
  ])(
    'where it repeats as %j: %i ms, a little more than the system waits, within its limits',
    (repeat, ms) => {
      expect(lockFor(repeat)).toBe(ms)
    },
  )
})
