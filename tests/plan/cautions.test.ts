import { expect, test } from 'vitest'
import { restOf, stretchesOf } from '../../src/plan/cautions.ts'
import { dayOf } from '../../src/plan/day.ts'
import { EARLY, LATER } from '../../src/plan/rests.ts'
import { cautionLines } from '../../src/plan/words.ts'
import { TODAY, work } from './scene.ts'

const MIN = 60_000
/** Stretches of playing in minutes. */
const played = (...all: readonly (readonly [number, number])[]) =>
  all.map(([from, to]) => ({ from: from * MIN, to: to * MIN }))
const at = (minutes: number) => minutes * MIN

test('the first rest of a sitting comes after 10 to 15 minutes', () => {
  expect(restOf(played([0, 9]), at(9)).now).toBe(false)
  expect(restOf(played([0, 9], [10, 14]), at(14))).toEqual({ since: 14, after: 10, now: true })
})

test('after a rest of five minutes the next one comes within the half hour', () => {
  const sitting = played([0, 12], [17, 30], [30, 41])
  expect(restOf(sitting, at(41))).toEqual({ since: 24, after: 25, now: false })
  expect(restOf([...sitting, ...played([41, 42])], at(42)).now).toBe(true)
})

test('who keeps to the plan of a day is never told of a rest that the plan does not have: both know one number', () => {
  const works = [work('A', 84, 120), work('B', 100, 120), work('C', 90, 110)]
  for (const minutes of [30, 45, 60, 75, 90, 120]) {
    const { items } = dayOf(works, [], { date: TODAY, minutes, played: [] })
    const music: (readonly [number, number])[] = []
    let rested = false
    items.forEach((i, n) => {
      if (i.kind === 'rest') rested = true
      if (i.kind === 'rest' || i.kind === 'fundamentals') return
      music.push([i.at, i.at + i.minutes])
      const next = items[n + 1]
      const { since, now } = restOf(played(...music), at(i.at + i.minutes))
      expect(since, `${minutes} minutes`).toBeLessThanOrEqual(rested ? LATER : EARLY)
      // Told to rest after the first early minutes, or where the plan rests too.
      if (now && rested) expect(next?.kind ?? 'rest', `${minutes} minutes`).toBe('rest')
    })
  }
})

test('a wait of three minutes between two visits is no rest', () => {
  expect(restOf(played([0, 8], [11, 15]), at(15)).since).toBe(15)
})

test('the evening begins anew after the morning; nothing played asks for no rest', () => {
  expect(restOf(played([0, 40], [400, 409]), at(409))).toEqual({ since: 9, after: 10, now: false })
  expect(restOf([], at(500)).now).toBe(false)
  expect(restOf(played([0, 40]), at(46)).now).toBe(false)
})

test('four minutes count as a rest, half an hour ends a sitting, a minute less does not', () => {
  const after = (pause: number) => restOf(played([0, 12], [12 + pause, 14 + pause]), at(14 + pause))
  expect([3, 4].map(pause => after(pause).since)).toEqual([17, 2])
  expect([5, 29, 30, 31].map(pause => after(pause).after)).toEqual([25, 25, 10, 10])
})

test('two machines that played at once count as one sitting', () => {
  expect(restOf(played([0, 20], [3, 5], [21, 24]), at(24)).since).toBe(24)
})

test('the sentences are calm, and empty where there is nothing to say', () => {
  const tired = restOf(played([0, 14]), at(14))
  expect(cautionLines(tired, 14, [])).toEqual(['14 minutes without a rest: five minutes of rest now.'])
  expect(cautionLines(restOf(played([0, 5]), at(5)), 5, [])).toEqual([])
})

const logged = (...minutes: readonly number[]) =>
  minutes.map((m, i) => ({ day: `2026-03-0${i + 1}`, minutes: m }))

test('a sudden jump is named after seven logged days, from 1.3 times and 15 minutes on', () => {
  const fresh = restOf([], 0)
  expect(cautionLines(fresh, 61, logged(30, 30, 30, 30, 30, 30, 30))).toEqual([
    '61 minutes today, 30 on an average day of the last seven: a sudden jump is better spread over several days.',
  ])
  expect(cautionLines(fresh, 61, logged(30, 30, 30, 30, 30, 30))).toEqual([])
  expect(cautionLines(fresh, 45, logged(30, 30, 30, 30, 30, 30, 30))).toEqual([])
  expect(cautionLines(fresh, 100, logged(80, 80, 80, 80, 80, 80, 80))).toEqual([])
})

test('a visit counts from its opening to its last verdict, and one without a verdict as long as was played', () => {
  const visit = {
    id: 'a',
    key: 'k',
    time: '2026-03-14T15:00:00.000Z',
    offset: 60,
    clean: 1,
    verdicts: 1,
    played: 1,
    seconds: 40,
    ceiling: null,
    goal: false,
    last: null,
    rule: '3-in-a-row',
    stops: [],
    air: null,
  }
  const [one] = stretchesOf([visit])
  expect((one?.to ?? 0) - (one?.from ?? 0)).toBe(40_000)
  expect(stretchesOf([{ ...visit, played: 0 }])).toEqual([])
})
