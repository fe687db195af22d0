import { existsSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { checkJournal } from '../../src/store/check-journal.ts'
import { journalFolder } from '../../src/store/journal.ts'
import { recordId } from '../../src/store/log.ts'
import { decode } from '../../src/store/record.ts'
import { readPractice, snapshotFile } from '../../src/store/snapshot.ts'
import { allEvents } from './all-events.ts'
import { after, type Files, fates, journals, lay, record } from './journals.ts'
import { newHome } from './scene.ts'
import { opening, verdict } from './visit.ts'

/** The same counts made slowly, from the texts of the files. */
const counted = (files: Files) => {
  const names = Object.keys(files).sort()
  const lines = names.flatMap(name =>
    (files[name] ?? '')
      .split('\n')
      .filter(line => line.trim() !== '')
      .map(line => ({ name, line, found: decode(line) }))
      .filter(({ found }) => found !== 'damaged'),
  )
  const numbers = lines.flatMap(({ name, line }) => {
    const [, session = '', n = ''] = /"id":"(\w+)-(\d+)"/.exec(line) ?? []
    return session === '' ? [] : [{ name, session, n: Number(n) }]
  })
  const missing = new Map<string, number>()
  for (const session of new Set(numbers.map(i => i.session))) {
    const own = numbers.filter(i => i.session === session)
    const gaps = Math.max(...own.map(i => i.n)) - new Set(own.map(i => i.n)).size
    const name = own[0]?.name ?? ''
    if (gaps > 0) missing.set(name, (missing.get(name) ?? 0) + gaps)
  }
  const inFiles = new Set(
    lines.flatMap(({ name, found }) => (typeof found === 'string' ? [] : [`${found.visit} in ${name}`])),
  )
  const visits = new Set([...inFiles].map(v => v.slice(0, v.indexOf(' '))))
  return { files: names.length, lines: lines.length, missing, twice: inFiles.size - visits.size }
}

test('the check counts what the files hold, whatever became of them', async () => {
  const told = { missing: 0, twice: 0, damaged: 0, unopened: 0 }
  await fc.assert(
    fc.asyncProperty(
      journals,
      fc.array(fc.tuple(fc.nat(20), fates), { maxLength: 3, size: 'max' }),
      fc.boolean(),
      async (whole, steps, headless) => {
        const home = newHome()
        // Every other journal has lost the beginning of its first file.
        const first = headless ? after(whole, 0, { kind: 'tail', share: 0.5 }) : whole
        const files = steps.reduce((f, step) => after(f, ...step), first)
        lay(home, files)
        const check = await checkJournal(home)
        const { missing, ...expected } = counted(files)
        const truth = await allEvents(home)
        expect(check).toEqual({
          ...expected,
          visits: truth.visits.length,
          missing: expect.any(Array),
          snapshot: 'none',
          damaged: truth.damaged,
          unknown: truth.unknown,
          unopened: truth.unopened,
        })
        expect(new Map(check.missing.map(m => [m.file, m.lines]))).toEqual(
          new Map([...missing].map(([name, n]) => [join(journalFolder(home), name), n])),
        )
        told.missing += missing.size
        told.twice += check.twice
        told.damaged += check.damaged.length
        told.unopened += check.unopened
        rmSync(join(home.data, '..'), { recursive: true, force: true })
      },
    ),
    { numRuns: 25 },
  )
  for (const [what, times] of Object.entries(told)) expect(times, what).toBeGreaterThan(0)
})

test('a snapshot that agrees stays where it is; one that differs is taken away', async () => {
  const home = newHome()
  const text = [opening(), ...Array.from({ length: 40 }, (_, i) => verdict(i + 1))]
    .map((body, i) => ({
      ...body,
      id: recordId('desk', i + 1),
      session: 'desk',
      n: i + 1,
      visit: recordId('desk', 1),
      time: '2031-03-14T15:00:00.000Z',
      offset: 60,
    }))
    .map(record)
    .join('')
  lay(home, { 'desk/2031-03.jsonl': text })
  await readPractice(home, 0)
  expect((await checkJournal(home)).snapshot).toBe('agrees')
  expect(existsSync(snapshotFile(home))).toBe(true)
  // the same size and the same last lines
  lay(home, { 'desk/2031-03.jsonl': text.replace('"clean":true', '"clean":null') })
  expect((await checkJournal(home)).snapshot).toBe('differed')
  expect(existsSync(snapshotFile(home))).toBe(false)
})

test('an empty journal agrees with everything', async () => {
  const home = newHome()
  const nothing = {
    files: 0,
    lines: 0,
    visits: 0,
    twice: 0,
    missing: [],
    damaged: [],
    unknown: 0,
    unopened: 0,
  }
  expect(await checkJournal(home)).toEqual({ ...nothing, snapshot: 'none' })
  await readPractice(home, 0)
  expect(await checkJournal(home)).toEqual({ ...nothing, snapshot: 'none' })
})
