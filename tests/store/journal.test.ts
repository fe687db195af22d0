import { mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync } from 'node:fs'
import { join } from 'node:path'
import fc from 'fast-check'
import { expect, it } from 'vitest'
import { fold } from '../../src/ladder/fold.ts'
import { frac } from '../../src/music/fraction.ts'
import { openJournal } from '../../src/store/journal.ts'
import { machineId } from '../../src/store/machine.ts'
import { chance } from '../../src/store/sources.ts'
import { StoreError } from '../../src/store/trouble.ts'
import { allEvents } from './all-events.ts'
import { AFTERNOON, happening, newHome, sources } from './scene.ts'
import { opening, verdict } from './visit.ts'

const monthFile = (home: { data: string }, machine: string, month = '2026-03') =>
  join(home.data, 'journal', machine, `${month}.jsonl`)

it('a visit comes back from disk as it was confirmed', async () => {
  const home = newHome()
  const journal = await openJournal(home, sources('desk'))
  const [first] = await journal.append([opening()])
  const more = await journal.append([verdict(1), verdict(2, false)])
  expect(first).toMatchObject({
    kind: 'visit',
    id: 'desk0002-000001',
    session: 'desk0002',
    n: 1,
    visit: 'desk0002-000001',
    time: '2026-03-14T15:00:00.000Z',
    offset: 60,
  })
  expect(more.map(e => [e.n, e.visit])).toEqual([
    [2, first?.id],
    [3, first?.id],
  ])
  const read = await allEvents(home)
  expect(read).toEqual({ visits: [[first, ...more]], damaged: [], unknown: 0, unopened: 0 })
})

it('whatever happens in a visit is read back to the letter', async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.array(fc.array(happening, { minLength: 1, maxLength: 4 }), { maxLength: 6 }),
      async batches => {
        const home = newHome()
        const journal = await openJournal(home, { ...sources(), chance })
        const kept = [...(await journal.append([opening()]))]
        for (const batch of batches) kept.push(...(await journal.append(batch)))
        const { visits, damaged } = await allEvents(home)
        expect(visits).toEqual([kept])
        expect(damaged).toEqual([])
        expect(fold(visits[0] ?? [])).toEqual(fold(kept))
      },
    ),
    { numRuns: 40 },
  )
})

it('each record begins and ends with a newline and says its version', async () => {
  const home = newHome()
  const journal = await openJournal(home, sources('desk'))
  await journal.append([opening()])
  await journal.append([verdict(1)])
  const text = readFileSync(monthFile(home, 'desk0001'), 'utf8')
  expect(text.split('\n').map(line => line.slice(0, 7))).toEqual(['', '{"v":1,', '', '{"v":1,', ''])
})

it.skipIf(process.platform === 'win32')('only the player can read the journal', async () => {
  const home = newHome()
  await (await openJournal(home, sources('desk'))).append([opening()])
  expect(statSync(monthFile(home, 'desk0001')).mode & 0o777).toBe(0o600)
})

it('a visit over the end of the month stays in the file of its opening', async () => {
  const home = newHome()
  let now = Date.UTC(2026, 2, 31, 23, 30)
  const journal = await openJournal(home, { ...sources('desk'), wall: () => now, offset: () => 0 })
  await journal.append([opening()])
  now += 3600_000
  await journal.append([verdict(1)])
  now += 2 * 3600_000
  // 2:30 on the first of April is still the last of March; 4:00 is not.
  await journal.append([opening()])
  now += 2 * 3600_000
  const [april] = await journal.append([opening()])
  expect(readdirSync(join(home.data, 'journal', 'desk0001')).sort()).toEqual([
    '2026-03.jsonl',
    '2026-04.jsonl',
  ])
  expect(readFileSync(monthFile(home, 'desk0001', '2026-04'), 'utf8')).toContain(`"id":"${april?.id}"`)
  expect(readFileSync(monthFile(home, 'desk0001'), 'utf8').match(/"k":"visit"/g)).toHaveLength(2)
})

it('numbers run without gaps over visits, and an earlier visit can be named', async () => {
  const home = newHome()
  const journal = await openJournal(home, sources())
  const [one] = await journal.append([opening('one')])
  await journal.append([opening('two')])
  const [late] = await journal.append([{ kind: 'takeBack', of: 'name0002-000001' }], one?.id)
  expect(late).toMatchObject({ n: 3, visit: one?.id })
  const { visits } = await allEvents(home)
  expect(visits.map(v => v.map(e => e.n))).toEqual([[1, 3], [2]])
})

it('presses that are not waited for are stored in their order', async () => {
  const home = newHome()
  const journal = await openJournal(home, sources())
  const all = [
    journal.append([opening()]),
    ...Array.from({ length: 50 }, (_, i) => journal.append([verdict(i)])),
  ]
  await journal.close()
  const { visits } = await allEvents(home)
  expect(visits[0]).toEqual((await Promise.all(all)).flat())
  expect(visits[0]?.slice(1).map(e => e.kind === 'verdict' && e.rep)).toEqual(
    Array.from({ length: 50 }, (_, i) => i),
  )
})

it('nothing is stored that belongs to no visit, or that could not be read again', async () => {
  const home = newHome()
  const journal = await openJournal(home, sources())
  await expect(journal.append([verdict(1)])).rejects.toThrow(StoreError)
  await expect(journal.append([verdict(1), opening()])).rejects.toThrow(RangeError)
  await journal.append([opening()])
  await expect(journal.append([verdict(1)], 'other-000001')).rejects.toThrow(StoreError)
  const unreadable = { kind: 'move', to: { unit: frac(1, 4), bpm: frac(0) } } as const
  await expect(journal.append([unreadable])).rejects.toThrow(RangeError)
  const [next] = await journal.append([verdict(1)])
  expect(next?.n).toBe(2)
})

it('a disk that takes nothing confirms nothing, says so, and uses up no number', async () => {
  const home = newHome()
  const machine = await machineId(home, chance)
  const file = monthFile(home, machine)
  mkdirSync(join(file, '..'), { recursive: true })
  mkdirSync(file)
  const journal = await openJournal(home, { ...sources(), chance })
  const failed = journal.append([opening()])
  const lost = journal.append([verdict(1)])
  await expect(failed).rejects.toThrow(
    /^Can't write the practice journal: \S+\.jsonl is a folder, not a file; move it away and try again\.$/,
  )
  await expect(lost).rejects.toThrow(StoreError)
  rmSync(file, { recursive: true })
  const [first] = await journal.append([opening()])
  const [second] = await journal.append([verdict(1)])
  expect([first?.n, second?.n]).toEqual([1, 2])
  expect((await allEvents(home)).visits).toEqual([[first, second]])
})

it('a folder that is gone is said in one sentence, never taken for stored', async () => {
  const home = newHome()
  const journal = await openJournal(home, sources('desk'))
  const [first] = await journal.append([opening()])
  const folder = join(home.data, 'journal')
  renameSync(folder, `${folder}-away`)
  await expect(journal.append([verdict(1)])).rejects.toThrow(
    /^Can't write the practice journal: \S+ is gone; bring it back .* --home\.$/,
  )
  renameSync(`${folder}-away`, folder)
  const [second] = await journal.append([verdict(2)])
  expect(second?.n).toBe(2)
  expect((await allEvents(home)).visits).toEqual([[first, second]])
})

it('a journal under a file is refused before anything is played', async () => {
  const home = newHome()
  await (await openJournal(home, sources('desk'))).append([opening()])
  const under = { ...home, data: monthFile(home, 'desk0001') }
  await expect(openJournal(under, sources())).rejects.toThrow(/^Can't write the practice journal: .*\.$/)
})

it.skipIf(process.platform === 'win32' || process.getuid?.() === 0)(
  'a journal in a folder that is closed to the player is refused in one sentence',
  async () => {
    const home = newHome()
    mkdirSync(home.data, { recursive: true, mode: 0o500 })
    await expect(openJournal(home, sources())).rejects.toThrow(
      /^The practice journal .* is closed to you; .*\.$/,
    )
  },
)

it('two sessions on one machine write the same file and mix nothing up', async () => {
  const home = newHome()
  const [a, b] = [
    await openJournal(home, sources('desk')),
    await openJournal(home, sources('door', AFTERNOON - 1)),
  ]
  const jobs = Array.from({ length: 20 }, (_, i) => [
    a.append([i ? verdict(i) : opening()]),
    b.append([i ? verdict(i) : opening()]),
  ])
  await Promise.all(jobs.flat())
  const { visits, damaged } = await allEvents(home)
  expect(visits.map(v => v.map(e => e.n))).toEqual(
    [0, 1].map(() => Array.from({ length: 20 }, (_, i) => i + 1)),
  )
  expect(damaged).toEqual([])
})
