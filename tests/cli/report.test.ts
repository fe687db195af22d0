import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { sectionKey, takeKey } from '../../src/ladder/key.ts'
import { DEFAULT_RULES } from '../../src/ladder/rules.ts'
import { tempo } from '../../src/music/tempo.ts'
import type { NoteBody } from '../../src/repertoire/note.ts'
import { homeAt } from '../../src/store/home.ts'
import { openJournal } from '../../src/store/journal.ts'
import { addNotes } from '../../src/store/notes.ts'
import { practiced } from './practiced.ts'
import { player } from './typed.ts'

const WEIR = 'Weir Street Overture'

let name = 0
const sourcesAt = (time: string) => ({
  wall: () => Date.parse(time),
  offset: () => 60,
  chance: () => `report${String(++name).padStart(4, '0')}`,
})

/** A visit in which the music was stopped at these places, at these tempos. */
const stopped = async (
  home: string,
  key: string,
  day: string,
  stops: readonly (readonly [string, number])[],
) => {
  const journal = await openJournal(homeAt(home), sourcesAt(`${day}T18:00:00Z`))
  await journal.append([{ kind: 'visit', key, rungs: [tempo(100)], at: 0, rules: DEFAULT_RULES }])
  for (const [i, [place, bpm]] of stops.entries())
    await journal.append([
      { kind: 'verdict', rep: i + 1, tempo: tempo(bpm), whole: false, clean: false, place },
    ])
  await journal.close()
}

/** Two weeks on one passage: visits, cold takes, stops, and notes of every kind. */
const lesson = async (title = WEIR, passage = 'run at the weir') => {
  const p = player()
  const add = ['--passage', passage, '--in', '41-44', '--goal', '108', '--ready-by', '2031-03-28']
  await p.type('piece', 'add', title, ...add)
  await p.type('piece', 'add', title, '--in', '1-8', '--goal', '126')
  await p.type('piece', 'add', 'Lantern Study', '--in', '9', '--goal', '80')
  const shown = await p.json('piece', 'show', title)
  const key = sectionKey(shown.passages[0].id)
  const other = sectionKey((await p.json('piece', 'show', 'Lantern Study')).passages[0].id)
  await practiced(p.home, [
    { key, at: '2031-03-03T17:00:00Z', presses: 'CCCN' },
    { key, at: '2031-03-10T17:00:00Z', presses: 'CCCCCCN', rung: 1 },
    { key: takeKey('cold', key), at: '2031-03-11T08:00:00Z', presses: 'C', rung: 1 },
    { key: other, at: '2031-03-12T17:00:00Z', presses: 'CCC' },
  ])
  await stopped(p.home, key, '2031-03-12', [
    ['43.2', 100],
    ['43.2', 104],
    ['41.1', 96],
  ])
  await stopped(p.home, other, '2031-03-13', [['9.1', 80]])
  const noted: readonly NoteBody[] = [
    { kind: 'teacher', text: 'where to breathe?', key },
    { kind: 'teacher', text: 'not about this piece', key: other },
    { kind: 'wrong', what: 'rhythm', text: 'hurried in', place: '43.2', key },
    { kind: 'pain', text: 'left wrist' },
    { kind: 'note', text: 'soft reed', piece: shown.id },
  ]
  await addNotes(homeAt(p.home), sourcesAt('2031-03-13T18:00:00Z'), noted)
  return { ...p, key }
}

describe('a page for a lesson', () => {
  const read = async (): Promise<readonly string[]> => {
    const { type } = await lesson()
    return (await type('report', WEIR)).out.split('\n')
  }

  test('says when and how long was played, of this piece alone', async () => {
    const page = await read()
    expect(page[0]).toBe(WEIR)
    expect(page[2]).toBe('March 3 to March 15: played on 4 of 13 days, 4 minutes.')
    expect(page.join('\n')).not.toContain('Lantern')
  })

  test('has goal, ceiling, secure, ready, clean and the first and last ceiling of each section', async () => {
    const page = await read()
    const at = page.findIndex(l => l.startsWith('section '))
    expect(page.slice(at, at + 3).map(l => l.split(/ {2,}/))).toEqual([
      ['section', 'goal', 'ceiling', 'secure', 'ready', 'clean', 'climbed'],
      ['run at the weir, m. 41-44', 'quarter = 108', '100', '96', 'no', '9 of 14 (64 %)', '92 to 100'],
      ['m. 1-8', 'quarter = 126', 'none', 'none', 'no', 'not played', 'none'],
    ])
  })

  test('says where it stops and at which tempos, and what was noted there', async () => {
    const page = await read()
    const at = page.indexOf('Where it breaks')
    expect(page[at + 2]).toBe(
      '- run at the weir, m. 41-44: breaks most in m. 43, beat 2: 2 of 3 stops, from quarter = 100 up; kind: rhythm 1',
    )
    expect(page.slice(at + 4, at + 7).map(l => l.split(/ {2,}/))).toEqual([
      ['passage', 'place', 'stops', 'at', 'noted'],
      ['run at the weir, m. 41-44', 'm. 43, beat 2', '2', 'quarter = 100 to 104', 'rhythm 1'],
      ['run at the weir, m. 41-44', 'm. 41, beat 1', '1', 'quarter = 96'],
    ])
  })

  test('has the questions and what is ahead', async () => {
    const page = await read()
    expect(page).toContain('- where to breathe? (Weir Street Overture, run at the weir, m. 41-44)')
    expect(page).toContain(
      '- run at the weir, m. 41-44: by March 28, in 13 days, from quarter = 100 to 108, 2 rungs',
    )
    expect(page).toContain('- m. 1-8: no date, to quarter = 126, no ceiling yet')
  })

  test('keeps pain and private notes private unless they are asked for', async () => {
    const { type, json } = await lesson()
    const without = (await type('report', WEIR)).out + JSON.stringify(await json('report', WEIR))
    for (const word of ['wrist', 'reed', 'hurried', 'pain']) expect(without).not.toContain(word)
    const asked = (await type('report', WEIR, '--with-notes')).out
    for (const line of ['- pain: left wrist\n', '- soft reed (Weir Street Overture)\n', ': hurried in ('])
      expect(asked).toContain(line)
  })

  test('of a later time counts only that, with the ceiling after its first day as the first', async () => {
    const { json } = await lesson()
    const { period, sections, daysPlayed } = await json('report', WEIR, '--from', '2031-03-10')
    expect({ period, daysPlayed }).toEqual({
      period: { from: '2031-03-10', to: '2031-03-15' },
      daysPlayed: 3,
    })
    expect(sections[0]).toMatchObject({ verdicts: 10, clean: 6, first: '100', ceiling: '100' })
  })
})

describe('the file', () => {
  test('is Markdown or plain text by its ending, and nothing else', async () => {
    const { home, type } = await lesson()
    const [md, txt, pdf] = ['page.md', 'page.txt', 'page.pdf'].map(f => join(home, f)) as [
      string,
      string,
      string,
    ]
    expect((await type('report', WEIR, '--out', md)).out).toBe(`${md}: a page about ${WEIR}.\n`)
    expect(readFileSync(md, 'utf8')).toContain(
      '| section | goal | ceiling | secure | ready | clean | climbed |\n| --- | --- | --- | --- | --- | --- | --- |\n| run at the weir, m. 41-44 | quarter \\= 108'.replace(
        '\\=',
        '=',
      ),
    )
    await type('report', WEIR, '--out', txt)
    expect(readFileSync(txt, 'utf8')).toBe((await type('report', WEIR)).out)
    const refused = await type('report', WEIR, '--out', pdf)
    expect(refused).toMatchObject({ status: 2, out: '' })
    expect(refused.err).toContain('a file that ends in .md or .txt')
    expect(existsSync(pdf)).toBe(false)
  })

  test('names what is wrong with a day, a name or a folder', async () => {
    const { home, type } = await lesson()
    expect((await type('report', WEIR, '--from', '2031-02-30')).err).toContain(
      "doesn't work for --from. Try 2031-03-15",
    )
    expect((await type('report', WEIR, '--from', '2031-03-16')).status).toBe(2)
    expect((await type('report', 'Coda')).err).toContain(WEIR)
    expect((await type('report', WEIR, '--out', join(home, 'none', 'page.md'))).status).toBe(1)
  })

  test('before the first note says so', async () => {
    const { type } = player()
    await type('piece', 'add', WEIR, '--in', '41-44', '--goal', '138')
    const { out } = await type('report', WEIR)
    expect(out).toContain('March 15: played on 0 of 1 day, 0 minutes.')
    expect(out).toContain('No stops in this time.')
    expect(out).toContain('None noted.')
  })
})
