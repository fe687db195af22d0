import { describe, expect, test } from 'vitest'
import { plainForm } from '../../src/music/form.ts'
import { frac } from '../../src/music/fraction.ts'
import { parseMeter } from '../../src/music/meter.ts'
import { tempo } from '../../src/music/tempo.ts'
import { must, type Stage, setup, stage } from '../screens/practice/stage.ts'

const byHand = async (s: Stage, bpm: number): Promise<void> => {
  s.conductor.act({ kind: 'tempo', to: tempo(bpm) })
  await s.conductor.settled()
  await s.clock.run(30)
}

describe('a tempo by hand', () => {
  test('before the first repetition is where it begins; nothing sounds yet', async () => {
    const s = await stage()
    await byHand(s, 112)
    expect(s.conductor.session()).toMatchObject({ phase: 'ready', current: null, reps: 0 })
    expect(s.rung()).toBe('112')
    await s.press('right')
    expect(s.conductor.session().current?.tempo).toEqual(tempo(112))
  })

  test('in a hold is that of the next repetition; the hold goes on', async () => {
    const s = await stage()
    await s.play('C')
    s.conductor.act({ kind: 'wait' })
    await s.conductor.settled()
    await byHand(s, 108)
    expect(s.conductor.session()).toMatchObject({ phase: 'hold', current: null })
    expect(s.rung()).toBe('108')
    await s.press('right')
    expect(s.conductor.session().current?.tempo).toEqual(tempo(108))
  })
})

test('after a pick-up the same tempo counts in what is missing of its measure, a new one a whole measure more', async () => {
  const form = plainForm(must(parseMeter('4/4')), 2, tempo(120), frac(1, 4))
  const s = await stage(setup({ form, numbers: ['0', '41', '42'] }))
  const counted = (): number =>
    s.conductor.session().current?.program.onsets.filter(o => o.role === 'countIn').length ?? 0
  await s.press('right')
  expect(counted()).toBe(7)
  await s.press('right', 'end')
  expect([s.rung(), counted()]).toEqual(['104', 3])
  await s.press('right', 'end')
  await s.press('right', 'end')
  expect([s.rung(), counted()]).toEqual(['108', 7])
})
