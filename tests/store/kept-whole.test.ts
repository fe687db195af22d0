import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import { checkJournal } from '../../src/store/check-journal.ts'
import { journalFolder, openJournal } from '../../src/store/journal.ts'
import { addNotes, readNotes } from '../../src/store/notes.ts'
import { storePreset } from '../../src/store/presets.ts'
import { repertoire } from '../../src/store/repertoire.ts'
import { openSettings } from '../../src/store/settings.ts'
import { readPractice } from '../../src/store/snapshot.ts'
import { AFTERNOON, newHome, overture, sources } from './scene.ts'
import { opening, verdict } from './visit.ts'

const FILES = '/proc/self/fd'
const openFiles = (): number => readdirSync(FILES).length

it.skipIf(!existsSync(FILES))('no file stays open, whatever was stored and read', async () => {
  const evening = async (): Promise<void> => {
    const home = newHome()
    const journal = await openJournal(home, sources())
    await journal.append([opening()])
    await journal.append([verdict(1)])
    await journal.close()
    const pieces = repertoire(home)
    await pieces.save(overture, null)
    await pieces.list()
    await (await openSettings(home, () => AFTERNOON)).change({ pedals: 1 })
    await addNotes(home, sources(), [{ kind: 'pain', text: 'left wrist' }])
    await readNotes(home)
    await readPractice(home, 0)
    await checkJournal(home)
  }
  await evening()
  const before = openFiles()
  for (let i = 0; i < 3; i++) await evening()
  expect(openFiles()).toBe(before)
})

it('a preset that is there is replaced only by who asks for that', async () => {
  const home = newHome()
  const store = (text: string, replace: boolean) => storePreset(home, 'at-the-weir', text, replace)
  const first = await store('first', false)
  const path = first.ok ? first.value : ''
  expect((await store('second', false)).ok).toBe(false)
  const kept = (): string => readFileSync(path, 'utf8')
  expect(kept()).toBe('first')
  expect((await store('third', true)).ok).toBe(true)
  expect(kept()).toBe('third')
})

it('lines that are lost in the middle of a session are counted, by their file; a whole session misses none', async () => {
  const home = newHome()
  const journal = await openJournal(home, sources('desk'))
  await journal.append([opening()])
  for (let rep = 1; rep <= 5; rep++) await journal.append([verdict(rep)])
  expect((await checkJournal(home)).missing).toEqual([])
  const [machine = ''] = readdirSync(journalFolder(home))
  const [month = ''] = readdirSync(join(journalFolder(home), machine))
  const file = join(journalFolder(home), machine, month)
  const lines = readFileSync(file, 'utf8').split('\n').filter(Boolean)
  mkdirSync(join(file, '..'), { recursive: true })
  writeFileSync(file, `${lines.filter((_, i) => i !== 2 && i !== 4).join('\n')}\n`)
  expect((await checkJournal(home)).missing).toEqual([{ file, lines: 2 }])
})
