import { describe, expect, test } from 'vitest'
import { frac } from '../../src/music/fraction.ts'
import { tempo } from '../../src/music/tempo.ts'
import { newSession, type Session } from '../../src/visit/session.ts'
import { numberOf, REST, restAfter, soundingOf } from '../../src/visit/sounding.ts'
import { setup } from '../screens/practice/stage.ts'

const RATE = 48_000
const ready = (change: Parameters<typeof setup>[0] = {}): Session => newSession(setup(change))

describe('the next repetition', () => {
  test('signals begin a moment into the rest and follow each other', () => {
    const at = (first?: number) =>
      soundingOf(ready(), 2, ['row', 'row', 'row'], first)
        .program.onsets.filter(o => o.role === 'row')
        .map(o => Math.round((o.frame / RATE) * 1000))
    expect(at()).toEqual([120, 280, 440])
    expect(at(1)).toEqual([1000, 1160, 1320])
  })

  test('is counted in after its rest; where the music goes on by itself, after its last measure at least', () => {
    const rest = (seconds: number, change: Parameters<typeof setup>[0]) => {
      const { program } = soundingOf(ready(change), seconds, [])
      return (program.segments.find(x => x.kind === 'countIn')?.frame ?? 0) / RATE
    }
    // Four beats at 120 are two seconds.
    const fast = { start: 120, goal: 120 }
    expect([rest(0.5, fast), rest(3, fast), rest(0, fast)]).toEqual([0.5, 3, 0])
    expect([0.5, 3, 0].map(s => rest(s, { ...fast, after: 'go-on' }))).toEqual([2, 3, 0])
    // Of music that changes its meter it is the last one that counts.
    const { form } = setup({ measures: 2, ...fast })
    const waltz = { groups: [1, 1, 1], unit: frac(1, 4) }
    const changing = { ...form, meters: [...form.meters, { at: frac(1), meter: waltz }], length: frac(7, 4) }
    expect(rest(0.5, { ...fast, after: 'go-on', form: changing })).toBeCloseTo(1.5, 6)
  })

  test('has the next number and no verdict, waits for no pedal, and knows its breath where breaths are marked', () => {
    const take = soundingOf(ready(), 0, [])
    expect(take).toMatchObject({ rep: 1, tempo: tempo(104), entered: false, over: false, verdict: null })
    for (const name of ['legs', 'air']) expect(take).not.toHaveProperty(name)
    // Eight beats at 104 in one breath.
    expect(soundingOf(ready({ air: true }), 0, []).air).toBeCloseTo((8 * 60) / 104, 6)
    expect(soundingOf({ ...ready(), reps: 4 }, 0, []).rep).toBe(5)
  })
})

test('a measure is called as in the part, beside its rehearsal mark, else by its count', () => {
  const s = setup({ beside: new Map([['42', 'C']]) })
  expect([1, 2, 3].map(n => numberOf(s, n))).toEqual(['41', '42 (C)', '3'])
})

describe('seconds of rest', () => {
  test('usually two after a clean one and four after one that was not', () => {
    expect(REST).toEqual({ clean: 2, slip: 4 })
    const s = setup()
    expect([restAfter(s, null, true, true), restAfter(s, null, false, true)]).toEqual([2, 4])
  })

  test('half the music at most, the count-in after a clean one among it, and never less than a breath', () => {
    const of = (measures: number, bpm: number, clean: boolean, whole = true, asLong = false) => {
      const s = setup({ measures, start: bpm, goal: bpm, rest: { clean: 2, slip: 4, asLong } })
      return restAfter(s, soundingOf(newSession(s), 0, []), clean, whole)
    }
    // At 120 a measure is two seconds, and the count-in is two.
    expect([2, 3, 3.5, 4, 9].map(m => of(Math.floor(m), 120, true))).toEqual([1, 1, 1, 2, 2])
    expect([1, 2, 3, 4, 9].map(m => of(m, 120, false))).toEqual([1, 2, 3, 4, 4])
    // As long as what was played, count-in and all; after a stop as usual.
    expect([1, 3, 9].map(m => of(m, 120, true, true, true))).toEqual([2, 4, 16])
    expect(of(9, 120, false, false, true)).toBe(4)
  })
})
