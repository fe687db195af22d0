import { describe, expect, test } from 'vitest'
import { letterAt, lettersBeside, placeWords } from '../../src/music/place.ts'

describe('measures beside their rehearsal marks', () => {
  const numbers = ['40', '41', '42', '43', '44']

  test('are counted from the mark before them', () => {
    const beside = lettersBeside({
      numbers,
      letters: [
        { text: 'C', index: 1 },
        { text: 'D', index: 4 },
      ],
    })
    expect([...beside]).toEqual([
      ['41', 'C'],
      ['42', 'C+1'],
      ['43', 'C+2'],
      ['44', 'D'],
    ])
    expect(letterAt(beside, '43.2')).toBe('C+2')
    expect(letterAt(beside, '40')).toBe('')
    expect(placeWords('43.2', beside)).toBe('m. 43 (C+2), beat 2')
  })

  test('from a mark that stands before the music, too', () => {
    const beside = lettersBeside({ numbers, letters: [{ text: 'B', index: -4 }] })
    expect(beside.get('40')).toBe('B+4')
    expect(beside.get('44')).toBe('B+8')
  })

  test('from the nearest mark before, in whatever order they were written', () => {
    const letters = [
      { text: 'C', index: 3 },
      { text: 'B', index: 1 },
    ]
    const beside = lettersBeside({ numbers, letters })
    expect([...beside]).toEqual([
      ['41', 'B'],
      ['42', 'B+1'],
      ['43', 'C'],
      ['44', 'C+1'],
    ])
  })

  test('that come twice are told apart', () => {
    const beside = lettersBeside({ numbers: ['1', '2', '1', '2'], letters: [{ text: 'A', index: 0 }] })
    expect(beside.get('2(2)')).toBe('A+3')
  })

  test('without any mark have nothing beside them', () => {
    expect(lettersBeside({ numbers }).size).toBe(0)
  })
})
