import { expect, test } from 'vitest'
import { plainForm } from '../../src/music/form.ts'
import { frac } from '../../src/music/fraction.ts'
import { longRests, restWords } from '../../src/music/groups.ts'
import { tempo } from '../../src/music/tempo.ts'
import { meter } from '../click/support.ts'

const note = (n: number, d: number, length = frac(1, 4)) => ({ at: frac(n, d), length })

test('two whole measures and more without a note are a rest that is counted; one is not', () => {
  const form = plainForm(meter('4/4'), 8, tempo(60))
  // A note in measures 1, 3 and 8: measure 2 rests alone, 4 to 7 are counted.
  const rests = longRests(form, [note(0, 1), note(5, 2), note(7, 1)])
  expect(rests).toEqual([{ first: 4, measures: 4 }])
  expect([3, 4, 5, 7, 8].map(m => restWords(rests, m))).toEqual([
    '',
    'rest 1 of 4',
    'rest 2 of 4',
    'rest 4 of 4',
    '',
  ])
})

test('a note that is held over the bar line is no rest', () => {
  const form = plainForm(meter('3/4'), 3, tempo(60))
  expect(longRests(form, [note(1, 2, frac(1, 2))])).toEqual([])
  expect(longRests(form, [note(1, 2, frac(1, 4))])).toEqual([{ first: 2, measures: 2 }])
})

test('a pick-up is no measure to count', () => {
  const form = plainForm(meter('4/4'), 2, tempo(60), frac(1, 4))
  expect(longRests(form, [note(0, 1)])).toEqual([{ first: 1, measures: 2 }])
})
