import { expect, test } from 'vitest'
import { newNumber } from '../../src/screens/choosing.ts'

/** Where the cursor of a list goes with these keys, as the list counts: the first line is 1. Another key: x. */
const lines = (keys: string, count: number): readonly number[] => {
  const number = newNumber()
  return [...keys].flatMap(key => {
    const a = number({ kind: key === 'x' ? 'other' : 'to', at: 0 }, key, count)
    return a.kind === 'to' ? [a.at + 1] : []
  })
}

test('in a list of twelve, 1 then 2 is the twelfth line', () => {
  expect(lines('12', 12)).toEqual([1, 12])
  expect(lines('10', 12)).toEqual([1, 10])
})

test('two digits that no line has are two numbers', () => {
  expect(lines('12', 9)).toEqual([1, 2])
  expect(lines('13', 12)).toEqual([1, 3])
  expect(lines('122', 12)).toEqual([1, 12, 2])
})

test('another key begins a new number', () => expect(lines('1x2', 12)).toEqual([1, 2]))

test('a list of a hundred and more takes three digits', () => expect(lines('104', 130)).toEqual([1, 10, 104]))
