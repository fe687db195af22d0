import { expect, test } from 'vitest'
import { setup, stage } from '../screens/practice/stage.ts'

const SILENCE_AND_COUNT_IN = (p: { firstNote: number }): number => p.firstNote / 48_000
const asLong = setup({ rest: { clean: 2, slip: 4, asLong: true }, measures: 4, start: 120, goal: 120 })

test('a rest as long as what was played: eight seconds after four measures at 120, the count-in among them', async () => {
  const s = await stage(asLong)
  await s.press('right')
  await s.press('right', 'end')
  const next = s.conductor.session().current
  expect(next?.rep).toBe(2)
  expect(SILENCE_AND_COUNT_IN(next?.program ?? { firstNote: 0 })).toBeCloseTo(8, 3)
})

test('after a repetition that was stopped the usual rest is enough', async () => {
  const s = await stage(asLong)
  await s.press('right')
  await s.press('left', 'middle')
  // Four seconds, and four beats of count-in.
  expect(SILENCE_AND_COUNT_IN(s.conductor.session().current?.program ?? { firstNote: 0 })).toBeCloseTo(6, 3)
})

test('after a short passage it is never shorter than the usual rest', async () => {
  const s = await stage({ ...asLong, form: setup({ measures: 1, goal: 120 }).form })
  await s.press('right')
  await s.press('right', 'end')
  expect(SILENCE_AND_COUNT_IN(s.conductor.session().current?.program ?? { firstNote: 0 })).toBeCloseTo(4, 3)
})

test('without it two seconds and the count-in', async () => {
  const s = await stage(setup({ measures: 4, start: 120, goal: 120 }))
  await s.press('right')
  await s.press('right', 'end')
  expect(SILENCE_AND_COUNT_IN(s.conductor.session().current?.program ?? { firstNote: 0 })).toBeCloseTo(4, 3)
})

test.each([
  ['two measures at 96, five seconds: a breath, and the count-in', 2, 96, 1 + 2.5],
  ['a measure at 120, two seconds', 1, 120, 1 + 2],
  ['three measures at 120, six seconds: half of it, count-in and all', 3, 120, 3],
])('between short ones the pause is short: %s', async (_, measures, at, seconds) => {
  const s = await stage(setup({ measures, start: at, goal: at }))
  await s.press('right')
  await s.press('right', 'end')
  expect(SILENCE_AND_COUNT_IN(s.conductor.session().current?.program ?? { firstNote: 0 })).toBeCloseTo(
    seconds,
    3,
  )
})
