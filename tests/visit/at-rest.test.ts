import { describe, expect, test } from 'vitest'
import type { Program } from '../../src/click/program.ts'
import { tempo } from '../../src/music/tempo.ts'
import { momentInLegs } from '../../src/visit/legs.ts'
import { ladderOf, type Sounding } from '../../src/visit/session.ts'
import { music, played } from '../click/support.ts'
import { setup, stage } from '../screens/practice/stage.ts'

describe('a press in music that waits for the pedal', () => {
  const program = played(music('4/4', 2, '60'), { countIn: 1 }) as Program
  const take = (at: number, held = false, over = false): Sounding => ({
    rep: 1,
    tempo: tempo(60),
    program,
    legs: { all: [program, program, program], at, held },
    entered: true,
    over,
    verdict: null,
  })
  const { firstNote, lastBeat } = program

  test('in the count-in of the beginning speaks of the repetition before, as ever', () => {
    expect(momentInLegs(take(0), firstNote - 1)).toBeNull()
  })

  test('in the beat that prepares what follows a hold, or before its held note, comes too early', () => {
    expect(momentInLegs(take(1), firstNote - 1)).toBe('early')
    expect(momentInLegs(take(1), firstNote)).toBe('early')
    expect(momentInLegs(take(0), lastBeat - 1)).toBe('early')
  })

  test('from the last beat before the hold on goes on', () => {
    expect(momentInLegs(take(0), lastBeat)).toBe('held')
    expect(momentInLegs(take(0, true), 0)).toBe('held')
  })

  test('in the last leg, or when all is over, is a verdict like any other', () => {
    expect(momentInLegs(take(2), firstNote)).toBeNull()
    expect(momentInLegs(take(2), firstNote - 1)).toBe('early')
    expect(momentInLegs(take(0, false, true), lastBeat)).toBeNull()
    const { legs: _, ...whole } = take(0)
    expect(momentInLegs(whole, 0)).toBeNull()
  })
})

test('a repetition without an answer goes on by itself, and asks for its verdict a second later', async () => {
  const s = await stage(setup({ after: 'go-on' }))
  await s.press('right')
  const first = s.conductor.session().current?.program
  await s.clock.run(((first?.end ?? 0) / 48_000) * 1000 + 100)
  const { current } = s.conductor.session()
  expect(current?.rep).toBe(2)
  expect(current?.program.onsets.filter(o => o.role === 'unanswered').map(o => o.frame)).toEqual([48_000])
})

test('after the end no pedal starts anything again', async () => {
  const s = await stage()
  await s.play('C')
  s.conductor.act({ kind: 'finish' })
  await s.conductor.settled()
  const kept = s.journal.length
  await s.press('right')
  await s.clock.run(3000)
  await s.press('left')
  expect(s.conductor.session()).toMatchObject({ phase: 'done', current: null })
  expect(s.journal).toHaveLength(kept)
})

test('a visit has at least one rung', () => {
  const none = setup()
  expect(() => ladderOf({ ...none, opening: { ...none.opening, rungs: [] } }, [])).toThrow(
    'at least one rung',
  )
})
