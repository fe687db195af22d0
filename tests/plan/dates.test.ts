import { describe, expect, test } from 'vitest'
import { dayAfter } from '../../src/music/day.ts'
import { tempo, typed } from '../../src/music/tempo.ts'
import { dayOf } from '../../src/plan/day.ts'
import { jumpOf } from '../../src/plan/load.ts'
import type { Work } from '../../src/plan/work.ts'
import { TODAY, work } from './scene.ts'

const inDays = (days: number) => ({ readyBy: dayAfter(TODAY, days) })
const plan = (works: Parameters<typeof dayOf>[0], minutes = 40, date = TODAY) =>
  dayOf(works, [], { date, minutes, played: [] })
const kinds = (d: ReturnType<typeof plan>) => d.items.map(i => i.kind)

describe('the last evening', () => {
  const works = [
    work('1', 112, 120, inDays(1)),
    work('2', 96, 120, inDays(1)),
    work('3', 120, 120, inDays(1)),
  ]
  const day = plan(works)

  test('is a day like others, and ends with one run', () => {
    expect(kinds(day).slice(0, 3)).toEqual(['fundamentals', 'cold', 'section'])
    expect(kinds(day).at(-1)).toBe('run')
    expect(kinds(day)).not.toContain('through')
    expect(day.items.at(-1)).toMatchObject({ kind: 'run', piece: 'Weir Street Overture', cold: false })
  })

  test('a light one has one run, two slow repetitions at its worst spot, and nothing else', () => {
    const light = dayOf(works, [], { date: TODAY, minutes: 40, played: [], light: true })
    expect(kinds(light).filter(k => k !== 'cold')).toEqual(['fundamentals', 'run', 'slow'])
    const slow = light.items.at(-1)
    expect(slow).toMatchObject({ kind: 'slow', times: 2, take: { key: '2' }, minutes: 1 })
    // Twice 30 seconds are 86 at 70 % of the tempo; of a ladder that leads down the slow tempo is the hard one.
    const last = (other: Partial<Work>, ceiling = 96) =>
      dayOf([work('2', ceiling, 120, { ...inDays(1), ...other })], [], {
        date: TODAY,
        minutes: 40,
        played: [],
        light: true,
      }).items.at(-1)
    expect(last({ secondsPerRepetition: 30 })?.minutes).toBe(1.5)
    expect(last({ down: true }, 144)).toMatchObject({ take: { tempo: tempo(144) } })
    expect(slow?.kind === 'slow' && slow.take.tempo && typed(slow.take.tempo)).toBe('66')
  })

  test('the run is at what was reached', () => {
    const run = day.items.at(-1)
    expect(run?.kind === 'run' && run.takes.map(t => t.tempo && typed(t.tempo))).toEqual(['112', '96', '120'])
  })

  test('another piece with a later date is climbed as ever', () => {
    const more = plan([...works, work('9', 90, 120, { ...inDays(9), piece: 'Lantern Study' })])
    expect(kinds(more).slice(-2)).toEqual(['through', 'run'])
    expect(more.items.some(i => i.kind === 'section' && i.key === '9')).toBe(true)
  })
})

describe('a passage that is cut', () => {
  const whole = { key: 'passage', label: 'run at the weir', goal: tempo(120), top: null, seconds: 30 }
  const parts = (days: number, lowest = 80) => [
    work('1', 112, 120, { ...inDays(days), whole }),
    work('2', lowest, 120, { ...inDays(days), whole }),
    work('rest', 120, 120, { ...inDays(days), whole }),
  ]
  const takes = (d: ReturnType<typeof plan>, k: 'run' | 'through') =>
    d.items.flatMap(i => (i.kind === k ? i.takes.map(t => [t.key, t.tempo && typed(t.tempo)]) : []))

  test('is played whole, near the lowest ceiling inside it: as a trial, last thing of a day and on the last evening', () => {
    expect(takes(plan(parts(2)), 'run')).toEqual([['passage', '80']])
    expect(takes(plan(parts(1)), 'run')).toEqual([['passage', '80']])
    // 72 is 90 % of 80.
    expect(takes(plan(parts(6)), 'through')).toEqual([['passage', '72']])
  })

  test('is played at the mark below, what is not cut at what was reached itself, though that is no mark', () => {
    expect(takes(plan(parts(1, 83)), 'run')).toEqual([['passage', '80']])
    expect(takes(plan([work('1', 117, 120, inDays(1))]), 'run')).toEqual([['1', '117']])
  })

  test('what is cut out of it counts, and the passage itself only where nothing is', () => {
    const all = (ceiling: number) => work('passage', ceiling, 120, inDays(1))
    const part = work('1', 96, 120, { ...inDays(1), whole })
    expect(takes(plan([part, all(72)]), 'run')).toEqual([['passage', '96']])
    expect(takes(plan([all(72)]), 'run')).toEqual([['passage', '72']])
  })

  test('whose sections all are at the goal is run there, though the goal is no mark', () => {
    const odd = { ...whole, goal: tempo(119) }
    const at = (ceiling: number) => work('1', ceiling, 119, { ...inDays(1), whole: odd })
    expect([119, 118].map(c => takes(plan([at(c)]), 'run'))).toEqual([
      [['passage', '119']],
      [['passage', '116']],
    ])
  })

  test('counts ceilings as shares of their own goals', () => {
    const other = work('2', 84, 99, { ...inDays(1), whole })
    // 84 of 99 is 101.8 of 120.
    expect(takes(plan([work('1', 112, 120, { ...inDays(1), whole }), other]), 'run')).toEqual([
      ['passage', '100'],
    ])
  })

  test('what has no ceiling yet counts from where it begins', () => {
    const first = work('2', null, 120, { ...inDays(1), whole, next: tempo(44) })
    expect(takes(plan([first]), 'run')).toEqual([['passage', '44']])
  })

  test('a trial is the only cold thing of its passage', () => {
    expect(kinds(plan(parts(2)))).not.toContain('cold')
    expect(kinds(plan(parts(3)))).toContain('cold')
  })
})

describe('the day before the last evening', () => {
  const day = plan([work('1', 100, 120, inDays(2)), work('2', 84, 120, inDays(2))])

  test('begins with one cold run, at a tempo that has a chance', () => {
    expect(kinds(day).slice(0, 2)).toEqual(['fundamentals', 'run'])
    const [, run] = day.items
    expect(run).toMatchObject({ cold: true })
    expect(run?.kind === 'run' && run.takes.map(t => t.tempo && typed(t.tempo))).toEqual(['100', '84'])
  })

  test('has no more than one rung above what was reached; three days before there is no such limit', () => {
    const tops = (days: number) =>
      plan([work('1', 100, 120, inDays(days))]).items.flatMap(i =>
        i.kind === 'section' ? [i.top && typed(i.top)] : [],
      )
    expect(new Set(tops(2))).toEqual(new Set(['104']))
    expect(new Set(tops(1))).toEqual(new Set(['104']))
    expect(new Set(tops(3))).toEqual(new Set([null]))
  })
})

describe('a goal that is a range', () => {
  const top = tempo(128)
  const runs = (days: number, ceiling: number) =>
    plan([
      work('1', ceiling, 120, { ...inDays(days), top }),
      work('2', 120, 120, inDays(days)),
    ]).items.flatMap(i => (i.kind === 'run' ? [[i.cold, i.takes.map(t => t.tempo && typed(t.tempo))]] : []))

  test('where its upper end was reached it is run there too', () => {
    expect(runs(2, 128)).toEqual([
      [true, ['120', '120']],
      [false, ['128']],
    ])
    expect(runs(1, 120)).toEqual([[false, ['120', '120']]])
    expect(runs(1, 112)).toEqual([[false, ['112', '120']]])
  })
})

describe('the day itself', () => {
  test('entries and exposed spots once at 85 to 90 %, what is heard alone first, no visits', () => {
    const works = [
      work('1', 112, 120, inDays(0)),
      work('2', 100, 120, { ...inDays(0), priority: 2 }),
      work('3', 130, 120, inDays(0)),
    ]
    const day = plan(works)
    expect(kinds(day)).toEqual(['fundamentals', 'entries'])
    const [, entries] = day.items
    expect(
      entries?.kind === 'entries' && entries.spots.map(s => [s.key, typed(s.from), typed(s.to)]),
    ).toEqual([
      ['2', '85', '90'],
      ['1', '95', '101'],
      ['3', '102', '108'],
    ])
  })

  test('five spots at most', () => {
    const many = Array.from({ length: 9 }, (_, i) => work(`${i}`, 100 + i, 120, inDays(0)))
    const [, entries] = plan(many).items
    expect(entries?.kind === 'entries' && entries.spots.length).toBe(5)
  })

  test('what is furthest from its goal first, whatever their order in the piece', () => {
    const ceilings = [106, 100, 112, 104, 102, 110, 108]
    const [, entries] = plan(ceilings.map(c => work(`${c}`, c, 120, inDays(0)))).items
    expect(entries?.kind === 'entries' && entries.spots.map(s => s.key)).toEqual([
      '100',
      '102',
      '104',
      '106',
      '108',
    ])
  })

  test('where nothing was reached, from where its next visit begins, else from the goal', () => {
    const works = [
      work('1', null, 120, { ...inDays(0), next: tempo(80) }),
      work('2', null, 100, inDays(0)),
      work('3', 15.5, 120, { ...inDays(0), priority: 0.5 }),
      // Very slow tempos keep their decimals, to 20.
      work('4', 23, 120, { ...inDays(0), priority: 0.25 }),
    ]
    const [, entries] = plan(works).items
    expect(
      entries?.kind === 'entries' && entries.spots.map(s => [s.key, typed(s.from), typed(s.to)]),
    ).toEqual([
      ['2', '85', '90'],
      ['1', '68', '72'],
      ['3', '13.175', '13.95'],
      ['4', '19.55', '21'],
    ])
  })
})

describe('after the date', () => {
  test('one question for each piece, and nothing of it is practiced', () => {
    const works = [
      work('1', 100, 120, inDays(-1)),
      work('2', 100, 120, inDays(-3)),
      work('9', 90, 120, { ...inDays(5), piece: 'Lantern Study' }),
    ]
    const day = plan(works)
    expect(day.questions).toEqual([
      { piece: 'Weir Street Overture', readyBy: dayAfter(TODAY, -1), keys: ['1', '2'] },
    ])
    expect(new Set(day.items.flatMap(i => (i.kind === 'section' ? [i.key] : [])))).toEqual(new Set(['9']))
  })
})

describe('a sudden jump', () => {
  const days = (n: number, minutes: number) =>
    Array.from({ length: n }, (_, i) => ({ day: dayAfter(TODAY, i - n), minutes }))

  test('is named from seven logged days on', () => {
    expect(jumpOf(60, days(6, 20))).toBeNull()
    expect(jumpOf(60, days(7, 20))).toEqual({ usual: 20, planned: 60 })
  })

  test('only where it is both more than 1.3 times and more than 15 minutes extra', () => {
    expect(jumpOf(35, days(7, 20))).toBeNull()
    expect(jumpOf(36, days(7, 20))).not.toBeNull()
    expect(jumpOf(78, days(7, 60))).toBeNull()
    expect(jumpOf(79, days(7, 60))).not.toBeNull()
  })

  test('measures by the last seven days, and counts no warm-up and no rest', () => {
    expect(
      jumpOf(60, [...days(7, 50), ...days(20, 10).map((d, i) => ({ ...d, day: dayAfter(TODAY, i - 40) }))]),
    ).toBeNull()
    // In whatever order they were kept.
    expect(jumpOf(60, days(7, 50).toReversed())).toBeNull()
    expect(jumpOf(60, [...days(7, 10), ...days(20, 50).slice(0, 13)])?.usual).toBe(10)
    const day = dayOf([work('1', 90, 120), work('2', 80, 120)], [], {
      date: TODAY,
      minutes: 60,
      played: days(7, 20),
    })
    const inSections = day.items
      .filter(i => i.kind !== 'rest' && i.kind !== 'fundamentals')
      .reduce((sum, i) => sum + i.minutes, 0)
    expect(day.jump).toEqual({ usual: 20, planned: inSections })
    expect(inSections).toBeLessThan(45)
  })
})
