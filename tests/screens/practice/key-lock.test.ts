import fc from 'fast-check'
import { expect, test } from 'vitest'
import { keyLock } from '../../../src/screens/practice/key-lock.ts'

const pedals = { right: 'PageDown', left: 'F7' }
const passed = (keys: readonly string[]): boolean[] => {
  const lock = keyLock(true)
  return keys.map(k => lock.passes(k, pedals))
}

test('while only the pedals count, the two keys that were learned and Ctrl+C pass, and nothing else', () => {
  expect(passed(['PageDown', 'F7', 'C-c'])).toEqual([true, true, true])
  expect(passed(['f', 'Enter', 'Right', '1', 't', 'PageUp', 'Escape']).some(Boolean)).toBe(false)
})

test('typing open opens the other keys, also after a wrong letter, and with a pedal pressed on the way', () => {
  for (const keys of [[...'open'], [...'opopen'], [...'xopen'], ['o', 'p', 'PageDown', 'e', 'n']]) {
    const lock = keyLock(true)
    for (const k of keys) lock.passes(k, pedals)
    expect(lock.locked(), keys.join(' ')).toBe(false)
    expect(lock.passes('f', pedals)).toBe(true)
  }
})

test('a sheet of music on the keyboard, any keys pressed again and again, opens nothing', () => {
  const keys = ['o', 'p', 'e', 'n', 'Enter', 'Escape', 'Space', 'f', '1']
  const pressed = fc.record({ key: fc.constantFrom(...keys), times: fc.integer({ min: 2, max: 40 }) })
  fc.assert(
    fc.property(fc.array(pressed, { minLength: 1, maxLength: 60, size: 'max' }), all => {
      const lock = keyLock(true)
      // A key that is held repeats before the next one is pressed.
      for (const { key, times } of all) for (let i = 0; i < times; i++) lock.passes(key, pedals)
      expect(lock.locked()).toBe(true)
    }),
    { numRuns: 300 },
  )
})

test('it can be shut again', () => {
  const lock = keyLock(false)
  expect(lock.passes('f', pedals)).toBe(true)
  lock.lock()
  expect(lock.passes('f', pedals)).toBe(false)
})
