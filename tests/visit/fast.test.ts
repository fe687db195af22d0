import { describe, expect, test } from 'vitest'
import { builtIn, ladderNamed } from '../../src/app/presets.ts'
import { parseFast } from '../../src/cli/options.ts'
import { DEFAULT_RULES } from '../../src/ladder/rules.ts'
import { checked } from '../../src/music/result.ts'
import { tempo } from '../../src/music/tempo.ts'
import { fastAfter, fastWords, resumed } from '../../src/visit/fast.ts'
import { newSession } from '../../src/visit/session.ts'
import { setup, stage } from '../screens/practice/stage.ts'

/** Never up or down, so that the rung stands still. */
const still = { ...DEFAULT_RULES, up: { kind: 'total', n: 20 }, slips: 0 } as const
const slowFast = () => {
  const s = setup({ fast: 'beat' })
  return { ...s, opening: { ...s.opening, rules: still } }
}

describe('ten slow, one fast', () => {
  test('after ten whole repetitions, clean or not, the ladder stops for the one at the goal', async () => {
    const s = await stage(slowFast())
    await s.play('CNCNCNCNC')
    expect(fastWords(s.conductor.session())).toBe('a beat at the goal in 1')
    expect(s.conductor.session().phase).toBe('going')
    await s.play('N')
    await s.clock.run(2000)
    expect(s.conductor.session().phase).toBe('done')
    expect(fastAfter(s.conductor.session())).toEqual({ kind: 'beat', rung: tempo(104) })
  })

  test('a repetition that was stopped is none of the ten', async () => {
    const s = await stage(slowFast())
    await s.play('CCCCCCCCC')
    await s.press('left', 'middle')
    expect(s.conductor.session().phase).toBe('going')
    expect(fastWords(s.conductor.session())).toBe('a beat at the goal in 1')
  })

  test('the tenth verdict may come in the last measure: the music goes to its written end', async () => {
    const s = await stage(slowFast())
    await s.play('CCCCCCCCC')
    await s.press('right', 'lastMeasure')
    expect(s.conductor.session()).toMatchObject({ phase: 'going', current: { rep: 10 }, next: null })
    // The other pedal may still change it.
    await s.clock.run(300)
    await s.press('left')
    expect(s.conductor.session().phase).toBe('going')
    await s.clock.run(5000)
    expect(s.conductor.session().phase).toBe('done')
  })

  test('after it the ladder goes on with the same rung, row and verdicts, and waits for ten more', async () => {
    const made = slowFast()
    const s = await stage(made)
    await s.play('NNNNNNNNCC')
    const before = s.conductor.session()
    const after = resumed(made, before)
    expect(after).toMatchObject({ phase: 'hold', note: { kind: 'back' }, reps: before.reps })
    expect(after.ladder).toEqual(before.ladder)
    expect(after.ladder.row).toBe(2)
    expect(fastAfter(after)).toBeNull()
    expect(fastWords(after)).toBe('a beat at the goal in 10')
  })

  test('without the rule nothing stops after ten', async () => {
    const { fast: _, ...without } = slowFast()
    const s = await stage(without)
    await s.play('CCCCCCCCCCC')
    expect(s.conductor.session().phase).toBe('going')
    expect(fastWords(s.conductor.session())).toBe('')
  })
})

test('it is off by default, and an option or rules turn it on: a beat, or the whole section', () => {
  expect(parseFast({}, undefined)).toEqual({ ok: true, value: null })
  expect(parseFast({ slowFast: true }, undefined)).toEqual({ ok: true, value: 'beat' })
  expect(parseFast({ slowFast: 'section' }, 'beat')).toEqual({ ok: true, value: 'goal' })
  expect(parseFast({}, checked(ladderNamed(builtIn(), 'ten-slow-one-fast')).fast)).toEqual({
    ok: true,
    value: 'beat',
  })
  expect(checked(ladderNamed(builtIn(), 'usual')).fast).toBeUndefined()
  expect(parseFast({ slowFast: 'twice' }, undefined)).toMatchObject({
    problem: { accepted: 'beat or section' },
  })
})

test('a ladder that leads down and an altered rhythm know no goal that is faster', () => {
  expect(parseFast({ slowFast: true, down: true }, undefined).ok).toBe(false)
  expect(parseFast({ slowFast: true, rhythm: 'long-short' }, undefined).ok).toBe(false)
  expect(parseFast({ down: true }, 'beat')).toEqual({ ok: true, value: null })
})

describe('what follows a visit', () => {
  const tenth = async (slotMinutes?: number) => {
    const s = await stage(slowFast(), slotMinutes)
    await s.play('CNCNCNCNCN')
    return s
  }

  test('is the fast one only once it has ended, after ten, and not where the player was asked and went on', async () => {
    const s = await tenth()
    expect(s.conductor.session().phase).toBe('going')
    expect(fastAfter(s.conductor.session())).toBeNull()
    await s.clock.run(2000)
    expect(fastAfter(s.conductor.session())).not.toBeNull()
    expect(fastAfter({ ...s.conductor.session(), asks: 'time' })).toBeNull()
    const early = await stage(slowFast())
    await early.play('CCC')
    early.conductor.act({ kind: 'finish' })
    await early.conductor.settled()
    expect([early.conductor.session().phase, fastAfter(early.conductor.session())]).toEqual(['done', null])
    const { fast: _, ...plain } = setup()
    expect(fastAfter({ ...s.conductor.session(), setup: plain })).toBeNull()
    expect(fastWords({ ...s.conductor.session(), setup: plain })).toBe('')
  })

  test('a visit that was left before anything was written begins as a new one', () => {
    const made = slowFast()
    expect(resumed(made, { ...newSession(made), phase: 'hold', note: { kind: 'hold' } })).toMatchObject({
      phase: 'ready',
      note: { kind: 'start' },
      fasts: 0,
    })
  })
})
