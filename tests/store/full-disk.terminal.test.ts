import { execFileSync } from 'node:child_process'
import {
  closeSync,
  mkdirSync,
  mkdtempSync,
  openSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeSync,
} from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, beforeEach, expect, it, type TestContext } from 'vitest'
import type { Event } from '../../src/ladder/event.ts'
import { homeAt } from '../../src/store/home.ts'
import { openJournal } from '../../src/store/journal.ts'
import { repertoire } from '../../src/store/repertoire.ts'
import { openSettings } from '../../src/store/settings.ts'
import { chance } from '../../src/store/sources.ts'
import { allEvents } from './all-events.ts'
import { overture, sources } from './scene.ts'
import { opening, verdict } from './visit.ts'

// A small disk of our own, where we may make one.
const disk = mkdtempSync(join(tmpdir(), 'gradino-disk-'))
let mounted = false
beforeAll(() => {
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', 'size=256k', 'none', disk], { stdio: 'ignore' })
    mounted = true
  } catch {}
})
afterAll(() => {
  if (mounted) execFileSync('umount', ['-l', disk])
  rmSync(disk, { recursive: true, force: true })
})
beforeEach((context: TestContext) => {
  if (!mounted) context.skip('a full disk can be tried only where a small one may be mounted')
})

const ballast = join(disk, 'ballast')
/** Fills the disk but for some pages of 4096 bytes. */
const fill = (free = 0): void => {
  const file = openSync(ballast, 'w')
  const page = Buffer.alloc(4096)
  try {
    for (;;) writeSync(file, page)
  } catch {}
  closeSync(file)
  const { size } = statSync(ballast)
  if (free > 0) execFileSync('truncate', ['-s', String(size - free * 4096), ballast])
}
const empty = (): void => rmSync(ballast, { force: true })
const FULL = /^[^\n]+: the disk that holds \S+ is full; make room on it and try again\.$/

it('a disk that fills up while practicing costs nothing confirmed, and says so in one sentence', async () => {
  const home = homeAt(join(disk, 'journal'))
  const journal = await openJournal(home, { ...sources(), chance })
  const confirmed: Event[] = [...(await journal.append([opening()]))]
  fill(2)
  let said: unknown
  for (let rep = 1; rep < 1000 && !said; rep++)
    await journal.append([verdict(rep), verdict(rep + 1000), verdict(rep + 2000)]).then(
      events => confirmed.push(...events),
      error => {
        said = error
      },
    )
  expect(String((said as Error)?.message)).toMatch(FULL)
  await expect(journal.append([verdict(5000)])).rejects.toThrow(FULL)
  const during = await allEvents(home)
  const ids = new Set(during.visits.flat().map(e => e.id))
  expect(confirmed.filter(e => !ids.has(e.id))).toEqual([])
  empty()
  confirmed.push(...(await journal.append([verdict(6000)])), ...(await journal.append([verdict(6001)])))
  const { visits, damaged } = await allEvents(home)
  const found = new Map(visits.flat().map(e => [e.id, e]))
  for (const event of confirmed) expect(found.get(event.id)).toEqual(event)
  // The torn end of the write that failed stays, and hides nothing.
  expect(damaged.length).toBeLessThanOrEqual(2)
  expect(confirmed.length).toBeGreaterThan(30)
})

it('a piece on a full disk is as it was', async () => {
  const all = repertoire(homeAt(join(disk, 'pieces')))
  const first = await all.save(overture, null)
  const [kept] = (await all.list()).pieces
  fill()
  const change = all.save({ ...overture, title: 'Weir Street, new parts' }, first.ok ? first.value : null)
  await expect(change).rejects.toThrow(FULL)
  expect((await all.list()).pieces).toEqual([kept])
  expect(readdirSync(join(disk, 'pieces', 'data', 'pieces'))).toHaveLength(1)
  empty()
})

it('settings that a full disk would destroy are put back, and that is said', async () => {
  const home = homeAt(join(disk, 'settings'))
  mkdirSync(home.config, { recursive: true })
  // Longer than the room that will be left: the library then writes a part and reports nothing.
  const long = Object.fromEntries(Array.from({ length: 90 }, (_, i) => [`r${i}`, { n: 'x'.repeat(90) }]))
  const path = join(home.config, 'settings.json')
  const file = openSync(path, 'w')
  writeSync(file, JSON.stringify({ v: 1, after: 'go-on', ...long }))
  closeSync(file)
  const settings = await openSettings(home, Date.now)
  await settings.change({ latency: 20 })
  const before = readFileSync(path, 'utf8')
  for (const free of [0, 1, 2]) {
    fill(free)
    await expect(settings.change({ pedals: 1 })).rejects.toThrow(/^Can't store the settings: .* full.*\.$/)
    expect(readFileSync(path, 'utf8')).toBe(before)
    expect(settings.now()).toMatchObject({ after: 'go-on', latency: 20, pedals: 2 })
    empty()
    await settings.change({ latency: 20 })
  }
  await settings.change({ pedals: 1 })
  expect((await openSettings(home, Date.now)).now()).toMatchObject({ after: 'go-on', latency: 20, pedals: 1 })
})
