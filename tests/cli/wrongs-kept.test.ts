import { expect, test } from 'vitest'
import { noting } from '../../src/app/room.ts'
import { wrongsKept } from '../../src/app/sitting.ts'
import { readNotes } from '../../src/store/notes.ts'
import { newHome, sources } from '../store/scene.ts'

test('what went wrong is kept beside its verdict, and said a second time it is taken back', async () => {
  const home = newHome()
  const { chance, wall, offset } = sources('desk')
  const clock = { wall, offset, now: () => 0, later: () => () => {}, real: false }
  const keep = wrongsKept(noting({ home, clock, chance }, []), 'section run even')
  const kept = async () => (await readNotes(home)).notes.map(n => n.kind === 'wrong' && [n.what, n.place])
  expect(await keep('rhythm', '43.2', 'first')).toBe('Noted: rhythm. The same key takes it back.')
  expect(await keep('notes', '43.2', 'first')).toMatch(/^Noted: notes/)
  expect(await keep('rhythm', '43.2', 'first')).toBe('Taken back: rhythm.')
  expect(await kept()).toEqual([['notes', '43.2']])
  // The same slip of another repetition is another note.
  await keep('notes', '43.2', 'second')
  expect(await kept()).toHaveLength(2)
})
