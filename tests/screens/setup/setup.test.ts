import { describe, expect, test } from 'vitest'
import { type Learned, learnPedals, type Pedals, type Setup } from '../../../src/screens/setup/setup.ts'

const BEFORE: Pedals = { right: 'PageDown', left: 'PageUp', pedals: 2 }

/** Presses on a set-up screen that is looked at every 100 ms. */
const player = (kinds: readonly string[] = []) => {
  const setup = learnPedals(0, BEFORE, kinds)
  let now = 0
  const until = (t: number): void => {
    for (; now < t; now += 100) setup.waited(now)
    now = t
  }
  const press = (id: string, times = 1): void => {
    for (let i = 0; i < times; i += 1) {
      until(now + 1500)
      setup.key({ id, at: now })
    }
  }
  /** Held for two seconds under a system that repeats after 500 ms, then let go. */
  const hold = (id: string): void => {
    press(id)
    for (const from = now; now < from + 2000; ) {
      until(now + (now === from ? 500 : 33))
      setup.key({ id, at: now })
    }
    until(now + 1000)
  }
  const learn = (id: string): void => {
    press(id, 3)
    hold(id)
  }
  /** Several keys within 20 ms. */
  const together = (ids: readonly string[]): void => {
    until(now + 1500)
    for (const [i, id] of ids.entries()) setup.key({ id, at: now + 10 * i })
    until(now + 100)
  }
  const repeat = (id: string, after: number): void => {
    until(now + after)
    setup.key({ id, at: now })
  }
  return { setup, together, repeat, press, hold, learn, wait: (ms: number) => until(now + ms) }
}
const last = (s: Setup): string => s.state().said.at(-1) ?? ''
const result = (s: Setup): Learned | null => s.state().result

describe('teaching the pedals', () => {
  test('two pedals: three presses and a hold each, and how long one press lasts', () => {
    const p = player()
    p.learn('F13')
    expect(last(p.setup)).toContain('The left pedal')
    p.learn('F14')
    expect(result(p.setup)).toEqual({ right: 'F13', left: 'F14', pedals: 2, lock: 650 })
  })

  test('one pedal: 1 says that there is no other', () => {
    const p = player()
    p.learn('Space')
    p.press('1')
    p.wait(200)
    expect(result(p.setup)).toEqual({ right: 'Space', left: 'PageUp', pedals: 1, lock: 650 })
  })

  test.each(['Up', 'Down', 'Left', 'Right', 'Space', 'F13', 'media-next', 'z'])('%s can be a pedal', id => {
    const p = player()
    p.learn(id)
    expect(last(p.setup)).toContain('The left pedal')
  })

  test.each([
    ['t', 'is used here: take back'],
    ['3', 'is used here: a tempo by hand'],
    ['C-s', 'Ctrl or Alt'],
    ['Escape', "can't be a pedal"],
  ])('%s cannot, and the reason is said', (id, why) => {
    const p = player()
    p.press(id)
    p.wait(200)
    expect(last(p.setup)).toContain(why)
    expect(result(p.setup)).toBeNull()
  })

  test('an elbow on the keyboard can be the one pedal, whichever keys it meets, f among them', () => {
    const p = player()
    for (const keys of [
      ['j', 'k', 'l'],
      ['f', 'g', 'h'],
      ['k', 'l'],
    ])
      p.together(keys)
    p.together(['l', 'k'])
    for (let i = 0; i < 50; i += 1) p.repeat('k', i === 0 ? 500 : 33)
    p.wait(1000)
    expect(last(p.setup)).toContain('The left pedal')
    expect(p.setup.state().over).toBe(false)
    p.press('1')
    p.wait(200)
    expect(result(p.setup)).toMatchObject({ right: 'chord', pedals: 1 })
  })

  test('what is played is asked once, and can be left open', () => {
    const p = player(['brass', 'strings'])
    p.learn('F13')
    p.learn('F14')
    expect(last(p.setup)).toContain('1 brass  2 strings')
    expect(result(p.setup)).toBeNull()
    p.press('F13')
    p.press('2')
    p.wait(200)
    expect(result(p.setup)?.plays).toBe('strings')
    const open = player(['brass', 'strings'])
    open.learn('F13')
    open.learn('F14')
    open.press('0')
    open.wait(200)
    expect(result(open.setup)).toEqual({ right: 'F13', left: 'F14', pedals: 2, lock: 650 })
  })

  test('then each press shows what it would do, and that a held one counts once', () => {
    const p = player()
    p.learn('F13')
    p.learn('F14')
    p.press('F14')
    expect(last(p.setup)).toContain('The left pedal, one press')
    expect(last(p.setup)).toContain('at the end: not clean')
    p.hold('F13')
    expect(last(p.setup)).toContain('counts once')
    p.press('x')
    p.wait(200)
    expect(last(p.setup)).toContain("isn't a pedal here")
  })

  test('f leaves: before all is learned nothing changes, afterwards it is kept', () => {
    const early = player()
    early.press('F13', 2)
    early.press('f')
    early.wait(200)
    expect(early.setup.state()).toMatchObject({ over: true, result: null })
    const late = player()
    late.learn('F13')
    late.learn('F14')
    late.press('f')
    late.wait(200)
    expect(late.setup.state()).toMatchObject({ over: true, result: { right: 'F13', left: 'F14' } })
  })
})
