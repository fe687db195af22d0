import { describe, expect, test } from 'vitest'
import { dayAfter } from '../../src/music/day.ts'
import { tempo, typed } from '../../src/music/tempo.ts'
import { dayOf } from '../../src/plan/day.ts'
import { jumpOf } from '../../src/plan/jump.ts'
import { TODAY, work } from './scene.ts'

const inDays = (days: number) => ({ readyBy: dayAfter(TODAY, days) })
const plan = (works: Parameters<typeof dayOf>[0], minutes = 40, date = TODAY) =>
  dayOf(works, [], { date, minutes, played: [] })
const kinds = (d: ReturnType<typeof plan>) => d.items.map(i => i.k)

describe('the last evening', () => {
  const works = [
    work('1', 112, 120, inDays(1)),
    work('2', 96, 120, inDays(1)),
    work('3', 120, 120, inDays(1)),
  ]
  const day = plan(works)

  test('fundamentals, one run from the entry, two slow repetitions at its worst spot, stop', () => {
    expect(kinds(day)).toEqual(['fundamentals', 'run', 'slow'])
    expect(day.items[1]).toMatchObject({ k: 'run', piece: 'Weir Street Overture', cold: false })
    expect(day.items[2]).toMatchObject({ k: 'slow', times: 2, take: { key: '2' } })
  })

  test('the run is at what was reached, the slow ones at the mark below 70 % of it', () => {
    const [, run, slow] = day.items
    expect(run?.k === 'run' && run.takes.map(t => t.tempo && typed(t.tempo))).toEqual(['112', '96', '120'])
    expect(slow?.k === 'slow' && slow.take.tempo && typed(slow.take.tempo)).toBe('66')
  })

  test('another piece with a later date comes before it', () => {
    const more = plan([...works, work('9', 90, 120, { ...inDays(9), piece: 'Lantern Study' })])
    expect(kinds(more).slice(-3)).toEqual(['through', 'run', 'slow'])
    expect(kinds(more)).toContain('section')
  })
})

describe('the day before the last evening', () => {
  const day = plan([work('1', 100, 120, inDays(2)), work('2', 84, 120, inDays(2))])

  test('begins with one cold run at the tempo that is expected', () => {
    expect(kinds(day).slice(0, 2)).toEqual(['fundamentals', 'run'])
    const [, run] = day.items
    expect(run).toMatchObject({ cold: true })
    expect(run?.k === 'run' && run.takes.map(t => t.tempo && typed(t.tempo))).toEqual(['120', '120'])
  })

  test('has no rung more than 4 % above what was reached; three days before there is no such limit', () => {
    const tops = (days: number) =>
      plan([work('1', 100, 120, inDays(days))]).items.flatMap(i =>
        i.k === 'section' ? [i.top && typed(i.top)] : [],
      )
    expect(new Set(tops(2))).toEqual(new Set(['104']))
    expect(new Set(tops(3))).toEqual(new Set([null]))
  })
})

describe('a goal that is a range', () => {
  const top = tempo(128)
  const runs = (days: number, ceiling: number) =>
    plan([
      work('1', ceiling, 120, { ...inDays(days), top }),
      work('2', 120, 120, inDays(days)),
    ]).items.flatMap(i => (i.k === 'run' ? [[i.cold, i.takes.map(t => t.tempo && typed(t.tempo))]] : []))

  test('two days before: once cold at its lower end, then once at its upper end', () => {
    expect(runs(2, 112)).toEqual([
      [true, ['120', '120']],
      [false, ['128']],
    ])
  })

  test('the last evening: at both ends only where the goal was reached', () => {
    expect(runs(1, 120)).toEqual([
      [false, ['120', '120']],
      [false, ['128']],
    ])
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
    expect(entries?.k === 'entries' && entries.spots.map(s => [s.key, typed(s.from), typed(s.to)])).toEqual([
      ['2', '85', '90'],
      ['1', '95', '101'],
      ['3', '102', '108'],
    ])
  })

  test('five spots at most', () => {
    const many = Array.from({ length: 9 }, (_, i) => work(`${i}`, 100 + i, 120, inDays(0)))
    const [, entries] = plan(many).items
    expect(entries?.k === 'entries' && entries.spots.length).toBe(5)
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
    expect(new Set(day.items.flatMap(i => (i.k === 'section' ? [i.key] : [])))).toEqual(new Set(['9']))
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
    const day = dayOf([work('1', 90, 120), work('2', 80, 120)], [], {
      date: TODAY,
      minutes: 60,
      played: days(7, 20),
    })
    const inSections = day.items
      .filter(i => i.k !== 'rest' && i.k !== 'fundamentals')
      .reduce((sum, i) => sum + i.minutes, 0)
    expect(day.jump).toEqual({ usual: 20, planned: inSections })
    expect(inSections).toBeLessThan(45)
  })
})
