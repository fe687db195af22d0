import { expect, test } from 'vitest'
import { parseRhythm } from '../../src/music/rhythm.ts'
import { tempo } from '../../src/music/tempo.ts'
import { PRACTICE_KEYS } from '../../src/screens/practice/key-table.ts'
import { pressed } from '../../src/terminal/key-table.ts'
import { goalTake } from '../../src/visit/reduce.ts'
import { TWO } from '../screens/controls.ts'
import { must, setup, stage } from '../screens/practice/stage.ts'

const listen = async (s: Awaited<ReturnType<typeof stage>>): Promise<void> => {
  s.conductor.act({ kind: 'listen' })
  await s.conductor.settled()
  await s.clock.run(100)
}

test('before the first repetition the goal is heard once; nothing is kept, and a press starts as if nothing had been', async () => {
  const s = await stage()
  await listen(s)
  expect(s.conductor.session().note).toEqual({ kind: 'listen', tempo: tempo(120) })
  expect(s.conductor.frame()).toBeGreaterThan(0)
  // Count-in and two measures of four beats at 120 last 6 s.
  await s.clock.run(6500)
  expect(s.conductor.session()).toMatchObject({ phase: 'ready', hearing: null, note: { kind: 'listened' } })
  expect(s.journal).toEqual([])
  await s.press('right')
  expect(s.conductor.session()).toMatchObject({ phase: 'going', reps: 1, current: { tempo: tempo(104) } })
})

test('between two repetitions it changes neither rung nor row, and a press goes on where it was', async () => {
  const s = await stage()
  await s.play('CC')
  await listen(s)
  expect(s.conductor.session()).toMatchObject({ phase: 'hold', hearing: { tempo: tempo(120) } })
  const kept = s.journal.length
  await s.clock.run(2000)
  await s.press('right')
  expect(s.conductor.session()).toMatchObject({ phase: 'going', hearing: null })
  expect(s.journal).toHaveLength(kept)
  expect([s.rung(), s.row()]).toEqual(['104', 2])
  await s.play('C')
  expect(s.rung()).toBe('108')
})

test('in the middle of a repetition that one is interrupted, not judged: the row stays', async () => {
  const s = await stage()
  await s.play('C')
  while (!s.conductor.session().current?.entered) await s.clock.run(100)
  await listen(s)
  expect(s.journal.at(-1)).toMatchObject({ kind: 'unjudged', why: 'interrupted' })
  expect(s.row()).toBe(1)
})

test('a repetition that waits for its verdict comes first', async () => {
  const s = await stage()
  await s.press('right')
  await s.clock.run(9000)
  await listen(s)
  expect(s.conductor.session()).toMatchObject({ hearing: null, note: { kind: 'waiting' } })
})

test('it is the click of the whole section at the goal, with the guide of an altered rhythm', () => {
  const even = goalTake(setup())
  // Eight quarters at 120.
  expect((even.program.end - even.program.firstNote) / 48_000).toBe(4)
  expect(even.program.onsets.some(o => o.role === 'guide')).toBe(false)
  const rhythm = must(parseRhythm('3:1'))
  const guide = { ratios: rhythm.ratios, group: { n: 1, d: 8 } }
  const altered = goalTake(setup({ rhythm, click: { countIn: 1, guide } }))
  expect(altered.program.onsets.some(o => o.role === 'guide')).toBe(true)
})

test('its key is l', () => {
  expect(pressed(PRACTICE_KEYS, 'ladder', 'l', TWO)).toMatchObject({
    does: { kind: 'visit', action: { kind: 'listen' } },
  })
})
