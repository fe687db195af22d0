import { appendFileSync, copyFileSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { printable } from '../../src/music/result.ts'
import {
  firstThing,
  type Note,
  type NoteBody,
  noteDay,
  painToday,
  WRONGS,
} from '../../src/repertoire/note.ts'
import type { Home } from '../../src/store/home.ts'
import { addNotes, NOTES, notesFolder, notesTrouble, readNotes, takeBackNote } from '../../src/store/notes.ts'
import { StoreError } from '../../src/store/trouble.ts'
import { AFTERNOON, newHome, sources } from './scene.ts'

const HOUR = 3_600_000

/** The only file of notes there is. */
const fileOf = (home: Home): string => {
  const [file, ...more] = readdirSync(notesFolder(home), { recursive: true }).filter(n =>
    String(n).endsWith('.jsonl'),
  )
  expect(more).toEqual([])
  return join(notesFolder(home), String(file))
}

const texts = async (home: Home): Promise<readonly string[]> => (await readNotes(home)).notes.map(n => n.text)

describe('notes are kept', () => {
  test('each on a line of its own with a newline in front, in the month of its day', async () => {
    const home = newHome()
    await addNotes(home, sources('desk', Date.UTC(2026, 3, 1, 1, 30)), [{ kind: 'note', text: 'soft reed' }])
    const file = fileOf(home)
    expect(file).toMatch(/notes.desk0001.2026-03\.jsonl$/)
    expect(readFileSync(file, 'utf8')).toBe(
      '\n{"v":1,"id":"desk0002-000001","time":"2026-04-01T01:30:00.000Z","offset":60,"k":"note","text":"soft reed"}\n',
    )
    expect(statSync(file).mode & 0o777).toBe(0o600)
  })

  test('whatever they say is read back', async () => {
    const some = fc
      .string({ minLength: 1, maxLength: 80, unit: 'binary' })
      .filter(s => printable(s).trim() !== '')
    const body: fc.Arbitrary<NoteBody> = fc.oneof(
      fc.record(
        {
          kind: fc.constantFrom('note', 'tomorrow', 'teacher', 'pain'),
          text: some,
          piece: some,
          key: some,
        },
        { requiredKeys: ['kind', 'text'] },
      ),
      fc.record(
        {
          kind: fc.constant('wrong' as const),
          what: fc.constantFrom(...WRONGS),
          text: fc.string(),
          place: some,
        },
        { requiredKeys: ['kind', 'what', 'text'] },
      ),
    ) as fc.Arbitrary<NoteBody>
    await fc.assert(
      fc.asyncProperty(fc.array(body, { minLength: 1, maxLength: 5 }), async bodies => {
        const home = newHome()
        const stored = await addNotes(home, sources('desk'), bodies)
        const read = await readNotes(home)
        expect(read).toEqual({ notes: stored, damaged: [], unknown: 0 })
        expect(read.notes.map(n => [n.kind, n.text])).toEqual(bodies.map(b => [b.kind, printable(b.text)]))
      }),
      { numRuns: 20 },
    )
  })

  test('a note without a word is none, but pain needs no word', async () => {
    const home = newHome()
    await expect(addNotes(home, sources('desk'), [{ kind: 'teacher', text: ' ' }])).rejects.toThrow(
      RangeError,
    )
    await addNotes(home, sources('desk'), [{ kind: 'pain', text: '' }])
    expect(await texts(home)).toEqual([''])
  })

  test('where they cannot be kept one sentence says so', async () => {
    const home = newHome()
    await addNotes(home, sources('desk'), [{ kind: 'note', text: 'first' }])
    const blocked = { ...home, data: fileOf(home) }
    const failing = addNotes(blocked, sources('desk'), [{ kind: 'note', text: 'second' }])
    await expect(failing).rejects.toThrow(StoreError)
    await expect(failing).rejects.toThrow(/^Can't store the note: a part of .* is a file, not a folder/)
  })
})

describe('a note can be taken back', () => {
  const two = async (home: Home) =>
    (await addNotes(home, sources('desk'), [
      { kind: 'pain', text: 'left wrist' },
      { kind: 'note', text: 'soft reed' },
    ])) as readonly [Note, Note]

  test('by a line that is added: what was written stays, and is no longer read', async () => {
    const home = newHome()
    const [pain] = await two(home)
    const before = readFileSync(fileOf(home), 'utf8')
    await takeBackNote(home, sources('more', AFTERNOON + HOUR), pain.id)
    expect(readFileSync(fileOf(home), 'utf8').startsWith(before)).toBe(true)
    const read = await readNotes(home)
    expect(read).toMatchObject({ damaged: [], unknown: 0 })
    expect(read.notes.map(n => n.text)).toEqual(['soft reed'])
    expect(painToday(read.notes, noteDay(pain))).toBe(false)
  })

  test('twice is once, and one that is not here changes nothing', async () => {
    const home = newHome()
    const [pain] = await two(home)
    for (const id of [pain.id, pain.id, 'nowhere1-000001'])
      await takeBackNote(home, sources('more', AFTERNOON + HOUR), id)
    expect(await texts(home)).toEqual(['soft reed'])
  })

  test('from another machine too, whichever line is read first', async () => {
    const [desk, lap] = [newHome(), newHome()]
    const [pain] = await two(desk)
    await takeBackNote(lap, sources('lap', AFTERNOON - HOUR), pain.id)
    copyFileSync(fileOf(lap), join(notesFolder(desk), 'a first file.jsonl'))
    expect(await texts(desk)).toEqual(['soft reed'])
  })

  test('a line that takes back nothing that can be named is damaged', () => {
    const line = (of: string) =>
      `{"v":1,"id":"desk0001-000009","time":"2026-03-14T15:00:00.000Z","offset":60,"k":"takeBack","of":"${of}"}`
    expect(NOTES.decode(line('desk0001-000001'))).toMatchObject({ kind: 'takeBack', of: 'desk0001-000001' })
    expect(NOTES.decode(line('desk0001-000001').replace('takeBack', 'back'))).toEqual(
      NOTES.decode(line('desk0001-000001')),
    )
    expect(NOTES.decode(line('the last one'))).toBe('damaged')
  })
})

describe('notes are read', () => {
  test('around damaged lines, which are counted, and those of a newer program', async () => {
    const home = newHome()
    await addNotes(home, sources('desk'), [{ kind: 'note', text: 'before' }])
    const file = fileOf(home)
    // A power cut inside a line; the next one begins with a newline, so nothing else is lost.
    appendFileSync(file, '\n{"v":1,"id":"desk0009-0000')
    appendFileSync(
      file,
      '\n{"v":2,"id":"desk0009-000001","k":"note"}\n\n{"v":1,"k":"note","text":"no label"}\n',
    )
    await addNotes(home, sources('more', AFTERNOON + HOUR), [{ kind: 'note', text: 'after' }])
    const read = await readNotes(home)
    expect(read.notes.map(n => n.text)).toEqual(['before', 'after'])
    expect(read.damaged.map(d => d.line)).toEqual([4, 7])
    expect(read.unknown).toBe(1)
    expect(notesTrouble(read)).toEqual([
      `The notes have 2 damaged places that were skipped; the first: ${file}, line 4.`,
      '1 line of the notes came from a newer Gradino and did not count here; nothing is lost.',
    ])
  })

  test('from all machines, each once, by time; a damaged copy changes nothing', async () => {
    const [desk, lap] = [newHome(), newHome()]
    await addNotes(desk, sources('desk', AFTERNOON), [{ kind: 'note', text: 'second' }])
    await addNotes(lap, sources('lap', AFTERNOON - HOUR), [{ kind: 'note', text: 'first' }])
    const here = fileOf(desk)
    copyFileSync(fileOf(lap), join(notesFolder(desk), 'from the other machine.jsonl'))
    copyFileSync(here, here.replace('.jsonl', ' (copy).jsonl'))
    expect(await texts(desk)).toEqual(['first', 'second'])
    writeFileSync(here.replace('.jsonl', ' (copy).jsonl'), readFileSync(here, 'utf8').replace('second', 'zz'))
    expect(await texts(desk)).toEqual(['first', 'second'])
  })

  test('none where none were ever written', async () => {
    expect(await readNotes(newHome())).toEqual({ notes: [], damaged: [], unknown: 0 })
  })

  test('any line is a note, newer or damaged, never an error', () => {
    const line = NOTES.encode({
      id: 'desk0001-000001',
      time: '2026-03-14T15:00:00.000Z',
      offset: 60,
      kind: 'pain',
      text: '',
    })
    expect(NOTES.decode(line)).toMatchObject({ kind: 'pain' })
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.json(),
          fc.nat(line.length).map(n => line.slice(0, n)),
        ),
        s => {
          const read = NOTES.decode(s)
          if (s === line) expect(read).toMatchObject({ kind: 'pain' })
          else expect(['newer', 'damaged']).toContain(read)
        },
      ),
    )
  })
})

const note = (time: string, k: 'note' | 'tomorrow' | 'pain', text = ''): Note => ({
  id: `desk0001-${time.replace(/\D/g, '').slice(6, 12)}`,
  time,
  offset: 60,
  kind: k,
  text,
})

describe('what a note asks of a day', () => {
  test('pain counts for its own day, which ends at four in the night', () => {
    const notes = [note('2026-03-14T23:00:00.000Z', 'pain')]
    expect(painToday(notes, '2026-03-14')).toBe(true)
    expect(painToday(notes, '2026-03-15')).toBe(false)
    expect(painToday([note('2026-03-14T23:00:00.000Z', 'note', 'pain')], '2026-03-14')).toBe(false)
  })

  test('first come the wishes of the last day that had any, and only once that day is over', () => {
    const notes = [
      note('2026-03-10T15:00:00.000Z', 'tomorrow', 'scales in F'),
      note('2026-03-12T15:00:00.000Z', 'tomorrow', 'measure 43'),
      note('2026-03-12T15:30:00.000Z', 'note', 'soft reed'),
      note('2026-03-12T16:00:00.000Z', 'tomorrow', 'the seam'),
      note('2026-03-14T15:00:00.000Z', 'tomorrow', 'not yet'),
    ]
    expect(firstThing(notes, '2026-03-14').map(n => n.text)).toEqual(['measure 43', 'the seam'])
    expect(firstThing(notes, '2026-03-10')).toEqual([])
  })
})
