import { describe, expect, test } from 'vitest'
import { tempo } from '../../src/music/tempo.ts'
import { ladderLines } from '../../src/screens/practice/ladder-lines.ts'
import { noteText, rowWords } from '../../src/screens/practice/words.ts'
import { askedHint, slotText, withSlot } from '../../src/visit/slot.ts'
import { slotClock } from '../../src/visit/slot-clock.ts'
import { type Stage, setup, stage, virtualClock } from '../screens/practice/stage.ts'

/** Two measures at 104: count-in, music and rest take about nine seconds, so seven to a minute. */
const slot = (s: Stage) => {
  const { asks, slot } = s.conductor.session()
  return asks ? 'asks' : slot
}
const kinds = (s: Stage) => s.journal.map(e => e.kind)

/** Clean ones, each judged after its end, until the slot asks. */
const playOn = async (s: Stage): Promise<void> => {
  for (let i = 0; i < 3000 && slot(s) !== 'asks'; i++) {
    const { phase, current } = s.conductor.session()
    if (phase !== 'going' || (current?.over && !current.verdict)) await s.press('right')
    else await s.clock.run(250)
  }
}

describe('a slot ends when its rung is decided', () => {
  test('the clock begins with the first press, not while the player reads', async () => {
    const s = await stage(setup(), 1)
    await s.clock.run(5 * 60_000)
    expect(slot(s)).toBe('left')
    expect(s.conductor.minutesLeft()).toBe(1)
    await s.press('right')
    await s.clock.run(61_000)
    expect(slot(s)).toBe('over')
    expect(s.conductor.minutesLeft()).toBe(0)
  })

  test('with two of three in a row it goes on until the third, and then asks', async () => {
    const s = await stage(setup({ start: 60, goal: 120 }), 0.5)
    await s.play('CC')
    expect(s.row()).toBe(2)
    while (slot(s) === 'left') await s.clock.run(1000)
    expect([slot(s), s.conductor.session().phase]).toEqual(['over', 'going'])
    await s.press('right', 'end')
    // Until the usual rest is over the verdict can be turned.
    expect(slot(s)).toBe('over')
    await s.clock.run(2000)
    expect(slot(s)).toBe('asks')
    expect(s.conductor.session()).toMatchObject({ phase: 'hold', note: { kind: 'up' } })
    expect(s.journal.filter(e => e.kind === 'verdict')).toHaveLength(3)
  })

  test('a slip that empties the row ends it too', async () => {
    const s = await stage(setup({ start: 60, goal: 120 }), 0.5)
    await s.play('CC')
    while (slot(s) === 'left') await s.clock.run(1000)
    await s.press('left', 'end')
    await s.clock.run(2000)
    expect(slot(s)).toBe('asks')
    expect(s.row()).toBe(0)
  })

  test('a minute late it ends with the next verdict, whatever the row is', async () => {
    const s = await stage(
      setup({ opening: { ...setup().opening, rules: { up: { kind: 'row', n: 20 }, slips: 2, top: 20 } } }),
      1,
    )
    const from = s.clock.now()
    await playOn(s)
    expect(slot(s)).toBe('asks')
    expect(s.row()).toBeGreaterThan(3)
    const seconds = (s.clock.now() - from) / 1000
    expect(seconds).toBeGreaterThan(120)
    // One repetition later at most: it is never cut.
    expect(seconds).toBeLessThan(135)
  })

  test('a repetition that sounds is never cut, and nothing of it is lost', async () => {
    const s = await stage(setup({ measures: 60, start: 104 }), 0.5)
    await s.press('right')
    await s.clock.run(100_000)
    expect(slot(s)).toBe('late')
    expect(s.conductor.session()).toMatchObject({ phase: 'going', current: { over: false } })
    await s.press('right', 'end')
    await s.clock.run(2000)
    expect(slot(s)).toBe('asks')
    expect(kinds(s)).toEqual(['visit', 'verdict'])
  })

  test('in the rest after a rung that was decided in time it ends before the next count-in', async () => {
    const s = await stage(setup({ start: 60, goal: 120, rest: { clean: 40, slip: 40, asLong: true } }), 2)
    await s.play('CCC')
    expect(slot(s)).toBe('left')
    while (slot(s) === 'left') await s.clock.run(1000)
    expect(slot(s)).toBe('asks')
    expect(s.journal.filter(e => e.kind === 'verdict')).toHaveLength(3)
    expect(kinds(s)).not.toContain('unjudged')
  })

  test('a verdict in the last measure lets the music come to its written end first', async () => {
    const s = await stage(setup({ start: 60, goal: 120 }), 0.5)
    await s.play('CC')
    while (slot(s) === 'left') await s.clock.run(1000)
    await s.press('right', 'lastMeasure')
    expect([slot(s), s.conductor.session().phase]).toEqual(['over', 'going'])
    expect(s.conductor.frame()).not.toBeNull()
    await s.clock.run(7000)
    expect([slot(s), s.conductor.frame()]).toEqual(['asks', null])
    // What the verdict was worth is heard all the same.
    expect(s.signals.at(-1)).toEqual(['up'])
  })

  test('a repetition that the player stops ends it at once', async () => {
    const s = await stage(setup({ start: 60, goal: 120 }), 0.5)
    await s.play('CC')
    while (slot(s) === 'left') await s.clock.run(1000)
    await s.press('left', 'middle')
    expect(slot(s)).toBe('asks')
  })

  test('while it waits for the player there is nothing to wait for', async () => {
    const s = await stage(setup(), 1)
    await s.press('right')
    s.conductor.act({ kind: 'wait' })
    await s.conductor.settled()
    await s.clock.run(61_000)
    expect(slot(s)).toBe('asks')
  })
})

describe('shortly before the date', () => {
  const { rungs, rules } = setup().opening
  const capped = { rungs: rungs.slice(0, 2), at: 1, rules: { ...rules, capped: true as const } }
  const atCap = () => stage(setup({ opening: capped, ceiling: tempo(104) }), 8)

  test('the rung on which the ladder ends is done and stays, and says so; the goal stands above it', async () => {
    const s = await atCap()
    await s.play('CCC')
    expect(s.conductor.session()).toMatchObject({
      ladder: { at: 1, row: 0, ceiling: tempo(108), goal: false },
      note: { kind: 'stays', tempo: tempo(108) },
    })
    const lines = ladderLines(s.conductor.session(), 9).map(l => l.text.trim().replace(/ +/g, ' '))
    expect(lines).toEqual(['goal 120', 'for now > 108 ceiling', 'start 104 passed'])
  })

  test('nor does it rise by hand', async () => {
    const s = await atCap()
    s.conductor.act({ kind: 'tempo', to: tempo(112) })
    await s.conductor.settled()
    expect(s.rung()).toBe('108')
    expect(s.conductor.session().note).toMatchObject({
      text: expect.stringContaining('or below: the date is close'),
    })
  })
})

describe('the question at the end of a slot', () => {
  const atItsEnd = async () => {
    const s = await stage(setup({ start: 60, goal: 120 }), 0.5)
    await s.play('CC')
    while (slot(s) === 'left') await s.clock.run(1000)
    await s.press('right', 'end')
    await s.clock.run(2000)
    return s
  }

  test('right: the visit is over, all of it on disk', async () => {
    const s = await atItsEnd()
    await s.press('right')
    expect(s.conductor.session().phase).toBe('done')
    expect(kinds(s)).toEqual(['visit', 'verdict', 'verdict', 'verdict'])
  })

  test('left: two more minutes of the same visit, on the same rung', async () => {
    const s = await atItsEnd()
    const rung = s.rung()
    await s.press('left')
    expect([slot(s), s.conductor.minutesLeft(), s.rung()]).toEqual(['left', 2, rung])
    expect(s.conductor.session().phase).toBe('going')
    await s.clock.run(900)
    const from = s.clock.now()
    await playOn(s)
    expect((s.clock.now() - from) / 1000).toBeGreaterThan(115)
    expect(s.journal.filter(e => e.kind === 'visit')).toHaveLength(1)
  })

  test('no answer: silence, however long, and nothing is counted', async () => {
    const s = await atItsEnd()
    await s.clock.run(3 * 3_600_000)
    expect([slot(s), s.conductor.frame()]).toEqual(['asks', null])
    expect(kinds(s)).toEqual(['visit', 'verdict', 'verdict', 'verdict'])
  })

  test('both pedals at once answer nothing; waiting longer is two more minutes', async () => {
    const s = await atItsEnd()
    s.conductor.act({ kind: 'pedal', pedal: 'both', frame: null })
    await s.conductor.settled()
    expect(slot(s)).toBe('asks')
    s.conductor.act({ kind: 'wait' })
    await s.conductor.settled()
    expect(slot(s)).toBe('left')
  })

  test('is said in words, with one pedal too', async () => {
    const s = await atItsEnd()
    expect(withSlot(s.conductor.session(), 'Clean.')).toBe('Clean. The turn is over.')
    const now = s.conductor.session()
    const keys = { right: 'R', left: 'L' }
    expect(askedHint(now, keys)).toBe('right (R): what comes next   left (L): two more minutes')
    expect(askedHint({ ...now, setup: { ...now.setup, pedals: 1 } }, keys)).toContain('w: two more minutes')
    const text = (slot: 'left' | 'none', left: number) => slotText({ slot, asks: null }, left)
    expect([text('left', 3), text('left', 0), text('none', 0)]).toEqual([
      '3 min left',
      'the turn ends with this rung',
      '',
    ])
  })
})

test('without a slot nothing ends by itself', async () => {
  const s = await stage(setup({ start: 60, goal: 120 }))
  await s.play('CC')
  await s.clock.run(3_600_000)
  expect([slot(s), s.conductor.minutesLeft()]).toEqual(['none', null])
})

test('one slot runs on through several visits, and tells each whole minute', async () => {
  const clock = virtualClock()
  const time = slotClock(clock, 2.5)
  const told: number[] = []
  const stop = time.watch(() => told.push(time.minutesLeft()))
  await clock.run(60_000)
  expect(told).toEqual([])
  time.begin()
  await clock.run(50_000)
  stop()
  await clock.run(30_000)
  time.watch(() => told.push(time.minutesLeft()))
  await clock.run(10 * 60_000)
  // 150 s: at 30 s with two minutes left, at 90 s, at the end, and a minute after it; nobody listened from 50 s to 80 s.
  expect(told).toEqual([2, 1, 0, 0])
  expect(time.is()).toBe('late')
})

describe('a goal that is reached hands on', () => {
  /** One rung to go: the goal, five in a row. */
  const atGoal = async (more = {}, minutes?: number) => {
    const s = await stage(setup({ start: 104, goal: 104, ...more }), minutes)
    await s.press('right')
    for (let i = 0; i < 5; i++) await s.press('right', 'end')
    await s.clock.run(4000)
    return s
  }

  test('it is asked once, in silence, and nothing counts one of five again', async () => {
    const s = await atGoal()
    const now = s.conductor.session()
    expect(now).toMatchObject({ asks: 'goal', phase: 'hold', ladder: { goal: true } })
    expect([rowWords(now), noteText(now.note)]).toEqual([
      'the goal is reached',
      'The goal is reached. Tomorrow: once, cold.',
    ])
    expect(askedHint(now, { right: 'R', left: 'L' })).toBe('right (R): finish   left (L): stay here')
    await s.press('left')
    await s.press('right', 'end')
    await s.clock.run(4000)
    expect(s.conductor.session()).toMatchObject({ asks: null, phase: 'going' })
    expect(rowWords(s.conductor.session())).toBe('the goal is reached')
  })

  test('right goes on: alone the visit ends, in a day to what comes next', async () => {
    const s = await atGoal()
    await s.press('right')
    expect(s.conductor.session().phase).toBe('done')
    const inDay = await atGoal({}, 8)
    expect(askedHint(inDay.conductor.session(), { right: 'R', left: 'L' })).toBe(
      'right (R): what comes next   left (L): stay here',
    )
  })

  test('the slip of a last repetition that was called clean too soon takes the question away', async () => {
    const s = await atGoal()
    s.conductor.act({ kind: 'takeBack' })
    await s.conductor.settled()
    expect(s.conductor.session()).toMatchObject({ asks: null, ladder: { goal: false } })
  })

  test('who stays is asked again when the time of the turn is over', async () => {
    const s = await atGoal({}, 2)
    await s.press('left')
    await playOn(s)
    expect(s.conductor.session()).toMatchObject({ asks: 'time' })
  })

  test('with one pedal too', async () => {
    const s = await atGoal({ pedals: 1 })
    expect(s.conductor.session()).toMatchObject({ asks: 'goal' })
    await s.press('right')
    expect(s.conductor.session().phase).toBe('done')
  })
})
