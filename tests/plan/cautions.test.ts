import { describe, expect, test } from 'vitest'
import type { Visit } from '../../src/ladder/history.ts'
import { dayAfter } from '../../src/music/day.ts'
import { tempo } from '../../src/music/tempo.ts'
import { cautionsOf, restOf, stretchesOf } from '../../src/plan/cautions.ts'
import { dayOf } from '../../src/plan/day.ts'
import { EARLY, LATER } from '../../src/plan/rests.ts'
import { cautionLines, PAIN_TEXT } from '../../src/plan/words.ts'
import type { Note } from '../../src/repertoire/note.ts'
import { played as visit } from './played.ts'
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
  const seconds = (other: Parameters<typeof visit>[2]) =>
    stretchesOf([visit('k', TODAY, { seconds: 40, ...other })]).map(s => (s.to - s.from) / 1000)
  const last = (time: string) => ({
    last: { tempo: tempo(80), slipped: false, time: `${TODAY}T${time}.000Z`, offset: 0 },
  })
  expect(seconds({})).toEqual([40])
  expect(seconds(last('12:03:00'))).toEqual([180])
  expect(seconds(last('12:00:10'))).toEqual([40])
  expect(seconds({ played: 0 })).toEqual([])
})

test('stretches follow each other in time, in whatever order the machines kept them', () => {
  const at = ['12:40', '12:00', '12:20'].map(at => visit('k', TODAY, { at }))
  const from = stretchesOf(at).map(s => s.from)
  expect(from).toEqual(from.toSorted((a, b) => a - b))
})

describe('what is said on the first screen and after a visit', () => {
  const NOW = { wall: Date.parse(`${TODAY}T12:30:00Z`), offset: 0 }
  const note = (kind: 'pain' | 'tomorrow', day: string): Note => ({
    kind,
    text: '',
    id: day,
    time: `${day}T11:00:00Z`,
    offset: 0,
  })
  const said = (visits: readonly Visit[], notes: readonly Note[] = []) => cautionsOf(visits, notes, NOW)
  const yesterday = dayAfter(TODAY, -1)

  test('after pain today only that, whatever was played; on the next day nothing of it', () => {
    const long = [visit('k', TODAY, { at: '12:00', seconds: 1800 })]
    expect(said(long, [note('pain', TODAY)])).toEqual({ pain: true, lines: [PAIN_TEXT] })
    expect(said([], [note('pain', yesterday), note('tomorrow', TODAY)])).toEqual({ pain: false, lines: [] })
  })

  test('a rest counts what was played today alone', () => {
    expect(said([visit('k', TODAY, { at: '12:05', seconds: 1500 })]).lines).toEqual([
      '25 minutes without a rest: five minutes of rest now.',
    ])
    const visits = [visit('k', yesterday, { at: '12:05', seconds: 1500 })]
    expect(said(visits).lines).toEqual([])
    // Played on the evening before in another part of the world.
    expect(said([visit('k', TODAY, { at: '12:05', seconds: 1500, offset: -720 })]).lines).toEqual([])
  })

  test('a jump counts the minutes of today and of the seven days before it', () => {
    const before = Array.from({ length: 7 }, (_, i) =>
      [5, 15].map(m => visit('k', dayAfter(TODAY, -1 - i), { seconds: m * 60 })),
    ).flat()
    const today = (minutes: number) => [
      visit('k', TODAY, { at: '08:00', seconds: 600 }),
      visit('k', TODAY, { at: '09:00', seconds: (minutes - 10) * 60 }),
    ]
    expect(said([...before, ...today(36)]).lines).toEqual([
      '36 minutes today, 20 on an average day of the last seven: a sudden jump is better spread over several days.',
    ])
    expect(said([...before, ...today(35)]).lines).toEqual([])
    expect(said([...before.slice(2), ...today(36)]).lines).toEqual([])
  })
})
