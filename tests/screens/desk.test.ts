import { expect, test } from 'vitest'
import { readClick } from '../../src/cli/click.ts'
import { DEFAULT_LEVELS, type Levels } from '../../src/click/voices.ts'
import { reduce } from '../../src/screens/click/reduce.ts'
import { loudness, soundLine, watchSleep } from '../../src/screens/desk.ts'
import type { Sound } from '../../src/sound/sound.ts'

/** Timers that fire when they are told to, at whatever time it is then. */
const clock = () => {
  let t = 0
  let wall = 0
  let next: (() => void) | null = null
  return {
    now: () => t,
    wall: () => wall,
    later: (_: number, f: () => void) => {
      next = f
      return () => {
        next = null
      }
    },
    tick: (ms: number, ofDay = ms) => {
      t += ms
      wall += ofDay
      next?.()
    },
  }
}

test('a tick that comes two seconds late means that the computer slept; a busy half second does not', () => {
  const c = clock()
  let slept = 0
  const stop = watchSleep(c, () => slept++)
  for (const ms of [500, 520, 900, 1400]) c.tick(ms)
  expect(slept).toBe(0)
  c.tick(60_000)
  expect(slept).toBe(1)
  c.tick(500)
  expect(slept).toBe(1)
  stop()
  c.tick(60_000)
  expect(slept).toBe(1)
})

test('a closed lid is told by the time of day where the other clock stands still meanwhile', () => {
  const c = clock()
  let slept = 0
  watchSleep(c, () => slept++)
  c.tick(500, 500)
  c.tick(510, 3_600_000)
  expect(slept).toBe(1)
  c.tick(500, 900)
  expect(slept).toBe(1)
})

test('a clock that is set back is no sleep; one that is set two minutes ahead is taken for one', () => {
  const c = clock()
  let slept = 0
  watchSleep(c, () => slept++)
  c.tick(500, -3_600_000)
  c.tick(500, 500)
  expect(slept).toBe(0)
  c.tick(500, 120_000)
  expect(slept).toBe(1)
})

test('after a sleep the click stands still until a press; one that stood still says nothing', () => {
  const still = readClick({})
  const going = reduce(still, { kind: 'press' }).state
  expect(reduce(going, { kind: 'slept' })).toMatchObject({ state: { going: false }, effects: ['stop'] })
  expect(reduce(going, { kind: 'slept' }).state.note).toContain('slept')
  expect(reduce(still, { kind: 'slept' })).toEqual({ state: still, effects: [] })
})

const sound = {
  ready: () => Promise.resolve(),
  output: () => 'pacat',
  absent: () => 'studio',
  levels: () => {},
} as unknown as Sound
const heard = { sound, levels: DEFAULT_LEVELS, louder: () => {} }

test('louder than ff and softer than off there is nothing', () => {
  const from = (master: Levels['master'], by: 1 | -1) =>
    loudness({ ...heard, levels: { ...DEFAULT_LEVELS, master } }).change(by)?.master
  expect(from('mf', 1)).toBe('f')
  expect(from('ff', 1)).toBeUndefined()
  expect(from('pp', -1)).toBe('off')
  expect(from('off', -1)).toBeUndefined()
})

test('a device that was chosen and is not here is said, in one line', async () => {
  expect(soundLine('pacat', DEFAULT_LEVELS, 'studio')).toBe('click mf through pacat; "studio" isn\'t here')
  const loud = loudness(heard)
  await new Promise<void>(open => loud.open(open))
  expect(loud.said()).toContain('"studio" isn\'t here')
})
