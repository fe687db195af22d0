import { expect, test, vi } from 'vitest'
import { mattersOnList } from '../../src/app/change-day.ts'
import { clockFrom, contextFrom } from '../../src/app/context.ts'
import { dayNow, madeToday } from '../../src/app/day-plan.ts'
import { readNow } from '../../src/app/now.ts'
import { dayScreens } from '../../src/app/play-day.ts'
import { homeAt } from '../../src/store/home.ts'
import * as snapshot from '../../src/store/snapshot.ts'
import { pedalLock } from '../../src/terminal/lock.ts'
import type { PlainTerminal } from '../../src/terminal/open-plain.ts'
import { player } from '../cli/typed.ts'

/** A terminal of lines; what is said comes to `hear`, which may answer with keys. */
const listener = (now: () => number, hear: (line: string, press: (id: string) => void) => void) => {
  let tell: Parameters<PlainTerminal['onKey']>[0] = () => {}
  const said: string[] = []
  const press = (id: string): void => void setTimeout(() => tell({ id, at: now() }), 30)
  const terminal: PlainTerminal = {
    onKey: f => {
      tell = f
      return () => {}
    },
    line: text => {
      said.push(text)
      hear(text, press)
    },
    typing: () => {},
    size: () => ({ rows: 24, cols: 80 }),
    onResize: () => () => {},
    ink: null,
    close: () => {},
  }
  return { terminal, said }
}

test('a line of the day reads the journal once, and what was played there is known', async () => {
  const p = player()
  await p.type('piece', 'add', 'Weir Street Overture', '--in', '41-44', '--start', '96', '--goal', '120')
  const clock = clockFrom({ GRADINO_NOW: '2031-03-15T12:00:00Z', GRADINO_SPEED: '60' })
  const ctx = { ...contextFrom({ plain: true }, {}), home: homeAt(p.home, {}), clock }
  const read = vi.spyOn(snapshot, 'readPractice')
  const from = await readNow(ctx)
  read.mockClear()
  let played = 0
  const { terminal, said } = listener(clock.now, (line, press) => {
    // The second line is a turn on the passage; the day is left when it is over.
    if (/^Saturday/.test(line)) press(played > 0 ? 'q' : '2')
    if (/^2, \d+ min: /.test(line)) press(played > 0 ? 'q' : 'Enter')
    if (/: start/.test(line) && played++ === 0) press('PageDown')
    if (line === 'Clean or not clean?') press(played++ === 1 ? 'PageDown' : 'f')
    if (/^[3-9], \d+ min: /.test(line)) press('q')
  })
  const left = await dayScreens(ctx, { terminal, lock: pedalLock() }, from, { back: false, notes: [] })
  expect(said.join('\n')).toContain('Clean.')
  expect(left).toMatchObject({ kind: 'leave' })
  expect(read).toHaveBeenCalledTimes(1)
})

test('a turn that is skipped leaves its minutes to the others at once, and stays skipped', async () => {
  const p = player()
  await p.type('piece', 'add', 'Weir Street Overture', '--in', '41-44', '--start', '96', '--goal', '120')
  await p.type('piece', 'add', 'Lock Gate March', '--in', '9-12', '--start', '80', '--goal', '108')
  const clock = clockFrom({ GRADINO_NOW: '2031-03-15T12:00:00Z', GRADINO_SPEED: '60' })
  const ctx = { ...contextFrom({ plain: true }, {}), home: homeAt(p.home, {}), clock }
  const from = await readNow(ctx)
  const before = dayNow(ctx, from)
  const turn = before?.lines.find(l => l.item.kind === 'section')
  const file = { ...madeToday(ctx, from), skipped: [turn?.name ?? ''] }
  const after = dayNow(ctx, { ...from, day: file })
  const left = (d: typeof after) =>
    d?.lines.reduce((sum, l) => sum + (l.state === 'open' ? l.item.minutes : 0), 0) ?? 0
  expect(after?.lines.find(l => l.name === turn?.name)?.state).toBe('skipped')
  expect(left(after)).toBeGreaterThanOrEqual(left(before) - 0.5)
  const open = after?.lines.filter(l => l.state === 'open' && l.item.kind === 'section') ?? []
  const key = turn && 'key' in turn.item ? turn.item.key : ''
  expect(open.length).toBeGreaterThan(0)
  expect(open.some(l => 'key' in l.item && l.item.key === key)).toBe(false)
})

test('from the list a passage goes round from must to today, which is kept with the day', async () => {
  const p = player()
  await p.type('piece', 'add', 'Weir Street Overture', '--in', '41-44', '--start', '96', '--goal', '120')
  const clock = clockFrom({ GRADINO_NOW: '2031-03-15T12:00:00Z', GRADINO_SPEED: '60' })
  const ctx = { ...contextFrom({ plain: true }, {}), home: homeAt(p.home, {}), clock }
  const said: string[] = []
  for (let i = 0; i < 4; i++) {
    const now = await readNow(ctx)
    const found = now.kept[0]
    const passage = found?.piece.passages[0]
    if (!found || !passage) throw new Error('no passage')
    const text = await mattersOnList(ctx, now, { in: found, passage })
    said.push(text.ok ? text.value.replace(/^.*: /, '') : 'refused')
    expect((await readNow(ctx)).day?.wanted ?? []).toHaveLength(i === 2 ? 1 : 0)
  }
  expect(said).toEqual([
    'must from now on.',
    'can wait from now on.',
    'today, this day.',
    'as usual from now on.',
  ])
})

test('a warm-up that is left before a turn of it was heard is skipped: its minutes go to the music, and it does not come again', async () => {
  const p = player()
  await p.type('piece', 'add', 'Weir Street Overture', '--in', '41-44', '--start', '96', '--goal', '120')
  const clock = clockFrom({ GRADINO_NOW: '2031-03-15T12:00:00Z', GRADINO_SPEED: '60' })
  const ctx = { ...contextFrom({ plain: true }, {}), home: homeAt(p.home, {}), clock }
  const began = new Set<string>()
  const once = (what: string): boolean => !began.has(what) && began.add(what).size > 0
  const { terminal, said } = listener(clock.now, (line, press) => {
    if (/^1, \d+ min: Fundamentals/.test(line) && once('the day')) press('Enter')
    else if (/turn 1 of|exercise 1/.test(line) && once('the warm-up')) press('f')
    // What comes next opens, and is left for the day, which is left.
    else if (/Hear the goal first/.test(line) && once('practice')) press('f')
    else if (/: begin/.test(line) && began.has('practice')) press('q')
  })
  const left = await dayScreens(ctx, { terminal, lock: pedalLock() }, await readNow(ctx), {
    back: false,
    notes: [],
  })
  expect(left).toMatchObject({ kind: 'leave' })
  const now = dayNow(ctx, await readNow(ctx))
  const lines = now?.lines ?? []
  expect(lines.filter(l => l.item.kind === 'fundamentals').map(l => l.state)).toEqual(['skipped'])
  const open = lines.filter(l => l.state === 'open')
  expect(open.reduce((sum, l) => sum + l.item.minutes, 0)).toBe(now?.file.minutes)
  expect(said.join('\n')).toContain('m. 41-44')
})
