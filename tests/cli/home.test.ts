import { readdir, readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { player } from './typed.ts'

test('without a terminal an empty repertoire is one question, four answers and the cautions', async () => {
  const { type, json } = player()
  const said = await type()
  expect(said).toMatchObject({ status: 0, err: '' })
  const lines = said.out.trim().split('\n')
  expect(lines[0]).toBe('What is on the stand?')
  expect(lines.slice(1, 5).map(l => l.split(':')[0])).toEqual([
    'A quick ladder',
    'A first piece',
    'A part from a score',
    'The demonstration',
  ])
  expect(lines.slice(5).join(' ')).toMatch(/five minutes in each half hour.*hurts.*physician.*headphones/)
  expect(await json()).toEqual({ today: '2031-03-15', pieces: [], notes: [] })
})

test('each answer names a command that exists', async () => {
  const { type } = player()
  const { out } = await type()
  const commands = [...out.matchAll(/Type: gradino (\w+)(?: (add|import))?/g)].map(m =>
    [m[1], m[2]].filter(Boolean),
  )
  expect(commands).toEqual([['practice'], ['piece', 'add'], ['piece', 'import'], ['demo']])
  for (const words of commands)
    expect(await type(...(words as string[]), '--help')).toMatchObject({ status: 0, err: '' })
})

test('the list is a sentence, then the nearest date first, past dates last, and how to practice', async () => {
  const { home, type } = player()
  const add = (title: string, ...more: string[]) =>
    type('piece', 'add', title, '--in', '1-4', '--goal', '120', ...more)
  await add('Lantern Study')
  await add('Weir Street Overture', '--ready-by', '2031-04-02')
  await add('Harbor Song', '--ready-by', '2031-03-19')
  await add('Old Mill Round', '--ready-by', '2031-03-15')
  await passDate(home)
  const lines = (await type()).out.trim().split('\n')
  expect(lines[0]).toBe('Saturday, four passages, the nearest in 4 days.')
  expect(lines.slice(1, 5).map(l => l.split(',')[0])).toEqual([
    'Harbor Song',
    'Weir Street Overture',
    'Lantern Study',
    'Old Mill Round',
  ])
  expect(lines[4]).toContain('ready by March 13, 2 days ago')
  expect(lines[5]).toBe('To practice: gradino practice PIECE/PASSAGE')
})

test('a damaged piece file is named, the others are listed', async () => {
  const { home, type } = player()
  await type('piece', 'add', 'Harbor Song', '--in', '1-4', '--goal', '120')
  await writeFile(join(home, 'data', 'pieces', 'torn.json'), '{"v":1,')
  const said = await type()
  expect(said.status).toBe(0)
  expect(said.out).toContain('Harbor Song, m. 1-4')
  expect(said.out).toMatch(/torn\.json is left as it is. .* for the file.* Try a piece written as JSON/)
})

test('a name that nobody finds may be that of a damaged or newer file: it is said that one was left out', async () => {
  const { home, type } = player()
  await type('piece', 'add', 'Harbor Song', '--in', '1-4', '--goal', '120')
  await writeFile(join(home, 'data', 'pieces', 'weir-street.json'), '{"v": 3, "title": "Weir Street"}')
  const left =
    /^gradino: No piece is called "weir"\. You have Harbor Song \(one file was left out: gradino pieces says why\)\.$/
  for (const command of [
    ['piece', 'show', 'weir'],
    ['piece', 'edit', 'weir', '--title', 'Weir'],
    ['piece', 'tempo', 'weir', '126'],
    ['piece', 'split', 'weir', '--by', 'beat'],
    ['practice', 'weir'],
    ['progress', 'weir'],
    ['report', 'weir'],
    ['note', 'the bridge', '--for', 'weir'],
    ['render', 'weir', '--out', join(home, 'x.wav')],
  ]) {
    const said = await type(...command)
    expect(said.status).toBe(2)
    expect(said.err.trim()).toMatch(left)
  }
})

/** As if two days had gone by since the day of the round. */
const passDate = async (home: string): Promise<void> => {
  const folder = join(home, 'data', 'pieces')
  const file = join(folder, (await readdir(folder)).find(n => n.startsWith('old-mill')) ?? '')
  await writeFile(file, (await readFile(file, 'utf8')).replace('2031-03-15', '2031-03-13'))
}
