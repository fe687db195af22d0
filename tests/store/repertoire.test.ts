import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { basename, join } from 'node:path'
import { expect, it } from 'vitest'
import type { Piece } from '../../src/repertoire/piece.ts'
import { pieceText } from '../../src/repertoire/piece.ts'
import type { Home } from '../../src/store/home.ts'
import { repertoire } from '../../src/store/repertoire.ts'
import { StoreError } from '../../src/store/trouble.ts'
import { newHome, overture } from './scene.ts'

const folder = (home: Home): string => join(home.data, 'pieces')
const FILE = 'weir-street-overture-a1b2c3d4.json'
const onStand = async () => {
  const home = newHome()
  const all = repertoire(home)
  const saved = await all.save(overture, null)
  if (!saved.ok) throw new Error(saved.message)
  return { home, all, seen: saved.value, path: join(folder(home), FILE) }
}
const retitled: Piece = { ...overture, title: 'Weir Street, new parts' }

it('a piece is one readable file and comes back from it', async () => {
  const { home, all, seen, path } = await onStand()
  expect(readFileSync(path, 'utf8')).toContain('\n  "title": "Weir Street Overture",\n')
  expect(await all.list()).toEqual({ pieces: [{ piece: overture, seen, file: path }], notes: [] })
  expect(readdirSync(folder(home))).toEqual([FILE])
  if (process.platform !== 'win32') expect(statSync(path).mode & 0o777).toBe(0o600)
})

it('an empty repertoire is no trouble', async () => {
  const all = repertoire(newHome())
  expect(await all.list()).toEqual({ pieces: [], notes: [] })
  expect((await all.find('weir')).ok).toBe(false)
})

it('a section is found only by who asks for sections too', async () => {
  const { all, seen } = await onStand()
  const [first, ...others] = overture.passages
  const sections = [{ id: 's0000001', name: 'upbeat', from: '1', to: '4' }]
  const saved = await all.save(
    { ...overture, passages: [{ ...first, sections } as typeof first, ...others] as Piece['passages'] },
    seen,
  )
  expect(saved.ok).toBe(true)
  expect((await all.find('weir/opening')).ok).toBe(true)
  expect((await all.find('weir/opening/upbeat', true)).ok).toBe(true)
  expect((await all.find('weir/opening/upbeat', false)).ok).toBe(false)
  expect((await all.find('weir/opening/upbeat')).ok).toBe(false)
})

it('a change keeps the file, the text before it, and what others put into the file', async () => {
  const { home, all, path } = await onStand()
  const text = pieceText({ ...overture, shelf: 'left' } as Piece)
  writeFileSync(path, text)
  const found = await all.find('weir')
  if (!found.ok) throw new Error('not found')
  const { piece, seen } = found.value.in
  const saved = await all.save({ ...piece, title: retitled.title }, seen)
  expect(saved.ok).toBe(true)
  expect(JSON.parse(readFileSync(path, 'utf8'))).toEqual({ ...retitled, shelf: 'left' })
  expect(readFileSync(`${path}.bak`, 'utf8')).toBe(text)
  expect(readdirSync(folder(home)).sort()).toEqual([FILE, `${FILE}.bak`])
  const again = await all.save({ ...piece, title: 'Third' }, saved.ok ? saved.value : '')
  expect(again.ok).toBe(true)
})

it('a piece that someone else changed meanwhile is not overwritten, and that is said', async () => {
  const { all, seen, path } = await onStand()
  const theirs = pieceText({ ...overture, readyBy: '2026-05-01' })
  writeFileSync(path, theirs)
  const saved = await all.save(retitled, seen)
  expect(saved).toMatchObject({
    ok: false,
    message: expect.stringMatching(/^".*" has changed on disk in the meantime.*\.$/),
  })
  expect(readFileSync(path, 'utf8')).toBe(theirs)
})

it('of two changes to the same reading only the first is stored', async () => {
  const { all, seen } = await onStand()
  const both = await Promise.all([all.save(retitled, seen), all.save({ ...overture, title: 'Third' }, seen)])
  expect(both.map(b => b.ok)).toEqual([true, false])
  expect((await all.list()).pieces[0]?.piece.title).toBe(retitled.title)
})

it('a new piece never lands on one that is there, and a lost one is not brought back unseen', async () => {
  const { all, seen, path } = await onStand()
  expect(await all.save(retitled, null)).toMatchObject({ ok: false })
  await all.remove(overture)
  expect(await all.save(retitled, seen)).toMatchObject({ ok: false })
  expect(existsSync(path)).toBe(false)
})

it('what could not be read again is not written', async () => {
  const { all, seen, path } = await onStand()
  const before = readFileSync(path, 'utf8')
  const saved = await all.save({ ...overture, title: '' }, seen)
  expect(saved).toMatchObject({
    ok: false,
    message: expect.stringMatching(/^The piece was not stored. The title is missing. .*\.$/),
  })
  expect(readFileSync(path, 'utf8')).toBe(before)
})

it('damaged and newer files are named, left as they are, and hide no other piece', async () => {
  const { home, all } = await onStand()
  const torn = pieceText(overture).slice(0, 90)
  const newer = pieceText({ ...overture, id: 'n1n2n3n4', v: 3 } as unknown as Piece)
  writeFileSync(join(folder(home), 'torn-t1t2t3t4.json'), torn)
  writeFileSync(join(folder(home), 'weir-street-overture-n1n2n3n4.json'), newer)
  mkdirSync(join(folder(home), 'zz.json'))
  const { pieces, notes } = await all.list()
  expect(pieces.map(p => p.piece.id)).toEqual(['a1b2c3d4'])
  expect(notes).toEqual([
    expect.stringMatching(
      /torn-t1t2t3t4\.json is left as it is. .* for the file. Try a piece written as JSON\.$/,
    ),
    expect.stringMatching(
      /n1n2n3n4\.json is left as it is. "3" .* for the v. .* newer Gradino wrote this\)\.$/,
    ),
    expect.stringMatching(/^Can't read a piece: \S+zz\.json is a folder, not a file; .*\.$/),
  ])
  expect(await all.save({ ...overture, id: 'n1n2n3n4' }, null)).toMatchObject({ ok: false })
  expect(readFileSync(join(folder(home), 'weir-street-overture-n1n2n3n4.json'), 'utf8')).toBe(newer)
  expect(readFileSync(join(folder(home), 'torn-t1t2t3t4.json'), 'utf8')).toBe(torn)
})

it('of two copies of a piece the one under the proper name counts, and that is said', async () => {
  const { home, all, path } = await onStand()
  for (const name of ['a copy.json', 'zz copy.json'])
    writeFileSync(join(folder(home), name), pieceText(retitled))
  const { pieces, notes } = await all.list()
  expect(pieces.map(p => p.file)).toEqual([path])
  expect(notes).toHaveLength(2)
  expect(notes[0]).toMatch(
    /copy\.json holds the same piece as weir-street-overture-a1b2c3d4\.json and is not used;/,
  )
})

it('a piece that was handed over under another name is changed where it lies', async () => {
  const { home, all } = await onStand()
  const gift = join(folder(home), 'from my teacher.json')
  writeFileSync(gift, pieceText({ ...overture, id: 'gift0001', title: 'Mill Waltz' }))
  const found = await all.find('mill')
  if (!found.ok) throw new Error('not found')
  await all.save({ ...found.value.in.piece, title: 'Mill Waltz in F' }, found.value.in.seen)
  expect(JSON.parse(readFileSync(gift, 'utf8')).title).toBe('Mill Waltz in F')
})

it('a removed piece lies in a folder of its own, as often as it is removed', async () => {
  const { home, all, path } = await onStand()
  const text = readFileSync(path, 'utf8')
  const first = await all.remove(overture)
  await all.save(overture, null)
  const second = await all.remove(overture)
  const places = [first, second].map(r => (r.ok ? r.value : r.message))
  expect(places.map(p => basename(p))).toEqual([FILE, FILE.replace('.json', '-2.json')])
  for (const place of places) expect(readFileSync(place, 'utf8')).toBe(text)
  expect(await all.list()).toEqual({ pieces: [], notes: [] })
  expect(await all.remove(overture)).toMatchObject({ ok: false })
  expect(readdirSync(folder(home))).toEqual(['removed'])
})

it('a repertoire under a file is refused in one sentence', async () => {
  const { path } = await onStand()
  const all = repertoire({ data: path, config: path, cache: path })
  await expect(all.save(overture, null)).rejects.toThrow(StoreError)
  await expect(all.save(overture, null)).rejects.toThrow(
    /^Can't (read|write) your pieces: .* is a file, not a folder; .*\.$/,
  )
  await expect(all.list()).rejects.toThrow(/^Can't read your pieces: .*\.$/)
})
