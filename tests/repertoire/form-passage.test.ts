import fc from 'fast-check'
import { expect, test } from 'vitest'
import { breathsAt, type Form, measures } from '../../src/music/form.ts'
import { equal, frac, zero } from '../../src/music/fraction.ts'
import { placeAt } from '../../src/music/place.ts'
import { tempo, tempoRatio } from '../../src/music/tempo.ts'
import { passageTexts } from '../../src/repertoire/form-passage.ts'
import { passageForm } from '../../src/repertoire/passage-form.ts'
import { checkPiece } from '../../src/repertoire/piece.ts'
import { music } from '../click/support.ts'
import { anyForm } from '../music/any-form.ts'

const numbered = (form: Form, first: number) => ({
  form,
  numbers: measures(form).map((_, i) => String(first + i)),
})
const texts = (form: Form, first = 41) => {
  const read = passageTexts(numbered(form, first))
  if (!read.ok) throw new Error(JSON.stringify(read.problem))
  return read.value
}

test('a plain passage needs no more than was typed for one', () => {
  expect(texts(music('4/4', 4, '138'))).toEqual({
    measures: '41-44',
    meter: '4/4',
    count: 4,
    pickup: null,
    goal: '138',
  })
})

test('the measures of a pick-up count from the first whole one', () => {
  expect(texts(music('3/4', 2, '96', frac(1, 4)), 0)).toMatchObject({ measures: '1-2', pickup: 'quarter' })
})

test('nothing but a pick-up is a measure that is cut short', () => {
  const form = { ...music('4/4', 1, '96'), pickup: frac(1, 4), length: frac(1, 4) }
  expect(texts(form, 7)).toMatchObject({ measures: '7', count: 1, pickup: null, ends: '7.2' })
})

test('a place finer than texts can say is refused', () => {
  const form: Form = {
    ...music('4/4', 2, '96'),
    breaths: [{ at: frac(1, 4099), kind: 'breath', adds: zero }],
  }
  expect(passageTexts(numbered(form, 1)).ok).toBe(false)
})

test('any music comes back from its texts, and the repertoire takes them', () => {
  let [changing, ending] = [0, 0]
  fc.assert(
    fc.property(anyForm, fc.integer({ min: 1, max: 300 }), (given, first) => {
      const marks = given.marks.filter(
        (m, i) => !given.marks.slice(i + 1).some(later => equal(later.at, m.at)),
      )
      const form = {
        ...given,
        marks: marks.map((m, i) => (i === marks.length - 1 ? { at: m.at, tempo: m.tempo } : m)),
      }
      const t = texts(form, first)
      const piece = {
        v: 2,
        id: 'weir',
        title: 'Weir Street Overture',
        passages: [{ ...t, id: 'p123', name: 'all' }],
      }
      expect(checkPiece(piece)).toMatchObject({ ok: true })
      const read = passageForm({ ...t, id: 'p123', name: 'all' })
      if (!read.ok) throw new Error(JSON.stringify(read.problem))
      const back = read.value.form
      expect(measures(back).map(m => [m.from, m.to])).toEqual(measures(form).map(m => [m.from, m.to]))
      expect(back.marks.map(m => [m.at, m.ramp ?? false])).toEqual(
        form.marks.map(m => [m.at, m.ramp ?? false]),
      )
      for (const [i, m] of back.marks.entries())
        expect(tempoRatio(m.tempo, form.marks[i]?.tempo ?? tempo(1))).toBeCloseTo(1, 4)
      const kinds = (f: Form) => breathsAt(f, tempo(999)).map(b => `${placeAt(b.at, read.value)} ${b.kind}`)
      expect(kinds(back)).toEqual(kinds(form))
      if (t.changes) changing++
      if (t.ends) ending++
    }),
    { numRuns: 300 },
  )
  expect([changing > 30, ending > 30]).toEqual([true, true])
})
