import { describe, expect, test } from 'vitest'
import { decimal, type Frac, frac } from '../../src/music/fraction.ts'
import { typed } from '../../src/music/tempo.ts'
import { markAt, tempoAt } from '../../src/score/tempo-line.ts'
import { numberIn, playingTempo } from '../../src/score/tempo-marks.ts'
import { attributes, barline, direction, head, mark, note, partOf, text, time, words } from './scores.ts'

const bar = note(16)
const sound = (tempo: number | string) => `<sound tempo="${tempo}"/>`
/** The tempos of a part with these measures: "2 120 sliding". */
const line = (...measures: readonly string[]) => {
  const [first, ...rest] = measures
  return partOf([head() + first, ...rest]).tempos.map(
    t => `${text(t.at)} ${t.tempo ? typed(t.tempo) : 'none'}${t.ramp ? ' sliding' : ''}`,
  )
}
const said = (...measures: readonly string[]) => {
  const [first, ...rest] = measures
  return partOf([head() + first, ...rest]).warnings
}
const shown = (f: Frac | null): string | null => f && decimal(f)

describe('a number of beats a minute', () => {
  test.each([
    ['1', '1'],
    ['999', '999'],
    ['0.9', null],
    ['999.1', null],
    ['1000', null],
    ['', null],
    ['c. 63,5', '63.5'],
    ['63.125', '63.125'],
    ['= 80 - 84', '80'],
  ])('"%s" is %s', (printed, expected) => {
    expect(shown(numberIn(printed))).toBe(expected)
  })

  test.each([
    ['1', '1'],
    ['999', '999'],
    ['0.99', null],
    ['999.001', null],
    ['', null],
    [' ', null],
    ['0', null],
    ['96.5', '96.5'],
    ['0x10', '16'],
    ['1e2', '100'],
  ])('a playing tempo of "%s" is %s', (written, expected) => {
    expect(shown(playingTempo(written))).toBe(expected)
  })

  // MusicXML 4.0, data type note-type-value.
  test.each([
    ['1024th', '1/1024=500', '500'],
    ['512th', '1/512=500', '500'],
    ['256th', '1/256=500', '500'],
    ['128th', '1/128=500', '500'],
    ['breve', '2/1=40', '40'],
    ['long', '4/1=40', '40'],
    ['maxima', '8/1=40', '40'],
    ['quarter....', '31/64=40', '40'],
  ])('%s', (unit, expected, number) => {
    const [first] = line(mark(unit, number) + bar)
    expect(first?.replace('0 ', '')).toBe(first?.includes('=') ? first.replace('0 ', '') : expected)
    const part = partOf([head() + mark(unit, number) + bar])
    const tempo = part.tempos[0]?.tempo
    expect(tempo && `${text(tempo.unit)}${tempo.unit.d === 1 ? '/1' : ''}=${decimal(tempo.bpm)}`).toBe(
      expected,
    )
  })

  test('five dots are no note value', () => {
    expect(line(mark('quarter.....', '40') + bar)).toEqual([])
    expect(said(mark('quarter.....', '40') + bar)).toEqual([
      'measure 1: a metronome mark without a note value or number is left out',
    ])
  })
})

describe('a mark and its playing tempo', () => {
  test('agree within half a percent', () => {
    expect(said(mark('quarter', '200', '201') + bar)).toEqual([])
    expect(said(mark('quarter', '200', '199.1') + bar)).toEqual([])
    expect(said(mark('quarter', '200', '201.1') + bar)).toEqual([
      'measure 1: quarter = 200 is 200 quarters a minute but played at 201.1: the mark is used',
    ])
  })

  test('where a dot is missing, the beat of the meter with a dot is meant', () => {
    const compound = (quarters: number) =>
      partOf([head('6', 8) + mark('quarter', '80', String(quarters)) + note(12)])
    expect(compound(120).tempos.map(t => t.tempo && typed(t.tempo))).toEqual(['dotted-quarter=80'])
    expect(compound(120).warnings).toEqual([
      'measure 1: quarter = 80 is played as dotted quarter = 80, so a dot is missing: that is used',
    ])
    expect(compound(130).tempos.map(t => t.tempo && typed(t.tempo))).toEqual(['80'])
    // nobody counts a dotted quarter in common time
    expect(line(mark('quarter', '80', '120') + bar)).toEqual(['0 80'])
  })

  test('a mark that nobody can mean gives way: quarters slower than 18 or quicker than 420', () => {
    const played = (unit: string, number: string, quarters = '96') => line(mark(unit, number, quarters) + bar)
    expect(played('quarter', '17')).toEqual(['0 96'])
    expect(played('quarter', '18')).toEqual(['0 18'])
    expect(played('quarter', '420')).toEqual(['0 420'])
    expect(played('quarter', '421')).toEqual(['0 96'])
    expect(played('half', '211')).toEqual(['0 96'])
    // both beyond: the mark is used
    expect(played('quarter', '17', '16')).toEqual(['0 17'])
    expect(said(mark('quarter', '4', '96') + bar)).toEqual([
      "measure 1: quarter = 4 can't be meant: quarter = 96, its playback tempo, is used. What is right? Say it with --goal",
    ])
  })

  test('a mark without a number has the playing tempo, and so has a relation without a tempo before it', () => {
    expect(line(mark('quarter', '?', '96') + bar)).toEqual(['0 96'])
    expect(said(mark('quarter', '?', '96') + bar)).toEqual([
      'measure 1: the mark quarter = ? holds no number from 1 to 999: the playback tempo is used',
    ])
    const relation = (after: string) =>
      direction('<metronome><beat-unit>quarter</beat-unit><beat-unit>half</beat-unit></metronome>', after)
    expect(line(relation(sound(96)) + bar)).toEqual(['0 96'])
    expect(said(relation(sound(96)) + bar)).toEqual([
      'measure 1: quarter = half has no tempo before it: the playback tempo is used',
    ])
    // half at once too quick for any scale
    expect(line(mark('quarter', '999') + bar, relation('') + relation('') + bar)[1]).toBe('1 half=999')
  })

  test('a relation of notes that no one could play is left out', () => {
    const quicker = direction(
      '<metronome><beat-unit>eighth</beat-unit><beat-unit>half</beat-unit></metronome>',
    )
    expect(said(mark('quarter', '600') + bar, quicker + bar)).toEqual([
      'measure 2: eighth = half gives half = 1200, which is left out',
    ])
    expect(line(mark('quarter', '600') + bar, quicker + bar)).toEqual(['0 600', '1 none'])
    // what comes after goes on from the last tempo
    const same = direction('<metronome><beat-unit>half</beat-unit><beat-unit>half</beat-unit></metronome>')
    expect(line(mark('quarter', '600') + bar, quicker + bar, same + bar)).toEqual([
      '0 600',
      '1 none',
      '2 600',
    ])
  })

  test('a relation in one part beside a number in another is no contradiction to tell', () => {
    const relation = direction(
      '<metronome><beat-unit>half</beat-unit><beat-unit>quarter</beat-unit></metronome>',
    )
    const number = mark('quarter', '60')
    const measures = (second: string) => [head() + mark('quarter', '120') + bar, second + bar]
    for (const [mine, theirs] of [
      [relation, number],
      [number, relation],
      [number, number],
      [mark('quarter', '?'), number],
      [mark('half', '30'), number],
    ] as const) {
      const { warnings } = partOf(measures(mine), measures(theirs))
      expect(warnings.filter(w => w.includes('is taken'))).toEqual([])
    }
    expect(partOf(measures(mark('quarter', '66')), measures(number)).warnings).toEqual([
      'measure 2: part P2 has quarter = 60, quarter = 66 is taken',
    ])
  })
})

describe('a playing tempo alone', () => {
  test('is counted as the tempo before it, while the meter has the same beat and anyone would count it so', () => {
    expect(line(mark('half', '60') + bar, sound(90) + bar)).toEqual(['0 half=60', '1 half=45'])
    // three halves in a meter of quarters
    expect(line(mark('half', '60') + bar, attributes(time('6', 8)) + sound(90) + note(12))).toEqual([
      '0 half=60',
      '1 dotted-quarter=60',
    ])
    expect(line(mark('half', '60') + bar, sound(50) + bar)).toEqual(['0 half=60', '1 50'])
    expect(line(mark('eighth', '160') + bar, sound(104) + bar)).toEqual(['0 eighth=160', '1 eighth=208'])
    expect(line(mark('eighth', '160') + bar, sound(110) + bar)).toEqual(['0 eighth=160', '1 110'])
  })
})

// Steps of playback that a program writes for a ritardando: how many and how close is our own choice, no source.
describe('steps that only playback takes', () => {
  test('two or more in one direction are one slide from the tempo before', () => {
    expect(line(sound(120) + bar, sound(110) + bar, sound(100) + bar, sound(90) + bar)).toEqual([
      '0 120',
      '1 120 sliding',
      '3 90',
    ])
    expect(line(sound(60) + bar, sound(66) + bar, sound(72) + bar, bar)).toEqual([
      '0 60',
      '1 60 sliding',
      '2 72',
    ])
    expect(line(sound(120) + bar, sound(100) + bar, bar)).toEqual(['0 120', '1 100'])
  })

  test('in turn down and up are none', () => {
    expect(line(sound(120) + bar, sound(100) + bar, sound(110) + bar)).toEqual(['0 120', '1 100', '2 110'])
    expect(line(sound(120) + bar, sound(110) + bar, sound(100) + bar, sound(115) + bar)).toEqual([
      '0 120',
      '1 120 sliding',
      '2 100',
      '3 115',
    ])
    expect(line(sound(120) + bar, sound(100) + bar, sound(100) + bar)).toEqual(['0 120', '1 100'])
  })

  test('further apart than two measures are tempos of their own', () => {
    expect(line(sound(120) + bar, sound(110) + bar, bar, sound(100) + bar)).toEqual([
      '0 120',
      '1 120 sliding',
      '3 100',
    ])
    expect(line(sound(120) + bar, sound(110) + bar, bar, bar, sound(100) + bar)).toEqual([
      '0 120',
      '1 110',
      '4 100',
    ])
    // in a very short measure a quarter counts as one
    const short = attributes(time('1', 8)) + sound(110) + note(2)
    expect(line(sound(120) + bar, short, note(2), note(2), sound(100) + note(2))).toEqual([
      '0 120',
      '1 120 sliding',
      '11/8 eighth=200',
    ])
    expect(line(sound(120) + bar, short, note(2), note(2), note(2), note(2), sound(100) + note(2))).toEqual([
      '0 120',
      '1 eighth=220',
      '13/8 eighth=200',
    ])
  })

  test('a single one of less than a twenty-fifth is none that a musician plays, unless a word says so', () => {
    expect(line(sound(100) + bar, sound(103) + bar)).toEqual(['0 100'])
    expect(line(sound(100) + bar, sound(97) + bar)).toEqual(['0 100'])
    expect(line(sound(100) + bar, sound(105) + bar)).toEqual(['0 100', '1 105'])
    expect(line(sound(100) + bar, sound(95) + bar)).toEqual(['0 100', '1 95'])
    expect(line(sound(100) + bar, words('più mosso') + sound(103) + bar)).toEqual(['0 100', '1 103'])
    // what comes after is measured from the tempo that runs
    expect(line(sound(100) + bar, sound(103) + bar, bar, bar, bar, sound(105) + bar)).toEqual([
      '0 100',
      '5 105',
    ])
  })

  test('small printed ones are a slide where three or more follow each other without a heading', () => {
    const printed = (n: number) => mark('quarter', String(n)) + bar
    expect(line(printed(100), printed(95), printed(90), printed(85))).toEqual([
      '0 100',
      '1 100 sliding',
      '3 85',
    ])
    expect(line(printed(100), printed(95), printed(90))).toEqual(['0 100', '1 95', '2 90'])
    expect(line(printed(100), printed(90), printed(80), printed(70))).toEqual([
      '0 100',
      '1 90',
      '2 80',
      '3 70',
    ])
    expect(line(printed(100), words('Andante') + printed(95), printed(90), printed(85))).toEqual([
      '0 100',
      '1 95',
      '2 90',
      '3 85',
    ])
    const double = barline('right', '<bar-style>light-light</bar-style>')
    expect(line(printed(100) + double, printed(95), printed(90), printed(85))).toEqual([
      '0 100',
      '1 95',
      '2 90',
      '3 85',
    ])
  })
})

describe('a rit. or accel.', () => {
  const easing = (measures: number, first = words('rit.')) =>
    line(
      mark('quarter', '120') + bar,
      first + bar,
      ...Array(measures - 1).fill(bar),
      mark('quarter', '80') + bar,
    )

  test('slides to the next number within eight measures', () => {
    expect(easing(8)).toEqual(['0 120', '1 120 sliding', '9 80'])
    expect(easing(9)).toEqual(['0 120', '10 80'])
    expect(easing(2, words('accel.'))).toEqual(['0 120', '3 80'])
    expect(line(mark('quarter', '80') + bar, words('accel.') + bar, mark('quarter', '120') + bar)).toEqual([
      '0 80',
      '1 80 sliding',
      '2 120',
    ])
  })

  test('not over a heading or a double bar, where a new tempo begins', () => {
    const to = (end: string, double = '') =>
      line(mark('quarter', '120') + bar, words('rit.') + bar + double, end + mark('quarter', '80') + bar)
    expect(to('')).toEqual(['0 120', '1 120 sliding', '2 80'])
    expect(to(words('Andante'))).toEqual(['0 120', '2 80'])
    expect(to(words('dolce'))).toEqual(['0 120', '1 120 sliding', '2 80'])
    expect(to('', barline('right', '<bar-style>light-light</bar-style>'))).toEqual(['0 120', '2 80'])
  })

  test('inside of another changes nothing', () => {
    expect(
      line(
        mark('quarter', '120') + bar,
        words('rit.') + bar,
        words('rall.') + bar,
        mark('quarter', '80') + bar,
      ),
    ).toEqual(['0 120', '1 120 sliding', '3 80'])
  })

  test('words without a number are told in one line, each with its measures, twelve at most', () => {
    expect(
      said(mark('quarter', '120') + words('più lento') + bar, words('rit.') + bar, bar, words('rit.') + bar),
    ).toEqual(['"rit." m. 2, 4: no number follows, the click keeps its tempo there'])
    expect(said(mark('quarter', '120') + bar, words('rit.') + bar, words('più lento') + bar)).toEqual([
      '"rit." m. 2; "più lento" m. 3: no number follows, the click keeps its tempo there',
    ])
    expect(said(mark('quarter', '120') + bar, ...Array(13).fill(words('rit.') + bar))).toEqual([
      '"rit." m. 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13 and more: no number follows, the click keeps its tempo there',
    ])
  })

  test('"a tempo" changes nothing where the tempo runs already, or a number stands there', () => {
    expect(line(mark('quarter', '120') + bar, words('a tempo') + bar)).toEqual(['0 120'])
    expect(
      line(
        mark('quarter', '120') + bar,
        words('rit.') + mark('quarter', '80') + bar,
        words('a tempo') + mark('quarter', '100') + bar,
      ),
    ).toEqual(['0 120', '1 80', '2 100'])
    expect(line(words('a tempo') + bar, words('Tempo I') + bar)).toEqual([])
    expect(
      line(
        mark('quarter', '120') + bar,
        mark('quarter', '60') + bar,
        words('Tempo I') + bar,
        words('Tempo I') + bar,
      ),
    ).toEqual(['0 120', '1 60', '2 120'])
  })

  test('the tempo inside a slide is in whole numbers of the first note value', () => {
    const part = partOf([head() + mark('half', '60') + words('rit.') + bar, bar, mark('quarter', '90') + bar])
    const at = (n: number, d: number) => {
      const t = tempoAt(part.tempos, frac(n, d))
      return t && typed(t)
    }
    // from 60 to 45 halves over two measures
    expect([at(0, 1), at(1, 2), at(1, 1), at(3, 2), at(2, 1), at(3, 1)]).toEqual([
      'half=60',
      'half=56',
      'half=53',
      'half=49',
      '90',
      '90',
    ])
    expect(markAt(part.tempos, frac(1, 2))?.ramp).toBe(true)
    expect(markAt([], zero)).toBeUndefined()
    const late = partOf([head() + bar, mark('quarter', '?') + bar, mark('quarter', '90') + bar])
    expect([tempoAt(late.tempos, frac(1)), markAt(late.tempos, frac(3, 2))]).toEqual([null, undefined])
  })
})

const zero = frac(0)
