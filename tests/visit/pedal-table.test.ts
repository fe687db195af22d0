import { describe, expect, it } from 'vitest'
import { judge, type Meaning, type Moment } from '../../src/visit/pedal-table.ts'

const MOMENTS: readonly Moment[] = [
  'ready',
  'early',
  'held',
  'open',
  'settledClean',
  'settledSlip',
  'afterClean',
  'afterSlip',
  'afterCut',
  'hold',
]

describe('two pedals: what a press means', () => {
  it.each([
    ['before the first repetition', 'ready', 'start', 'start'],
    ['while playing, before the last measure', 'early', 'notYet', 'stopSlip'],
    ['at a note that waits', 'held', 'goOn', 'stopSlip'],
    ['from the last measure until the next first note', 'open', 'clean', 'notClean'],
    ['judged clean, the end still sounds', 'settledClean', 'already', 'toSlip'],
    ['judged not clean, the end still sounds', 'settledSlip', 'toClean', 'already'],
    ['in the rest and count-in after clean', 'afterClean', 'hold', 'toSlip'],
    ['in the rest and count-in after a whole one not clean', 'afterSlip', 'toClean', 'hold'],
    ['in the rest and count-in after one cut short', 'afterCut', 'hold', 'hold'],
    ['while it holds and waits', 'hold', 'start', 'start'],
  ] as const)('%s', (_, moment, right, left) => {
    expect(judge(moment, 'right', 2)).toBe(right)
    expect(judge(moment, 'left', 2)).toBe(left)
  })

  it('a repetition that was cut short is never made clean', () => {
    const made: readonly Meaning[] = ['right', 'left'].map(p => judge('afterCut', p as 'right' | 'left', 2))
    expect(made).not.toContain('toClean')
  })
})

describe('one pedal: what a press means', () => {
  it.each([
    ['before the first repetition: start', 'ready', 'start'],
    ['before the last beat: stop, not clean', 'early', 'stopSlip'],
    ['at a note that waits: go on', 'held', 'goOn'],
    ['from the last beat on: clean', 'open', 'clean'],
    ['in the rest and count-in after clean: taken back, and hold', 'afterClean', 'takeBack'],
    ['after not clean: taken back, and hold', 'afterSlip', 'takeBack'],
    ['after one cut short: taken back, and hold', 'afterCut', 'takeBack'],
    ['while it holds: start', 'hold', 'start'],
    ['judged already, the end still sounds: nothing', 'settledClean', 'already'],
    ['the same after not clean', 'settledSlip', 'already'],
  ] as const)('%s', (_, moment, meaning) => {
    // One pedal is one pedal, whichever side it was learned as.
    expect(judge(moment, 'right', 1)).toBe(meaning)
    expect(judge(moment, 'left', 1)).toBe(meaning)
  })

  it('stores clean only while the repetition is open: a mistake never makes a false clean', () => {
    const clean = MOMENTS.filter(m => ['clean', 'toClean'].includes(judge(m, 'right', 1)))
    expect(clean).toEqual(['open'])
  })

  it('gives every verdict: clean, not clean, taken back', () => {
    const all = MOMENTS.map(m => judge(m, 'right', 1))
    for (const needed of ['clean', 'stopSlip', 'takeBack', 'start']) expect(all).toContain(needed)
  })
})

describe('both pedals within 120 ms', () => {
  it.each(MOMENTS)('%s: stop, not counted', moment => {
    expect(judge(moment, 'both', 2)).toBe('unclear')
    expect(judge(moment, 'both', 1)).toBe('unclear')
  })
})
