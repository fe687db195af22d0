import { describe, expect, test } from 'vitest'
import { meterText } from '../../src/music/meter.ts'
import { measureNamed } from '../../src/score/places.ts'
import { readPart } from '../../src/score/read-part.ts'
import type { NoteFacts, Place } from '../../src/score/score.ts'
import {
  attributes,
  barline,
  direction,
  head,
  must,
  note,
  partOf,
  rest,
  scoreOf,
  scoreText,
  text,
  time,
  words,
} from './scores.ts'

const places = (events: readonly Place[]) => events.map(e => `${e.measure}@${text(e.at)}`)
const noteText = (n: NoteFacts & Place): string =>
  `${text(n.at)} ${n.pitch ? n.pitch.step + n.pitch.octave : n.kind} ${text(n.length)}`

describe('positions', () => {
  // MusicXML 4.0, element divisions: "if duration = 1 and divisions = 2, this is an eighth note duration".
  test('one division of two is an eighth', () => {
    const part = partOf([attributes('<divisions>2</divisions>') + note(1)])
    expect(text(part.notes[0]?.length ?? { n: 0, d: 1 })).toBe('1/8')
  })

  test('follow backup and forward, and a chord does not move them', () => {
    const part = partOf([
      head() +
        note(8) +
        note(8, '<chord/>', 'E5') +
        note(8, '', 'D5') +
        '<backup><duration>16</duration></backup><forward><duration>4</duration></forward>' +
        note(12, '', 'G4'),
    ])
    expect(part.notes.map(noteText)).toEqual(['0 C5 1/2', '0 E5 1/2', '1/2 D5 1/2', '1/4 G4 3/4'])
    expect(part.notes.map(n => n.chord)).toEqual([false, true, false, false])
  })

  test('follow divisions that change, also inside a measure', () => {
    const finer = attributes('<divisions>8</divisions>')
    const part = partOf([head() + note(4) + finer + note(8) + note(16), note(32)])
    expect(part.notes.map(noteText)).toEqual(['0 C5 1/4', '1/4 C5 1/4', '1/2 C5 1/2', '1 C5 1'])
  })

  test('of tuplets come from the durations', () => {
    const part = partOf([attributes(`<divisions>3</divisions>${time('1', 4)}`) + note(1) + note(1) + note(1)])
    expect(part.notes.map(n => text(n.at))).toEqual(['0', '1/12', '1/6'])
  })

  test('of grace notes are those of the note after, with no length', () => {
    const grace = '<note><grace/><pitch><step>B</step><octave>4</octave></pitch></note>'
    const part = partOf([head() + note(8) + grace + note(8)])
    expect(part.notes.map(noteText)).toEqual(['0 C5 1/2', '1/2 B4 0', '1/2 C5 1/2'])
  })

  test('before the bar line are at the bar line, and that is remarked', () => {
    const part = partOf([`${head() + note(4)}<backup><duration>99</duration></backup>${note(16)}`])
    expect(part.notes.map(n => text(n.at))).toEqual(['0', '0'])
    expect(part.warnings).toEqual(['measure 1: a backup leads before its bar line: it goes to the bar line'])
  })
})

describe('notes', () => {
  test('a tied note goes on and is no new onset; voice, staff, cue and rest are kept', () => {
    const tied = '<tie type="stop"/><staff>2</staff>'
    const part = partOf([
      head() + note(8, '<tie type="start"/>') + note(4, tied) + note(4, '<cue/>'),
      rest(16),
    ])
    expect(part.notes.map(n => n.continued)).toEqual([false, true, false, false])
    expect(part.notes.map(n => n.staff)).toEqual([1, 2, 1, 1])
    expect(part.notes.map(n => n.cue)).toEqual([false, false, true, false])
    expect(part.notes.map(n => n.kind)).toEqual(['pitched', 'pitched', 'pitched', 'rest'])
  })

  test('an accidental is a note altered against the key, traditional or not', () => {
    const key = (k: string) => attributes(`<key>${k}</key>`)
    const part = partOf([
      head() + key('<fifths>2</fifths>') + note(4, '', 'F#5') + note(4, '', 'F5') + note(8, '', 'Bb4'),
      key('<key-step>E</key-step><key-alter>-1</key-alter>') + note(8, '', 'Eb5') + note(8, '', 'F#5'),
    ])
    expect(part.notes.map(n => n.foreign)).toEqual([false, true, true, false, true])
  })

  test('flats, a key of one staff, and a key that replaces it for all', () => {
    const key = (fifths: number, staff = '') => attributes(`<key${staff}><fifths>${fifths}</fifths></key>`)
    const low = '<staff>2</staff>'
    const pair = note(4, '', 'Bb4') + note(4, low, 'Bb3')
    const part = partOf([
      head() + key(0) + key(-1, ' number="2"') + pair + pair,
      key(-2) + pair + note(4, low, 'Eb3') + note(4, low, 'F3'),
    ])
    expect(part.notes.map(n => n.foreign)).toEqual([true, false, true, false, false, false, false, false])
  })

  test('a pitch that makes no sense is an unpitched note', () => {
    const part = partOf([
      `${head()}<note><pitch><step>H</step><octave>4</octave></pitch><duration>4</duration></note>`,
    ])
    expect(part.notes.map(n => [n.kind, n.pitch])).toEqual([['unpitched', null]])
  })

  test('the transposition is a fact: a clarinet in B flat sounds two semitones lower', () => {
    const part = partOf([head() + attributes('<transpose><chromatic>-2</chromatic></transpose>') + note(16)])
    expect(part.transpositions.map(t => t.semitones)).toEqual([-2])
    expect(part.notes[0]?.pitch).toEqual({ step: 'C', alter: 0, octave: 5 })
  })
})

describe('measures', () => {
  test('keep their number as it is written, a pick-up its length', () => {
    const part = partOf([
      { attrs: 'number="0" implicit="yes"', inside: head() + note(4) },
      { attrs: 'number="12a"', inside: note(16) },
      { attrs: 'number="X1" text="[13]" implicit="yes"', inside: note(16) },
    ])
    expect(part.measures.map(m => [m.number, m.shown, text(m.at), text(m.length)])).toEqual([
      ['0', '', '0', '1/4'],
      ['12a', '', '1/4', '1'],
      ['X1', '[13]', '5/4', '1'],
    ])
    expect(part.warnings).toEqual([])
  })

  test('are found by the number that is printed', () => {
    const numbered = (attrs: string) => ({ attrs, inside: note(16) })
    const part = partOf([
      { attrs: 'number="0" implicit="yes"', inside: head() + note(4) },
      numbered('number="1"'),
      numbered('number="2" text="A1"'),
      numbered('number="X1" implicit="yes"'),
    ])
    expect(['0', ' 1 ', 'A1', 'X1', '7', ''].map(n => measureNamed(part, n))).toEqual([
      0,
      1,
      2,
      3,
      null,
      null,
    ])
  })

  test('left short by this part are as long as another part makes them, an empty one as its meter', () => {
    const part = partOf([head() + note(4), ''], [head() + note(12), ''])
    expect(part.measures.map(m => text(m.length))).toEqual(['3/4', '1'])
  })

  test('that do not hold what their meter asks for are remarked', () => {
    const part = partOf([head() + note(16), note(8), note(20), note(16)])
    expect(part.measures.map(m => text(m.length))).toEqual(['1', '1/2', '5/4', '1'])
    expect(part.warnings).toEqual([
      'measure 2: it holds half where 4/4 asks for whole',
      'measure 3: it holds 5/4 where 4/4 asks for whole',
    ])
  })

  test('in two halves are one measure to a reader and not remarked', () => {
    const part = partOf([
      head() + note(16),
      { attrs: 'number="2"', inside: note(12) },
      { attrs: 'number="X1" implicit="yes"', inside: note(4) },
      note(16),
    ])
    expect(part.warnings).toEqual([])
  })
})

describe('meters', () => {
  const meterOf = (inside: string) => {
    const [m] = partOf([attributes(`<divisions>4</divisions><time>${inside}</time>`) + note(16)]).measures
    return [m?.meterText, m?.meter && meterText(m.meter), m?.meter?.groups]
  }
  const pair = (beats: string, type: string) => `<beats>${beats}</beats><beat-type>${type}</beat-type>`

  // MusicXML 4.0, element time: "a composite such as 3+2/8 requires only one <beats>/<beat-type> pair".
  test('one pair may hold a sum', () => {
    expect(meterOf(pair('3+2', '8'))).toEqual(['3+2/8', '3+2/8', [3, 2]])
    expect(meterOf(pair('5+3+1', '4'))[2]).toEqual([5, 3, 1])
  })

  test('several pairs are added over the smallest unit', () => {
    expect(meterOf(pair('2', '4') + pair('3', '8'))).toEqual(['2/4+3/8', '7/8', [2, 2, 3]])
    expect(meterOf(pair('3+2', '8') + pair('3', '4'))[2]).toEqual([3, 2, 2, 2, 2])
    expect(meterOf(pair('6', '8') + pair('1', '4'))[2]).toEqual([3, 3, 2])
  })

  test('without measure and without a time signature are said plainly', () => {
    expect(meterOf('<senza-misura/>')).toEqual(['senza misura', null, undefined])
    expect(partOf([attributes('<divisions>4</divisions>') + note(16)]).measures[0]?.meterText).toBe(
      'no time signature',
    )
  })

  test('that cannot be read are none, with a remark', () => {
    expect(meterOf(pair('4', '5'))[1]).toBe(null)
    expect(partOf([head('x', 4) + note(16)]).warnings).toEqual(['measure 1: the time x/4 is not understood'])
  })

  test('run on into a movement that has none of its own', () => {
    const score = scoreOf(
      scoreText([head('2', 4) + note(8), attributes(time('3', 4)) + note(12), note(12), note(12)]),
    )
    const later = must(readPart(score, 'P1', { from: 2, to: 3 }))
    expect(later.measures.map(m => m.meterText)).toEqual(['3/4', '3/4'])
    expect(must(readPart(score, 'P1', { from: 1, to: 1 })).measures.map(m => m.meterText)).toEqual(['3/4'])
  })

  test('at the end of a measure hold from the next; a part without any takes those of another', () => {
    const part = partOf([head() + note(16) + attributes(time('3', 4)), note(12)])
    expect(part.measures.map(m => m.meterText)).toEqual(['4/4', '3/4'])
    const bare = partOf([attributes('<divisions>4</divisions>') + note(24)], [head('6', 4) + note(24)])
    expect(bare.measures[0]?.meterText).toBe('6/4')
  })
})

describe('breaths and phrases', () => {
  const articulated = (inside: string) => `<notations><articulations>${inside}</articulations></notations>`

  // MusicXML 4.0, data type breath-mark-value: comma, tick, upbow, salzedo, and the empty value.
  test('a breath mark stands at the end of its note, whatever its shape', () => {
    const part = partOf([
      head() +
        note(8, articulated('<breath-mark>tick</breath-mark>')) +
        note(8, articulated('<breath-mark/><caesura>thick</caesura>')),
    ])
    expect(part.breaths.map(b => [b.kind, b.shape, text(b.from), text(b.at), b.measure])).toEqual([
      ['breath', 'tick', '0', '1/2', 0],
      ['breath', '', '1/2', '1', 0],
      ['caesura', 'thick', '1/2', '1', 0],
    ])
  })

  test('a fermata belongs to its note', () => {
    const part = partOf([
      head() + note(16),
      note(16, '<notations><fermata type="upright">square</fermata></notations>'),
    ])
    expect(part.breaths.map(b => [b.kind, b.shape, text(b.from), text(b.at)])).toEqual([
      ['fermata', 'square', '1', '2'],
    ])
  })

  test('a fermata over a bar line stands at the end of its measure', () => {
    const part = partOf([head() + note(16) + barline('right', '<fermata/>'), note(16)])
    expect(part.breaths.map(b => [b.kind, text(b.at), b.measure])).toEqual([['fermata', '1', 0]])
  })

  test('slurs go from the onset of their first note to the end of their last, in one or more measures', () => {
    const slur = (type: string, n = 1) => `<notations><slur type="${type}" number="${n}"/></notations>`
    const part = partOf([
      head() + note(8, slur('start', 2)) + note(4, slur('start')) + note(4),
      note(8, slur('stop') + slur('start')) + note(8, slur('stop') + slur('stop', 2)),
      note(16, slur('start')),
    ])
    expect(part.slurs.map(s => `${text(s.from.at)}-${text(s.to.at)}`)).toEqual(['0-2', '1/2-3/2', '1-2'])
  })
})

describe('directions', () => {
  test('rehearsal marks stand at their offset, once for all parts', () => {
    const mark = direction('<rehearsal>A</rehearsal>', '<offset>4</offset>')
    const part = partOf([head() + note(16)], [head() + mark + note(16)], [head() + mark + note(16)])
    expect(part.rehearsals.map(r => [r.text, r.part])).toEqual([['A', 'P2']])
    expect(places(part.rehearsals)).toEqual(['0@1/4'])
  })

  test('of another part only those that speak of the tempo are this part’s', () => {
    const other = [head() + words('dolce') + words('poco rit.') + note(8) + words('a tempo') + note(8)]
    const part = partOf([head() + words('arco') + note(16)], other)
    expect(part.words.map(w => w.text)).toEqual(['arco', 'poco rit.', 'a tempo'])
  })

  test('an offset never leads out of its measure', () => {
    const far = direction('<rehearsal>B</rehearsal>', '<offset>400</offset>')
    expect(places(partOf([head() + far + note(16), note(16)]).rehearsals)).toEqual(['0@1'])
  })

  test('a bar line in the middle of a measure changes nothing', () => {
    const part = partOf([head() + note(8) + barline('middle', '<bar-style>dotted</bar-style>') + note(8)])
    expect(part.warnings).toEqual([])
    expect(text(part.measures[0]?.length ?? { n: 0, d: 1 })).toBe('1')
  })
})
