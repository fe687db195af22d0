import { execFileSync } from 'node:child_process'
import { mkdirSync, readFileSync, rmSync, symlinkSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { readInput } from '../../src/app/input-file.ts'
import { sentence } from '../../src/music/result.ts'
import { checkJournal } from '../../src/store/check-journal.ts'
import { readDay } from '../../src/store/day-file.ts'
import type { Home } from '../../src/store/home.ts'
import { journalFolder, journalNotes, openJournal } from '../../src/store/journal.ts'
import { appendLines } from '../../src/store/log.ts'
import { addNotes, notesFolder, notesTrouble, readNotes } from '../../src/store/notes.ts'
import { readPresets } from '../../src/store/presets.ts'
import { MOST_BYTES, readBytes } from '../../src/store/read-file.ts'
import { repertoire } from '../../src/store/repertoire.ts'
import { openSettings } from '../../src/store/settings.ts'
import { readPractice, snapshotFile } from '../../src/store/snapshot.ts'
import { codeOf, StoreError } from '../../src/store/trouble.ts'
import { newHome, sources } from './scene.ts'

/**
 * What may stand where a file should be. Nothing of it is read, as the system counts, and nobody waits for a pipe's other
 * end: such a test would never end.
 */
const NO_FILES: Readonly<Record<string, (path: string) => void>> = {
  'a pipe': path => execFileSync('mkfifo', [path]),
  'a device that never ends': path => symlinkSync('/dev/zero', path),
  'a folder': path => mkdirSync(path),
  'a loop of links': path => {
    symlinkSync(path, `${path}.other`)
    symlinkSync(`${path}.other`, path)
  },
  'a file without end': path => execFileSync('truncate', ['-s', String(MOST_BYTES + 1), path]),
}

/** Bytes that this process has read since it began, from whatever it was. */
const bytesRead = (): number => Number(/^rchar: (\d+)$/m.exec(readFileSync('/proc/self/io', 'utf8'))?.[1])

/** One sentence, said by the store. */
const refused = async (work: Promise<unknown>): Promise<string> => {
  const error = await work.then(
    () => null,
    e => e,
  )
  expect(error).toBeInstanceOf(StoreError)
  expect(error.message).toMatch(/^[^\n]+\.$/)
  return error.message
}

describe.runIf(process.platform === 'linux').each(Object.entries(NO_FILES))('%s', (_, make) => {
  const put = (path: string): void => {
    mkdirSync(dirname(path), { recursive: true })
    rmSync(path, { recursive: true, force: true })
    make(path)
  }
  const home = (): Home => newHome()
  let before = 0
  beforeEach(() => {
    before = bytesRead()
  })
  afterEach(() => {
    expect(bytesRead() - before).toBeLessThan(MOST_BYTES / 10)
  })

  test('in place of a journal is skipped and named, and the rest is read', async () => {
    const h = home()
    put(join(journalFolder(h), 'desk', '2026-03.jsonl'))
    const read = await readPractice(h)
    expect(read).toMatchObject({ visits: [], damaged: [{ line: 0 }] })
    expect(journalNotes(read)[0]).toMatch(/2026-03\.jsonl, which can't be read as a file\.$/)
    expect(await checkJournal(h)).toMatchObject({ damaged: [{ line: 0 }] })
  })

  test('in place of the journal that is written: nothing is called stored', async () => {
    const h = home()
    const from = sources('desk')
    const journal = await openJournal(h, from)
    const folder = join(journalFolder(h), 'desk0001')
    put(join(folder, '2026-03.jsonl'))
    const visit = {
      kind: 'visit',
      key: 'section s1 even',
      rungs: [{ unit: { n: 1, d: 4 }, bpm: { n: 80, d: 1 } }],
      at: 0,
      rules: { up: { kind: 'row', n: 3 }, slips: 2, top: 5 },
    } as const
    expect(await refused(journal.append([visit]))).toMatch(/^Can't write the practice journal: /)
  })

  test('in place of notes is skipped and named; a note is not called kept', async () => {
    const h = home()
    put(join(notesFolder(h), 'desk0001', '2026-03.jsonl'))
    const read = await readNotes(h)
    expect(notesTrouble(read)[0]).toMatch(/can't be read as a file\.$/)
    expect(await refused(addNotes(h, sources('desk'), [{ kind: 'note', text: 'soft reed' }]))).toMatch(
      /^Can't store the note: /,
    )
  })

  test('in place of the settings', async () => {
    const h = home()
    put(join(h.config, 'settings.json'))
    expect(await refused(openSettings(h, () => 0))).toMatch(/^Can't read the settings: /)
  })

  test('in place of the name of the machine', async () => {
    const h = home()
    put(join(h.config, 'machine'))
    expect(await refused(openJournal(h, sources('desk')))).toMatch(/^Can't store the name of this machine: /)
  })

  test('in place of a piece: the others are there', async () => {
    const h = home()
    put(join(h.data, 'pieces', 'weir-a1b2c3d4.json'))
    const { pieces, notes } = await repertoire(h).list()
    expect(pieces).toEqual([])
    expect(notes).toEqual([expect.stringMatching(/^Can't read a piece: [^\n]+\.$/)])
  })

  test('in place of a preset', async () => {
    const h = home()
    put(join(h.data, 'presets', 'evening.json'))
    expect(await readPresets(h)).toEqual([expect.objectContaining({ why: expect.stringMatching(/\w/) })])
  })

  test('in place of the plan of the day', async () => {
    const h = home()
    put(join(h.data, 'day.json'))
    expect(await refused(readDay(h))).toMatch(/^Can't read the plan of the day: /)
  })

  test('in place of the snapshot changes nothing', async () => {
    const h = home()
    put(snapshotFile(h))
    expect(await readPractice(h)).toMatchObject({ visits: [], damaged: [] })
  })

  test('in place of a score that the player names', async () => {
    const path = join(home().data, 'score.mxl')
    put(path)
    const read = await readInput(path)
    expect(read.ok ? '' : sentence(read.problem)).toMatch(/^[^\n]+score\.mxl [^\n]+\. [^\n]+\.$/)
  })
})

test.runIf(process.platform === 'linux')('nothing is added to a device, whatever it takes', async () => {
  const path = join(newHome().data, 'null.jsonl')
  mkdirSync(dirname(path), { recursive: true })
  symlinkSync('/dev/null', path)
  await expect(appendLines(path, ['{}'])).rejects.toSatisfy(e => codeOf(e) === 'EFTYPE')
  await expect(readBytes(path)).rejects.toSatisfy(e => codeOf(e) === 'EFTYPE')
})
