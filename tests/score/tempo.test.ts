import { describe, expect, test } from 'vitest'
import { decimal, frac } from '../../src/music/fraction.ts'
import { quarters, typed } from '../../src/music/tempo.ts'
import type { Part } from '../../src/score/score.ts'
import { tempoAt } from '../../src/score/tempo-line.ts'
import { numberIn, playingTempo, tempoWord } from '../../src/score/tempo-marks.ts'
import { attributes, direction, head, mark, note, partOf, text, words } from './scores.ts'

const tempos = (part: Part) => part.tempos.map(t => `${text(t.at)} ${t.tempo ? typed(t.tempo) : 'none'}`)
const sound = (tempo: string, inside = '') => `<sound tempo="${tempo}">${inside}</sound>`
const relation = (left: string, right: string, after = '') => {
  const side = (s: string) =>
    s
      .split('.')
      .map((u, i) => (i === 0 ? `<beat-unit>${u}</beat-unit>` : '<beat-unit-dot/>'))
      .join('')
  return direction(`<metronome>${side(left)}${side(right)}</metronome>`, after)
}

describe('a note value and a number', () => {
  test('any note value, dotted too', () => {
    const part = partOf([
      head() + mark('quarter.', '80') + note(8) + mark('half', '63.5') + note(8),
      mark('long', '100') + note(16),
    ])
    expect(tempos(part)).toEqual(['0 dotted-quarter=80', '1/2 half=63.5', '1 4/1=100'])
  })

  // MusicXML 4.0, element per-minute: "a number, or a text description including numbers".
  test.each([
    ['108', '108'],
    ['c. 108', '108'],
    ['ca. 92,5', '92.5'],
    ['40 - 46', '40'],
    ['(132)', '132'],
  ])('"%s" is %s', (printed, expected) => {
    const bpm = numberIn(printed)
    expect(bpm && decimal(bpm)).toBe(expected)
  })

  test('the text stays as it is printed', () => {
    expect(partOf([head() + mark('quarter.', 'c. 108') + note(16)]).tempos[0]?.text).toBe(
      'dotted quarter = c. 108',
    )
  })

  test.each(['', 'lento', '0', '1200'])('"%s" holds no number: the mark is kept without one', printed => {
    const part = partOf([head() + mark('quarter', printed) + note(16)])
    expect(tempos(part)).toEqual(['0 none'])
    expect(part.warnings[0]).toMatch(/^measure 1: the mark quarter = .*holds no number from 1 to 999$/)
  })
})

describe('playing tempos', () => {
  // MusicXML 4.0, element sound: "tempo is expressed in quarter notes per minute".
  test('agree with a dotted quarter of 80 at 120', () => {
    expect(partOf([head('6', 8) + mark('quarter.', '80', '120') + note(12)]).warnings).toEqual([])
  })

  test('lose against the printed mark, and the difference is said', () => {
    const part = partOf([head() + mark('quarter', '96', '120') + note(16)])
    expect(tempos(part)).toEqual(['0 96'])
    expect(part.warnings).toEqual([
      'measure 1: quarter = 96 is 96 quarters a minute but played at 120: the mark is used',
    ])
  })

  test('written apart at the same place belong to the mark', () => {
    const part = partOf([head() + mark('half', '60') + sound('120') + note(16)])
    expect(tempos(part)).toEqual(['0 half=60'])
    expect(part.warnings).toEqual([])
  })

  test('alone are counted in the note value that ran before', () => {
    const part = partOf([
      head() + sound('100') + note(8) + mark('half', '60') + note(8),
      sound('90') + note(16),
    ])
    expect(tempos(part)).toEqual(['0 100', '1/2 half=60', '1 half=45'])
    expect(part.tempos.map(t => t.from)).toEqual(['sound', 'mark', 'sound'])
  })

  // MusicXML 4.0, element sound: "if 0, the sound-generating program should prompt the user".
  test.each([
    ['0', /measure 1: its playing tempo is 0, which asks the player for one/],
    ['fast', /measure 1: its playing tempo "fast" is left out/],
    ['-60', /left out/],
    ['Infinity', /left out/],
    ['1e9', /left out/],
  ])('of "%s" are none', (tempo, expected) => {
    const part = partOf([head() + sound(tempo) + note(16)])
    expect(part.tempos).toEqual([])
    expect(part.warnings[0]).toMatch(expected)
  })

  test('are taken to a thousandth', () => {
    const bpm = playingTempo('119.999976')
    expect(bpm && decimal(bpm)).toBe('120')
  })

  // MusicXML 4.0, element offset: "the sound attribute is no by default".
  test('take effect at the current place unless the offset says otherwise', () => {
    const shifted = (offset: string) =>
      partOf([head() + note(8) + words('Allegro', offset + sound('90')) + note(8)]).tempos.map(t =>
        text(t.at),
      )
    expect(shifted('<offset>4</offset>')).toEqual(['1/2'])
    expect(shifted('<offset sound="yes">4</offset>')).toEqual(['3/4'])
    expect(
      partOf([head() + note(8) + sound('90', '<offset>4</offset>') + note(8)]).tempos.map(t => text(t.at)),
    ).toEqual(['3/4'])
  })
})

describe('a note value and a note value', () => {
  // DeLone et al., Aspects of Twentieth-Century Music (1975), ch. 3: dotted quarter = 84 is the same as quarter = 126.
  test('the old tempo of the left lasts as long as the new tempo of the right', () => {
    const part = partOf([
      head('6', 8) + mark('quarter.', '84') + note(12),
      relation('quarter', 'quarter.') + note(12),
    ])
    expect(tempos(part)[1]).toBe('3/4 dotted-quarter=126')
  })

  // music21 10.5, MetronomeMark docstring: quarter = 60 is half = 30.
  test('the same pulse is only counted differently', () => {
    const part = partOf([head() + mark('quarter', '60') + note(16), relation('half', 'half') + note(16)])
    expect(part.tempos.map(t => t.tempo && decimal(quarters(t.tempo)))).toEqual(['60', '60'])
  })

  test('is read the other way round where the playing tempo says so', () => {
    const opening = head() + mark('quarter', '100') + note(16)
    const plain = partOf([opening, relation('quarter', 'half', sound('200')) + note(16)])
    const turned = partOf([opening, relation('quarter', 'half', sound('50')) + note(16)])
    expect([tempos(plain)[1], tempos(turned)[1]]).toEqual(['1 half=100', '1 50'])
  })

  test('with nothing before it is unknown, and said', () => {
    const part = partOf([head() + relation('quarter', 'half') + note(16)])
    expect(tempos(part)).toEqual(['0 none'])
    expect(part.warnings).toEqual(['measure 1: quarter = half has no tempo before it'])
  })

  test('a tied note value is added', () => {
    const tied = '<beat-unit-tied><beat-unit>eighth</beat-unit></beat-unit-tied>'
    const metronome = `<metronome><beat-unit>half</beat-unit>${tied}<per-minute>40</per-minute></metronome>`
    expect(tempos(partOf([head() + direction(metronome) + note(16)]))).toEqual(['0 5/8=40'])
  })
})

describe('groups of notes', () => {
  const type = (t: string, more = '') =>
    `<metronome-note><metronome-type>${t}</metronome-type>${more}</metronome-note>`
  const tuplet = (edge: string) =>
    `<metronome-tuplet type="${edge}"><actual-notes>3</actual-notes><normal-notes>2</normal-notes></metronome-tuplet>`
  const groups = (left: string, right: string) =>
    direction(`<metronome>${left}<metronome-relation>equals</metronome-relation>${right}</metronome>`)
  const changed = (change: string) =>
    tempos(partOf([head() + mark('quarter', '120') + note(16), change + note(16)]))[1]

  // MusicXML 4.0, element metronome: "two eighths are equated to a quarter note / eighth note triplet".
  test('a swing mark leaves the tempo as it is', () => {
    const swing = groups(
      type('eighth') + type('eighth'),
      type('quarter', tuplet('start')) + type('eighth', tuplet('stop')),
    )
    expect(changed(swing)).toBe('1 120')
  })

  test('else they are a relation', () => {
    expect(changed(groups(type('quarter', '<metronome-dot/>'), type('quarter')))).toBe('1 80')
    expect(changed(groups(type('eighth', tuplet('start')), type('eighth')))).toBe('1 eighth=360')
    // the tuplet ends with its last note: two thirds of a dotted quarter and an eighth are a dotted quarter
    const triplet = type('quarter', tuplet('start')) + type('eighth', tuplet('stop'))
    expect(changed(groups(triplet + type('eighth'), type('quarter')))).toBe('1 80')
  })

  test('a single note without a relation says nothing', () => {
    const part = partOf([head() + direction(`<metronome>${type('quarter')}</metronome>`) + note(16)])
    expect(part.tempos).toEqual([])
    expect(part.warnings).toEqual(['measure 1: a metronome mark without a note value or number is left out'])
  })
})

describe('tempo words', () => {
  test.each([
    ['rit.', 'slower'],
    ['poco a poco ritardando', 'slower'],
    ['molto rall.', 'slower'],
    ['allarg.', 'slower'],
    ['cresc. e accel.', 'faster'],
    ['string.', 'faster'],
    ['a tempo', 'back'],
    ['a Tempo. Moins vite', 'back'],
    ['Tempo I', 'first'],
    ['Tempo primo', 'first'],
    ['Allegro', null],
    ['riten.', 'slower'],
    ['calando', 'slower'],
    ['Cédez', 'slower'],
    ['più lento', 'other'],
    ['Meno mosso', 'other'],
    ['langsamer', 'other'],
    ['en animant', 'faster'],
    ['string quartet', null],
    ['a temporary stop', null],
    ['Tempo 132', null],
    ['critical', null],
  ])('"%s": %s', (said, expected) => {
    expect(tempoWord(said)).toBe(expected)
  })

  const slowing = (...end: readonly string[]) =>
    partOf([head() + mark('quarter', '120') + note(16), words('rit.') + note(16), ...end])

  test('a rit. to a written tempo is a ramp', () => {
    const part = slowing(mark('quarter', '80') + note(16))
    expect(part.tempos.map(t => [text(t.at), t.tempo && typed(t.tempo), t.ramp])).toEqual([
      ['0', '120', false],
      ['1', '120', true],
      ['2', '80', false],
    ])
    const middle = tempoAt(part.tempos, frac(3, 2))
    expect(middle && typed(middle)).toBe('100')
    expect(part.warnings).toEqual([])
  })

  test('at the place of a mark it is that mark that slides', () => {
    const part = partOf([
      head() + mark('quarter', '120') + words('rit.') + note(16),
      mark('quarter', '80') + note(16),
    ])
    expect(part.tempos.map(t => t.ramp)).toEqual([true, false])
  })

  test.each([
    ['no tempo', [note(16)]],
    ['a tempo at once', [words('a tempo') + note(16), mark('quarter', '60') + note(16)]],
    ['a tempo with its number', [words('a tempo') + mark('quarter', '100') + note(16)]],
    ['a faster one', [mark('quarter', '132') + note(16)]],
    ['one far away', [...Array.from({ length: 9 }, () => note(16)), mark('quarter', '60') + note(16)]],
  ])('a rit. to %s keeps its tempo and says so', (_, end) => {
    const part = slowing(...end)
    expect(part.tempos.some(t => t.ramp)).toBe(false)
    expect(part.warnings).toEqual(['"rit." m. 2: no number follows, the click keeps its tempo there'])
  })

  test('"a tempo" goes back to what ran before the rit., "Tempo I" to the first mark', () => {
    const part = partOf([
      head() + mark('quarter', '120') + note(16),
      mark('quarter', '100') + note(8) + words('rit.') + note(8),
      mark('quarter', '70') + note(16),
      words('a tempo') + note(16),
      words('Tempo I') + note(16),
    ])
    expect(tempos(part).slice(3)).toEqual(['2 70', '3 100', '4 120'])
    expect(part.tempos.map(t => t.from).slice(4)).toEqual(['word', 'word'])
  })

  test('a rit. that carries its own slower number is that tempo, and "a tempo" goes back beyond it', () => {
    const part = partOf([
      head() + mark('quarter', '124') + note(16),
      mark('quarter', '114') + words('rall.') + note(16),
      words('a tempo') + note(16),
    ])
    expect(tempos(part)).toEqual(['0 124', '1 114', '2 124'])
    expect(part.warnings).toEqual([])
  })
})

test('remarks on one part stop at fifty and count the rest', () => {
  const { warnings } = partOf([
    head() + note(16),
    ...Array.from({ length: 60 }, () => mark('quarter', '?') + note(16)),
  ])
  expect(warnings.length).toBe(51)
  expect(warnings.at(-1)).toBe('and 10 more remarks of this kind')
})

describe('tempo marks of a score', () => {
  test('stand for all parts; a part’s own comes first and a difference is said', () => {
    const top = [head() + mark('quarter', '90') + note(16), mark('quarter', '60') + note(16)]
    const part = partOf([head() + note(16), mark('quarter', '63') + note(16)], top)
    expect(part.tempos.map(t => [t.part, t.tempo && typed(t.tempo)])).toEqual([
      ['P2', '90'],
      ['P1', '63'],
    ])
    expect(part.warnings).toEqual(['measure 2: part P2 has quarter = 60, quarter = 63 is taken'])
  })

  test('a playing tempo in this part belongs to the mark that is printed in another', () => {
    const part = partOf([head() + sound('120') + note(16)], [head() + mark('half', '60') + note(16)])
    expect(tempos(part)).toEqual(['0 half=60'])
    expect(part.warnings).toEqual([])
  })

  test('two different ones at one place: the printed one holds', () => {
    const hidden =
      '<metronome print-object="no"><beat-unit>quarter</beat-unit><per-minute>50</per-minute></metronome>'
    const part = partOf([head() + direction(hidden) + mark('quarter', '90') + note(16)])
    const held = tempoAt(part.tempos, frac(1, 2))
    expect(held && typed(held)).toBe('90')
    expect(part.tempos.map(t => t.printed)).toEqual([false, true])
    expect(part.warnings).toEqual(['measure 1: quarter = 50 stands beside quarter = 90, which is taken'])
  })

  test('before the first there is none', () => {
    const part = partOf([attributes('<divisions>4</divisions>') + note(16), mark('quarter', '90') + note(16)])
    expect(tempoAt(part.tempos, frac(1, 2))).toBe(null)
  })
})
