import { expect, test } from 'vitest'
import { readPracticed } from '../../src/app/now.ts'
import { noting, remembering } from '../../src/app/room.ts'
import type { Body } from '../../src/ladder/event.ts'
import { sectionKey } from '../../src/ladder/key.ts'
import { DEFAULT_RULES } from '../../src/ladder/rules.ts'
import { tempo } from '../../src/music/tempo.ts'
import { openJournal } from '../../src/store/journal.ts'
import { readNotes } from '../../src/store/notes.ts'
import { newHome, sources } from '../store/scene.ts'

const visit = (key: string): Body => ({
  kind: 'visit',
  key,
  rungs: [92, 96, 100].map(t => tempo(t)),
  at: 0,
  rules: DEFAULT_RULES,
})
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
  const { chance, wall, offset } = sources('desk')
  const clock = { wall, offset, now: () => 0, later: () => () => {}, real: false }
  const { notes, note, takeBack } = noting({ home, clock, chance }, [])
  const made = await note({ kind: 'tomorrow', text: 'The shift in m. 43.' })
  await note({ kind: 'teacher', text: 'Which finger?' })
  expect(notes()).toEqual((await readNotes(home)).notes)
  await takeBack(made?.id ?? '')
  expect(notes().map(n => n.text)).toEqual(['Which finger?'])
})
