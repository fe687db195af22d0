import { expect, test } from 'vitest'
import { bows, FAMILY_NAMES, settingsFor } from '../../src/app/instruments.ts'
import { parseManner } from '../../src/cli/options.ts'
import { wrongsOf } from '../../src/screens/practice/words.ts'
import type { Settings } from '../../src/store/settings.ts'

const now: Settings = {
  right: 'PageDown',
  left: 'PageUp',
  pedals: 2,
  changedKeys: {},
  letters: 'alone',
  motion: 'glide',
  after: 'wait',
  rest: 'usual',
  keys: 'all',
  latency: 0,
  a: 440,
  transposition: 'C',
  steady: false,
  lastEvening: 'usual',
  awake: false,
  clean: 'usual',
  step: 'usual',
  slips: 'usual',
  dayStart: 'usual',
}

test('brass rests as long as it plays and hears a bright click; a violin rests as usual and slips with the bow', () => {
  expect(settingsFor('Trumpet', now)).toMatchObject({
    value: { instrument: 'trumpet', rest: 'as-long', levels: { character: 'bright' } },
  })
  expect(settingsFor('violin', now)).toMatchObject({ value: { rest: 'usual' } })
  expect(wrongsOf(bows({ instrument: 'violin' }))).toEqual(['notes', 'rhythm', 'bow', 'sound'])
  expect(wrongsOf(bows({ instrument: 'flute' }))).toContain('breath')
  expect(wrongsOf(bows({}))).toContain('breath')
})

test('loudness stays as it was when an instrument is named', () => {
  const quiet = { ...now, levels: { master: 'pp', roles: { beat: 'off' }, character: 'wood' } as const }
  expect(settingsFor('horn', quiet)).toMatchObject({
    value: { levels: { master: 'pp', roles: { beat: 'off' }, character: 'bright' } },
  })
})

test('every kind can be named by itself; what is not known is refused with what is', () => {
  for (const family of FAMILY_NAMES) expect(settingsFor(family, now).ok, family).toBe(true)
  expect(settingsFor('kettle', now)).toMatchObject({ problem: { field: 'instrument' } })
})

test('an option says how it is practiced this time; what it cannot be is refused', () => {
  expect(parseManner({})).toEqual({ ok: true, value: {} })
  expect(parseManner({ rest: 'usual', keys: 'pedals' })).toEqual({
    ok: true,
    value: { rest: 'usual', keys: 'pedals' },
  })
  expect(parseManner({ rest: 'long' })).toMatchObject({ problem: { accepted: 'usual or as-long' } })
  expect(parseManner({ keys: 'none' })).toMatchObject({ problem: { accepted: 'all or pedals' } })
})
