import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { joinKey, rhythmKey, sectionKey } from '../../src/ladder/key.ts'
import { rungs } from '../../src/ladder/rungs.ts'
import {
  alteredEnds,
  type Before,
  JOIN_RULES,
  type Joined,
  joinOpening,
  type Opening,
} from '../../src/ladder/start.ts'
import { parseRhythm, type Rhythm } from '../../src/music/rhythm.ts'
import {
  compareTempo,
  MARKS,
  parseTempo,
  type Tempo,
  tempo,
  tempoRatio,
  typed,
} from '../../src/music/tempo.ts'

const part = (ceiling: number | null, goal = 132): Joined => ({
  ceiling: ceiling === null ? null : tempo(ceiling),
  goal: tempo(goal),
})

const joined = (
  parts: readonly Joined[],
  before: Before | null = null,
  start: number | null = 60,
): Opening => {
  const r = joinOpening(parts, start === null ? null : tempo(start), tempo(132), before)
  if (!r.ok) throw new Error(r.problem.accepted)
  return r.value
}
const here = (o: Opening): string => typed(o.rungs[o.at] as Tempo)
const above = (o: Opening): string[] => o.rungs.slice(o.at).map(typed)

describe('sections that are joined', () => {
  it('begin at the highest rung not above 0.92 of the lower ceiling: 112 and 120 give 103.04, so 100', () => {
    expect(here(joined([part(112), part(120)]))).toBe('100')
    expect(here(joined([part(120), part(112)]))).toBe('100')
    expect(joined([part(112), part(120)]).find).toBe(false)
  })

  it('climb two notches at a time to the goal, which is never left out', () => {
    expect(above(joined([part(112), part(120)]))).toEqual(['100', '108', '116', '126', '132'])
    expect(above(joined([part(120), part(132)]))).toEqual(['108', '116', '126', '132'])
    expect(
      joined([part(112), part(120)])
        .rungs.slice(0, 3)
        .map(typed),
    ).toEqual(['60', '63', '66'])
  })

  it('go up after two in a row; slips and the last rung as everywhere', () => {
    expect(JOIN_RULES).toEqual({ up: { kind: 'row', n: 2 }, slips: 2, top: 5 })
  })

  it('without a start reach down to the mark at or below 30 % of the goal, or to where they begin', () => {
    // 30 % of 132 is 39.6; the marks go on below 40 in steps of two.
    expect(typed(joined([part(112), part(120)], null, null).rungs[0] as Tempo)).toBe('38')
    expect(typed(joined([part(36), part(120)], null, null).rungs[0] as Tempo)).toBe('33.12')
  })

  it('are refused as any ladder is where the start lies above the goal', () => {
    expect(joinOpening([part(112), part(120)], tempo(140), tempo(132), null)).toMatchObject({
      ok: false,
      problem: { field: 'goal tempo' },
    })
  })

  it('count ceilings as shares of their own goals, where a part begins at another tempo', () => {
    // 84 of 99 is 112 of 132.
    expect(here(joined([part(84, 99), part(120)]))).toBe('100')
  })

  it('look for a start when a part has no ceiling and none is typed, else begin at the start', () => {
    expect(joined([part(112), part(null)], null, null).find).toBe(true)
    expect(here(joined([part(112), part(null)]))).toBe('60')
    expect(here(joined([part(112), part(120)], null, null))).toBe('100')
  })

  it('with a ceiling of their own follow it rung by rung, not those of the parts', () => {
    const ago = (days: number): Before => ({
      ceiling: tempo(120),
      days,
      last: { tempo: tempo(116), slipped: false, minutes: 5 },
    })
    expect(here(joined([part(112), part(120)], ago(1)))).toBe('116')
    expect(here(joined([part(112), part(120)], ago(0)))).toBe('116')
    expect(above(joined([part(112), part(120)], ago(1)))).toEqual(['116', '120', '126', '132'])
  })

  it('lie between start and goal and never above the share, whatever the ceilings', () => {
    const mark = fc.constantFrom(...MARKS.filter(m => m >= 72 && m <= 132))
    fc.assert(
      fc.property(fc.array(mark, { minLength: 2, maxLength: 4 }), ceilings => {
        const o = joined(ceilings.map(c => part(c)))
        const lowest = Math.min(...ceilings)
        expect(tempoRatio(o.rungs[o.at] as Tempo, tempo(lowest))).toBeLessThanOrEqual(0.92)
        const all = rungs(tempo(60), tempo(132), { kind: 'notch' })
        const higher = all.ok ? all.value.filter(t => tempoRatio(t, tempo(lowest)) <= 0.92) : []
        expect(here(o)).toBe(typed(higher.at(-1) ?? tempo(60)))
        expect(o.rungs.every((t, i) => i === 0 || compareTempo(t, o.rungs[i - 1] as Tempo) > 0)).toBe(true)
      }),
    )
  })

  it('are known by their sections, in whatever order they are named, and never as one of them', () => {
    expect(joinKey(['b2', 'a1'])).toBe(joinKey(['a1', 'b2']))
    expect(rhythmKey(joinKey(['a1', 'b2']), '3:1')).not.toBe(joinKey(['a1', 'b2']))
    expect(joinKey(['a1', 'b2'])).not.toBe(sectionKey('a1+b2'))
  })
})

describe('the ladder of an altered rhythm', () => {
  const rhythm = (s: string): Rhythm => {
    const r = parseRhythm(s)
    if (!r.ok) throw new Error(s)
    return r.value
  }
  const ends = (start: string, goal: string, r: string): string[] => {
    const [a, b] = [parseTempo(start), parseTempo(goal)]
    if (!a.ok || !b.ok) throw new Error(start)
    const made = alteredEnds(a.value, b.value, rhythm(r))
    const all = made.start && rungs(made.start, made.goal, { kind: 'notch' })
    return all?.ok ? all.value.map(typed) : []
  }

  it('has both ends divided before the rungs are built: 92 to 120 in long-short is 46 to 60', () => {
    expect(ends('92', '120', '3:1')).toEqual(['46', '48', '50', '52', '54', '56', '58', '60'])
  })

  it('is the even one where a stop takes its own time', () => {
    expect(ends('100', '112', '5:1:1:1/2')).toEqual(['100', '104', '108', '112'])
  })

  it('keeps the goal exactly, scale or not', () => {
    expect(ends('66', '132', '5:1:1:1:1:1').at(-1)).toBe('79.2')
    expect(ends('dotted-quarter=60', 'dotted-quarter=92', '2:1:1').at(-1)).toBe('dotted-quarter=69')
    expect(alteredEnds(null, tempo(120), rhythm('3:1')).start).toBeNull()
  })
})
