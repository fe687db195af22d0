import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { add, type Frac, frac, max, sub, zero } from '../../src/music/fraction.ts'
import { readPart } from '../../src/score/read-part.ts'
import { readScore } from '../../src/score/read-score.ts'
import type { NoteFacts, Placed } from '../../src/score/score.ts'
import { clean, exact, remarks, someNumbers } from '../../src/score/text.ts'
import {
  attributes,
  barline,
  bytes,
  direction,
  head,
  type MeasureText,
  must,
  note,
  partOf,
  refusal,
  rest,
  scoreOf,
  scoreText,
  text,
  time,
  words,
} from './scores.ts'

const bar = note(16)

/** What a program may write of a note, and what it means. Sources: the pages of MusicXML 4.0 on each element. */
const event = fc.record({
  what: fc.constantFrom('note', 'note', 'note', 'chord', 'rest', 'unpitched', 'grace', 'forward', 'backup'),
  divisions: fc.integer({ min: 0, max: 9 }),
  step: fc.constantFrom(...('CDEFGAB' as unknown as ('C' | 'D')[])),
  alter: fc.constantFrom(null, '0', '1', '-1', '2', '0.5', '-1.5', '4', '-4'),
  octave: fc.integer({ min: 0, max: 9 }),
  voice: fc.constantFrom(null, '1', '2', '5'),
  staff: fc.constantFrom(null, 1, 2),
  cue: fc.boolean(),
  tie: fc.constantFrom(null, 'start', 'stop', 'both'),
  tied: fc.constantFrom(null, 'start', 'stop'),
})
type Event = typeof event extends fc.Arbitrary<infer T> ? T : never

const xmlOf = (e: Event): string => {
  const duration = `<duration>${e.divisions}</duration>`
  if (e.what === 'forward' || e.what === 'backup') return `<${e.what}>${duration}</${e.what}>`
  const pitch = `<pitch><step>${e.step}</step>${e.alter === null ? '' : `<alter>${e.alter}</alter>`}<octave>${e.octave}</octave></pitch>`
  const tie = (type: string) => `<tie type="${type}"/>`
  return [
    '<note>',
    e.what === 'grace' ? '<grace/>' : '',
    e.cue ? '<cue/>' : '',
    e.what === 'chord' ? '<chord/>' : '',
    e.what === 'rest' ? '<rest/>' : e.what === 'unpitched' ? '<unpitched/>' : pitch,
    e.what === 'grace' ? '' : duration,
    e.tie === null ? '' : e.tie === 'both' ? tie('stop') + tie('start') : tie(e.tie),
    e.voice === null ? '' : `<voice>${e.voice}</voice>`,
    e.staff === null ? '' : `<staff>${e.staff}</staff>`,
    e.tied === null ? '' : `<notations><tied type="${e.tied}"/></notations>`,
    '</note>',
  ].join('')
}

test('every note is read where and as it is written', () => {
  fc.assert(
    fc.property(
      fc.array(event, { minLength: 1, maxLength: 12, size: 'max' }),
      fc.integer({ min: 1, max: 12 }),
      (events, divisions) => {
        const part = partOf([
          attributes(`<divisions>${divisions}</divisions>`) + events.map(xmlOf).join(''),
          note(1),
        ])
        let [at, onset, end] = [zero, zero, zero]
        const expected: Partial<Placed<NoteFacts>>[] = []
        for (const e of events) {
          const length: Frac = frac(e.divisions, 4 * divisions)
          if (e.what === 'forward') at = add(at, length)
          else if (e.what === 'backup') at = max(zero, sub(at, length))
          else {
            const lasts = e.what === 'grace' ? zero : length
            if (e.what !== 'chord') [onset, at] = [at, add(at, lasts)]
            const pitched = e.what !== 'rest' && e.what !== 'unpitched'
            expected.push({
              measure: 0,
              at: onset,
              length: lasts,
              kind: e.what === 'rest' ? 'rest' : pitched ? 'pitched' : 'unpitched',
              pitch: pitched ? { step: e.step, alter: Number(e.alter ?? 0), octave: e.octave } : null,
              chord: e.what === 'chord',
              grace: e.what === 'grace',
              cue: e.cue,
              // the sounding tie counts where it is written, else the printed one
              continued: e.tie === null ? e.tied === 'stop' : e.tie === 'stop' || e.tie === 'both',
              voice: e.voice ?? '1',
              staff: e.staff ?? 1,
              foreign: pitched && Number(e.alter ?? 0) !== 0,
            })
          }
          end = max(end, at)
        }
        expect(part.notes.slice(0, -1)).toEqual(expected)
      },
    ),
    { numRuns: 120 },
  )
})

describe('a pitch', () => {
  const read = (inside: string) =>
    partOf([`${head()}<note><pitch>${inside}</pitch><duration>16</duration></note>`]).notes[0]?.pitch ?? null
  test.each([
    ['<step>C</step><octave>0</octave>', { step: 'C', alter: 0, octave: 0 }],
    ['<step>B</step><octave>9</octave>', { step: 'B', alter: 0, octave: 9 }],
    ['<step> F </step><alter> 1 </alter><octave> 4 </octave>', { step: 'F', alter: 1, octave: 4 }],
    ['<step>C</step><octave>10</octave>', null],
    ['<step>C</step><octave>-1</octave>', null],
    ['<step>C</step><octave>4.5</octave>', null],
    ['<step>C</step><octave/>', null],
    ['<step>C</step>', null],
    ['<octave>4</octave>', null],
    ['<step>H</step><octave>4</octave>', null],
    ['<step>C</step><alter>4.5</alter><octave>4</octave>', null],
    ['<step>C</step><alter>-5</alter><octave>4</octave>', null],
    ['<step>C</step><alter>sharp</alter><octave>4</octave>', null],
  ])('%s', (inside, expected) => {
    expect(read(inside)).toEqual(expected)
  })
})

// The circle of fifths: sharps come in the order F C G D A E B, flats the other way; past seven they double.
describe('a key signature', () => {
  const steps = 'FCGDAEB'
  const usual = (fifths: number, step: string): number => {
    const order = fifths > 0 ? steps : [...steps].reverse().join('')
    const n = Math.abs(fifths) - order.indexOf(step)
    return Math.sign(fifths) * Math.max(0, Math.ceil(n / 7))
  }
  const foreign = (key: string) => {
    const alters = [-2, -1, 0, 1, 2]
    const all = [...steps].flatMap(step => alters.map(alter => ({ step, alter })))
    const part = partOf([
      head() +
        attributes(`<key>${key}</key>`) +
        all
          .map(
            p =>
              `<note><pitch><step>${p.step}</step><alter>${p.alter}</alter><octave>4</octave></pitch><duration>1</duration></note>`,
          )
          .join(''),
    ])
    return all.filter((_, i) => !part.notes[i]?.foreign).map(p => `${p.step}${p.alter}`)
  }

  test.each(Array.from({ length: 29 }, (_, i) => i - 14))('of %d fifths', fifths => {
    expect(foreign(`<fifths>${fifths}</fifths>`)).toEqual([...steps].map(s => `${s}${usual(fifths, s)}`))
  })

  test('that says something else is none, or goes step by step', () => {
    const none = [...steps].map(s => `${s}0`)
    for (const key of [
      '<fifths>15</fifths>',
      '<fifths>-15</fifths>',
      '<fifths>1.5</fifths>',
      '<fifths/>',
      '',
    ])
      expect(foreign(key), key).toEqual(none)
    expect(
      foreign(
        '<key-step>B</key-step><key-alter>-1</key-alter><key-step>F</key-step><key-alter>1</key-alter>',
      ),
    ).toEqual(['F1', 'C0', 'G0', 'D0', 'A0', 'E0', 'B-1'])
    expect(
      foreign(
        '<key-step>H</key-step><key-alter>-1</key-alter><key-step>F</key-step><key-alter>x</key-alter>',
      ),
    ).toEqual(none)
  })

  test('of one staff leaves those of the others as they are', () => {
    const key = (fifths: number, staff = '') => `<key${staff}><fifths>${fifths}</fifths></key>`
    const low = note(4, '<staff>2</staff>', 'Bb3')
    const foreign = (...keys: readonly string[]) =>
      partOf([head() + attributes(keys.join('')) + note(4, '', 'Bb4') + low]).notes.map(n => n.foreign)
    expect(foreign(key(-1, ' number="2"'), key(0, ' number="1"'))).toEqual([true, false])
    expect(foreign(key(-1, ' number="1"'), key(0, ' number="2"'))).toEqual([false, true])
    expect(foreign(key(-1, ' number="2"'), key(0))).toEqual([true, true])
    expect(foreign(key(-1), key(0, ' number="1"'))).toEqual([true, false])
  })

  test('stands with the measure it begins, not with one inside of which it comes', () => {
    const key = (n: number) => attributes(`<key><fifths>${n}</fifths></key>`)
    const part = partOf([
      head() + key(-3) + bar,
      note(8) + key(2) + note(8),
      attributes('<key><fifths/></key>') + bar,
    ])
    expect(part.measures.map(m => m.key)).toEqual([-3, null, null])
  })
})

describe('attributes', () => {
  test('a transposition counts its octaves', () => {
    const sounding = (inside: string) =>
      partOf([head() + attributes(`<transpose>${inside}</transpose>`) + bar]).transpositions.map(
        t => t.semitones,
      )
    expect(sounding('<chromatic>-2</chromatic>')).toEqual([-2])
    expect(sounding('<chromatic>-2</chromatic><octave-change>-1</octave-change>')).toEqual([-14])
    expect(sounding('<octave-change>1</octave-change>')).toEqual([12])
    expect(sounding('<chromatic>x</chromatic>')).toEqual([])
  })

  test('staves of different meters: the first is taken, and that is said', () => {
    const two = (a: string, b: string) => partOf([attributes(`<divisions>4</divisions>${a}${b}`) + bar])
    expect(two(time('4', 4), time('2', 2)).warnings).toEqual([
      'measure 1: staves of different meters: 4/4 is taken',
    ])
    expect(two(time('4', 4), time('4', 4)).warnings).toEqual([])
    expect(two(time('4', 4), time('2', 2)).measures[0]?.meterText).toBe('4/4')
  })

  test('a meter inside a measure holds from the next one, and that is said', () => {
    const part = partOf([head() + note(8) + attributes(time('3', 4)) + note(8), note(12)])
    expect(part.measures.map(m => m.meterText)).toEqual(['4/4', '3/4'])
    expect(part.warnings).toEqual(['measure 1: 3/4 begins inside the measure: it starts with the next'])
  })

  test('without divisions a duration of 1 is a quarter, and that is said once', () => {
    const part = partOf([attributes(time('4', 4)) + note(1) + note(3), note(4)])
    expect(part.notes.map(n => text(n.length))).toEqual(['1/4', '3/4', '1'])
    expect(part.warnings).toEqual([
      'measure 1: no divisions are given before the first duration: 1 a quarter is used',
    ])
  })

  test('divisions may be a fraction, and have to be above 0', () => {
    expect(text(partOf([attributes('<divisions>0.5</divisions>') + note(1)]).notes[0]?.length ?? zero)).toBe(
      '1/2',
    )
    for (const divisions of ['0', '-4', 'x', ''])
      expect(
        refusal(
          readPart(scoreOf(scoreText([attributes(`<divisions>${divisions}</divisions>`) + note(1)])), 'P1'),
        ),
      ).toMatch(/measure 1, divisions.*a number of divisions of a quarter above 0\.$/)
  })
})

describe('a bar line', () => {
  test.each([
    ['light-light', 'double'],
    ['light-heavy', 'final'],
    ['heavy-heavy', 'final'],
    ['heavy-light', null],
    ['regular', null],
    ['dashed', null],
  ])('%s is %s', (style, expected) => {
    const drawn = `<bar-style>${style}</bar-style>`
    const bars = (at: string, more = '') =>
      partOf([head() + bar + barline(at, drawn + more), bar]).measures[0]?.bar
    expect(bars('right')).toBe(expected)
    expect(partOf([`${head() + bar}<barline>${drawn}</barline>`, bar]).measures[0]?.bar).toBe(expected)
    expect(bars('left')).toBeNull()
    expect(bars('middle')).toBeNull()
    // with a repeat sign it ends a repeat, not a movement
    expect(bars('right', '<repeat direction="backward"/>')).toBeNull()
  })

  test('has its fermata at its own place', () => {
    const at = (where: string) =>
      partOf([head() + note(8) + barline(where, '<fermata>angled</fermata>') + note(8), bar]).breaths.map(
        b => [text(b.from), text(b.at), b.shape],
      )
    expect(at('left')).toEqual([['0', '0', 'angled']])
    expect(at('middle')).toEqual([['1/2', '1/2', 'angled']])
    expect(partOf([head() + bar + barline('right', '<fermata/>'), bar]).breaths.map(b => text(b.at))).toEqual(
      ['1'],
    )
  })
})

describe('directions', () => {
  const empty = direction('<rehearsal> </rehearsal>')
  test('words of one direction are one text; an empty mark is none', () => {
    const part = partOf([
      head() + direction('<words>poco</words><words> a poco</words>') + empty + words('') + bar,
    ])
    expect(part.words.map(w => w.text)).toEqual(['poco a poco'])
    expect(part.rehearsals).toEqual([])
  })

  test('an offset that is no number is none; one before the bar line is at it', () => {
    const at = (offset: string) =>
      partOf([head() + note(8) + words('dolce', `<offset>${offset}</offset>`) + note(8)]).words.map(w =>
        text(w.at),
      )
    expect([at('4'), at('-4'), at('x'), at('-99')]).toEqual([['3/4'], ['1/4'], ['1/2'], ['0']])
  })
})

describe('slurs and breaths', () => {
  const slur = (...ends: readonly string[]) =>
    `<notations>${ends.map(e => `<slur type="${e.split(' ')[0]}"${e.includes(' ') ? ` number="${e.split(' ')[1]}"` : ''}/>`).join('')}</notations>`
  const slurs = (...measures: readonly string[]) =>
    partOf([head() + measures[0], ...measures.slice(1)]).slurs.map(s => `${text(s.from.at)}-${text(s.to.at)}`)

  test('a slur without a number is the first; one that never ends, or never began, is none', () => {
    expect(slurs(note(8, slur('start')) + note(8, slur('stop 1')))).toEqual(['0-1'])
    expect(slurs(note(8, slur('stop')) + note(8, slur('start')))).toEqual([])
    expect(slurs(note(8, slur('start 2')) + note(8, slur('stop')))).toEqual([])
    expect(slurs(note(8, slur('start')) + note(8, slur('continue')), note(16, slur('stop')))).toEqual(['0-2'])
    // the end that is written first belongs to the slur before
    expect(slurs(note(8, slur('start')) + note(4, slur('start', 'stop')) + note(4, slur('stop')))).toEqual([
      '0-3/4',
      '1/2-1',
    ])
  })

  test('in the order of their beginnings', () => {
    expect(
      slurs(
        note(4, slur('start 1')) +
          note(4, slur('start 2')) +
          note(4, slur('stop 2')) +
          note(4, slur('stop 1')),
      ),
    ).toEqual(['0-1', '1/4-3/4'])
  })
})

describe('positions that are too far or too fine', () => {
  const long = (measures: number, length: number): readonly MeasureText[] =>
    Array.from(
      { length: measures },
      (_, i) => (i === 0 ? attributes('<divisions>1</divisions>') : '') + rest(length),
    )
  const read = (measures: readonly MeasureText[]) => readPart(scoreOf(scoreText(measures)), 'P1')

  test('a measure of sixty-four whole notes, as many as a meter can count, is read, a longer one is refused', () => {
    expect(read(long(1, 256)).ok).toBe(true)
    expect(refusal(read(long(1, 257)))).toMatch(/measure 1.*measures of at most 64 whole notes\.$/)
  })

  test('200,000 whole notes are read, more are refused', () => {
    expect(read(long(3125, 256)).ok).toBe(true)
    expect(refusal(read(long(3126, 256)))).toBe(
      `In part P1, positions "too far or too fine" doesn't work. Try at most 200000 whole notes, no finer than 1/200000.`,
    )
  })

  test('a place of a 200,000th is read, a finer one is refused', () => {
    const fine = (divisions: number) =>
      read([
        `${attributes(`<divisions>${divisions}</divisions>`)}<forward><duration>1</duration></forward>${words('dolce')}${note(divisions)}`,
      ])
    expect(fine(50_000).ok).toBe(true)
    expect(refusal(fine(50_001))).toMatch(/too far or too fine/)
  })
})

describe('a score of many parts', () => {
  test('of two hundred parts is read, and so is a part of twenty thousand measures', () => {
    const score = (inside: string) =>
      readScore(bytes(`<score-partwise>${inside}</score-partwise>`), 'weir.xml')
    expect(must(score('<part><measure/></part>'.repeat(200))).parts).toHaveLength(200)
    const long = must(score(`<part id="P1">${'<measure/>'.repeat(20_000)}</part>`))
    expect(long.parts[0]?.written.ok && long.parts[0].written.value.length).toBe(20_000)
    expect(refusal(readPart(must(score('<part id="P1"/>')), 'P1'))).toMatch(
      /"no measure" .* at least one measure/,
    )
  })

  test('says what its list of parts leaves open', () => {
    const list = (...ids: readonly string[]) =>
      `<part-list>${ids.map(id => `<score-part id="${id}"><part-name>${id === 'P1' ? 'Oboe' : ''}</part-name></score-part>`).join('')}</part-list>`
    const score = (inside: string) => scoreOf(`<score-partwise>${inside}</score-partwise>`)
    const part = (id: string | null) => `<part${id === null ? '' : ` id="${id}"`}><measure/></part>`
    const said = (inside: string) => {
      const { parts, warnings } = score(inside)
      return [parts.map(p => `${p.id} ${p.name}`), warnings]
    }
    expect(said(list('P1', 'P2') + part('P1') + part('P2'))).toEqual([['P1 Oboe', 'P2 P2'], []])
    expect(said(list('P1') + part(null))).toEqual([['P1 Oboe'], ['a part without an id is taken as P1']])
    expect(said(part(null))).toEqual([['part 1 part 1'], ['a part without an id is taken as part 1']])
    expect(said(list('P1', 'P2') + part('P1'))).toEqual([
      ['P1 Oboe'],
      ['part P2 is listed but holds no music'],
    ])
    expect(said(list('P1') + part('P1') + part('P9'))).toEqual([
      ['P1 Oboe', 'P9 P9'],
      ['part P9 is not in the list of parts'],
    ])
    expect(said(list('P1') + part('P1') + part('P1') + part('P1'))).toEqual([
      ['P1 Oboe', 'P1+ P1+', 'P1++ P1++'],
      ['part P1 is there twice'],
    ])
  })
})

describe('texts of a file', () => {
  test('are short, on one line and without control characters', () => {
    expect(clean('  Weir \n Street\u0007 ')).toBe('Weir Street')
    expect(clean('x'.repeat(200))).toBe('x'.repeat(200))
    expect(clean('x'.repeat(201))).toBe(`${'x'.repeat(199)}…`)
    expect(clean(`${' x'.repeat(5000)}`)).toHaveLength(200)
    for (const s of ['a', '', '!~', 'x'.repeat(40)]) expect(clean(s)).toBe(s)
  })

  test.each([
    ['4', '4'],
    [' 4 ', '4'],
    ['+4', '4'],
    ['-2', '-2'],
    ['1.5', '3/2'],
    ['1.', '1'],
    ['0.000001', '1/1000000'],
    ['123456789', '123456789'],
    ['1.0000001', null],
    ['1234567890', null],
    ['.5', null],
    ['1e3', null],
    ['', null],
    ['-', null],
  ])('"%s" as an exact number is %s', (written, expected) => {
    const n = exact(written)
    expect(n && text(n)).toBe(expected)
  })

  test('numbers of measures: each once, twelve at most', () => {
    const numbers = (n: number) => Array.from({ length: n }, (_, i) => String(i + 1))
    expect(someNumbers(['3', '8', '3'])).toBe('3, 8')
    expect(someNumbers(numbers(12))).toBe('1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12')
    expect(someNumbers(numbers(13))).toBe('1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12 and more')
  })

  test('remarks: each once, fifty at most, the others counted', () => {
    const all = remarks()
    for (let i = 0; i < 50; i++) all.add(`remark ${i}`)
    all.add('remark 0')
    expect(all.all()).toHaveLength(50)
    all.add('remark 50')
    all.add('remark 51')
    all.add('remark 1')
    expect(all.all().slice(-2)).toEqual(['remark 49', 'and 2 more remarks of this kind'])
  })
})
