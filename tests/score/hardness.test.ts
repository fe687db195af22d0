import { describe, expect, test } from 'vitest'
import { tempo } from '../../src/music/tempo.ts'
import { hardness } from '../../src/score/hardness.ts'
import { proposePassages } from '../../src/score/proposals.ts'
import type { Place } from '../../src/score/score.ts'
import { attributes, head, mark, note, partOf, rest, text } from './scores.ts'

const notes = (count: number, duration: number, pitches: readonly string[] = ['C5']) =>
  Array.from({ length: count }, (_, i) => note(duration, '', pitches[i % pitches.length])).join('')
const at = (p: Place) => `${p.measure + 1} ${text(p.at)}`

describe('how hard a measure is', () => {
  const first = (...measures: readonly string[]) => {
    const [opening, ...others] = measures
    return hardness(partOf([head() + opening, ...others]), tempo(120))
  }

  test('notes a second as they are played: four in a row, the rests between them counted', () => {
    // eighths at quarter = 120 are four a second (arithmetic)
    const moving = ['C5', 'D5']
    expect(first(notes(8, 2, moving))[0]?.perSecond).toBeCloseTo(4, 9)
    const part = partOf([head('6', 8) + mark('quarter.', '80') + notes(6, 2, moving), notes(12, 1, moving)])
    expect(hardness(part).map(h => h.perSecond)).toEqual([4, 8])
    expect(hardness(part, tempo(60)).map(h => h.perSecond)).toEqual([2, 4])
    expect(first(`${note(2)}${rest(2)}${note(2, '', 'D5')}${rest(2)}`.repeat(2))[0]?.perSecond).toBeCloseTo(
      2,
      9,
    )
  })

  test('one short note does not make a measure quick, and a repeated note is half a move', () => {
    expect(first(rest(14) + note(2))[0]).toMatchObject({ notes: 1, perSecond: null })
    expect(first(notes(8, 2))[0]?.perSecond).toBeCloseTo(2, 9)
  })

  test('a tie is no new note, a grace note is one, a chord is one', () => {
    const grace = '<note><grace/><pitch><step>B</step><octave>4</octave></pitch></note>'
    const chord = note(4) + note(4, '<chord/>', 'E5')
    expect(
      first(note(12, '<tie type="start"/>') + grace + chord, note(16, '<tie type="stop"/>')),
    ).toMatchObject([{ notes: 3 }, { notes: 0 }])
  })

  test('a note held under moving ones does not slow them down', () => {
    const held = `${note(16, '', 'C4')}<backup><duration>16</duration></backup>${notes(8, 2, ['C5', 'D5'])}`
    expect(first(held)[0]?.perSecond).toBeCloseTo(4, 9)
  })

  test('leaps count the more the quicker they come, and none is heard across a long rest', () => {
    const [slow, quick] = [8, 2].map(n => first(notes(16 / n, n, ['C5', 'C6']))[0])
    expect(slow?.widest).toBe(12)
    expect(quick?.shape).toBeGreaterThan(slow?.shape ?? 9)
    expect(first(note(2) + rest(12) + note(2, '', 'C6'))[0]?.widest).toBe(0)
  })

  test('accidentals against the key that is in force there, each once', () => {
    const key = attributes('<key><fifths>1</fifths></key>')
    expect(first(key + notes(4, 4, ['F#5', 'F5', 'G#5', 'G5']))[0]?.foreign).toBe(2)
    // a stretch that stays in another key is read in that key
    const away = notes(4, 4, ['F#5', 'G5', 'F#5', 'E5'])
    const all = first(away, away, away)
    expect(all.map(h => h.foreign)).toEqual([1, 1, 0])
  })

  test('the two hands of a keyboard part are two lines: what jumps between them is no leap', () => {
    const hand = (n: number, pitch: string) => note(16, `<staff>${n}</staff>`, pitch)
    const both = `${hand(1, 'C6')}<backup><duration>16</duration></backup>${hand(2, 'C2')}`
    expect(first(both, both).map(h => h.widest)).toEqual([0, 0])
    // the hand goes from note to note; how wide a chord is that comes after a long one is no way to go
    const under = `<backup><duration>16</duration></backup>${hand(2, 'C2')}`
    const chord = hand(1, 'C4') + note(16, '<chord/><staff>1</staff>', 'C6')
    expect(first(hand(1, 'C5') + under, chord + under)[1]?.shape).toBe(0)
  })
})

describe('passages that are proposed', () => {
  const easy = notes(4, 4)
  const run = notes(16, 1, ['C5', 'D5', 'E5', 'F5'])
  const start = head() + mark('quarter', '120')

  test('are the hard measures, on to the beat of the next first note, with the reason in words', () => {
    const part = partOf([start + easy, easy, run, run, easy, easy])
    const [p] = proposePassages(part)
    expect(p && [at(p.from), at(p.to)]).toEqual(['3 2', '5 17/4'])
    expect(p?.why).toMatch(/^8\.0 notes a second/)
  })

  test('that come again are proposed once', () => {
    const part = partOf([start + easy, easy, run, run, easy, easy, easy, run, run, easy])
    expect(proposePassages(part).map(p => [p.from.measure + 1, p.again])).toEqual([[3, ['8']]])
  })

  test('are not cut into a slur: they begin with the note under which it begins', () => {
    const slur = (type: string) => `<notations><slur type="${type}"/></notations>`
    const before = notes(3, 4) + note(4, slur('start'), 'D5')
    const part = partOf([start + easy, before, note(1, slur('stop')) + notes(15, 1, ['D5', 'E5']), run, easy])
    expect(proposePassages(part).map(p => at(p.from))).toEqual(['2 7/4'])
  })

  test('do not go over a double bar line', () => {
    const double = '<barline location="right"><bar-style>light-light</bar-style></barline>'
    const part = partOf([start + easy, run, run + double, easy, easy])
    const [p] = proposePassages(part)
    expect(p && at(p.to)).toBe('3 3')
  })

  test('are more than a pick-up, and an even part has none', () => {
    const upbeat = { attrs: 'number="0" implicit="yes"', inside: start + notes(4, 1, ['C5', 'D5']) }
    expect(proposePassages(partOf([upbeat, easy, easy, easy]))).toEqual([])
    expect(proposePassages(partOf([start + easy, easy, easy]))).toEqual([])
  })
})
