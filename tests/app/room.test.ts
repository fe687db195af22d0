import { expect, test, vi } from 'vitest'
import { contextFrom } from '../../src/app/context.ts'
import { readPracticed } from '../../src/app/now.ts'
import { inRoom, noting, remembering } from '../../src/app/room.ts'
import { wrongsKept } from '../../src/app/sitting.ts'
import type { Body } from '../../src/ladder/event.ts'
import { sectionKey } from '../../src/ladder/key.ts'
import { DEFAULT_RULES } from '../../src/ladder/rules.ts'
import { tempo } from '../../src/music/tempo.ts'
import { ALL_CAUTIONS } from '../../src/screens/words.ts'
import type { Home } from '../../src/store/home.ts'
import { openJournal } from '../../src/store/journal.ts'
import { readNotes } from '../../src/store/notes.ts'
import { player } from '../cli/typed.ts'
import { newHome, sources } from '../store/scene.ts'

const visit = (key: string): Body => ({
  kind: 'visit',
  key,
  rungs: [92, 96, 100].map(t => tempo(t)),
  at: 0,
  rules: DEFAULT_RULES,
})
const contextAt = (home: Home) => {
  const { chance, wall, offset } = sources('desk')
  return { home, chance, clock: { wall, offset, now: () => 0, later: () => () => {}, real: false } }
}
const clean = (rep: number): Body => ({ kind: 'verdict', rep, tempo: tempo(92), whole: true, clean: true })

test('what is stored in a room is known there as if the journal had been read again', async () => {
  const home = newHome()
  const desk = sources('desk')
  const earlier = await openJournal(home, desk)
  await earlier.append([visit(sectionKey('run')), clean(1)])
  await earlier.close()
  const { journal, practiced: now } = remembering(
    await openJournal(home, desk),
    await readPracticed({ home }),
  )
  const same = async (): Promise<void> => expect(now().visits).toEqual((await readPracticed({ home })).visits)
  await same()
  const [opened] = await journal.append([visit(sectionKey('run')), clean(1)])
  await same()
  await journal.append([visit(sectionKey('coda')), clean(1)])
  // Two visits of one room are under way in turn.
  await journal.append([clean(2), clean(3)], opened?.visit)
  await same()
})

test('a note that is made in a room is known there; one that is taken back is not', async () => {
  const home = newHome()
  const { notes, note, takeBack } = noting(contextAt(home), [])
  const made = await note({ kind: 'tomorrow', text: 'The shift in m. 43.' })
  await note({ kind: 'teacher', text: 'Which finger?' })
  expect(notes()).toEqual((await readNotes(home)).notes)
  await takeBack(made?.id ?? '')
  expect(notes().map(n => n.text)).toEqual(['Which finger?'])
})

test('what went wrong is kept beside its verdict, and said a second time it is taken back', async () => {
  const home = newHome()
  const keep = wrongsKept(noting(contextAt(home), []), 'section run even')
  const kept = async () => (await readNotes(home)).notes.map(n => n.kind === 'wrong' && [n.what, n.place])
  expect(await keep('rhythm', '43.2', 'first')).toBe('Noted: rhythm. The same key takes it back.')
  expect(await keep('notes', '43.2', 'first')).toMatch(/^Noted: notes/)
  expect(await keep('rhythm', '43.2', 'first')).toBe('Taken back: rhythm.')
  expect(await kept()).toEqual([['notes', '43.2']])
  // The same slip of another repetition is another note.
  await keep('notes', '43.2', 'second')
  expect(await kept()).toHaveLength(2)
})

test('the cautions are said before the first screen that sounds, whichever it is, and once', async () => {
  const { home } = player()
  vi.stubEnv('GRADINO_NOW', '2031-03-15T12:00:00Z')
  const ctx = contextFrom({ home, plain: true })
  let said = ''
  vi.spyOn(process.stdout, 'write').mockImplementation(s => {
    said += String(s)
    return true
  })
  const open = () => inRoom(ctx, { how: { output: 'silent' } }, async () => said)
  expect(await open()).toEqual({ ok: true, value: `${ALL_CAUTIONS.join('\n')}\n` })
  said = ''
  expect(await open()).toEqual({ ok: true, value: '' })
})
