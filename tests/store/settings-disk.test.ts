import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, it, vi } from 'vitest'
import type { Home } from '../../src/store/home.ts'
import { openSettings } from '../../src/store/settings.ts'
import { StoreError } from '../../src/store/trouble.ts'
import { AFTERNOON, newHome } from './scene.ts'

const pathOf = (home: Home): string => join(home.config, 'settings.json')
const inFile = (home: Home) => JSON.parse(readFileSync(pathOf(home), 'utf8'))

/** What the library that writes the file makes of it, call by call; the last one goes on. */
let writes: ((path: string, before: object, part: object) => void)[] = []
let asked = 0
const whole = (path: string, before: object, part: object): void =>
  writeFileSync(path, JSON.stringify({ ...before, ...part }))

beforeEach(() => {
  asked = 0
  vi.doMock('conf', () => ({
    default: class {
      readonly path: string
      constructor({ cwd, configName }: { cwd: string; configName: string }) {
        this.path = join(cwd, `${configName}.json`)
      }
      set(part: object) {
        asked++
        const before = existsSync(this.path) ? JSON.parse(readFileSync(this.path, 'utf8')) : {}
        ;(writes.length > 1 ? writes.shift() : writes[0])?.(this.path, before, part)
      }
    },
  }))
})
afterEach(() => vi.doUnmock('conf'))

/** Settings that were stored once, in a file that reads back. */
const settings = async (text: string | null) => {
  const home = newHome()
  if (text !== null) {
    mkdirSync(home.config, { recursive: true })
    writeFileSync(pathOf(home), text)
  }
  return { home, store: await openSettings(home, () => AFTERNOON) }
}
const GOOD = '{"v":1,"latency":40}'

it('where the write tears the file without an error, the text before is put back, and that is said', async () => {
  const { home, store } = await settings(GOOD)
  writes = [(path, before, part) => writeFileSync(path, JSON.stringify({ ...before, ...part }).slice(0, -3))]
  const refused = store.change({ pedals: 1 })
  await expect(refused).rejects.toThrow(StoreError)
  await expect(refused).rejects.toThrow(
    "Can't store the settings: what was written did not read back (is the disk full?).",
  )
  expect(readFileSync(pathOf(home), 'utf8')).toBe(GOOD)
  expect(store.now()).toMatchObject({ latency: 40, pedals: 2 })
  expect(asked).toBe(1)
  writes = [whole]
  await store.change({ pedals: 1 })
  expect(inFile(home)).toEqual({ v: 1, latency: 40, pedals: 1 })
})

it('where there was no file there is none afterward', async () => {
  const { home, store } = await settings(null)
  writes = [path => writeFileSync(path, '{"v":')]
  await expect(store.change({ pedals: 1 })).rejects.toThrow(/did not read back/)
  expect(readdirSync(home.config)).toEqual([])
  writes = [() => {}]
  await expect(store.change({ pedals: 1 })).rejects.toThrow(/did not read back/)
})

it('an error of the disk is said in its own sentence', async () => {
  const { home, store } = await settings(GOOD)
  writes = [
    () => {
      throw Object.assign(new Error('no space'), { code: 'ENOSPC' })
    },
  ]
  await expect(store.change({ pedals: 1 })).rejects.toThrow(
    `Can't store the settings: the disk that holds ${home.config} is full; make room on it and try again.`,
  )
  expect(readFileSync(pathOf(home), 'utf8')).toBe(GOOD)
})

it('where another program writes at the same moment, it is tried three times', async () => {
  const { home, store } = await settings(GOOD)
  const theirs: (typeof writes)[number] = (path, before) =>
    writeFileSync(path, JSON.stringify({ ...before, pedals: 2, after: 'go-on' }))
  writes = [theirs, theirs, whole]
  await store.change({ pedals: 1 })
  expect(asked).toBe(3)
  expect(inFile(home)).toMatchObject({ latency: 40, pedals: 1, after: 'go-on' })
  asked = 0
  writes = [theirs]
  await expect(store.change({ pedals: 1 })).rejects.toThrow(
    "Can't store the settings: another program keeps changing them.",
  )
  expect(asked).toBe(3)
  expect(inFile(home)).toMatchObject({ pedals: 2 })
})

it('the last good text lies beside the file, and is what was stored last', async () => {
  const { home, store } = await settings(GOOD)
  writes = [whole]
  await store.change({ pedals: 1 })
  await store.change({ after: 'go-on' })
  const copy = readFileSync(`${pathOf(home)}.good`, 'utf8')
  expect(copy).toBe(readFileSync(pathOf(home), 'utf8'))
  expect(JSON.parse(copy)).toMatchObject({ pedals: 1, after: 'go-on' })
})

it('a change that came while another is written waits for it; two of one kind in a row are one', async () => {
  const { home, store } = await settings(GOOD)
  writes = [whole]
  const first = store.change({ latency: 1 })
  const [a, b, c] = [store.change({ pedals: 1 }), store.change({ pedals: 2 }), store.change({ latency: 3 })]
  expect(a).toBe(b)
  expect(c).not.toBe(first)
  await Promise.all([first, a, b, c])
  expect(inFile(home)).toMatchObject({ latency: 3, pedals: 2 })
  expect(asked).toBe(3)
  // what is refused does not stand in the way of the next
  const [wrong, right] = [store.change({ latency: 5000 }), store.change({ latency: 7, pedals: 1 })]
  await expect(wrong).rejects.toThrow(/^The settings were not stored\./)
  await right
  expect(inFile(home)).toMatchObject({ latency: 7, pedals: 1 })
})

it('what is wrong in the file is named by where it stands, and by how it begins', async () => {
  const said = async (text: string) => (await settings(text)).store.note() ?? ''
  expect(await said('{"levels":{"master":"loud","roles":{},"character":"wood"}}')).toMatch(
    /damaged \(In levels, master "loud" doesn't work\. Try off, pp, p, mf, f or ff\)/,
  )
  expect(await said('[]')).toMatch(/damaged \(.*for the file/)
  expect(await said(`{"minutes":"${'9'.repeat(80)}"}`)).toContain(`"${'9'.repeat(60)}"`)
  expect(await said(`{"minutes":"${'9'.repeat(80)}"}`)).not.toContain('9'.repeat(61))
  expect(await said(`a${'b'.repeat(59)}c`)).toContain(`"a${'b'.repeat(59)}"`)
})
