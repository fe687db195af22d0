import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { compile } from '../../src/click/compile.ts'
import { formSeconds } from '../../src/click/tempo-map.ts'
import { type Form, measures } from '../../src/music/form.ts'
import {
  add,
  compare,
  type Frac,
  frac,
  min,
  mul,
  sub,
  sum,
  toNumber,
  zero,
} from '../../src/music/fraction.ts'
import { meterText } from '../../src/music/meter.ts'
import { quarters, tempo, typed } from '../../src/music/tempo.ts'
import { performed } from '../../src/score/repeats.ts'
import type { Part } from '../../src/score/score.ts'
import { tempoAt } from '../../src/score/tempo-line.ts'
import { between, formOf, type PartForm, type Span } from '../../src/score/to-form.ts'
import {
  backward,
  head,
  type MeasureText,
  mark,
  must,
  note,
  partOf,
  refusal,
  rest,
  text,
  time,
  words,
} from './scores.ts'

const bar = note(16)
const span = (from: number, to: number, more: Partial<Span> = {}): Span => ({
  measures: Array.from({ length: to - from + 1 }, (_, i) => from - 1 + i),
  ...more,
})
const form = (part: Part, s: Span): PartForm => must(formOf(part, s, tempo(100)))
const meters = (f: Form) => f.meters.map(m => `${text(m.at)} ${meterText(m.meter)}`)
const marks = (f: Form) => f.marks.map(m => `${text(m.at)} ${typed(m.tempo)}${m.ramp ? ' sliding' : ''}`)
const breath = (kind = 'breath-mark') => `<notations><articulations><${kind}/></articulations></notations>`
const fermata = '<notations><fermata/></notations>'

describe('a span of measures', () => {
  const part = partOf([
    head() + mark('quarter', '96') + bar,
    bar,
    time3() + note(12),
    note(12),
    time4() + bar,
  ])
  function time3() {
    return `<attributes>${time('3', 4)}</attributes>`
  }
  function time4() {
    return `<attributes>${time('4', 4)}</attributes>`
  }

  test('has its meters at its bar lines and begins at the tempo that runs there', () => {
    const { form: f, numbers } = form(part, span(2, 5))
    expect(meters(f)).toEqual(['0 4/4', '1 3/4', '5/2 4/4'])
    expect(marks(f)).toEqual(['0 96'])
    expect([text(f.pickup), text(f.length)]).toEqual(['0', '7/2'])
    expect(numbers).toEqual(['2', '3', '4', '5'])
  })

  test('that begins inside a measure begins with a pick-up', () => {
    const { form: f, numbers } = form(part, span(2, 3, { start: frac(3, 4) }))
    expect([text(f.pickup), text(f.length)]).toEqual(['1/4', '1'])
    expect(meters(f)).toEqual(['0 4/4', '1/4 3/4'])
    expect(numbers).toEqual(['2', '3'])
  })

  test('that ends inside a measure keeps its meter and is cut off', () => {
    const { form: f } = form(part, span(1, 2, { end: frac(1, 2) }))
    expect([meters(f), text(f.length)]).toEqual([['0 4/4'], '3/2'])
  })

  test('inside one measure keeps the beats where they stand', () => {
    const { form: f } = form(part, span(1, 1, { start: frac(1, 4), end: frac(3, 4) }))
    expect([text(f.pickup), text(f.length), meters(f)]).toEqual(['1/2', '1/2', ['0 3/4']])
  })

  test('can be said by two places', () => {
    const place = (measure: number, at: Frac) => ({ measure, at })
    expect(between(part, place(1, frac(5, 4)), place(2, frac(5, 2)))).toEqual({
      measures: [1, 2],
      start: frac(1, 4),
      end: frac(1, 2),
    })
  })

  test('that is not there is refused with what there is', () => {
    expect(refusal(formOf(part, span(4, 9)))).toMatch(/a part of measures 1 to 5/)
    expect(refusal(formOf(part, { measures: [] }))).toMatch(/nothing to play there/)
    expect(refusal(formOf(part, span(1, 1, { start: frac(2) })))).toMatch(/nothing to play there/)
  })

  test('without any tempo before it asks for one', () => {
    const silent = partOf([head() + bar, mark('quarter', '60') + bar])
    expect(refusal(formOf(silent, span(1, 2)))).toMatch(/tempo of the passage is missing/)
    expect(marks(form(silent, span(1, 2)).form)).toEqual(['0 100', '1 60'])
  })
})

describe('measures that do not fill their meter', () => {
  const numbered = (number: string, inside: string): MeasureText => ({
    attrs: `number="${number}" implicit="yes"`,
    inside,
  })

  test('a pick-up at the beginning', () => {
    const { form: f, numbers } = form(
      partOf([numbered('0', head() + note(4)), numbered('1', bar)]),
      span(1, 2),
    )
    expect([text(f.pickup), text(f.length), meters(f)]).toEqual(['1/4', '5/4', ['0 4/4']])
    expect(measures(f).map(m => m.number)).toEqual([0, 1])
    expect(numbers).toEqual(['0', '1'])
  })

  test('two halves of one measure are one', () => {
    const part = partOf([head() + bar, note(12), numbered('X1', note(4)), bar])
    const { form: f, numbers } = form(part, span(1, 4))
    expect([meters(f), numbers]).toEqual([['0 4/4'], ['1', '2', '4']])
    const second = form(part, span(2, 4, { start: frac(1, 2) }))
    expect([text(second.form.pickup), second.numbers]).toEqual(['1/2', ['2', '4']])
    expect(text(form(part, span(3, 4)).form.pickup)).toBe('1/4')
  })

  test('the last measure and the pick-up that its repeat goes back to are one', () => {
    const part = partOf([numbered('0', head() + note(4)), bar, note(12) + backward()])
    const { order } = performed(part)
    const { form: f, numbers } = form(part, { measures: order })
    expect(numbers).toEqual(['0', '2', '3', '2', '3'])
    expect([meters(f), text(f.length)]).toEqual([['0 4/4'], '4'])
  })

  test('any other gets a meter of its own length, the groups of its time signature cut off', () => {
    const part = partOf([head('3+2', 8) + note(10), note(6), note(3), note(10), note(14), note(10)])
    expect(meters(form(part, span(1, 6)).form)).toEqual([
      '0 3+2/8',
      '5/8 3/8',
      '1 3/16',
      '19/16 3+2/8',
      '29/16 3+2+2/8',
      '43/16 3+2/8',
    ])
  })

  test('without a time signature are counted in quarters', () => {
    const part = partOf([
      `<attributes><divisions>4</divisions><time><senza-misura/></time></attributes>${note(28)}`,
    ])
    expect(meters(form(part, span(1, 1)).form)).toEqual(['0 7/4'])
  })
})

describe('tempos of a span', () => {
  const part = partOf([
    head() + mark('quarter', '120') + bar,
    words('rit.') + bar,
    bar,
    mark('quarter', '60') + bar + backward(),
  ])

  test('slide as written', () => {
    expect(marks(form(part, span(1, 4)).form)).toEqual(['0 120', '1 120 sliding', '3 60'])
  })

  test('begin and end inside a ramp with the tempo there', () => {
    const cut = form(part, span(2, 3, { start: frac(1, 2), end: frac(1, 2) })).form
    expect(marks(cut)).toEqual(['0 105 sliding', '1 75'])
    // linear in tempo over the score: 60 B / (T1 - T0) x ln(T1 / T0), here four quarters from 105 to 75
    expect(formSeconds(cut, tempo(105))).toBeCloseTo(((60 * 4) / (75 - 105)) * Math.log(75 / 105), 9)
  })

  test('go back with a repeat to what is written there', () => {
    const { order } = performed(part)
    expect(marks(form(part, { measures: order }).form)).toEqual([
      '0 120',
      '1 120 sliding',
      '3 60',
      '4 120',
      '5 120 sliding',
      '7 60',
    ])
  })

  test('before the first mark are what ran last, when a repeat leads back there', () => {
    const silent = partOf([head() + bar, mark('quarter', '60') + bar + backward(), bar])
    const { order } = performed(silent)
    expect(marks(form(silent, { measures: order }).form)).toEqual(['0 100', '1 60'])
  })

  test('at a bar line belong to the measure that begins there', () => {
    expect(marks(form(part, span(3, 3)).form)).toEqual(['0 90 sliding', '1 60'])
    expect(marks(form(part, span(4, 4)).form)).toEqual(['0 60'])
  })
})

describe('breaths of a span', () => {
  const part = partOf([
    head() + note(8, breath()) + note(8, breath()),
    note(8, fermata) + note(4, breath('caesura')) + note(4, breath()),
    bar,
  ])

  test('are planned without time; caesuras and fermatas are kept apart for the player to say', () => {
    const { form: f, holds } = form(part, span(1, 3))
    expect(f.breaths?.map(b => [text(b.at), text(b.adds)])).toEqual([
      ['1/2', '0'],
      ['1', '0'],
      ['2', '0'],
    ])
    expect(holds.map(h => `${h.kind} ${text(h.at)}`)).toEqual(['fermata 3/2', 'caesura 7/4'])
  })

  test('before the first note and after the last are none of it', () => {
    expect(form(part, span(2, 2)).form.breaths).toEqual([])
    expect(form(part, span(1, 1, { start: frac(1, 2) })).form.breaths).toEqual([])
  })

  test('written in two voices are one', () => {
    const both = partOf([
      `${head() + note(8, breath()) + note(8)}<backup><duration>16</duration></backup>${note(8, breath()) + note(8)}`,
    ])
    expect(form(both, span(1, 1)).form.breaths?.length).toBe(1)
  })
})

/** Quarters a minute at a place of a form; a mark that slides goes evenly to the next one. */
const tempoIn = (f: Form, at: Frac): number => {
  const i = f.marks.findLastIndex(m => compare(m.at, at) <= 0)
  const [mark, next] = [f.marks[i], f.marks[i + 1]]
  if (!mark) throw new Error('no tempo')
  const from = toNumber(quarters(mark.tempo))
  if (!mark.ramp || !next) return from
  const share = toNumber(sub(at, mark.at)) / toNumber(sub(next.at, mark.at))
  return from + (toNumber(quarters(next.tempo)) - from) * share
}

test('any span of any measures clicks: bars fill the form, marks are in order, the click can be compiled', () => {
  const measure = fc.record({
    length: fc.integer({ min: 0, max: 30 }),
    meter: fc.option(
      fc.constantFrom(time('4', 4), time('6', 8), time('3+2', 8), '<time><senza-misura/></time>'),
      {
        nil: '',
      },
    ),
    implicit: fc.boolean(),
    said: fc.constantFrom('', '', mark('quarter', '90'), mark('half', '50'), words('rit.'), words('a tempo')),
  })
  let [divided, compared] = [0, 0]
  fc.assert(
    fc.property(
      fc.array(measure, { minLength: 1, maxLength: 6, size: 'max' }),
      fc.array(fc.nat(5), { minLength: 1, maxLength: 8 }),
      fc.integer({ min: 0, max: 20 }),
      fc.integer({ min: 0, max: 30 }),
      (written, chosen, start, end) => {
        const part = partOf(
          written.map((m, i) => ({
            attrs: `number="${i}" implicit="${m.implicit ? 'yes' : 'no'}"`,
            inside: `<attributes><divisions>4</divisions>${m.meter}</attributes>${m.said}${rest(m.length)}`,
          })),
        )
        const order = chosen.filter(i => i < written.length)
        const read = formOf(part, { measures: order, start: frac(start, 16), end: frac(end, 16) }, tempo(100))
        if (!read.ok) return
        const { form: f, numbers } = read.value
        const bars = measures(f)
        expect(bars.length).toBe(numbers.length)
        expect(sum(bars.map(b => sub(b.to, b.from)))).toEqual(f.length)
        expect(f.meters[0]?.at).toEqual(zero)
        expect(f.marks[0]?.at).toEqual(zero)
        for (const [i, m] of f.marks.entries())
          expect(compare(m.at, f.marks[i - 1]?.at ?? zero)).toBeGreaterThanOrEqual(0)
        expect(f.marks.at(-1)?.ramp ?? false).toBe(false)
        if (numbers.length < order.length) divided++
        // in the middle of each measure that is heard the tempo is the one that runs there as written
        let at = zero
        for (const [k, i] of order.entries()) {
          const m = part.measures[i]
          if (!m) continue
          const from = k === 0 ? frac(start, 16) : zero
          const to = k === order.length - 1 ? min(frac(end, 16), m.length) : m.length
          if (compare(from, to) >= 0) continue
          const half = mul(sub(to, from), frac(1, 2))
          const written = tempoAt(part.tempos, add(m.at, add(from, half)))
          const heard = tempoIn(f, add(at, half))
          if (written) expect(Math.abs(heard - toNumber(quarters(written)))).toBeLessThanOrEqual(2)
          if (written) compared++
          at = add(at, sub(to, from))
        }
        expect(at).toEqual(f.length)
        const opening = f.marks[0]?.tempo ?? tempo(100)
        const program = compile(f, opening, { countIn: 1, subdivide: 1, rate: 48_000 })
        expect(program.end - program.firstNote).toBe(Math.round(formSeconds(f, opening) * 48_000))
        expect(toNumber(add(f.length, f.pickup))).toBeGreaterThan(0)
      },
    ),
    { numRuns: 300 },
  )
  expect(divided).toBeGreaterThan(10)
  expect(compared).toBeGreaterThan(100)
})
