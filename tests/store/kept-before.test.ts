import { cpSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { player } from '../cli/typed.ts'

const KEPT = join(import.meta.dirname, 'kept-before')

/**
 * Pieces, journal and notes as a player's disk holds them, with every kind of key there is, and what they were read to
 * when they were written. Whoever makes this fail takes history away from players.
 */
test('what was kept before is read to the same answers', async () => {
  const { home, json } = player()
  cpSync(join(KEPT, 'data'), join(home, 'data'), { recursive: true })
  const answers = JSON.parse(readFileSync(join(KEPT, 'answers.json'), 'utf8'))

  expect((await json('diary', '--from', '2031-03-01')).days).toMatchObject(answers.diary)
  expect((await json('progress')).sections).toMatchObject(answers.progress)
  expect((await json('notes')).notes).toMatchObject(answers.notes)
  const { pieces } = await json('pieces')
  expect(pieces.flatMap((p: { passages: unknown[] }) => p.passages)).toMatchObject(answers.pieces)
  expect(await json('report', 'Weir Street Overture')).toMatchObject(answers.report)
})
