import { expect, test } from 'vitest'
import { DEFAULT_RULES } from '../../src/ladder/rules.ts'
import { opening } from '../../src/ladder/start.ts'
import { tempo } from '../../src/music/tempo.ts'
import { aboutMinutes, minutesToPass } from '../../src/plan/pass.ts'
import { must } from '../screens/practice/stage.ts'

/** Ceiling 120 yesterday, goal 138: the day begins at 116, one mark below. */
const yesterday = { ceiling: tempo(120), days: 1, last: { tempo: tempo(120), slipped: false, minutes: 1440 } }
const begun = must(opening(null, tempo(138), { kind: 'notch' }, yesterday))
const ask = { ...begun, ceiling: tempo(120), rules: DEFAULT_RULES, seconds: 20 }

test('116, 120 and 126, three clean ones each, twenty seconds each: three minutes', () => {
  expect(minutesToPass(ask)).toBe(3)
  expect(aboutMinutes(minutesToPass(ask) ?? 0)).toBe('about 3 min')
})

test('as many clean ones as the rule asks for, and on the last rung as many as it asks for there', () => {
  expect(minutesToPass({ ...ask, rules: { ...DEFAULT_RULES, up: { kind: 'total', n: 8 } } })).toBeCloseTo(
    (3 * 8 * 20) / 60,
  )
  const short = { ...ask, rungs: begun.rungs.slice(0, begun.at + 3) }
  expect(minutesToPass(short)).toBeCloseTo(((2 * 3 + 5) * 20) / 60)
})

test('nothing to pass: no ceiling yet, the goal reached, or begun above it', () => {
  expect(minutesToPass({ ...ask, ceiling: null })).toBeNull()
  expect(minutesToPass({ ...ask, ceiling: tempo(138) })).toBeNull()
  expect(minutesToPass({ ...ask, at: begun.rungs.length - 1, ceiling: tempo(60) })).toBeNull()
})

test('never "about 0 min"', () => expect(aboutMinutes(0.2)).toBe('about 1 min'))
