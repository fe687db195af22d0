import { describe, expect, test } from 'vitest'
import { findPiece, nearest } from '../../src/repertoire/find-piece.ts'
import { PIECE_VERSION } from '../../src/repertoire/piece.ts'
import { must, refusal } from '../score/scores.ts'

const passage = (name: string) => ({
  id: name,
  name,
  meter: '4/4',
  count: 1,
  pickup: null,
  goal: '96',
})
const piece = (title: string, ...names: string[]) => ({
  piece: { v: PIECE_VERSION, id: `id ${title}`, title, passages: names.map(passage) },
})
const stand = [
  piece('Weir Street Overture', '12-15', 'the run'),
  piece('Three Weir Songs', '1-8'),
  piece('Mill Race', 'coda'),
]

describe('a piece is found', () => {
  const found = (name: string) => must(findPiece(stand, name)).in.piece.title

  test('by any part of its title, whatever the capitals', () => {
    expect(found('overture')).toBe('Weir Street Overture')
    expect(found('race')).toBe('Mill Race')
    expect(must(findPiece(stand, 'songs/1-8')).passage?.name).toBe('1-8')
    expect(must(findPiece(stand, 'overture/run')).passage?.name).toBe('the run')
  })

  test('by its beginning before any part inside', () => {
    expect(found('weir')).toBe('Weir Street Overture')
  })

  test('and where several have it, all are named', () => {
    expect(refusal(findPiece([...stand, piece('Second Mill Race')], 'ra'))).toContain(
      'one of Mill Race, Second Mill Race',
    )
  })

  test('not by a single letter inside', () => {
    expect(findPiece(stand, 'v').ok).toBe(false)
  })
})

test('of some names the nearest is taken: exactly, its beginning, any part of it', () => {
  const parts = ['Clarinet', 'Clarinet in A', 'Bass Clarinet', 'Violin 1', 'Violin 2']
  const near = (typed: string) => nearest(parts, typed, p => p)
  expect(near('clarinet')).toEqual(['Clarinet'])
  expect(near('clarinet in')).toEqual(['Clarinet in A'])
  expect(near('bass')).toEqual(['Bass Clarinet'])
  expect(near('violin')).toEqual(['Violin 1', 'Violin 2'])
  expect(near('horn')).toEqual([])
})

describe('a name as it is typed in a hurry', () => {
  const more = [
    ...stand,
    piece('Été à l’écluse', '5-9', 'the “slow” bars'),
    piece('Lantern Study', 'coda of the night'),
  ]
  const found = (name: string) => {
    const { in: of, passage } = must(findPiece(more, name))
    return [of.piece.title, passage?.name].filter(Boolean).join('/')
  }

  test('needs no accents, no curly quotes and no words between', () => {
    expect(found("ete a l'ecluse")).toBe('Été à l’écluse')
    expect(found('ecluse/"slow"')).toBe('Été à l’écluse/the “slow” bars')
    expect(found('street overture weir')).toBe('Weir Street Overture')
  })

  test('may be that of a passage alone, where no piece is called so', () => {
    expect(found('the run')).toBe('Weir Street Overture/the run')
    expect(found('night')).toBe('Lantern Study/coda of the night')
    // A piece comes before a passage of another.
    expect(found('weir')).toBe('Weir Street Overture')
    expect(found('coda')).toBe('Mill Race/coda')
  })

  test('that fits two of them says both', () => {
    const two = [...more, piece('Second Mill Race', 'coda')]
    expect(refusal(findPiece(two, 'coda'))).toContain('one of Mill Race/coda, Second Mill Race/coda')
    expect(refusal(findPiece(two, 'mill race/nowhere'))).toMatch(/^No passage is called/)
  })
})
