import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Visit } from '../../src/ladder/history.ts'
import { takeKey, warmUpKey } from '../../src/ladder/key.ts'
import { dayAfter } from '../../src/music/day.ts'
import { tempo } from '../../src/music/tempo.ts'
import { type Asked, dayOf } from '../../src/plan/day.ts'
import type { DayLine, Made } from '../../src/plan/order.ts'
import { underWay } from '../../src/plan/rest-of-day.ts'
import { restIsDue } from '../../src/plan/rests.ts'
import type { Work } from '../../src/plan/work.ts'
import { seam, TODAY, work } from './scene.ts'

const A = 'section A even'
const B = 'section B even'
const WORKS = [work(A, 84, 120), work(B, 100, 120)]
const asked: Asked = { date: TODAY, minutes: 45, played: [] }
const items = dayOf(WORKS, [], asked).items
const untouched: Made = { order: [], skipped: [], over: [] }
const EVENING = 18 * 60
const NOW = Date.parse(`${TODAY}T17:00:00Z`)
const warm = warmUpKey({ warmUp: 'first-minutes', item: 'One scale', key: null, tempo: tempo(60) })

/** So many minutes on something, begun so long ago. */
const visit = (key: string, minutes: number, ago: number): Visit => ({
  id: `${key} ${ago}`,
  key,
  time: new Date(NOW - ago * 60_000).toISOString(),
  offset: 60,
  clean: 5,
  verdicts: 5,
  played: 5,
  seconds: minutes * 60,
  ceiling: null,
  goal: false,
  last: null,
  rule: '3-in-a-row',
  stops: [],
  air: null,
})
const lines = (today: readonly Visit[], made: Partial<Made> = {}, works: readonly Work[] = WORKS) =>
  underWay(items, asked, {
    works,
    seams: [],
    made: { ...untouched, ...made },
    today,
    now: NOW,
    clock: EVENING,
  })
const open = (all: readonly DayLine[]) => all.filter(l => l.state === 'open')
const minutes = (all: readonly DayLine[]): number => all.reduce((sum, l) => sum + l.item.minutes, 0)
const on = (all: readonly DayLine[], key: string) =>
  all.filter(l => (l.item.kind === 'section' ? l.item.key : 'take' in l.item ? l.item.take.key : '') === key)
const playedNow = (w: Work, ceiling: number): Work => ({
  ...w,
  ceiling: tempo(ceiling),
  lastPlayedDaysAgo: 0,
})

describe('a day that is under way', () => {
  test('stays as it was in the morning until something is played or skipped', () => {
    expect(lines([]).map(l => l.item)).toEqual(items)
  })

  test('is planned anew from the first repetition on', () => {
    const once = { ...visit(A, 1, 2), played: 1 }
    expect([minutes(lines([once])), minutes(lines([{ ...once, played: 0 }]))]).toEqual([44, 45])
  })

  test('after a rest that comes first the next one is 25 minutes of music away at most', () => {
    const long = { ...asked, minutes: 120 }
    const now = underWay(dayOf(WORKS, [], long).items, long, {
      works: WORKS,
      seams: [],
      made: { ...untouched, skipped: ['fundamentals #1'] },
      today: [visit(A, 15, 15)],
      now: NOW,
      clock: EVENING,
    })
    const ahead = open(now)
    const rests = ahead.flatMap((l, i) => (l.item.kind === 'rest' ? [i] : []))
    expect(rests[0]).toBe(0)
    for (const [n, i] of rests.entries())
      expect(minutes(ahead.slice(i + 1, rests[n + 1] ?? ahead.length))).toBeLessThanOrEqual(25)
  })

  test('what reached its goal has no more turns; its minutes go to the other', () => {
    const first = `section ${A} #1`
    const now = lines(
      [visit(warm, 9, 20), visit(A, 4, 5)],
      {
        over: [
          { name: 'fundamentals #1', at: EVENING - 20, minutes: 9 },
          { name: first, at: EVENING - 5, minutes: 6 },
        ],
      },
      [playedNow(work(A, 84, 120), 120), work(B, 100, 120)],
    )
    expect(now.filter(l => l.state === 'done').map(l => l.name)).toEqual(['fundamentals #1', first])
    expect(on(open(now), A).filter(l => l.item.kind === 'section')).toEqual([])
    expect(on(open(now), B).length).toBeGreaterThan(0)
    expect(minutes(open(now))).toBeGreaterThan(30)
    expect(minutes(open(now))).toBeLessThanOrEqual(32)
  })

  test('a turn that was ended early gives back its minutes', () => {
    const over = [
      { name: 'fundamentals #1', at: EVENING - 20, minutes: 9 },
      { name: `section ${A} #1`, at: EVENING - 2, minutes: 8 },
    ]
    const now = lines([visit(warm, 9, 20), visit(A, 1, 2)], { over })
    expect(minutes(open(now))).toBe(35)
    expect(now.find(l => l.name === `section ${A} #1`)?.item.minutes).toBe(8)
  })

  test('what is skipped comes no more while there is something else, and leaves no minute idle', () => {
    const now = lines([], { skipped: [`section ${A} #1`] })
    expect(now.filter(l => l.state === 'skipped').map(l => l.name)).toEqual([`section ${A} #1`])
    expect(on(open(now), A).filter(l => l.item.kind === 'section')).toEqual([])
    expect(minutes(open(now))).toBe(45)
  })

  test('fundamentals that are skipped leave their minutes to the music', () => {
    const now = lines([], { skipped: ['fundamentals #1'] })
    expect(open(now)[0]?.item.kind).not.toBe('fundamentals')
    expect(minutes(open(now))).toBe(45)
  })

  test('each line has a name of its own, also after one that only a later plan had', () => {
    const over = [1, 2, 3, 4].map(n => ({ name: `section ${A} #${n}`, at: EVENING - 20 + n, minutes: 4 }))
    const now = lines([visit(A, 16, 20)], { over })
    expect(new Set(now.map(l => l.name)).size).toBe(now.length)
    expect(on(now, A).filter(l => l.state === 'done' && l.item.kind === 'section')).toHaveLength(4)
  })

  test('what is for once a day does not come again', () => {
    const through = items.flatMap(i => (i.kind === 'through' ? i.takes : []))
    expect(through.length).toBeGreaterThan(0)
    const today = through.map(t => visit(takeKey('through', t.key), 0.2, 3))
    expect(open(lines(today)).some(l => l.item.kind === 'through')).toBe(false)
  })

  test('a rest that was skipped does not stand there again at once', () => {
    const played = [visit(warm, 9, 24), visit(A, 15, 15)]
    const over = [{ name: 'fundamentals #1', at: EVENING - 24, minutes: 9 }]
    expect(open(lines(played, { over }))[0]?.item.kind).toBe('rest')
    expect(open(lines(played, { over, skipped: ['rest #1'] }))[0]?.item.kind).not.toBe('rest')
  })

  test('after 15 minutes of music the first rest comes first, after 25 more each later one, and no sooner', () => {
    const since = (music: number, rested: boolean) => restIsDue({ music, rested })
    expect([14.5, 15].map(m => since(m, false))).toEqual([false, true])
    expect([15, 24.5, 25].map(m => since(m, true))).toEqual([false, false, true])
  })

  test('a rest that comes first needs more than ten minutes that are left; then one of five minutes', () => {
    const first = (left: number) => {
      const played = [visit(A, 15, 15), { ...visit(B, 30 - left, 200), seconds: (30 - left) * 60 }]
      return open(lines(played, { skipped: ['fundamentals #1'] }))[0]?.item
    }
    expect([10.5, 10].map(left => first(left)?.kind)).toEqual(['rest', 'section'])
    expect(first(12)).toMatchObject({ kind: 'rest', minutes: 5 })
  })

  /** A longer day. */
  const long = { ...asked, minutes: 120 }
  const later = (today: readonly Visit[], made: Partial<Made>, minutes = 120) =>
    open(
      underWay(
        dayOf(WORKS, [], long).items,
        { ...asked, minutes },
        {
          works: WORKS,
          seams: [],
          made: { ...untouched, skipped: ['fundamentals #1'], ...made },
          today,
          now: NOW,
          clock: EVENING,
        },
      ),
    )

  test('a rest that was taken by its line counts from there, though music sounded close to it', () => {
    // Fourteen minutes before it and twelve after it, with three minutes between: no rest by the clock.
    const played = [visit(A, 14, 29), visit(B, 12, 12)]
    const over = (at: number) => ({ over: [{ name: 'rest #1', at: EVENING - at }] })
    expect(later(played, {})[0]?.item.kind).toBe('rest')
    expect(later(played, over(13))[0]?.item.kind).not.toBe('rest')
    expect(later(played, over(12))[0]?.item.kind).not.toBe('rest')
    // Taken before all of it: 29 minutes since then.
    expect(later(played, over(29))[0]?.item.kind).toBe('rest')
  })

  test('where none is due yet the next one counts what was played since the last', () => {
    const ahead = later([visit(A, 12, 12)], {})
    const first = ahead.findIndex(l => l.item.kind === 'rest')
    expect([first > 0, minutes(ahead.slice(0, first)) <= 3]).toEqual([true, true])
  })

  test('after a rest that comes first 25 minutes of music need no other one', () => {
    const rests = (left: number) =>
      later([visit(A, 15, 15)], {}, 15 + left).filter(l => l.item.kind === 'rest').length
    expect([30, 30.5].map(rests)).toEqual([1, 2])
  })

  test('each rest that was skipped takes the minutes before it out of the count', () => {
    const played = [visit(A, 22, 22)]
    const kinds = (skipped: readonly string[]) => open(lines(played, { skipped }))[0]?.item.kind
    expect(kinds([])).toBe('rest')
    // Seven minutes since then, of 25 that may be.
    expect(kinds(['rest #1'])).not.toBe('rest')
  })

  test('an hour away is a rest, whether its line was touched or not', () => {
    const played = [visit(A, 14, 100), visit(B, 12, 12)]
    expect(open(lines(played))[0]?.item.kind).not.toBe('rest')
  })

  test('a rest that comes first is part of the minutes that are left', () => {
    const played = [visit(warm, 9, 24), visit(A, 15, 15)]
    const over = [{ name: 'fundamentals #1', at: EVENING - 24, minutes: 9 }]
    expect(minutes(open(lines(played, { over })))).toBe(45 - 24)
  })

  test('what is at its goal keeps its turns until it is played once today, however few times', () => {
    const atGoal = [work(A, 120, 120, { cleanColds: 0 }), work(B, 100, 120)]
    const once = { ...visit(A, 1, 5), played: 1, verdicts: 1 }
    const turns = (today: readonly Visit[]) =>
      on(open(lines(today, {}, atGoal)), A).filter(l => l.item.kind === 'section').length
    expect(turns([visit(warm, 9, 20), once])).toBe(0)
    expect(turns([visit(warm, 9, 20), { ...once, played: 0 }])).toBeGreaterThan(0)
  })

  test('less than two minutes are no turn any more', () => {
    const left = (minutes: number) => open(lines([visit(A, 45 - minutes, 60)], {}, WORKS)).length
    expect([1.9, 2].map(m => left(m) > 0)).toEqual([false, true])
    // Half minutes: what is begun of one is gone.
    expect(minutes(open(lines([visit(A, 40.2, 60)])))).toBe(4.5)
  })

  test('what was ended under a name that no plan of this morning has is told by that name', () => {
    const over = [
      `section ${A} #9`,
      `goal ${A} #7`,
      `silent ${B} #7`,
      'rest #8',
      `seam ${A}+${B} #6`,
      `slow ${A} #6`,
      `seam gone #6`,
      'section gone #6',
      'fundamentals #4',
    ].map((name, i) => ({ name, at: EVENING - 30 + i, minutes: 3 }))
    const now = underWay(items, asked, {
      works: WORKS,
      seams: [seam(A, B, { key: `${A}+${B}`, label: 'over the bar' })],
      made: { ...untouched, over, skipped: ['silent section B even #8'] },
      today: [],
      now: NOW,
      clock: EVENING,
    })
    const told = now
      .filter(l => l.state !== 'open')
      .map(l => [l.name, l.state, l.item.kind, l.begun, l.item.minutes])
    expect(told).toEqual([
      [`section ${A} #9`, 'done', 'section', EVENING - 30, 3],
      [`goal ${A} #7`, 'done', 'goal', EVENING - 29, 3],
      [`silent ${B} #7`, 'done', 'silent', EVENING - 28, 3],
      ['rest #8', 'done', 'rest', EVENING - 27, 3],
      [`seam ${A}+${B} #6`, 'done', 'seam', EVENING - 26, 3],
      ['fundamentals #4', 'done', 'fundamentals', EVENING - 22, 3],
      [`silent ${B} #8`, 'skipped', 'silent', null, 0],
    ])
    const item = (name: string) => now.find(l => l.name === name)?.item
    expect(item(`section ${A} #9`)).toMatchObject({
      label: `section ${A}`,
      ceiling: tempo(84),
      goal: tempo(120),
      again: true,
    })
    expect(item(`goal ${A} #7`)).toMatchObject({ take: { tempo: tempo(120) } })
    expect(item(`silent ${B} #7`)).toMatchObject({ take: { tempo: tempo(100) } })
    expect(item(`seam ${A}+${B} #6`)).toMatchObject({ label: 'over the bar' })
  })

  test('a seam that was skipped comes no more; one that was played may come again', () => {
    const works = [work(A, 110, 120), work(B, 110, 120)]
    const seams = [seam(A, B)]
    const now = (made: Partial<Made>) =>
      underWay(dayOf(works, seams, asked).items, asked, {
        works,
        seams,
        made: { ...untouched, ...made },
        today: [],
        now: NOW,
        clock: EVENING,
      })
    const name = `seam ${seams[0]?.key} #1`
    expect(open(now({ skipped: [name] })).filter(l => l.item.kind === 'seam')).toEqual([])
    const over = [{ name, at: EVENING - 5, minutes: 1 }]
    expect(
      open(now({ over }))
        .filter(l => l.item.kind === 'seam')
        .map(l => l.name),
    ).toEqual([`seam ${seams[0]?.key} #2`])
  })

  test('where all is reached today it is still played on, but for what was skipped', () => {
    const works = [playedNow(work(A, 84, 120), 120), playedNow(work(B, 84, 120), 120)]
    const today = [visit(A, 1, 20), visit(B, 1, 10)]
    const turns = (made: Partial<Made>) => [
      ...new Set(
        open(lines(today, made, works)).flatMap(l => (l.item.kind === 'section' ? [l.item.key] : [])),
      ),
    ]
    expect(turns({}).sort()).toEqual([A, B])
    expect(turns({ skipped: [`section ${A} #1`] })).toEqual([B])
  })

  test('when the minutes are played nothing is open', () => {
    expect(open(lines([visit(A, 25, 60), visit(B, 20, 25)]))).toEqual([])
  })
})

describe('minutes that a line gives back', () => {
  /** What may become of a line: nothing yet, skipped, begun and ended after a part of it. */
  const fate = fc.constantFrom('open', 'open', 'skipped', 'early', 'early')
  const anyDay = fc.record({
    minutes: fc.integer({ min: 20, max: 90 }),
    // What is at its goal has a cold take.
    ceilings: fc.array(fc.oneof(fc.integer({ min: 70, max: 119 }), fc.constantFrom(100, 120)), {
      minLength: 1,
      maxLength: 4,
    }),
    fates: fc.array(fate, { minLength: 12, maxLength: 12 }),
    parts: fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 12, maxLength: 12 }),
    days: fc.integer({ min: 1, max: 9 }),
    long: fc.boolean(),
  })
  const keysOf = (l: DayLine): readonly string[] => {
    const i = l.item
    if (i.kind === 'section' || i.kind === 'seam') return [i.key]
    if (i.kind === 'cold' || i.kind === 'goal' || i.kind === 'silent' || i.kind === 'slow')
      return [takeKey(i.kind, i.take.key)]
    if (i.kind === 'through') return i.takes.map(t => takeKey('through', t.key))
    if (i.kind === 'run') return i.takes.map(t => takeKey('entry', t.key))
    return i.kind === 'fundamentals' ? [warm] : []
  }

  test('are planned anew at once, whatever was dropped or ended early: no minute of the day is idle', () => {
    let replanned = 0
    const once = new Set<string>()
    fc.assert(
      fc.property(anyDay, d => {
        const readyBy = dayAfter(TODAY, d.days + 1)
        const ladders = d.ceilings.map((c, n) =>
          work(`section ${n} even`, c, 120, { readyBy, lastPlayedDaysAgo: n + 1, minutesSoFar: 5 * n }),
        )
        const whole = work('section movement even', null, 120, {
          readyBy,
          long: true,
          lastPlayedDaysAgo: 4,
          secondsPerRepetition: 240,
        })
        const works = d.long ? [...ladders, whole] : ladders
        const asked: Asked = { date: TODAY, minutes: d.minutes, played: [] }
        const { items } = dayOf(works, [], asked)
        const morning = underWay(items, asked, {
          works,
          seams: [],
          made: untouched,
          today: [],
          now: NOW,
          clock: EVENING,
        })
        const today: Visit[] = []
        const over: { name: string; at: number; minutes: number }[] = []
        const skipped: string[] = []
        morning.slice(0, 12).forEach((l, n) => {
          if (d.fates[n] === 'skipped') skipped.push(l.name)
          if (d.fates[n] !== 'early') return
          over.push({ name: l.name, at: EVENING - 60 + n, minutes: l.item.minutes })
          for (const key of keysOf(l))
            today.push(visit(key, (l.item.minutes * (d.parts[n] as number)) / 10 / keysOf(l).length, 60 - n))
        })
        const now = underWay(items, asked, {
          works: works.map(w => (today.some(v => v.key === w.key) ? { ...w, lastPlayedDaysAgo: 0 } : w)),
          seams: [],
          made: { ...untouched, over, skipped },
          today,
          now: NOW,
          clock: EVENING,
        })
        if (over.length + skipped.length === 0) return
        const rests = now.filter(l => l.item.kind === 'rest' && l.state === 'done')
        const gone = today.reduce((sum, v) => sum + v.seconds, 0) / 60 + minutes(rests)
        const left = Math.floor((d.minutes - gone) * 2) / 2
        if (left < 2) return
        const dropped = new Set(
          now.flatMap(l => (l.state === 'skipped' && l.item.kind === 'section' ? [l.item.key] : [])),
        )
        // Where every passage was skipped there is nothing left to play, and none of them comes again.
        if (ladders.every(w => dropped.has(w.key))) {
          expect(open(now).filter(l => l.item.kind === 'section')).toEqual([])
          return
        }
        replanned++
        for (const l of now.filter(x => x.state !== 'open')) once.add(l.item.kind)
        expect(minutes(open(now))).toBe(left)
        // Once a day is once a day.
        for (const kind of ['cold', 'through', 'run', 'fundamentals'] as const)
          for (const l of now.filter(x => x.item.kind === kind && x.state !== 'open'))
            expect(
              open(now).filter(x => x.item.kind === kind && keysOf(x).join() === keysOf(l).join()),
            ).toEqual([])
      }),
      { numRuns: 150 },
    )
    expect(replanned).toBeGreaterThan(100)
    for (const kind of ['cold', 'through', 'run', 'section', 'rest', 'fundamentals'])
      expect([...once]).toContain(kind)
  })
})
