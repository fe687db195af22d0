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

  test('notes a second, at the tempo that is asked for or at the written one', () => {
    // eighths at quarter = 120 are four a second (arithmetic)
    expect(first(notes(8, 2))[0]?.perSecond).toBeCloseTo(4, 9)
    const part = partOf([head('6', 8) + mark('quarter.', '80') + notes(6, 2), notes(12, 1)])
    expect(hardness(part).map(h => h.perSecond)).toEqual([4, 8])
    expect(hardness(part, tempo(60)).map(h => h.perSecond)).toEqual([2, 4])
    expect(hardness(partOf([head() + note(16)]))[0]?.perSecond).toBe(null)
  })

  test('rests are left out, so a run in half a measure counts as a run', () => {
    expect(first(notes(8, 1) + rest(8))[0]?.perSecond).toBeCloseTo(8, 9)
    expect(first(rest(16))[0]).toMatchObject({ notes: 0, perSecond: null })
  })

  test('a tie is no new note, a grace note is one, a chord is one', () => {
    const grace = '<note><grace/><pitch><step>B</step><octave>4</octave></pitch></note>'
    const chord = note(4) + note(4, '<chord/>', 'E5')
    expect(
      first(note(12, '<tie type="start"/>') + grace + chord, note(16, '<tie type="stop"/>')),
    ).toMatchObject([{ notes: 3 }, { notes: 0 }])
    expect(first(note(16), note(16, '<tie type="stop"/>'))[1]?.notes).toBe(0)
  })

  test('a note held under moving ones does not slow them down', () => {
    const held = `${note(16, '', 'C4')}<backup><duration>16</duration></backup>${notes(8, 2)}`
    expect(first(held)[0]).toMatchObject({ notes: 8, perSecond: 4 })
  })

  test('leaps are wider than a fifth, between notes without a rest', () => {
    expect(first(notes(2, 4, ['C5', 'G5']) + notes(2, 4, ['C5', 'A5']))[0]).toMatchObject({
      leaps: 1,
      widest: 9,
    })
    expect(first(note(4) + rest(4) + note(8, '', 'C6'))[0]).toMatchObject({ leaps: 0, widest: 0 })
  })

  test('changes of note length and accidentals', () => {
    expect(first(note(6) + note(2) + note(6) + note(2))[0]?.changes).toBe(3)
    const key = attributes('<key><fifths>1</fifths></key>')
    expect(first(key + notes(4, 4, ['F#5', 'F5', 'G#5', 'G5']))[0]?.foreign).toBe(2)
  })
})

describe('passages that are proposed', () => {
  const easy = notes(4, 4)
  const run = notes(16, 1, ['C5', 'D5', 'E5', 'F5'])
  const phrase = '<notations><slur type="start"/></notations>'
  const phraseEnd = '<notations><slur type="stop"/></notations>'
  const breath = '<notations><articulations><breath-mark/></articulations></notations>'

  test('are the hard measures, with the reason in words', () => {
    const part = partOf([head() + mark('quarter', '120') + easy, easy, run, run, rest(16), easy, easy])
    const proposals = proposePassages(part)
    expect(proposals.map(p => [at(p.from), at(p.to), p.why])).toEqual([
      ['3 2', '4 4', 'up to 8.0 notes a second (the middle of the part is 2.0)'],
    ])
  })

  test('name what else is hard', () => {
    const leaping = notes(4, 4, ['C4', 'C6'])
    const [p] = proposePassages(
      partOf([head() + mark('quarter', '120') + easy, easy, leaping, leaping, easy]),
    )
    expect(p?.why).toBe('8 leaps wider than a fifth')
  })

  test('that come again are named once', () => {
    const part = partOf([head() + mark('quarter', '120') + easy, run, easy, easy, easy, run, easy])
    expect(proposePassages(part).map(p => p.why)).toEqual([
      'up to 8.0 notes a second (the middle of the part is 2.0); the same again from measure 6',
    ])
  })

  test('reach to the rest, breath or slur end beside them, into the measure if it is there', () => {
    const toBreath = note(4, breath) + notes(3, 4)
    const part = partOf([head() + mark('quarter', '120') + easy, easy, run, run, toBreath, easy, easy])
    expect(proposePassages(part).map(p => at(p.to))).toEqual(['5 17/4'])
  })

  test('are cut into sections at rests, breaths and slur ends before bar lines', () => {
    const part = partOf([
      head() + mark('quarter', '120') + easy,
      ...[easy, easy, easy, easy, easy, easy],
      note(1, phrase) + notes(15, 1),
      notes(13, 1) + note(1) + rest(2),
      run,
      notes(15, 1) + note(1, phraseEnd),
      run,
      notes(15, 1) + note(1, breath),
      rest(16),
    ])
    const [p] = proposePassages(part)
    expect(p?.sections.map(s => [at(s.from), at(s.to), s.why])).toEqual([
      ['8 7', '9 71/8', 'ends at the rest in measure 9'],
      ['10 9', '11 11', 'ends with the slur in measure 11'],
      ['12 11', '13 13', 'ends at the breath in measure 13'],
    ])
  })

  test('leave no section shorter than a measure at their end', () => {
    const short = rest(8) + notes(8, 1)
    const part = partOf([
      head() + mark('quarter', '120') + easy,
      easy,
      easy,
      easy,
      easy,
      run,
      run,
      run,
      short,
      easy,
    ])
    const [p] = proposePassages(part)
    expect(p?.sections.map(s => [at(s.from), at(s.to)])).toEqual([
      ['6 5', '7 7'],
      ['8 7', '9 9'],
    ])
  })

  test('are more than a pick-up', () => {
    const upbeat = {
      attrs: 'number="0" implicit="yes"',
      inside: head() + mark('quarter', '120') + notes(4, 1),
    }
    expect(proposePassages(partOf([upbeat, easy, easy, easy]))).toEqual([])
  })

  test('an even part has none, nor has one without tempo for its speed', () => {
    expect(proposePassages(partOf([head() + mark('quarter', '120') + easy, easy, easy]))).toEqual([])
    expect(proposePassages(partOf([head() + easy, easy, run, easy]))).toEqual([])
    expect(proposePassages(partOf([head() + easy, easy, run, easy]), tempo(100)).length).toBe(1)
  })
})
