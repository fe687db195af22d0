import { describe, expect, test } from 'vitest'
import { frac } from '../../src/music/fraction.ts'
import { countInFrames, eighths, framesOf, music, nearest, played, RATE } from './support.ts'

// How musicians count in: a whole measure, and with a pick-up the measure goes on until the pick-up completes it.
// Common practice, no source; the times are computed (60 / beats a minute).
describe('a count-in before a pick-up is a full measure and the missing part', () => {
  test('3/4, quarter = 96, pick-up of a quarter: five clicks, in at 3.125 s, downbeat at 3.75 s', () => {
    const p = played(music('3/4', 2, '96', frac(1, 4)), { countIn: 1 })
    expect(countInFrames(p)).toEqual(nearest([0, 0.625, 1.25, 1.875, 2.5]))
    expect(p.firstNote).toBe(150_000)
    expect(framesOf(p, 'downbeat')[0]).toBe(180_000)
  })

  test('3/4, quarter = 96, pick-up of an eighth: a sixth click, in half a beat after it', () => {
    const p = played(music('3/4', 2, '96', eighths(1)), { countIn: 1 })
    expect(countInFrames(p)).toEqual(nearest([0, 0.625, 1.25, 1.875, 2.5, 3.125]))
    expect(p.firstNote).toBe(165_000)
  })

  test('6/8, dotted quarter = 72, pick-up of an eighth: clicks in two', () => {
    const p = played(music('6/8', 2, 'dotted-quarter=72', eighths(1)), { countIn: 1 })
    expect(countInFrames(p)).toEqual(nearest([0, 5 / 6, 10 / 6, 15 / 6]))
    expect(p.firstNote).toBe(146_667)
    expect(framesOf(p, 'downbeat')[0]).toBe(160_000)
  })

  test('cut time, half = 66, pick-up of a quarter: clicks in two', () => {
    const p = played(music('2/2', 2, 'half=66', frac(1, 4)), { countIn: 1 })
    expect(countInFrames(p)).toEqual(nearest([0, 60 / 66, 120 / 66, 180 / 66]))
    expect(p.firstNote).toBe(152_727)
    expect(framesOf(p, 'downbeat')[0]).toBe(174_545)
  })
})

describe('the second time', () => {
  test('the missing part alone is enough when it has two clicks and 1.5 seconds', () => {
    const form = music('4/4', 2, '96', frac(1, 4))
    const p = played(form, { countIn: 1, again: true })
    expect(countInFrames(p)).toEqual(nearest([0, 0.625, 1.25]))
    expect(p.firstNote).toBe(90_000)
  })

  test('the full measure comes back when the missing part is shorter than 1.5 seconds', () => {
    const form = music('3/4', 2, '96', frac(1, 4))
    expect(played(form, { countIn: 1, again: true })).toEqual(played(form, { countIn: 1 }))
  })

  test('nothing is shortened without a pick-up', () => {
    const form = music('4/4', 2, '96')
    expect(played(form, { countIn: 1, again: true })).toEqual(played(form, { countIn: 1 }))
  })

  test('two measures asked for are two measures again where the short one does not serve', () => {
    const form = music('3/4', 2, '96', frac(1, 4))
    expect(played(form, { countIn: 2, again: true })).toEqual(played(form, { countIn: 2 }))
  })
})

describe('a count-in is long enough to breathe in', () => {
  const seconds = (m: string, t: string) => played(music(m, 2, t), { countIn: 1 }).firstNote / RATE

  test('one measure where that is 1.5 seconds or more', () => {
    expect(seconds('4/4', '120')).toBe(2)
    expect(seconds('4/4', '160')).toBe(1.5)
  })

  test('more measures where one is shorter', () => {
    expect(seconds('4/4', '161')).toBeCloseTo((8 * 60) / 161, 4)
    expect(seconds('2/4', '208')).toBeCloseTo((6 * 60) / 208, 4)
  })

  test('two clicks at least, however slow', () => {
    const p = played(music('1/4', 4, '40'), { countIn: 1 })
    expect(countInFrames(p)).toEqual(nearest([0, 1.5]))
    expect(p.firstNote).toBe(3 * RATE)
  })

  test('none where none is wanted', () => {
    const p = played(music('4/4', 2, '120'), { countIn: 0 })
    expect(p.firstNote).toBe(0)
    expect(p.segments).toEqual([{ kind: 'passage', frame: 0 }])
  })
})

describe('what is heard in a count-in', () => {
  test('the groups of the meter, in their real lengths', () => {
    const p = played(music('7/8', 1, 'quarter=104'), { countIn: 1 })
    expect(countInFrames(p)).toEqual(nearest([0, 2, 4].map(e => (e * 30) / 104)))
  })

  test('measures count up to the first one: -2, -1, then the pick-up 0', () => {
    const p = played(music('2/4', 2, '60', eighths(1)), { countIn: 2 })
    expect(p.onsets.filter(o => o.frame < p.firstNote).map(o => [o.measure, o.beat])).toEqual([
      [-2, 1],
      [-2, 2],
      [-1, 1],
      [-1, 2],
      [0, 1],
      [0, 2],
    ])
  })

  test('rest and small signals stand before it', () => {
    const p = played(music('4/4', 1, '60'), {
      countIn: 1,
      rest: 2,
      signals: [
        { role: 'row', after: 0.1 },
        { role: 'row', after: 0.4 },
      ],
    })
    expect(p.segments).toEqual([
      { kind: 'rest', frame: 0 },
      { kind: 'countIn', frame: 2 * RATE },
      { kind: 'passage', frame: 6 * RATE },
    ])
    expect(framesOf(p, 'row')).toEqual([4800, 19_200])
  })

  test('a signal longer than the rest keeps the onsets in order', () => {
    const p = played(music('4/4', 1, '60'), { countIn: 1, rest: 0.5, signals: [{ role: 'up', after: 0.7 }] })
    const frames = framesOf(p)
    expect(frames).toEqual([...frames].sort((a, b) => a - b))
  })
})
