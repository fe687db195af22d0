import { describe, expect, test } from 'vitest'
import { downKey, joinKey, rhythmKey, sectionKey, takeKey } from '../../src/ladder/key.ts'
import type { Passage, Section } from '../../src/repertoire/piece.ts'
import { homeAt } from '../../src/store/home.ts'
import { repertoire } from '../../src/store/repertoire.ts'
import { about } from '../music/about.ts'
import { practiced } from './practiced.ts'
import { player } from './typed.ts'

const WEIR = 'Weir Street Overture'
/** Five in the afternoon of a day in March; it is Saturday the 15th, noon. */
const on = (day: number) => `2031-03-${day}T17:00:00Z`

const unbroken = (page: string): string => page.replace(/\s+/g, ' ')

type Item = { kind: string; key?: string; clock: string; at: number; minutes: number; from?: string | null }

/** A player with three passages of one piece; `keys` by their names. */
const withPiece = async () => {
  const p = player()
  const add = (name: string, place: string, goal: string, readyBy: string) =>
    p.type('piece', 'add', WEIR, '--passage', name, '--in', place, '--goal', goal, '--ready-by', readyBy)
  await add('run at the weir', '41-44', '112', '2031-03-19')
  await add('coda', '60-65', '138', '2031-03-19')
  await add('long bows', '1-8', '96', '2031-03-19')
  const { passages } = await p.json('piece', 'show', WEIR)
  const keys = Object.fromEntries(
    passages.map((x: { name: string; id: string }) => [x.name, sectionKey(x.id)]),
  )
  return { ...p, keys: keys as Record<string, string>, ids: passages.map((x: { id: string }) => x.id) }
}

const section = (id: string, name: string, from: string, to: string): Section => ({ id, name, from, to })

/** Cuts the first passage into sections, as its file would have them. */
const divided = async (home: string, sections: readonly Section[]): Promise<void> => {
  const store = repertoire(homeAt(home))
  const [kept] = (await store.list()).pieces
  if (!kept) throw new Error('no piece')
  const [first, ...rest] = kept.piece.passages
  const passages = [{ ...(first as Passage), sections }, ...rest]
  expect(await store.save({ ...kept.piece, passages }, kept.seen)).toMatchObject({ ok: true })
}

describe('gradino today', () => {
  test('with nothing in the repertoire says how to begin, and is no error', async () => {
    const said = await player().type('today')
    expect(said).toMatchObject({ status: 0, err: '' })
    expect(said.out).toContain('gradino piece add TITLE')
  })

  test('after a note of pain today it is no plan but the advice to stop; a day to come has its plan', async () => {
    const { type, json } = await withPiece()
    await type('note', '--pain', 'left wrist')
    const stop = 'Stop for today, and see a physician or therapist who treats musicians.'
    expect((await type('today')).out).toBe(`${stop}\n`)
    expect(await json('today')).toMatchObject({ items: [], pain: stop })
    expect((await json('today', '--date', '2031-03-16')).items.length).toBeGreaterThan(2)
  })

  test('begins now; each passage from where its next visit begins', async () => {
    const { home, type, json, keys } = await withPiece()
    await practiced(home, [
      { key: keys['run at the weir'] as string, at: on(12), presses: 'CCCCCC' },
      { key: keys['run at the weir'] as string, at: on(14), presses: 'CCCCCC', rung: 1 },
      { key: keys['long bows'] as string, at: on(14), presses: 'CCCCCC' },
    ])
    const day = await json('today')
    expect(day).toMatchObject({ date: '2031-03-15', minutes: 40, assumed: true })
    const items: readonly Item[] = day.items
    const [first] = items
    expect(first).toMatchObject({ kind: 'fundamentals', at: 0, minutes: 8, clock: day.start })
    const run = items.find(i => i.key === keys['run at the weir'])
    // 97 % of 100, down to a mark.
    expect(run).toMatchObject({ kind: 'section', from: '96', ceiling: '100', goal: '112', over: 60 })
    expect(items.find(i => i.key === keys.coda)).toMatchObject({ from: null, ceiling: null })
    // Goal reached: one cold take first, and a place until it is ready.
    expect(items.filter(i => i.kind === 'cold')).toMatchObject([
      { take: { key: keys['long bows'], tempo: '96' } },
    ])
    expect(items.find(i => i.key === keys['long bows'])).toMatchObject({ kind: 'section', why: 'cold' })
    const { out } = await type('today')
    expect(out).toMatch(/^Saturday, 40 minutes, rehearsal in 4 days\n\n1\d:\d\d/)
    expect(out).toMatch(/\d\d:\d\d {2}\d+ min +run at the weir, m. 41-44 +96 -> 112\n/)
    expect(
      out
        .trimEnd()
        .split('\n')
        .every(l => l.length <= 80),
    ).toBe(true)
  })

  test('of another day begins at 0:00, and the ladder is a little lower by then', async () => {
    const { home, json, keys } = await withPiece()
    const run = keys['run at the weir'] as string
    await practiced(home, [{ key: run, at: on(14), presses: 'CCCCCCCCC' }])
    const fromOn = async (...more: string[]) =>
      (await json('today', ...more)).items.find((i: Item) => i.key === run)?.from
    expect(await fromOn()).toBe('96')
    expect(await fromOn('--date', '2031-03-17')).toBe('92')
    expect((await json('today', '--date', '2031-03-17')).start).toBe('00:00')
  })

  test('the last evening, the day itself, and the days after', async () => {
    const { json } = await withPiece()
    const day = async (date: string) => json('today', '--date', date)
    const kinds = async (date: string) => (await day(date)).items.map((i: Item) => i.kind)
    const evening = await kinds('2031-03-18')
    expect([...new Set(evening)]).toEqual(['fundamentals', 'section', 'rest', 'run'])
    expect(evening.at(-1)).toBe('run')
    expect(await kinds('2031-03-19')).toEqual(['fundamentals', 'entries'])
    expect(await kinds('2031-03-20')).toEqual(['fundamentals'])
    expect((await day('2031-03-20')).questions).toMatchObject([{ piece: WEIR, readyBy: '2031-03-19' }])
  })

  test('sections take the place of their passage; neighbors that are near their goals are joined', async () => {
    const { home, json, ids } = await withPiece()
    const [a, b] = [section('5ec10001', '1', '41', '43'), section('5ec10002', '2', '43', 'end')]
    await divided(home, [a, b])
    await practiced(
      home,
      [a, b].map(s => ({ key: sectionKey(s.id), at: on(14), presses: 'CCCCCCCCC' })),
    )
    const { items } = await json('today', '--minutes', '90')
    const keys = items.flatMap((i: Item) => i.key ?? [])
    const sections = items.flatMap((i: Item) => (i.kind === 'section' ? [i.key] : []))
    expect(sections).not.toContain(sectionKey(ids[0]))
    expect(keys).toContain(sectionKey(a.id))
    // Both together are all of the passage: what is joined is the whole, with its ceiling.
    expect(items.find((i: Item) => i.kind === 'seam')).toMatchObject({ key: sectionKey(ids[0]) })
  })

  test.each([
    [['--minutes', '9'], 'minutes'],
    [['--minutes', '481'], 'minutes'],
    [['--minutes', 'an hour'], 'minutes'],
    [['--date', '2031-03-14'], 'date'],
    [['--date', '2031-02-30'], 'date'],
    [['--date', 'someday'], 'date'],
  ])('%j is refused with one sentence', async (typed, field) => {
    const said = await player().type('today', ...typed)
    expect(said).toMatchObject({ status: 2, out: '' })
    expect(said.err).toMatch(new RegExp(`^gradino: ${about(field)}.* (Try|Type) .*\\.\n$`))
  })
})

describe('gradino progress', () => {
  test('with nothing in the repertoire, or nothing practiced yet', async () => {
    const p = player()
    expect((await p.type('progress')).out).toContain('You have no pieces yet')
    await p.type('piece', 'add', WEIR, '--in', '41-44', '--goal', '138')
    expect(await p.type('progress')).toMatchObject({
      status: 0,
      out: `Not practiced yet: ${WEIR}, m. 41-44.\n`,
    })
  })

  test('days, ceilings, clean share, minutes, cold takes and the outlook of a passage', async () => {
    const { home, type, json, keys } = await withPiece()
    const run = keys['run at the weir'] as string
    await practiced(home, [
      { key: run, at: on(10), presses: 'CNCNCCC' },
      { key: run, at: on(11), presses: 'CCC', rung: 1 },
      { key: run, at: on(12), presses: 'CCC', rung: 1 },
      { key: run, at: on(13), presses: 'CCC', rung: 2 },
      { key: run, at: on(14), presses: 'CCC', rung: 3 },
      { key: takeKey('cold', run), at: on(14), presses: 'C' },
    ])
    const [seen] = (await json('progress', `${WEIR}/run at the weir`)).sections
    expect(seen).toMatchObject({ key: run, goal: '112', ceiling: '104', secure: '92', ready: false })
    expect(seen.days.map((d: { day: string; ceiling: string }) => [d.day.slice(8), d.ceiling])).toEqual([
      ['10', '92'],
      ['11', '96'],
      ['12', '96'],
      ['13', '100'],
      ['14', '104'],
    ])
    // Four days of practice are left, and the chance is .81 by hand: too good for "perhaps", not good enough for "early".
    expect(seen.outlook).toMatchObject({ kind: 'range', against: null })
    expect(seen.outlook.high === null || seen.outlook.high > seen.outlook.low).toBe(true)
    const { out } = await type('progress', `${WEIR}/run at the weir`)
    expect(out).toMatch(
      /^Weir Street Overture, run at the weir, m\. 41-44: ceiling 104, goal quarter = 112\n/,
    )
    expect(out).toMatch(/ 112 .*goal\n/)
    expect(out).toContain('|')
    expect(unbroken(out)).toContain(
      '5 days of practice, 6 minutes, 17 of 19 clean (89 %), cold takes: 1 of 1 clean, secure 92.',
    )
    expect(unbroken(out)).toContain(
      'Ahead: about 2 to 3 more days of practice at this pace; could be 1 to 6.',
    )
    expect(out).not.toContain('For March 19')
    expect(out).not.toContain('coda')
    expect(out.split('\n').every(l => l.length <= 80)).toBe(true)
  })

  test('before three days only what is needed', async () => {
    const { home, type, keys } = await withPiece()
    await practiced(home, [{ key: keys['run at the weir'] as string, at: on(14), presses: 'CCC' }])
    const { out } = await type('progress')
    // 92 to 112 is five marks; today and three days more.
    expect(unbroken(out)).toContain(
      'To the goal: 21.7 %, 5 rungs. Needed: 5 % a day for 4 days, 1.3 rungs a day.',
    )
    expect(out).toContain('Not practiced yet:')
  })

  test('a reached goal is said with what is left until it is ready', async () => {
    const { home, json, type, keys } = await withPiece()
    const bows = keys['long bows'] as string
    await practiced(home, [{ key: bows, at: on(13), presses: 'CCCCCC' }])
    expect((await type('progress')).out).toContain('What is left')
    await practiced(
      home,
      [14, 15].map(day => ({
        key: takeKey('cold', bows),
        at: `2031-03-${day}T09:00:00Z`,
        presses: 'C',
        rung: 1,
      })),
    )
    expect((await json('progress', `${WEIR}/long bows`)).sections[0]).toMatchObject({ ready: true })
  })

  test('a name that is not there is refused', async () => {
    const { type } = await withPiece()
    expect(await type('progress', 'Lantern Study')).toMatchObject({ status: 2, out: '' })
  })
})

describe('what progress says beside the staircase', () => {
  /** The passage as two sections, with visits of all kinds. */
  const rich = async () => {
    const p = await withPiece()
    await p.type('piece', 'split', `${WEIR}/run at the weir`, '--at', '43')
    const [one, two] = (await p.json('piece', 'show', WEIR)).passages[0].sections.map(
      (s: { id: string }) => s.id,
    ) as [string, string]
    const key = sectionKey(one)
    await practiced(p.home, [
      { key, at: on(12), presses: 'CCC' },
      { key, at: on(13), presses: 'CCC', rung: 1 },
      { key: rhythmKey(sectionKey(one), '3:1'), at: on(13), presses: 'CCCN' },
      { key: downKey(key), at: on(13), presses: 'CC' },
      { key: takeKey('silent', key), at: on(13), presses: 'C', rung: 1 },
      { key: takeKey('goal', key), at: on(14), presses: 'N', rung: 4 },
      { key: takeKey('beat', key), at: on(14), presses: 'C', rung: 4 },
      { key: joinKey([one, two]), at: on(14), presses: 'CCC' },
    ])
    return { ...p, one }
  }

  test('rhythms, downward, takes and joins, each on a line of its own, in that order', async () => {
    const { type, json } = await rich()
    const { out } = await type('progress', `${WEIR}/run at the weir/1`)
    expect(out.split('\n').filter(l => /last March \d+/.test(l))).toEqual([
      '  rhythm 3:1: click 92, quick notes as at 184; 3 of 4 clean, last March 13.',
      '  downward: no ceiling yet; 2 of 2 clean, last March 13.',
      '  at the goal: 0 of 1 clean, last March 14.',
      '  one beat at the goal: 1 of 1 clean, last March 14.',
      '  without a sound: 1 of 1 clean, last March 13.',
      '  section 1+2: ceiling quarter = 92; 3 of 3 clean, last March 14.',
    ])
    const [seen] = (await json('progress', `${WEIR}/run at the weir/1`)).sections
    expect(seen.days.map((d: { best: string }) => d.best)).toEqual(['92', '96'])
    expect(seen.also.map((a: { label: string }) => a.label)).toHaveLength(6)
  })

  test('of joined sections once, under the last of them, where all are looked at', async () => {
    const { type } = await rich()
    const { out } = await type('progress')
    expect(out.match(/section 1\+2:/g)).toHaveLength(1)
    expect(out.indexOf('section 1+2:')).toBeGreaterThan(out.indexOf('section 2: '))
  })

  test('fits a screen of 24 rows for one section', async () => {
    const { type } = await rich()
    const { out } = await type('progress', `${WEIR}/run at the weir/1`)
    expect(out.split('\n').length).toBeLessThanOrEqual(24)
    expect(out.split('\n').every(l => l.length <= 80)).toBe(true)
  })
})

test('a day to come has minutes and no clock times: nobody knows yet when it begins', async () => {
  const { type } = await withPiece()
  const { out } = await type('today', '--date', 'tomorrow')
  expect(out).toMatch(/^8 min +Fundamentals$/m)
  expect(out).not.toMatch(/\d\d:\d\d/)
})
