import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { pieceFile } from '../../src/repertoire/piece.ts'
import { atTheWeir, RUN, WEIR } from './weir.ts'

type Cut = { readonly id: string; readonly name: string; readonly from: string; readonly to: string }
const places = (sections: readonly Cut[]): readonly string[] =>
  sections.map(s => `${s.name}: ${s.from} to ${s.to}`)

const cut = async (...typed: string[]) => {
  const p = await atTheWeir()
  const split = (...more: string[]) => p.type('piece', 'split', RUN, ...more)
  if (typed.length > 0) expect(await split(...typed)).toMatchObject({ status: 0, err: '' })
  return { ...p, split, sections: async (): Promise<readonly Cut[]> => (await p.passage()).sections }
}

describe('a passage is cut into sections, each over the first note of the next one', () => {
  test('by measures: a beat into the next measure', async () => {
    const { sections } = await cut('--by', 'measure')
    expect(places(await sections())).toEqual([
      '1: 41 to 42.2',
      '2: 42 to 43.2',
      '3: 43 to 44.2',
      '4: 44 to end',
    ])
  })

  test('by halves', async () => {
    const { sections } = await cut('--by', 'half')
    expect(places(await sections()).slice(0, 3)).toEqual([
      '1: 41 to 41.4',
      '2: 41.3 to 42.2',
      '3: 42 to 42.4',
    ])
    expect(await sections()).toHaveLength(8)
  })

  test('by beats', async () => {
    const { sections } = await cut('--by', 'beat')
    expect(places(await sections()).slice(2, 5)).toEqual([
      '3: 41.3 to 42',
      '4: 41.4 to 42.2',
      '5: 42 to 42.3',
    ])
    expect(await sections()).toHaveLength(16)
  })

  test('at places of the player, in any order', async () => {
    const { sections } = await cut('--at', '43.3, 42')
    expect(places(await sections())).toEqual(['1: 41 to 42.2', '2: 42 to 43.4', '3: 43.3 to end'])
  })

  test('a beat is what the meter is counted in; a pick-up belongs to the first measure', async () => {
    const { edit, split, sections } = await cut()
    await edit('--meter', '6/8', '--goal', 'dotted-quarter=92', '--start', 'none', '--pickup', 'eighth')
    await split('--by', 'measure')
    expect(places(await sections())).toEqual([
      '1: 40+5/8 to 42.2',
      '2: 42 to 43.2',
      '3: 43 to 44.2',
      '4: 44 to end',
    ])
  })

  test('where a part was read, as far as that note goes', async () => {
    const { home, json, split, sections } = await cut()
    const { id } = await json('piece', 'show', WEIR)
    const file = join(home, 'data', 'pieces', pieceFile({ v: 2, id, title: WEIR, passages: [] }))
    const there = JSON.parse(readFileSync(file, 'utf8'))
    // A sixteenth at 42; at 43 a rest, and an eighth after it; 44 begins with a tie, so that no note is known there.
    there.passages[0].notes = ['0 1/4 C5', '1 1/16 D5', '9/4 1/8 E5', '4 1/4 x']
    writeFileSync(file, JSON.stringify(there))
    await split('--by', 'measure')
    expect(places(await sections())).toEqual([
      '1: 41 to 42+1/16',
      '2: 42 to 43+3/8',
      '3: 43 to 44.2',
      '4: 44 to end',
    ])
  })

  test('and says where each begins', async () => {
    const { split } = await cut()
    const said = await split('--by', 'measure')
    expect(said.out).toContain(
      'section 2, m. 42 to m. 43, beat 2: next from quarter = 80, no ceiling yet, goal quarter = 138',
    )
  })

  test('a piece with one passage may be named alone', async () => {
    const { type, sections } = await cut()
    expect((await type('piece', 'split', WEIR, '--by', 'measure')).status).toBe(0)
    expect(await sections()).toHaveLength(4)
  })
})

describe('sections that are there', () => {
  test('are not replaced', async () => {
    const { split, sections } = await cut('--by', 'measure')
    const before = await sections()
    const said = await split('--by', 'half')
    expect(said).toMatchObject({ status: 2, out: '' })
    expect(said.err).toContain('already has 4 sections. Add --again')
    expect(await sections()).toEqual(before)
  })

  test('with --again those with the same music keep their history, whatever they are called now', async () => {
    const { split, sections, practiced } = await cut('--by', 'measure')
    const before = await sections()
    for (const s of before) await practiced(s.id)
    const said = await split('--again', '--at', '41.3,42,43')
    expect(said.out).toContain('No longer there: 1, 3, 4.')
    const now = await sections()
    expect(places(now)).toEqual(['1: 41 to 41.4', '2: 41.3 to 42.2', '3: 42 to 43.2', '4: 43 to end'])
    expect(now[2]).toMatchObject({ id: before[1]?.id, ceiling: '116' })
    expect(now.filter(s => before.some(b => b.id === s.id))).toHaveLength(1)
    // And back: what was measure by measure is found again only where it stayed.
    await split('--again', '--by', 'measure')
    expect((await sections())[1]).toMatchObject({ id: before[1]?.id, name: '2', ceiling: '116' })
  })
})

test.each([
  [[], 'The split is missing. Type --by measure, half, beat'],
  [['--by', 'measure', '--at', '42'], '--by measure, half, beat; or --at'],
  [['--by', 'phrase'], '"phrase" doesn\'t work for --by. Try measure, half, beat'],
  [['--at', '42,49'], '"49" doesn\'t work for --at. Try a measure from 41 to 44'],
  [['--at', '42,,43'], '--at is missing'],
  [['--at', '41'], 'That makes one section'],
  [['--at', 'end'], 'That makes one section'],
])('%j is refused in one sentence, and nothing is stored', async (typed, says) => {
  const { split, sections } = await cut()
  const said = await split(...typed)
  expect(said).toMatchObject({ status: 2, out: '' })
  expect(said.err).toContain(says)
  expect(said.err.trim()).not.toContain('\n')
  expect(await sections()).toEqual([])
})

test('of several passages one is to be named', async () => {
  const { type } = await atTheWeir()
  await type('piece', 'add', WEIR, '--passage', 'coda', '--in', '80-84', '--goal', '100')
  const said = await type('piece', 'split', WEIR, '--by', 'measure')
  expect(said.status).toBe(2)
  expect(said.err).toContain(`one of its passages: "${RUN}", "${WEIR}/coda"`)
})
