import { mkdirSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { expect, it } from 'vitest'
import { ensureFolder, homeAt } from '../../src/store/home.ts'
import { machineId } from '../../src/store/machine.ts'
import { chance } from '../../src/store/sources.ts'
import { StoreError } from '../../src/store/trouble.ts'
import { names, newHome } from './scene.ts'

it('a named home holds everything; the one on the command line goes before the one in the environment', () => {
  expect(homeAt('stand', { GRADINO_HOME: '/elsewhere' }).data).toBe(resolve('stand', 'data'))
  expect(homeAt(undefined, { GRADINO_HOME: '/elsewhere' })).toEqual({
    data: resolve('/elsewhere/data'),
    config: resolve('/elsewhere/config'),
    cache: resolve('/elsewhere/cache'),
  })
})

it('without a named home the platform says where things live, under the plain name', () => {
  for (const folder of Object.values(homeAt(undefined, {}))) {
    expect(folder).toMatch(/gradino/)
    expect(folder).not.toMatch(/nodejs/)
  }
})

it('an empty name is no name', () => {
  expect(homeAt('', { GRADINO_HOME: '' })).toEqual(homeAt(undefined, {}))
})

it.skipIf(process.platform === 'win32')('folders are open to their owner only', async () => {
  const { data } = newHome()
  await ensureFolder(join(data, 'journal'), 'Nothing can be stored')
  expect(statSync(data).mode & 0o777).toBe(0o700)
  expect(statSync(join(data, 'journal')).mode & 0o777).toBe(0o700)
})

it('a home that cannot be one is refused in one sentence', async () => {
  const { data } = newHome()
  mkdirSync(join(data, '..'), { recursive: true })
  writeFileSync(data, 'a file')
  const refused = ensureFolder(join(data, 'journal'), "Can't write the practice journal")
  await expect(refused).rejects.toThrow(StoreError)
  await expect(refused).rejects.toThrow(
    /^Can't write the practice journal: a part of \S+ is a file, not a folder; name another folder with --home\.$/,
  )
})

it.skipIf(process.platform !== 'linux')(
  'a folder above which nothing can be made is refused too, and not taken for one that is there',
  async () => {
    const refused = ensureFolder('/proc/gradino/data/journal', "Can't write the practice journal")
    await expect(refused).rejects.toThrow(/^Can't write the practice journal: .+\.$/)
  },
)

it('a machine keeps its name, which is random and says nothing about it', async () => {
  const home = newHome()
  const first = await machineId(home, chance)
  expect(first).toMatch(/^[a-z0-9]{10,}$/)
  expect(await machineId(home, chance)).toBe(first)
  expect(await machineId(newHome(), chance)).not.toBe(first)
  if (process.platform !== 'win32') expect(statSync(join(home.config, 'machine')).mode & 0o777).toBe(0o600)
})

it('starts at the same moment agree on one machine name', async () => {
  const home = newHome()
  const all = await Promise.all(Array.from({ length: 12 }, () => machineId(home, chance)))
  expect(new Set(all).size).toBe(1)
})

it('an emptied or scribbled machine name is replaced, and the new one stays', async () => {
  for (const left of ['', '../../etc', 'ÄÖÜ\n']) {
    const home = newHome()
    mkdirSync(home.config, { recursive: true })
    writeFileSync(join(home.config, 'machine'), left)
    const id = await machineId(home, names('desk'))
    expect(id).toBe('desk0001')
    expect(readFileSync(join(home.config, 'machine'), 'utf8')).toBe('desk0001\n')
    expect(await machineId(home, names('other'))).toBe(id)
  }
})

it('chance that would lead out of the folder is refused', async () => {
  await expect(machineId(newHome(), () => '../up')).rejects.toThrow(/random name/)
})
