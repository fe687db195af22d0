import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { RungStep } from '../../src/ladder/rungs.ts'
import { type Before, dayShare, markBelow, type Opening, opening, shareOf } from '../../src/ladder/start.ts'
import { frac } from '../../src/music/fraction.ts'
import { compareTempo, MARKS, type Tempo, tempo, typed } from '../../src/music/tempo.ts'

const NOTCH: RungStep = { kind: 'notch' }

const opened = (start: number | null, goal: number, before: Before | null, share?: number): Opening => {
  const r = opening(start === null ? null : tempo(start), tempo(goal), NOTCH, before, 'up', share)
  if (!r.ok) throw new Error(r.problem.accepted)
  return r.value
}
const tempoOf = (o: Opening): string => typed(o.rungs[o.at] as Tempo)

const known = (
  ceiling: number | null,
  days: number,
  stopped = 100,
  slipped = false,
  minutes = 5,
): Before => ({
  ceiling: ceiling === null ? null : tempo(ceiling),
  days,
  last: { tempo: tempo(stopped), slipped, minutes },
})

describe('the first visit of a day', () => {
  it('after a ceiling of 132 yesterday: 97 % is 128.04, so 126, and 132 is the next rung', () => {
    expect(typed(shareOf(tempo(132), dayShare(1)))).toBe('128.04')
    expect(shareOf(tempo(100), 0.97)).toEqual(tempo(97))
    const o = opened(60, 138, known(132, 1))
    expect([tempoOf(o), typed(o.rungs[o.at + 1] as Tempo)]).toEqual(['126', '132'])
  })

  it('on the traditional scale one mark below the ceiling, wherever that is', () => {
    for (const [i, mark] of MARKS.entries())
      if (mark > 40) expect(tempoOf(opened(30, 300, known(mark, 1)))).toBe(String(MARKS[i - 1] ?? 38))
  })

  it('after a ceiling of 126 three days ago: 117.4, so 116', () => {
    expect(typed(shareOf(tempo(126), dayShare(3)))).toBe('117.38')
    expect(tempoOf(opened(60, 138, known(126, 3)))).toBe('116')
  })

  it('each further day takes 2 %, down to 70 % on the eighteenth', () => {
    expect(dayShare(1)).toBe(0.97)
    expect(dayShare(2)).toBeCloseTo(0.9506, 10)
    expect(dayShare(17)).toBeGreaterThan(0.7)
    for (const days of [18, 19, 40, 60]) expect(dayShare(days)).toBe(0.7)
  })

  it('the share can be chosen: all of it begins at the ceiling, 80 % of 120 at 96', () => {
    expect(tempoOf(opened(60, 138, known(120, 1), 1))).toBe('120')
    expect(tempoOf(opened(60, 138, known(120, 1), 0.8))).toBe('96')
  })

  it('goes up by single notches, to the ceiling and beyond it', () => {
    const o = opened(92, 138, known(120, 1))
    expect(o.rungs.map(typed).join(' ')).toBe('92 96 100 104 108 112 116 120 126 132 138')
    expect(o.find).toBe(false)
  })

  it('begins at the lowest rung when the share lies below all, or nothing was completed yet', () => {
    expect(tempoOf(opened(100, 138, known(104, 5)))).toBe('100')
    expect(tempoOf(opened(84, 138, known(null, 2)))).toBe('84')
  })

  it('never lies above its share of the ceiling, and the next mark would', () => {
    const some = fc.tuple(fc.constantFrom(...MARKS.filter(m => m >= 72)), fc.integer({ min: 1, max: 60 }))
    fc.assert(
      fc.property(some, ([ceiling, days]) => {
        const o = opened(40, 208, known(ceiling, days))
        const limit = shareOf(tempo(ceiling), dayShare(days))
        const here = Number(tempoOf(o))
        const next = tempo(MARKS[MARKS.indexOf(here) + 1] ?? 999)
        expect(compareTempo(tempo(here), limit)).toBeLessThanOrEqual(0)
        expect(compareTempo(next, limit)).toBeGreaterThan(0)
      }),
    )
  })
})

describe('again on the same day', () => {
  it('begins at the rung where it stopped', () => {
    expect(tempoOf(opened(60, 138, known(120, 0, 112)))).toBe('112')
  })

  it('one rung lower when it stopped on a slip, or after half an hour away; not two for both', () => {
    expect(tempoOf(opened(60, 138, known(120, 0, 112, true)))).toBe('108')
    expect(tempoOf(opened(60, 138, known(120, 0, 112, false, 29)))).toBe('112')
    expect(tempoOf(opened(60, 138, known(120, 0, 112, false, 30)))).toBe('108')
    expect(tempoOf(opened(60, 138, known(120, 0, 112, true, 90)))).toBe('108')
  })

  it('not below the lowest; where a tempo by hand was no rung, at the rung below it', () => {
    expect(tempoOf(opened(60, 138, known(null, 0, 60, true)))).toBe('60')
    expect(tempoOf(opened(60, 138, known(null, 0, 106.5)))).toBe('104')
  })

  it('goes on without a typed start, too, and does not look for one again', () => {
    const o = opened(null, 120, known(null, 0, 84))
    expect([tempoOf(o), o.find]).toEqual(['84', false])
  })
})

describe('the first visit of all', () => {
  it('begins at the start that was typed', () => {
    const o = opened(72, 120, null)
    expect([tempoOf(o), o.rungs[0], o.rungs.at(-1), o.find]).toEqual(['72', tempo(72), tempo(120), false])
  })

  it('without one looks for it, from 60 % of the goal: 72 for 120, with rungs below to fall to', () => {
    const o = opened(null, 120, null)
    expect([tempoOf(o), o.find]).toEqual(['72', true])
    expect(o.rungs.map(typed).slice(0, 3)).toEqual(['36', '38', '40'])
  })

  it('looks for it in the note value of the goal', () => {
    const goal = tempo(80, frac(3, 8))
    const r = opening(null, goal, NOTCH, null)
    expect(r.ok && typed(r.value.rungs[r.value.at] as Tempo)).toBe('dotted-quarter=48')
  })

  it('a goal below the start is refused as such', () => {
    expect(opening(tempo(120), tempo(100), NOTCH, null)).toMatchObject({
      ok: false,
      problem: { field: 'goal tempo' },
    })
  })
})

describe('after a long time away', () => {
  it('sixty days still count, after sixty the start is looked for again', () => {
    expect(opened(60, 138, known(120, 60))).toMatchObject({ find: false })
    expect(tempoOf(opened(60, 138, known(120, 60)))).toBe('84')
    const o = opened(60, 138, known(120, 61))
    expect([tempoOf(o), o.find]).toEqual(['80', true])
  })

  it('a typed start that is lower stays the lowest rung', () => {
    expect(opened(30, 138, known(120, 61)).rungs[0]).toEqual(tempo(30))
    expect(opened(100, 138, known(120, 61)).rungs[0]).toEqual(tempo(40))
  })
})

describe('every opening', () => {
  it('begins on one of its rungs, with the goal exactly on top', () => {
    const some = fc.record({
      start: fc.option(fc.integer({ min: 30, max: 100 })),
      goal: fc.integer({ min: 100, max: 220 }),
      ceiling: fc.option(fc.constantFrom(...MARKS)),
      days: fc.integer({ min: 0, max: 80 }),
      stopped: fc.integer({ min: 30, max: 220 }),
      slipped: fc.boolean(),
      minutes: fc.integer({ min: 0, max: 600 }),
      first: fc.boolean(),
    })
    fc.assert(
      fc.property(some, x => {
        const earlier = known(x.ceiling, x.days, x.stopped, x.slipped, x.minutes)
        const o = opened(x.start, x.goal, x.first ? null : earlier)
        expect(o.rungs[o.at]).toBeDefined()
        expect(o.rungs.at(-1)).toEqual(tempo(x.goal))
        o.rungs.slice(1).forEach((t, i) => {
          expect(compareTempo(t, o.rungs[i] as Tempo)).toBeGreaterThan(0)
        })
      }),
      { numRuns: 500 },
    )
  })
})

describe('the mark below a share of the goal', () => {
  it('60 % of 120 is 72, of 126 is 75.6 and so 72', () => {
    expect(markBelow(tempo(120), 0.6)).toEqual(tempo(72))
    expect(markBelow(tempo(126), 0.6)).toEqual(tempo(72))
  })
})

it('a goal that is a range: the ladder ends at its lower end, and goes on to the upper one once that was reached', () => {
  const at = (ceiling: number) => ({
    ceiling: tempo(ceiling),
    days: 1,
    last: { tempo: tempo(ceiling), slipped: false, minutes: 1440 },
  })
  const bpms = (before: ReturnType<typeof at> | null, step: Parameters<typeof opening>[2] = NOTCH) => {
    const r = opening(tempo(80), tempo(117), step, before, 'up', undefined, tempo(125))
    return r.ok ? r.value.rungs.map(t => typed(t)) : []
  }
  expect(bpms(null).at(-1)).toBe('117')
  expect(bpms(at(112)).at(-1)).toBe('117')
  // Both ends are exact; what is nearer to one of them than half a step is left out.
  expect(bpms(at(117)).slice(-3)).toEqual(['117', '120', '125'])
  expect(bpms(at(117), { kind: 'count', rungs: 5 }).at(-1)).toBe('125')
  // On another day from 97 % of what was reached: of 117 that is 113.5.
  const open = opening(tempo(80), tempo(117), NOTCH, at(117), 'up', undefined, tempo(125))
  expect(open.ok && typed(open.value.rungs[open.value.at] as never)).toBe('112')
})

it('where a start is looked for, a step so fine that there are more than 200 rungs is refused', () => {
  const half = { kind: 'percent' as const, by: frac(1, 2) }
  expect(opening(null, tempo(120), half, null)).toMatchObject({ ok: false, problem: { field: 'step' } })
})
