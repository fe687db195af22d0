import { expect, test } from 'vitest'
import { storeSections } from '../../src/app/change-passage.ts'
import { contextFrom } from '../../src/app/context.ts'
import { homeAt } from '../../src/store/home.ts'
import { repertoire } from '../../src/store/repertoire.ts'
import { player } from './typed.ts'

const WEIR = 'Weir Street Overture'
const RUN = [WEIR, '--passage', 'run', '--in', '41-48', '--goal', '138']

/** The piece as it was read, and what stores sections of its passage. */
const reading = async (home: string) => {
  const store = repertoire(homeAt(home, {}))
  const piece = (await store.list()).pieces[0]?.piece
  const passage = piece?.passages[0]
  if (!piece || !passage) throw new Error('no passage')
  const keep = storeSections(contextFrom({ home }, {}), piece)
  return { store, piece, keep: (...s: Parameters<typeof keep>[1]) => keep(passage, s) }
}
const hard = { name: 'm. 42-43', from: '42', to: '44.2' }

test('a hard spot becomes a section that can be practiced by its name', async () => {
  const { home, type, json } = player()
  await type('piece', 'add', ...RUN)
  const { keep } = await reading(home)
  expect(await keep(hard)).toEqual({ ok: true, value: ['m. 42-43'] })
  const { passages } = await json('piece', 'show', WEIR)
  expect(passages[0].sections).toMatchObject([{ name: 'm. 42-43', from: '42', to: '44.2' }])
  // The screen is asked for by name; only the terminal is missing.
  const said = await type('practice', `${WEIR}/run/m. 42-43`)
  expect(said.err).toContain('needs a terminal')
})

test('what was added elsewhere in the piece meanwhile stays', async () => {
  const { home, type, json } = player()
  await type('piece', 'add', ...RUN)
  const { keep } = await reading(home)
  await type('piece', 'add', WEIR, '--passage', 'coda', '--in', '80-83', '--goal', '100')
  expect(await keep(hard)).toMatchObject({ ok: true })
  const { passages } = await json('piece', 'show', WEIR)
  expect(passages.map((p: { name: string }) => p.name)).toEqual(['run', 'coda'])
})

test('of a passage whose music was changed meanwhile nothing is stored', async () => {
  const { home, type } = player()
  await type('piece', 'add', ...RUN)
  const { keep, store, piece } = await reading(home)
  const [kept] = (await store.list()).pieces
  await store.save(
    { ...piece, passages: piece.passages.map(p => ({ ...p, meter: '3/4' })) },
    kept?.seen ?? null,
  )
  expect(await keep(hard)).toEqual({
    ok: false,
    message: 'Someone changed or removed this passage in the meantime. Nothing was stored; open it again.',
  })
})

test('a name that is none, a tempo that is none and a missing terminal are said in one sentence', async () => {
  const { type } = player()
  expect(await type('read', 'Weir')).toMatchObject({
    status: 2,
    err: expect.stringContaining('You have no pieces yet'),
  })
  await type('piece', 'add', ...RUN)
  const tempo = await type('read', 'Weir', '--at', 'slow')
  expect(tempo).toMatchObject({
    status: 2,
    err: expect.stringContaining('"slow" doesn\'t work for the tempo of the reading'),
  })
  expect(await type('read', 'Weir')).toMatchObject({ status: 2, err: expect.stringContaining('--plain') })
})
