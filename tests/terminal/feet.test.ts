import { afterEach, beforeEach, expect, it, vi } from 'vitest'
import { type Feet, footwork } from '../../src/terminal/feet.ts'
import type { Key } from '../../src/terminal/tokenizer.ts'

beforeEach(() => void vi.useFakeTimers())
afterEach(() => void vi.useRealTimers())

/** Pedals, a stand-in for the MIDI inputs, and what was told. */
const feet = (which: Feet | undefined) => {
  const told: Key[] = []
  let midi: ((id: string) => void) | null = null
  const f = footwork({
    feet: which,
    now: () => performance.now(),
    tell: key => told.push(key),
    listen: tell => {
      midi = tell
      return () => {
        midi = null
      }
    },
  })
  return { ...f, told: () => told.map(k => k.id), midi: () => midi }
}

it('MIDI is listened to only where a pedal is a MIDI pedal, and only that pedal is told', () => {
  expect(feet({ keys: ['PageDown', 'PageUp'] }).midi()).toBeNull()
  expect(feet(undefined).midi()).toBeNull()
  const f = feet({ keys: ['midi-cc64', 'PageUp'] })
  for (const id of ['midi-cc64', 'midi-cc64-low', 'midi-note36', 'midi-cc67']) f.midi()?.(id)
  f.key({ id: 'PageUp', at: 1 })
  expect(f.told()).toEqual(['midi-cc64', 'PageUp'])
  f.close()
  expect(f.midi()).toBeNull()
})

it('while pedals are learned every MIDI key is told', () => {
  const f = feet('any')
  for (const id of ['midi-cc64', 'midi-cc64-low', 'midi-note36']) f.midi()?.(id)
  expect(f.told()).toEqual(['midi-cc64', 'midi-cc64-low', 'midi-note36'])
})

it('keys wait for a chord only where a pedal is one', () => {
  const quick = feet({ keys: ['PageDown', 'PageUp'] })
  quick.key({ id: 't', at: performance.now() })
  expect(quick.told()).toEqual(['t'])

  const f = feet({ keys: ['chord', 'PageUp'] })
  const at = performance.now()
  f.key({ id: 'j', at })
  f.key({ id: 'k', at: at + 5 })
  expect(f.told()).toEqual(['chord'])
  vi.advanceTimersByTime(5000)
  f.key({ id: 't', at: performance.now() })
  expect(f.told()).toEqual(['chord'])
  vi.advanceTimersByTime(60)
  expect(f.told()).toEqual(['chord', 't'])
  // The other pedal is not waited for.
  f.key({ id: 'PageUp', at: performance.now() })
  expect(f.told()).toEqual(['chord', 't', 'PageUp'])
  // What still waits when the screen closes is not told.
  f.key({ id: 'u', at: performance.now() })
  f.close()
  vi.advanceTimersByTime(5000)
  expect(f.told()).toEqual(['chord', 't', 'PageUp'])
})
