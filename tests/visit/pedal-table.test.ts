import { describe, expect, it } from 'vitest'
import {
  choosing,
  chosen,
  judge,
  type Meaning,
  PEDAL_TABLE,
  pedalLines,
} from '../../src/visit/pedal-table.ts'

const MOMENTS = PEDAL_TABLE.map(r => r.moment)

describe('two pedals: what a press means', () => {
  it.each([
    ['before the first repetition', 'ready', 'start', 'start'],
    ['while playing, before the last measure', 'early', 'notYet', 'stopSlip'],
    ['at a note that waits', 'held', 'goOn', 'stopSlip'],
    ['from the last measure until the next first note', 'open', 'clean', 'notClean'],
    ['judged clean, the end still sounds', 'settledClean', 'already', 'toSlip'],
    ['judged not clean, the end still sounds', 'settledSlip', 'toClean', 'already'],
    ['in the pause and count-in after clean', 'afterClean', 'hold', 'toSlip'],
    ['in the rest and count-in after a whole one not clean', 'afterSlip', 'toClean', 'hold'],
    ['in the rest and count-in after one cut short', 'afterCut', 'hold', 'hold'],
    ['while it holds and waits', 'hold', 'resume', 'resume'],
    ['while it waits and something is offered', 'offered', 'take', 'resume'],
  ] as const)('%s', (_, moment, right, left) => {
    expect(judge(moment, 'right', 2)).toBe(right)
    expect(judge(moment, 'left', 2)).toBe(left)
  })

  it('an offer is taken or left, and neither foot says anything of a repetition', () => {
    const said = (['right', 'left', 'both'] as const).map(p => judge('offered', p, 2))
    expect(new Set(said).size).toBe(3)
    for (const verdict of ['clean', 'toClean', 'notClean', 'toSlip', 'stopSlip'])
      expect(said).not.toContain(verdict)
  })

  it('nothing is taken where a repetition is being judged or sounds', () => {
    for (const m of MOMENTS.filter(m => m !== 'offered'))
      for (const p of ['right', 'left', 'both'] as const) expect(judge(m, p, 2), m).not.toBe('take')
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
    ['judged clean, the end still sounds: it becomes not clean', 'settledClean', 'toSlip'],
    ['in the pause and count-in after clean: it becomes not clean', 'afterClean', 'toSlip'],
    ['judged not clean, the end still sounds: wait', 'settledSlip', 'hold'],
    ['in the pause and count-in after not clean: wait', 'afterSlip', 'hold'],
    ['after one cut short: wait', 'afterCut', 'hold'],
    ['while it holds: go on', 'hold', 'resume'],
    ['while something is offered: it is passed by, or chosen once it has stood', 'offered', 'resume'],
  ] as const)('%s', (_, moment, meaning) => {
    // One pedal is one pedal, whichever side it was learned as.
    expect(judge(moment, 'right', 1)).toBe(meaning)
    expect(judge(moment, 'left', 1)).toBe(meaning)
  })

  it('stores clean only while the repetition is open, and the next press turns it wherever it still can fall', () => {
    const clean = MOMENTS.filter(m => ['clean', 'toClean'].includes(judge(m, 'right', 1)))
    expect(clean).toEqual(['open'])
    for (const m of ['settledClean', 'afterClean'] as const) expect(judge(m, 'right', 1)).toBe('toSlip')
  })

  it('gives every verdict: clean, not clean at the end, not clean at a stop; and it starts, waits and goes on', () => {
    const all = MOMENTS.map(m => judge(m, 'right', 1))
    for (const needed of ['clean', 'toSlip', 'stopSlip', 'start', 'hold', 'resume', 'goOn'])
      expect(all).toContain(needed)
  })
})

describe('the help of the pedals comes from the table', () => {
  it('one pedal is told in its own words, its last beat included', () => {
    const lines = pedalLines(1).map(l => `${l.when}: ${l.does}`)
    expect(lines).toContain('from the last beat on: clean')
    expect(lines).toContain('pause and count-in after clean: no, not clean')
    expect(lines.join()).not.toMatch(/right|left|both/)
  })

  it('two pedals are told side by side', () => {
    const lines = pedalLines(2).map(l => `${l.when}: ${l.does}`)
    expect(lines).toContain('from the last measure on: right clean; left not clean')
    expect(lines).toContain('waiting: go on')
    expect(lines).toContain('waiting, with an offer: right take it; left go on')
    expect(lines).toContain('both at once: stop, nothing is counted')
  })
})

describe('a list of choices', () => {
  const at = [0, 1999, 2000, 11_999, 12_000, 1e9]

  it('one pedal passes by for two seconds, takes what stands, and after twelve only wakes it', () => {
    expect(at.map(ms => chosen(ms, 'right', 1))).toEqual(['next', 'next', 'take', 'take', 'wake', 'wake'])
    expect(at.map(ms => choosing(ms).moment)).toEqual([
      ...['passing', 'passing', 'standing', 'standing', 'asleep', 'asleep'],
    ])
  })

  it('of two the right one takes and the left one passes by, at any time', () => {
    for (const ms of at) expect([chosen(ms, 'right', 2), chosen(ms, 'left', 2)]).toEqual(['take', 'next'])
  })
})

describe('each moment has one line in the help', () => {
  it.each([1, 2] as const)('with %s pedals', pedals => {
    const lines = pedalLines(pedals)
    expect(lines.map(l => l.when)).toEqual([
      'before the first repetition',
      pedals === 1 ? 'before the last beat' : 'before the last measure',
      'at a mark that waits',
      pedals === 1 ? 'from the last beat on' : 'from the last measure on',
      'pause and count-in after clean',
      'pause and count-in after not clean',
      'after a stop',
      'waiting',
      ...(pedals === 2 ? ['waiting, with an offer', 'both at once'] : []),
    ])
  })
})

describe('both pedals within 120 ms', () => {
  it.each(MOMENTS)('%s: stop, not counted', moment => {
    expect(judge(moment, 'both', 2)).toBe('unclear')
    expect(judge(moment, 'both', 1)).toBe('unclear')
  })
})
