import { describe, expect, test } from 'vitest'
import { DEFAULT_RULES } from '../../src/ladder/rules.ts'
import { frac, zero } from '../../src/music/fraction.ts'
import { checked, type Result, sentence } from '../../src/music/result.ts'
import { tempo, typed } from '../../src/music/tempo.ts'
import type { Wishes } from '../../src/visit/subject.ts'
import { quickTarget } from '../../src/visit/target.ts'

const quick = (wishes: Wishes = {}) => quickTarget({ goal: tempo(120), ...wishes })
const refusal = (r: Result<unknown>): string => (r.ok ? '' : sentence(r.problem))

describe('a quick ladder', () => {
  test('is two measures of 4/4 from 60 % of the goal, where nobody says more', () => {
    const t = checked(quick())
    expect(t).toMatchObject({
      key: 'quick 4/4 x2 none quarter even',
      title: 'Quick ladder   2 measures of 4/4, to quarter = 120',
      music: '',
      readyBy: null,
      numbers: ['1', '2'],
      direction: 'up',
      step: { kind: 'notch' },
      fast: null,
      rules: DEFAULT_RULES,
      rhythm: null,
      run: null,
      rhythms: [],
      notes: [],
    })
    expect(t.click).toEqual({ countIn: 1 })
    expect([t.start && typed(t.start), typed(t.goal)]).toEqual(['72', '120'])
    expect([t.form.length, t.form.pickup]).toEqual([frac(2), zero])
    expect(t).not.toHaveProperty('rests')
    expect(t).not.toHaveProperty('dayStart')
  })

  test('has the meter, measures and pick-up that were asked for, and a key of its own for them', () => {
    const meter = { groups: [1, 1, 1], unit: frac(1, 4) }
    const t = checked(quick({ meter, measures: 1, pickup: frac(1, 8) }))
    expect(t.title).toBe('Quick ladder   1 measure of 3/4, pick-up eighth, to quarter = 120')
    expect(t.key).toBe('quick 3/4 x1 eighth quarter even')
    expect(t.numbers).toEqual(['0', '1'])
    expect([t.form.length, t.form.pickup]).toEqual([frac(7, 8), frac(1, 8)])
    expect(checked(quick({ pickup: frac(3, 8) })).title).toContain(', pick-up dotted quarter,')
  })

  test('a pick-up is shorter than a measure', () => {
    expect(quick({ pickup: frac(7, 8) }).ok).toBe(true)
    expect(refusal(quick({ pickup: frac(1) }))).toBe(
      '"whole" doesn\'t work for the pick-up. Try a note value shorter than a measure of 4/4.',
    )
  })

  test('climbs as it was asked to, else as the player usually does', () => {
    const usual = { clean: '4-of-5', slips: '3', step: '5%', dayStart: '95%' }
    expect(checked(quick({ usual }))).toMatchObject({
      rules: { up: { kind: 'most', n: 4, of: 5 }, slips: 3, top: 5 },
      dayStart: 0.95,
    })
    const asked = checked(
      quick({
        usual,
        up: { kind: 'total', n: 8 },
        slips: 0,
        dayStart: 0.9,
        step: { kind: 'notch' },
        fast: 'beat',
      }),
    )
    expect(asked).toMatchObject({
      rules: { up: { kind: 'total', n: 8 }, slips: 0, top: 5 },
      dayStart: 0.9,
      step: { kind: 'notch' },
      fast: 'beat',
    })
  })

  test('begins where it was asked to, never above the goal', () => {
    expect(typed(checked(quick({ start: tempo(88) })).start ?? tempo(1))).toBe('88')
    expect(refusal(quick({ start: tempo(132) }))).toContain('at or above the start (132)')
  })

  test('leads down from a start that somebody says', () => {
    const t = checked(quick({ down: true, start: tempo(144) }))
    expect(t).toMatchObject({ direction: 'down', key: 'quick 4/4 x2 none quarter down' })
    expect(t.click).toEqual({ countIn: 1, toward: 'down' })
    expect(refusal(quick({ down: true }))).toContain('--start with the faster tempo')
    expect(quick({ down: true, start: tempo(100) }).ok).toBe(false)
  })

  test('is clicked as it was asked to', () => {
    const clicked = { beats: [{ from: null, value: [2, 4] }] }
    const t = checked(quick({ clicked, countIn: 2, freeRitardando: true }))
    expect(t.click).toEqual({ ...clicked, countIn: 2, freeRitardando: true })
  })

  test('beats that no measure has are refused, counted as the pulse counts', () => {
    const beats = (n: number) => [{ from: null, value: [n] }]
    expect(quick({ clicked: { beats: beats(4) } }).ok).toBe(true)
    expect(refusal(quick({ clicked: { beats: beats(5) } }))).toBe(
      '"5" doesn\'t work for the beats. Try numbers from 1 to 4 in 4/4, like 2,4.',
    )
    const eighths = [{ from: null, value: frac(1, 8) }]
    expect(quick({ clicked: { beats: beats(8), pulse: eighths } }).ok).toBe(true)
    expect(quick({ clicked: { beats: beats(9), pulse: eighths } }).ok).toBe(false)
  })

  test('measures on and off belong together: what is missing is named', () => {
    const two = [{ from: null, value: 2 }]
    expect(quick({ clicked: { on: two, off: two } }).ok).toBe(true)
    expect(refusal(quick({ clicked: { on: two } }))).toContain('The measures off is missing')
    expect(refusal(quick({ clicked: { off: two } }))).toContain('The measures on is missing')
  })

  test('counts rests, has a running note, and refuses a guide: there are no notes to tap', () => {
    expect(checked(quick({ rests: 4, run: frac(1, 8) }))).toMatchObject({ rests: 4, run: frac(1, 8) })
    expect(refusal(quick({ guide: 'notes' }))).toContain('has notes to tap')
  })

  test('may be altered at once', () => {
    const rhythm = { name: '3:1', words: 'long and short', ratios: [3, 1], over: 1 }
    expect(checked(quick({ rhythm }))).toMatchObject({
      key: 'quick 4/4 x2 none quarter 3:1',
      title: 'Quick ladder   2 measures of 4/4, to quarter = 120, long and short',
    })
  })
})
