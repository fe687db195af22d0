import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { expect, it } from 'vitest'
import { CHARACTERS, DYNAMICS, type Levels } from '../../src/click/voices.ts'
import { DAY_MINUTES } from '../../src/music/day.ts'
import type { Home } from '../../src/store/home.ts'
import { openSettings, type Settings } from '../../src/store/settings.ts'
import { StoreError } from '../../src/store/trouble.ts'
import { AFTERNOON, newHome } from './scene.ts'

const open = (home: Home) => openSettings(home, () => AFTERNOON)
const pathOf = (home: Home): string => join(home.config, 'settings.json')
const put = (home: Home, text: string): void => {
  mkdirSync(home.config, { recursive: true })
  writeFileSync(pathOf(home), text)
}
const usual: Partial<Settings> = { right: 'PageDown', left: 'PageUp', pedals: 2, after: 'wait', latency: 0 }

it('before anything is chosen there are the usual settings, and no file', async () => {
  const home = newHome()
  const settings = await open(home)
  expect(settings.now()).toMatchObject(usual)
  expect(settings.note()).toBeNull()
  expect(existsSync(home.config)).toBe(false)
})

it('a choice is in use at once and at the next start', async () => {
  const home = newHome()
  const settings = await open(home)
  await settings.change({ pedals: 1, right: 'F13' })
  await settings.change({ latency: 12.5 })
  const expected = { ...usual, pedals: 1, right: 'F13', latency: 12.5 }
  expect(settings.now()).toMatchObject(expected)
  expect((await open(home)).now()).toMatchObject(expected)
  if (process.platform !== 'win32') expect(statSync(pathOf(home)).mode & 0o777).toBe(0o600)
})

it('every loudness and character of the click can be chosen', async () => {
  const home = newHome()
  for (const master of DYNAMICS)
    for (const character of CHARACTERS) {
      const levels: Levels = { master, character, roles: { beat: master, sub: 'off' } }
      await (await open(home)).change({ levels })
      const kept: Levels | undefined = (await open(home)).now().levels
      expect(kept).toEqual(levels)
    }
})

it('what another program put into the file stays in it', async () => {
  const home = newHome()
  put(home, '{ "v": 1, "after": "go-on", "lamp": { "dim": true } }')
  await (await open(home)).change({ pedals: 1 })
  expect(JSON.parse(readFileSync(pathOf(home), 'utf8'))).toEqual({
    v: 1,
    after: 'go-on',
    lamp: { dim: true },
    pedals: 1,
  })
})

const long = (n: number): string => 'x'.repeat(n)
it.each<[name: keyof Settings, within: readonly unknown[], beyond: readonly unknown[]]>([
  ['right', ['x', long(40)], ['', long(41), 7]],
  ['left', ['x', long(40)], ['', long(41), null]],
  ['pedals', [1, 2], [0, 3, '2']],
  ['learnedIn', ['x', long(80)], ['', long(81)]],
  ['output', ['x', long(80)], ['', long(81)]],
  ['instrument', ['x', long(80)], ['', long(81)]],
  ['after', ['wait', 'go-on'], ['conductor']],
  ['rest', ['usual', 'as-long'], ['long']],
  ['keys', ['all', 'pedals'], ['none']],
  ['motion', ['glide', 'step', 'still'], ['swing']],
  ['letters', ['alone', 'with-alt'], ['with-control']],
  ['lastEvening', ['usual', 'light'], ['dark']],
  ['awake', [true, false], [1, 'yes']],
  ['steady', [true, false], [0]],
  ['cautionsShown', [true, false], ['yes']],
  ['transposition', ['C', 'Bb', 'F', 'Eb4'], ['H', '', 3]],
  ['days', ['mon,wed,fri', 'every day'], ['now and then', '']],
  ['step', ['usual', '4%'], ['a lot', '']],
  ['slips', ['usual', '2', 'never'], ['often', '']],
  ['dayStart', ['usual'], ['late', '']],
  [
    'levels',
    [{ master: 'mf', roles: {}, character: 'wood' }],
    [
      { master: 'loud', roles: {}, character: 'wood' },
      { master: 'mf', roles: { beat: 'loud' }, character: 'wood' },
      { master: 'mf', roles: {}, character: 'tin' },
      { master: 'mf' },
      'mf',
    ],
  ],
  ['lock', [400, 2000], [399, 2001, 500.5]],
  ['device', ['', long(80)], [long(81)]],
  [
    'offsets',
    [{ [long(200)]: 1000 }, { Headphones: -1000 }],
    [{ [long(201)]: 1 }, { x: 1001 }, { x: -1001 }],
  ],
  ['latency', [-1000, 0.5, 1000], [-1001, 1001]],
  ['changedKeys', [{ [long(60)]: long(40) }, { x: '' }], [{ [long(61)]: 'x' }, { x: long(41) }]],
  ['a', [380, 442.5, 480], [379, 481]],
  ['minutes', [DAY_MINUTES.least, DAY_MINUTES.most], [DAY_MINUTES.least - 1, DAY_MINUTES.most + 1]],
  ['breath', [1, 600], [0, 601]],
  ['clean', ['usual', '3-in-a-row'], ['now and then', '']],
])('%s may have its outermost values, and nothing beyond them', async (name, within, beyond) => {
  const read = async (value: unknown) => {
    const home = newHome()
    put(home, JSON.stringify({ [name]: value }))
    const settings = await open(home)
    return { taken: settings.note() === null, value: settings.now()[name] }
  }
  for (const value of within) expect(await read(value)).toEqual({ taken: true, value })
  for (const value of beyond) expect((await read(value)).taken, JSON.stringify(value)).toBe(false)
})

it('a file that is no JSON is quoted by how it begins', async () => {
  const home = newHome()
  put(home, `pedals = 1; ${long(200)}`)
  expect((await open(home)).note()).toContain('"pedals = 1; x')
})

it('changes of another process between ours are kept', async () => {
  const home = newHome()
  const [a, b] = [await open(home), await open(home)]
  await a.change({ latency: 30 })
  await b.change({ after: 'go-on' })
  await a.change({ pedals: 1 })
  expect(a.now()).toMatchObject({ latency: 30, after: 'go-on', pedals: 1 })
  expect((await open(home)).now()).toEqual(a.now())
})

it('changes that are not waited for come one after another', async () => {
  const home = newHome()
  const settings = await open(home)
  await Promise.all([
    settings.change({ latency: 1 }),
    settings.change({ pedals: 1 }),
    settings.change({ latency: 2 }),
  ])
  expect((await open(home)).now()).toMatchObject({ latency: 2, pedals: 1 })
})

it('of the same choice again and again, as of loudness, only the last is written', async () => {
  const home = newHome()
  const settings = await open(home)
  const all = Array.from({ length: 100 }, (_, i) => settings.change({ latency: i }))
  expect(new Set(all).size).toBe(1)
  await Promise.all([...all, settings.change({ pedals: 1 })])
  expect((await open(home)).now()).toMatchObject({ latency: 99, pedals: 1 })
})

it.each([
  ['torn', '{ "v": 1, "after": "go'],
  ['empty', ''],
  ['filled with nothing', '\0\0\0\0'],
  ['a list', '[1, 2]'],
  ['of wrong kind', '{ "v": 1, "pedals": 3 }'],
])('a file that is %s is kept aside whole, and the last good settings are used', async (_, damage) => {
  const home = newHome()
  const before = await open(home)
  await before.change({ after: 'go-on', latency: 40 })
  writeFileSync(pathOf(home), damage)
  const settings = await open(home)
  expect(settings.now()).toMatchObject({ after: 'go-on', latency: 40 })
  const aside = readdirSync(home.config).filter(name => name.includes('.bad-'))
  expect(aside).toEqual(['settings.json.bad-20260314T150000000Z'])
  expect(readFileSync(join(home.config, aside[0] ?? ''), 'utf8')).toBe(damage)
  expect(settings.note()).toMatch(
    /^The settings were damaged \(.*\): they are kept as \S+, and the last good ones are used\.$/,
  )
  expect(settings.note()).not.toContain('\0')
  expect((await open(home)).note()).toBeNull()
})

it('damaged settings whose last good copy is damaged too give the usual ones', async () => {
  const home = newHome()
  put(home, '{ "lat')
  writeFileSync(`${pathOf(home)}.good`, '{ "v"')
  const settings = await open(home)
  expect(settings.now()).toMatchObject(usual)
  expect(settings.note()).toMatch(/the usual ones are used\.$/)
  expect(existsSync(pathOf(home))).toBe(false)
})

it('damaged settings of which there never was a good copy give the usual ones', async () => {
  const home = newHome()
  put(home, 'not settings')
  const settings = await open(home)
  expect(settings.now()).toMatchObject(usual)
  expect(settings.note()).toMatch(/the usual ones are used\.$/)
  await settings.change({ pedals: 1 })
  expect((await open(home)).now().pedals).toBe(1)
})

it('damage that comes while the program runs is repaired before the next change', async () => {
  const home = newHome()
  const settings = await open(home)
  await settings.change({ latency: 40 })
  writeFileSync(pathOf(home), '{ "lat')
  await settings.change({ pedals: 1 })
  expect((await open(home)).now()).toMatchObject({ latency: 40, pedals: 1 })
  expect(settings.note()).toMatch(/^The settings were damaged/)
})

it('settings of a newer program are used as far as they are understood, and never changed', async () => {
  const home = newHome()
  const text = '{ "v": 2, "after": "conductor", "latency": 25, "left": "F14" }'
  put(home, text)
  const settings = await open(home)
  expect(settings.now()).toMatchObject({ after: 'wait', latency: 25, left: 'F14' })
  expect(settings.note()).toMatch(/newer Gradino/)
  await expect(settings.change({ latency: 0 })).rejects.toThrow(
    /^Can't store the settings: a newer Gradino .*\.$/,
  )
  expect(readFileSync(pathOf(home), 'utf8')).toBe(text)
})

it('a wrong choice is refused by name and changes nothing', async () => {
  const home = newHome()
  const settings = await open(home)
  await settings.change({ latency: 10 })
  const before = readFileSync(pathOf(home), 'utf8')
  await expect(settings.change({ latency: 5000 })).rejects.toThrow(
    /^The settings were not stored. "5000" .* for the latency.* milliseconds from -1000 to 1000\.$/,
  )
  expect(readFileSync(pathOf(home), 'utf8')).toBe(before)
  expect(settings.now().latency).toBe(10)
})

it('a place that cannot be a folder is said in one sentence', async () => {
  const home = newHome()
  put(home, '{}')
  const under = { ...home, config: join(pathOf(home), 'config') }
  await expect(open(under)).rejects.toThrow(StoreError)
  rmSync(dirname(pathOf(home)), { recursive: true })
  const settings = await open(home)
  writeFileSync(home.config, 'a file')
  await expect(settings.change({ pedals: 1 })).rejects.toThrow(/^Can't store the settings: .*\.$/)
  expect(settings.now()).toMatchObject(usual)
})
