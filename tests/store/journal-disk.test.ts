import { readFileSync } from 'node:fs'
import promises, { type FileHandle } from 'node:fs/promises'
import { syncBuiltinESMExports } from 'node:module'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, it, vi } from 'vitest'
import type { Event } from '../../src/ladder/event.ts'
import { openJournal } from '../../src/store/journal.ts'
import { encode } from '../../src/store/record.ts'
import { StoreError } from '../../src/store/trouble.ts'
import { allEvents } from './all-events.ts'
import { newHome, sources } from './scene.ts'
import { opening, verdict } from './visit.ts'

/** A disk that notes what is asked of it and can be slow, short of breath, or broken. */
const disk = {
  asked: [] as string[],
  /** Bytes that the next writes take at most. */
  takes: [] as number[],
  beforeDatasync: async () => {},
}

beforeEach(() => {
  const watched = (handle: FileHandle, path: string): FileHandle =>
    Object.assign(Object.create(handle), {
      write: (bytes: Buffer) => {
        const most = disk.takes.shift() ?? bytes.length
        disk.asked.push(`write ${path.slice(-5)}`)
        return handle.write(bytes.subarray(0, most))
      },
      datasync: async () => {
        await disk.beforeDatasync()
        disk.asked.push(`datasync ${path.slice(-5)}`)
        await handle.datasync()
      },
      sync: async () => {
        disk.asked.push(`sync ${path.slice(-8)}`)
        await handle.sync()
      },
      close: () => handle.close(),
    })
  const real = promises.open
  vi.spyOn(promises, 'open').mockImplementation(async (path, ...rest) =>
    watched(await real(path, ...rest), String(path)),
  )
  syncBuiltinESMExports()
  disk.asked = []
  disk.takes = []
  disk.beforeDatasync = async () => {}
})
afterEach(() => {
  vi.restoreAllMocks()
  syncBuiltinESMExports()
})

it('a press is one write and one sync; the first of a month also puts the new file into its folder', async () => {
  const journal = await openJournal(newHome(), sources('desk'))
  disk.asked = []
  await journal.append([opening()])
  expect(disk.asked).toEqual(['write jsonl', 'datasync jsonl', 'sync desk0001'])
  disk.asked = []
  await journal.append([{ kind: 'takeBack', of: 'desk0002-000001' }, verdict(1)])
  expect(disk.asked).toEqual(['write jsonl', 'datasync jsonl'])
})

it('nothing is confirmed while the disk is still at work', async () => {
  const journal = await openJournal(newHome(), sources())
  let confirmed = false
  let release = (): void => {}
  disk.beforeDatasync = () => new Promise(resolve => (release = resolve))
  const stored = journal.append([opening()]).then(() => (confirmed = true))
  await vi.waitFor(() => expect(disk.asked).toContain('write jsonl'))
  await new Promise(resolve => setTimeout(resolve, 20))
  expect(confirmed).toBe(false)
  release()
  await stored
  expect(confirmed).toBe(true)
})

it.each([1, 40, 200, 230, 260, 400])(
  'a write that is cut short after %i bytes loses no event',
  async most => {
    const home = newHome()
    const journal = await openJournal(home, sources())
    const kept = [...(await journal.append([opening()]))]
    disk.takes = [most]
    kept.push(...(await journal.append([verdict(1), verdict(2)])), ...(await journal.append([verdict(3)])))
    const { visits, damaged } = await allEvents(home)
    expect(visits).toEqual([kept])
    expect(damaged.length).toBeLessThanOrEqual(1)
  },
)

it('a disk that keeps cutting writes short is given up, and what follows is readable', async () => {
  const home = newHome()
  const journal = await openJournal(home, sources('desk'))
  const kept = [...(await journal.append([opening()]))]
  disk.takes = [10, 10, 10]
  await expect(journal.append([verdict(1)])).rejects.toThrow(StoreError)
  kept.push(...(await journal.append([verdict(2)])))
  expect(kept.map(e => e.n)).toEqual([1, 2])
  const { visits, damaged } = await allEvents(home)
  expect(visits).toEqual([kept])
  expect(damaged).toHaveLength(3)
})

it('of two events that were meant together the one that got through keeps its number', async () => {
  const journal = await openJournal(newHome(), sources())
  await journal.append([opening()])
  const [measured] = await journal.append([verdict(1)])
  disk.takes = [Buffer.byteLength(`\n${encode(measured as Event)}\n`), 10, 10]
  await expect(journal.append([verdict(2), verdict(3)])).rejects.toThrow(StoreError)
  const [next] = await journal.append([verdict(4)])
  expect(next?.n).toBe(4)
})

it('what belongs to a visit that could not be opened does not end up in the one before', async () => {
  const home = newHome()
  const journal = await openJournal(home, sources())
  const kept = await journal.append([opening('one')])
  disk.takes = [1, 1, 1]
  const both = [journal.append([opening('two')]), journal.append([verdict(1)])]
  for (const failed of await Promise.allSettled(both)) expect(failed.status).toBe('rejected')
  expect((await allEvents(home)).visits).toEqual([kept])
})

it('an event that was written but not confirmed keeps its number: no id ever means two events', async () => {
  const home = newHome()
  const journal = await openJournal(home, sources('desk'))
  await journal.append([opening()])
  disk.beforeDatasync = async () => {
    throw Object.assign(new Error('i/o'), { code: 'EIO' })
  }
  await expect(journal.append([verdict(1)])).rejects.toThrow(
    /^Can't write the practice journal: the disk that holds \S+ reported an error \(EIO\)\.$/,
  )
  disk.beforeDatasync = async () => {}
  const [next] = await journal.append([verdict(2)])
  expect(next?.n).toBe(3)
  const text = readFileSync(join(home.data, 'journal', 'desk0001', '2026-03.jsonl'), 'utf8')
  const ids = [...text.matchAll(/"id":"([^"]+)"/g)].map(m => m[1])
  expect(new Set(ids).size).toBe(ids.length)
  expect((await allEvents(home)).visits[0]?.at(-1)).toEqual(next)
})
