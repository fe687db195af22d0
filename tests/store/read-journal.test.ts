import { copyFileSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import fc from 'fast-check'
import { expect, it } from 'vitest'
import type { Event } from '../../src/ladder/event.ts'
import { journalNotes, openJournal } from '../../src/store/journal.ts'
import { recordId } from '../../src/store/log.ts'
import { decode, encode } from '../../src/store/record.ts'
import { allEvents, gather, parseJournal } from './all-events.ts'
import { share } from './journals.ts'
import { happening, newHome, sources } from './scene.ts'
import { opening, verdict } from './visit.ts'

const at = { time: '2026-03-14T15:00:00.000Z', offset: 60 }
const event = (session: string, n: number, body = n === 1 ? opening() : verdict(n)): Event => ({
  ...body,
  id: recordId(session, n),
  session,
  n,
  visit: recordId(session, 1),
  ...at,
})
const visit = (session: string, length: number): Event[] =>
  Array.from({ length }, (_, i) => event(session, i + 1))
const record = (e: Event): string => `\n${encode(e)}\n`
const text = (events: readonly Event[]): string => events.map(record).join('')

it('ids sort as text in the order of their numbers', () => {
  const ids = [1, 2, 9, 10, 99, 100, 4711, 999_999].map(n => recordId('desk', n))
  expect([...ids].sort()).toEqual(ids)
})

it('every record that is whole is read, wherever the file is cut, and so is what is written after the cut', () => {
  const events = fc
    .array(happening, { minLength: 1, maxLength: 12 })
    .map(bodies => [event('desk', 1), ...bodies.map((b, i) => event('desk', i + 2, b))])
  fc.assert(
    fc.property(events, share, (all, share) => {
      const bytes = Buffer.from(text(all))
      const cut = Math.floor(share * bytes.length)
      const left = bytes.subarray(0, cut)
      let end = 0
      const whole = all.filter(e => {
        end += Buffer.byteLength(record(e))
        // The last newline may be missing: the record is whole without it.
        return end - 1 <= cut
      })
      const after = event('door', 1)
      const read = parseJournal(left.toString('utf8') + record(after), 'march')
      expect(read.records.map(e => e.id)).toEqual([...whole, after].map(e => e.id))
      expect(read.damaged.length).toBeLessThanOrEqual(1)
    }),
    { numRuns: 500 },
  )
})

it('any rubbish between records costs no record and never throws', () => {
  const rubbish = fc.oneof(
    fc.string(),
    fc.json(),
    fc.constant('\0\0\0\0'),
    fc.constant('{"v":1,"k":"verdict"}'),
  )
  fc.assert(
    fc.property(fc.array(rubbish, { minLength: 6, maxLength: 6 }), parts => {
      const all = visit('desk', 5)
      const read = parseJournal(parts.map((r, i) => r + (all[i] ? record(all[i]) : '')).join(''), 'march')
      expect(gather([read]).visits).toEqual([all])
    }),
    { numRuns: 300 },
  )
})

it('a line is an event, newer, or damaged, whatever it is', () => {
  fc.assert(
    fc.property(fc.oneof(fc.json(), fc.string()), line => {
      expect(['newer', 'damaged']).toContain(decode(line))
    }),
    { numRuns: 1000 },
  )
})

it('damaged lines are skipped and told with their file and line, without control characters', () => {
  const lines = text(visit('desk', 3)).split('\n')
  lines[3] = '{"v":1,"id":"desk-0000\u001b[2J'
  const read = gather([parseJournal(lines.join('\n'), 'march\u001b[31m.jsonl')])
  expect(read.damaged).toEqual([{ file: 'march [31m.jsonl', line: 4 }])
  expect(read.visits[0]?.map(e => e.n)).toEqual([1, 3])
  expect(journalNotes(read)).toEqual([
    'The journal has a damaged place that was skipped: march [31m.jsonl, line 4.',
  ])
})

it.each([
  ['a number that is no number', { rep: '3' }],
  ['a tempo of nothing', { tempo: { unit: { n: 1, d: 4 }, bpm: { n: 0, d: 1 } } }],
  ['a note value of nothing', { tempo: { unit: { n: 1, d: 0 }, bpm: { n: 92, d: 1 } } }],
  ['a time that is none', { time: 'yesterday' }],
  ['an offset beyond a day', { offset: 2000 }],
  ['an id that leads elsewhere', { id: '../desk-000002' }],
  ['a visit of another session', { visit: 'door-000001' }],
  ['a visit that opens later', { visit: 'desk-000009' }],
  ['a press that is an opening too', { visit: 'desk-000002' }],
  ['an opening in the middle', { k: 'visit', ...(({ kind: _, ...rest }) => rest)(opening()) }],
  ['version nought', { v: 0 }],
])('%s is damage', (_, part) => {
  const line = { ...JSON.parse(encode(event('desk', 2))), ...part }
  expect(decode(JSON.stringify(line))).toBe('damaged')
})

it('fractions come back reduced, and text without control characters', () => {
  const line = JSON.parse(encode(event('desk', 2)))
  line.tempo = { unit: { n: 2, d: 8 }, bpm: { n: 184, d: 2 } }
  line.place = 'm. 43\u001b]0;title\u0007'
  expect(decode(JSON.stringify(line))).toMatchObject({
    tempo: { unit: { n: 1, d: 4 }, bpm: { n: 92, d: 1 } },
    place: 'm. 43 ]0;title ',
  })
})

it('records of a newer version, and kinds that are not known yet, are counted and explained', () => {
  const newer = { ...JSON.parse(encode(event('desk', 2))), v: 2 }
  const odd = { ...JSON.parse(encode(event('desk', 3))), k: 'take' }
  const read = gather([
    parseJournal(`${text(visit('desk', 1))}${JSON.stringify(newer)}\n${JSON.stringify(odd)}`, 'march'),
  ])
  expect(read).toMatchObject({ unknown: 2, damaged: [] })
  expect(read.visits[0]).toHaveLength(1)
  expect(journalNotes(read)).toEqual([
    '2 lines of the journal came from a newer Gradino and did not count here; nothing is lost.',
  ])
})

it('a visit whose opening line is lost is not counted, and that is said', () => {
  const read = gather([parseJournal(text(visit('desk', 3).slice(1)), 'march')])
  expect(read).toMatchObject({ visits: [], unopened: 2 })
  expect(journalNotes(read)).toEqual([
    '2 lines of the journal did not count: the opening of their visit is lost.',
  ])
})

it('two machines and the copies that a sync tool made are one journal, in any order of the files', () => {
  const [a, b] = [visit('aaaa', 6), visit('bbbb', 4)]
  const files = [a, b, a.slice(0, 3), [...b].reverse()].map(part => parseJournal(text(part), 'march'))
  const once = gather(files)
  expect(once.visits).toEqual([a, b])
  fc.assert(
    fc.property(fc.shuffledSubarray(files, { minLength: files.length }), shuffled => {
      expect(gather(shuffled)).toEqual(once)
    }),
  )
})

it('a clock that goes back changes no order', () => {
  const all = visit('desk', 4).map((e, i) => ({ ...e, time: `2026-03-14T1${9 - i}:00:00.000Z` }))
  expect(gather([parseJournal(text(all), 'march')]).visits[0]?.map(e => e.n)).toEqual([1, 2, 3, 4])
})

it('all .jsonl files of all machine folders are read; a conflict copy adds only what is new', async () => {
  const home = newHome()
  const journal = await openJournal(home, sources('desk'))
  await journal.append([opening()])
  const folder = join(home.data, 'journal', 'desk0001')
  const copy = join(folder, '2026-03 (copy from the laptop).jsonl')
  copyFileSync(join(folder, '2026-03.jsonl'), copy)
  writeFileSync(copy, readFileSync(copy, 'utf8') + text(visit('laptop', 2)))
  mkdirSync(join(home.data, 'journal', 'other'))
  writeFileSync(join(home.data, 'journal', 'other', '2026-02.jsonl'), text(visit('other', 1)))
  writeFileSync(join(folder, 'notes.txt'), 'not a journal')
  mkdirSync(join(folder, 'folder.jsonl'))
  const read = await allEvents(home)
  expect(read.visits.map(v => v[0]?.session).sort()).toEqual(['desk0002', 'laptop', 'other'])
  expect(read.damaged).toEqual([{ file: join(folder, 'folder.jsonl'), line: 0 }])
})

it('before the first note there is an empty journal', async () => {
  expect(await allEvents(newHome())).toEqual({ visits: [], damaged: [], unknown: 0, unopened: 0 })
})
