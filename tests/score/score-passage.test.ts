import { describe, expect, test } from 'vitest'
import { tempo } from '../../src/music/tempo.ts'
import type { Part } from '../../src/score/score.ts'
import { passageOf, type Stretch } from '../../src/score/score-passage.ts'
import {
  attributes,
  direction,
  head,
  type MeasureText,
  mark,
  must,
  note,
  partOf,
  refusal,
  rest,
  time,
} from './scores.ts'

const bar = note(16)
const letter = (text: string) => direction(`<rehearsal>${text}</rehearsal>`)
const whole = (part: Part, from = 0, to = part.measures.length - 1): Stretch => {
  const [first, last] = [part.measures[from], part.measures[to]]
  if (!first || !last) throw new Error('no such measure')
  const { n, d } = last.at
  return {
    from: { measure: from, at: first.at },
    to: { measure: to, at: { n: n * last.length.d + last.length.n * d, d: d * last.length.d } },
  }
}
const made = (
  measures: readonly MeasureText[],
  more: Partial<Stretch> & { from_?: number } = {},
  wish = {},
) => {
  const part = partOf(measures)
  const { from_ = 0, ...rest_ } = more
  return must(
    passageOf(
      part,
      { ...whole(part, from_), ...rest_ },
      { newId: () => 'id1000', fallback: tempo(92), ...wish },
    ),
  )
}
const long = (count: number, inside: (i: number) => string = () => bar) =>
  Array.from({ length: count }, (_, i) => (i === 0 ? head() + mark('quarter', '96') : '') + inside(i))

describe('the notes of a passage', () => {
  const pitch = (step: string, alter: string, octave = 4) =>
    `<note><pitch><step>${step}</step><alter>${alter}</alter><octave>${octave}</octave></pitch><duration>4</duration></note>`

  test('are written by step, sign and octave; what letters cannot say is x', () => {
    const inside = ['-2', '-1', '0', '1', '2', '0.5', '3'].map(a => pitch('D', a)).join('')
    const unpitched = '<note><unpitched/><duration>4</duration></note>'
    const { notes } = made([head('8', 4) + inside + unpitched])
    expect(notes?.map(n => n.split(' ')[2])).toEqual(['Dbb4', 'Db4', 'D4', 'D#4', 'D##4', 'x', 'x', 'x'])
  })

  test('that are tied are one, of the same pitch and without a gap', () => {
    const tie = '<tie type="stop"/>'
    const notes = (inside: string) => made([head() + inside]).notes
    expect(notes(note(8) + note(8, tie))).toEqual(['0 1 C5'])
    expect(notes(note(4) + note(4, tie) + note(8, tie))).toEqual(['0 1 C5'])
    expect(notes(note(8) + note(8, tie, 'D5'))).toEqual(['0 1/2 C5', '1/2 1/2 D5'])
    expect(notes(note(4) + rest(4) + note(8, tie))).toEqual(['0 1/4 C5', '1/2 1/2 C5'])
    const chord = note(8) + note(8, '<chord/>', 'E5') + note(8, tie) + note(8, `<chord/>${tie}`, 'E5')
    expect(notes(chord)).toEqual(['0 1 C5', '0 1 E5'])
  })

  test('without rests, cues, graces and what is too fine; none at all where there are too many', () => {
    const grace = '<note><grace/><pitch><step>B</step><octave>4</octave></pitch></note>'
    expect(made([head() + grace + note(4) + rest(4) + note(8, '<cue/>')]).notes).toEqual(['0 1/4 C5'])
    const fine = (divisions: number) =>
      made([
        `${attributes(`<divisions>${divisions}</divisions>${time('4', 4)}`)}${note(4 * divisions - 1)}${note(1)}`,
      ]).notes
    expect(fine(1024)).toEqual(['0 4095/4096 C5', '4095/4096 1/4096 C5'])
    expect(fine(1025)).toBeUndefined()
    const part = partOf([head() + bar])
    const many = (count: number) => {
      const notes = Array(count).fill(part.notes[0])
      const wish = { newId: () => 'id1000', fallback: tempo(92) }
      return must(passageOf({ ...part, notes }, whole(part), wish)).notes?.length
    }
    expect(many(20_000)).toBe(20_000)
    expect(many(20_001)).toBeUndefined()
  })
})

describe('the rehearsal marks of a passage', () => {
  test('are its own, and the last one before it with the measures since', () => {
    const part = [
      head() + mark('quarter', '96') + letter('A') + bar,
      bar,
      letter('B') + bar,
      bar,
      bar,
      letter('C') + bar,
    ]
    expect(made(part).rehearsals).toEqual([
      { at: '1', text: 'A' },
      { at: '3', text: 'B' },
      { at: '6', text: 'C' },
    ])
    expect(made(part, { from_: 4 }).rehearsals).toEqual([
      { at: '5', text: 'B+2' },
      { at: '6', text: 'C' },
    ])
    expect(made(part, { from_: 2 }).rehearsals?.map(r => r.text)).toEqual(['B', 'C'])
    expect(made([head() + mark('quarter', '96') + bar, bar], { from_: 1 }).rehearsals).toBeUndefined()
    // as played no mark is near
    expect(made(part, { from_: 4, played: [4, 5] }).rehearsals?.map(r => r.text)).toEqual(['C'])
  })

  test('not those at its end, and cut to what a screen shows', () => {
    const name = `A${'x'.repeat(70)}`
    const part = [head() + mark('quarter', '96') + bar, letter(name) + bar, bar + letter('Z')]
    expect(made(part).rehearsals?.map(r => r.text)).toEqual([name.slice(0, 60)])
    expect(made(part, { from_: 2 }).rehearsals?.map(r => r.text)).toEqual([`${name.slice(0, 50)}+1`])
  })

  test('999 measures after a mark is still a place, a thousand is none', () => {
    const part = long(1002, i => (i === 0 ? letter('A') : '') + bar)
    expect(made(part, { from_: 999 }).rehearsals?.map(r => r.text)).toEqual(['A+999'])
    expect(made(part, { from_: 1000 }).rehearsals).toBeUndefined()
  })

  test('five hundred of them are kept', () => {
    expect(made(long(600, i => letter(`M${i}`) + bar)).rehearsals).toHaveLength(500)
  })
})

describe('a passage is called', () => {
  test('by its measures, or as it is wished; what is hard is cut to four hundred characters', () => {
    expect(made(long(3)).name).toBe('1-3')
    expect(made(long(3), {}, { name: 'whole part', whole: true })).toMatchObject({
      name: 'whole part',
      whole: true,
    })
    expect(made(long(3), {}, { hard: 'x'.repeat(401) }).hard).toBe('x'.repeat(400))
    expect(made(long(3)).hard).toBeUndefined()
  })

  test('as played by the first and last of its measures as written', () => {
    const { measures, count } = made(long(5), { played: [3, 4, 2, 3] })
    expect([measures, count]).toEqual(['3-5, as played', 4])
    expect(made(long(5), { played: [3, 3] }).measures).toBe('4, as played')
    const far = [...long(1), { attrs: 'number="1234567890123"', inside: bar }]
    expect(made(far, { played: [1, 1] }).measures).toBe('123456789012, as played')
  })

  test('where numbers of measures are anything, by their place', () => {
    const odd = (number: string) => ({ attrs: `number="${number}"`, inside: bar })
    const first = { attrs: 'number="1"', inside: head() + mark('quarter', '96') + bar }
    const shown = (number: string) => made([first, odd(number), odd('3')]).measures
    expect(shown('2')).toBe('1-3')
    for (const number of ['X12a', 'abc12345', '12345a'])
      expect(made([first, odd(number)]).name).toBe(`1-${number}`)
    for (const number of ['abcd1', '123456', '1ab', 'x', '1-2'])
      expect(made([first, odd(number)]).name).toBe('1-#2')
  })

  test('with the goal that was wished, else the printed one, else the one for now', () => {
    expect(made(long(2)).goal).toBe('96')
    expect(made(long(2), {}, { goal: tempo(80) }).goal).toBe('80')
    expect(made([head() + bar]).goal).toBe('92')
  })
})

test('a stretch in which nothing stands is refused', () => {
  const part = partOf([head() + mark('quarter', '96') + bar, bar])
  const { from } = whole(part)
  const wish = { newId: () => 'id1000', fallback: tempo(92) }
  expect(refusal(passageOf(part, { from, to: from }, wish))).toMatch(
    /"nothing to play there" .* a part of measures 1 to 2/,
  )
  expect(refusal(passageOf(part, { ...whole(part), played: [7] }, wish))).toMatch(/nothing to play there/)
})

test('a caesura or fermata takes a beat, once for all voices, and none at the very end but a fermata', () => {
  const caesura = '<notations><articulations><caesura/></articulations></notations>'
  const fermata = '<notations><fermata/></notations>'
  const holds = (...measures: readonly string[]) =>
    made([head() + mark('quarter', '96') + measures[0], ...measures.slice(1)]).breaths
  expect(holds(note(8, caesura) + note(8), bar)).toMatchObject([{ at: '1.3', kind: 'caesura' }])
  expect(holds(bar, note(16, caesura))).toBeUndefined()
  expect(holds(bar, note(16, fermata))).toHaveLength(1)
})
