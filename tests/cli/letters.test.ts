import { expect, test } from 'vitest'
import { sectionKey } from '../../src/ladder/key.ts'
import { DEFAULT_RULES } from '../../src/ladder/rules.ts'
import { tempo } from '../../src/music/tempo.ts'
import { homeAt } from '../../src/store/home.ts'
import { openJournal } from '../../src/store/journal.ts'
import { addNotes } from '../../src/store/notes.ts'
import { player } from './typed.ts'

const WEIR = 'Weir Street Overture'
let name = 0
const sources = {
  wall: () => Date.parse('2031-03-15T10:00:00Z'),
  offset: () => 60,
  chance: () => `letters${String(++name).padStart(4, '0')}`,
}

test('a measure is known by its rehearsal mark in the report, in the notes, and where its marks are listed', async () => {
  const { home, type, json } = player()
  const marks = ['--rehearsal', '42=C', '--breath', '43.2', '--change', '44=3/4']
  await type('piece', 'add', WEIR, '--passage', 'run', '--in', '41-44', '--goal', '108', ...marks)
  const key = sectionKey((await json('piece', 'show', WEIR)).passages[0].id)
  const journal = await openJournal(homeAt(home), sources)
  await journal.append([{ kind: 'visit', key, rungs: [tempo(100)], at: 0, rules: DEFAULT_RULES }])
  for (const rep of [1, 2])
    await journal.append([
      { kind: 'verdict', rep, tempo: tempo(100), whole: false, clean: false, place: '43.2' },
    ])
  await journal.close()
  await addNotes(homeAt(home), sources, [{ kind: 'wrong', what: 'rhythm', text: '', place: '44.1', key }])

  const report = (await type('report', WEIR, '--with-notes')).out
  expect(report).toMatch(/run, m\. 41-44 +m\. 43 \(C\+1\), beat 2 +2 /)
  expect(report).toContain('- went wrong: rhythm, m. 44 (C+2), beat 1')
  expect((await json('report', WEIR)).breaks[0]).toMatchObject({ place: '43.2', letter: 'C+1' })
  expect((await type('notes')).out).toContain('rhythm, m. 44 (C+2), beat 1')
  const shown = (await type('piece', 'show', WEIR)).out
  expect(shown).toContain('breathe before m. 43 (C+1), beat 2')
  expect(shown).toContain('m. 44 (C+2): 3/4')
  expect((await type('note', '--take-back')).out).toContain('rhythm, m. 44 (C+2), beat 1')
})
