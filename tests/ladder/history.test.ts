import { describe, expect, it } from 'vitest'
import type { Event } from '../../src/ladder/event.ts'
import { ceilings, fold } from '../../src/ladder/fold.ts'
import { counts, practiced, summary } from '../../src/ladder/history.ts'
import { typed } from '../../src/music/tempo.ts'
import { histories } from './histories.ts'
import { at, play, rules, script } from './live.ts'

const RUNGS = [96, 100, 104, 108, 112]

/** A visit on 7 May at an hour and some minutes; its events come one a minute. */
const visit = (
  text: string,
  from = 104,
  when = { session: 's', hour: 9 },
  key = 'weir-street/2',
): readonly Event[] =>
  play({ fold, ceilings }, { rungs: RUNGS, at: RUNGS.indexOf(from), rules: rules() }, script(text), {
    session: when.session,
    n: 1,
    key,
  }).events.map((e, i) => ({ ...e, time: new Date(Date.UTC(2031, 4, 7, when.hour, i)).toISOString() }))

describe('what a visit counts', () => {
  it('clean ones, verdicts, and all that was heard', () => {
    expect(counts(visit('CCNSCI'))).toEqual({ clean: 3, verdicts: 4, played: 6 })
  })

  it('what was taken back does not count, and a correction counts once', () => {
    expect(counts(visit('CCUC'))).toEqual({ clean: 2, verdicts: 2, played: 2 })
    expect(counts(visit('CCX'))).toEqual({ clean: 1, verdicts: 2, played: 2 })
  })

  it('moves and openings are not played', () => {
    expect(counts(visit('[112][100]'))).toEqual({ clean: 0, verdicts: 0, played: 0 })
  })
})

describe('what is kept of a visit', () => {
  it('is where it stopped for a slip, with its place and tempo, and no clean one', () => {
    const [open, ...others] = visit('CNC')
    const placed = others.map(e => (e.kind === 'verdict' ? { ...e, place: '43.2' } : e))
    expect(summary([open as Event, ...placed])?.stops).toEqual([{ place: '43.2', tempo: at(104) }])
    expect(summary(visit('CNC'))?.stops).toEqual([])
  })

  it('is nothing once its opening is lost', () => {
    expect(summary(visit('CNC').slice(1))).toBeNull()
    expect(summary([])).toBeNull()
  })
})

describe('the history of a section', () => {
  const one = (...visits: readonly (readonly Event[])[]) => histories(visits).of('weir-street/2')

  it('knows the greatest ceiling of all visits, and that of each', () => {
    const h = one(visit('CCCCCC'), visit('NNCCC', 104, { session: 't', hour: 11 }))
    expect(h?.ceiling).toEqual(at(108))
    expect(h?.visits.map(v => v.ceiling && typed(v.ceiling))).toEqual(['108', '100'])
    expect(h?.visits.map(v => [v.clean, v.verdicts, v.played, v.goal])).toEqual([
      [6, 6, 6, false],
      [3, 5, 5, false],
    ])
  })

  it('knows where the last visit stopped, on what, and when', () => {
    const h = one(visit('CCC'), visit('CN', 104, { session: 't', hour: 11 }))
    expect(h?.last).toEqual({ tempo: at(104), slipped: true, time: '2031-05-07T11:02:00.000Z', offset: 120 })
    expect(one(visit('CCC'))?.last).toMatchObject({ tempo: at(108), slipped: false })
  })

  it('a slip that was taken back is not where it stopped', () => {
    expect(one(visit('CNU'))?.last).toMatchObject({ slipped: false, time: '2031-05-07T09:01:00.000Z' })
  })

  it('a visit in which nothing was judged is kept, and does not change where it stopped', () => {
    const h = one(visit('CC'), visit('SI', 96, { session: 't', hour: 11 }))
    expect(h?.visits).toHaveLength(2)
    expect(h?.last).toMatchObject({ tempo: at(104), time: '2031-05-07T09:02:00.000Z' })
    expect(one(visit('S'))?.last).toBeNull()
  })

  it('of two machines the later verdict is the last, in whatever order their files are read', () => {
    const [morning, noon] = [visit('CCC'), visit('N', 100, { session: 't', hour: 12 })]
    expect(one(morning, noon)?.last).toEqual(one(noon, morning)?.last)
    expect(one(noon, morning)?.last).toMatchObject({ tempo: at(100), slipped: true })
  })

  it('a reached goal is kept with its visit', () => {
    expect(one(visit('CCCCC', 112))).toMatchObject({ ceiling: at(112), visits: [{ goal: true }] })
  })

  it('sections and rhythms do not mix', () => {
    const all = histories([
      visit('CCC'),
      visit('CC', 112, { session: 't', hour: 10 }, 'weir-street/2 long-short'),
    ])
    expect(all.visits.map(v => v.key)).toEqual(['weir-street/2', 'weir-street/2 long-short'])
    expect(all.of('weir-street/2 long-short')?.ceiling).toBeNull()
  })

  it('a visit whose opening is lost is passed over', () => {
    expect(histories([visit('CCC').slice(1)]).visits).toEqual([])
    expect(histories([]).visits).toEqual([])
  })
})

describe('how long was practiced', () => {
  /** A visit of which the events come at these seconds. */
  const at = (...seconds: readonly number[]): readonly Event[] =>
    visit('C'.repeat(seconds.length - 1)).map((e, i) => ({
      ...e,
      time: new Date(Date.UTC(2031, 4, 7, 9, 0, seconds[i] as number)).toISOString(),
    }))

  it.each([
    ['what goes on without a pause counts in full', at(0, 20, 40, 61), 61],
    ['a pause counts as the usual time and 20 s of waiting', at(0, 20, 40, 60, 3660, 3680), 60 + 40 + 20],
    ['a short pause counts in full', at(0, 20, 40, 79), 79],
    ['so does a long passage', at(0, 130, 260, 400), 400],
    ['nothing longer than five minutes is one repetition', at(0, 4000), 300],
    ['a clock that is set back takes nothing away', at(0, 20, 40, 60, -3000, -2980), 80],
    ['an opening alone is no practice', at(0), 0],
    ['the usual time is the middle one, not a short one', at(0, 2, 4, 34, 64, 264), 2 + 2 + 30 + 30 + 50],
    ['an hour of minutes is an hour', at(...Array.from({ length: 61 }, (_, i) => 60 * i)), 3600],
  ])('%s', (_, events, seconds) => {
    expect(practiced(events)).toBe(seconds)
  })

  it('what was heard before the first verdict counts too, five minutes of it at most', () => {
    const visitAfter = (heard: number): readonly Event[] =>
      at(0, 0, 20, 40).map(e => (e.kind === 'visit' ? { ...e, heard } : e))
    expect(practiced(visitAfter(23))).toBe(63)
    expect(practiced(visitAfter(4000))).toBe(340)
  })

  it('what was taken back was played all the same', () => {
    expect(practiced(visit('CUC'))).toBe(180)
  })
})
