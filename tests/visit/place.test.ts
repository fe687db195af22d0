import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { layOut } from '../../src/click/clicks.ts'
import { type Form, measures } from '../../src/music/form.ts'
import { compare, equal, frac, less } from '../../src/music/fraction.ts'
import { parsePlace } from '../../src/music/place.ts'
import { alteredForm, parseRhythm, writtenForm } from '../../src/music/rhythm.ts'
import { tempo } from '../../src/music/tempo.ts'
import { placeOfBeat } from '../../src/visit/moment.ts'
import { music, tempoOf } from '../click/support.ts'
import { anyForm } from '../music/any-form.ts'
import { must } from '../screens/practice/stage.ts'

const numbersOf = (form: Form): readonly string[] => measures(form).map((_, i) => String(41 + i))
const click = { countIn: 1, subdivide: 1 }

/** Where each beat of some music stands, in the note value that is counted. */
const places = (form: Form, first = form.marks[0]?.tempo ?? tempo(60), rhythm = '') => {
  const r = rhythm === '' ? null : must(parseRhythm(rhythm))
  const played = r ? alteredForm(form, r, frac(1, 16)) : form
  const { beats } = layOut(played, first, click)
  return beats.map((_, i) =>
    placeOfBeat({ form: played, tempo: first, click, numbers: numbersOf(form), rhythm: r }, i),
  )
}

describe('a stop stands where the part has it, whatever is counted', () => {
  test.each([
    ['4/4 in quarters', '4/4', 'quarter=60', ['41.1', '41.2', '41.3', '41.4']],
    ['4/4 in halves: the second beat counted is the third of the part', '4/4', 'half=60', ['41.1', '41.3']],
    ['2/2 in quarters: between its beats', '2/2', 'quarter=60', ['41.1', '41+1/4', '41.2', '41+3/4']],
    ['6/8 in two', '6/8', 'dotted-quarter=60', ['41.1', '41.2']],
    ['6/8 in eighths', '6/8', 'eighth=120', ['41.1', '41+1/8', '41+1/4', '41.2', '41+1/2', '41+5/8']],
    ['7/8 in its groups', '7/8', 'quarter=60', ['41.1', '41.2', '41.3']],
  ])('%s', (_, meter, unit, said) => {
    expect(places(music(meter, 1, unit))).toEqual(said)
  })

  test('after a pick-up', () => {
    expect(places(music('3/4', 1, '60', frac(1, 4)))).toEqual(['41.3', '42.1', '42.2', '42.3'])
  })

  test('a rhythm that takes twice the time still stands in the measures of the part', () => {
    expect(places(music('2/4', 1, '60'), tempo(60), '5:1:1:1/2')).toEqual([
      '41.1',
      '41+1/8',
      '41.2',
      '41+3/8',
    ])
    expect(places(music('2/4', 1, '60'), tempo(60), '3:1')).toEqual(['41.1', '41.2'])
  })

  test('of any music every beat, clicked or not, is read back as the place where it stands', () => {
    let between = 0
    fc.assert(
      fc.property(
        anyForm,
        fc.constantFrom('60', 'half=60', 'eighth=90', 'dotted-quarter=50'),
        (form, typed) => {
          const first = tempoOf(typed)
          const only = { beats: [1] }
          const numbers = numbersOf(form)
          const { beats, unheard } = layOut(form, first, { ...click, only })
          const all = [...beats, ...unheard].sort((a, b) => compare(a.at, b.at))
          for (const [i, { at }] of all.entries()) {
            const place = placeOfBeat(
              { form, tempo: first, click: { ...click, only }, numbers, rhythm: null },
              i,
            )
            expect(place).toMatch(/^\d+[.+]/)
            if (place.includes('+')) between++
            const read = parsePlace(place, { form, numbers })
            expect(read.ok && equal(read.value, at), place).toBe(true)
            expect(less(at, form.length)).toBe(true)
          }
        },
      ),
      { numRuns: 100 },
    )
    expect(between).toBeGreaterThan(50)
  })
})

test('what a rhythm stretched is the form of the part again', () => {
  fc.assert(
    fc.property(anyForm, fc.constantFrom('5:1:1:1/2', '4:1:1/3'), (form, typed) => {
      const r = must(parseRhythm(typed))
      const back = writtenForm(alteredForm(form, r, frac(1, 16)), r.over)
      expect(measures(back)).toEqual(measures(form))
    }),
  )
})
