import { strFromU8, unzipSync } from 'fflate'
import { parseAuto, withAbsolutePositions } from 'musicxml-io'
import { describe, expect, test } from 'vitest'
import { decimal, div, frac, times } from '../../src/music/fraction.ts'
import { quarters, typed } from '../../src/music/tempo.ts'
import { readPart } from '../../src/score/read-part.ts'
import { readScore } from '../../src/score/read-score.ts'
import { performed } from '../../src/score/repeats.ts'
import type { Part, Score, WrittenMeasure } from '../../src/score/score.ts'
import { must, refusal, text } from '../score/scores.ts'
import { openScore, openscore, scoreBytes, suite } from './scores-by-others.ts'

/*
 * Source: scores by others (scores/README.md). `musicxml-suite` is the unofficial
 * MusicXML test suite (cuthbertLab, state 924db45a, MIT); `openscore` holds works of the OpenScore Lieder and String
 * Quartets collections (CC0). Second readers: npm musicxml-io 0.9.6 (MIT), and counts of the raw XML made here.
 */
const suiteScore = (start: string): Score => {
  const name = suite.find(n => n.startsWith(start)) ?? ''
  return must(readScore(scoreBytes('musicxml-suite', name), name))
}
const suitePart = (start: string, id = 'P1'): Part => must(readPart(suiteScore(start), id))
const openPart = (name: string, id = 'P1'): Part => must(readPart(openScore(name), id))
const written = (score: Score, index: number): readonly WrittenMeasure[] =>
  must(score.parts[index]?.written ?? never())
const never = (): never => {
  throw new Error('no such part')
}

/** The XML inside an archive. */
const rawXml = (file: Uint8Array): string => {
  const files = unzipSync(file)
  const name = Object.keys(files).find(n => /\.(xml|musicxml)$/.test(n) && !n.startsWith('META-INF'))
  return strFromU8(files[name ?? ''] ?? new Uint8Array(0))
}
const count = (xml: string, re: RegExp): number => [...xml.matchAll(re)].length
const rawParts = (xml: string): readonly string[] =>
  [...xml.matchAll(/<part id=[\s\S]*?<\/part>/g)].map(m => m[0])
const rawMeasures = (part: string): readonly string[] =>
  [...part.matchAll(/<measure [\s\S]*?<\/measure>/g)].map(m => m[0])

describe('every file of the test suite', () => {
  test.each(suite)('%s is read, or refused in one sentence', name => {
    const file = scoreBytes('musicxml-suite', name)
    const score = readScore(file, name)
    if (score.ok) {
      for (const p of score.value.parts) {
        const part = must(readPart(score.value, p.id))
        expect(performed(part).order.length).toBeGreaterThan(0)
      }
    } else {
      expect(refusal(score)).toMatch(/^[^\n]+, line \d+: .* Try .*\.$/)
    }
  })

  test('only one of them is refused', () => {
    const refused = suite.filter(name => !readScore(scoreBytes('musicxml-suite', name), name).ok)
    expect(refused).toEqual(['32ad-Notations5.musicxml'])
  })
})

describe('every score of OpenScore', () => {
  describe.each(openscore)('%s', name => {
    const file = scoreBytes('openscore', name)
    const score = openScore(name)
    const parts = rawParts(rawXml(file))

    test('has the marks that its XML holds, counted part by part', () => {
      expect(score.parts.length).toBe(parts.length)
      for (const [i, xml] of parts.entries()) {
        const measures = written(score, i)
        const inside = score.parts[i]?.notes() ?? []
        const of = (kind: string) => measures.flatMap(m => m.breaths).filter(b => b.kind === kind).length
        const shapes = measures.flatMap(m => m.marks)
        expect(
          {
            measures: measures.length,
            notes: inside.flatMap(m => m.notes).length,
            breaths: of('breath'),
            caesuras: of('caesura'),
            fermatas: of('fermata'),
            marks: shapes.filter(m => m.shape.kind !== 'sound').length,
            sounds: shapes.filter(m => m.sound).length,
            rehearsals: measures.flatMap(m => m.rehearsals).length,
            slurs: inside.flatMap(m => m.slurs).length,
            times: measures.filter(m => m.time).length,
          },
          `part ${i + 1}`,
        ).toEqual({
          measures: count(xml, /<measure /g),
          notes: count(xml, /<note[ >]/g),
          breaths: count(xml, /<breath-mark/g),
          caesuras: count(xml, /<caesura/g),
          fermatas: count(xml, /<fermata/g),
          marks: count(xml, /<metronome[ >]/g),
          sounds: count(xml, /<sound [^>]*tempo="/g),
          rehearsals: count(xml, /<rehearsal/g),
          slurs: count(xml, /<slur [^>]*type="(start|stop)"/g),
          times: count(xml, /<time[ >]/g),
        })
      }
    })

    test('has the meter that its XML gives at each measure', () => {
      for (const [i, xml] of parts.entries()) {
        let meter = ''
        const expected = rawMeasures(xml).map(m => {
          const found = /<beats>(.*?)<\/beats>\s*<beat-type>(.*?)<\/beat-type>/.exec(m)
          meter = found ? `${found[1]}/${found[2]}` : meter
          return meter
        })
        const part = must(readPart(score, score.parts[i]?.id ?? ''))
        expect(part.measures.map(m => m.meterText)).toEqual(expected)
      }
    })

    test('has every note where musicxml-io has it', () => {
      const theirs = parseAuto(file)
      for (const [i, p] of theirs.parts.entries()) {
        let divisions = 1
        const ours = score.parts[i]?.notes() ?? []
        for (const [k, m] of p.measures.entries()) {
          divisions = m.attributes?.divisions ?? divisions
          const whole = 4 * divisions
          const expected = withAbsolutePositions(m).map(n =>
            [
              text(frac(n.absolutePosition, whole)),
              text(n.grace ? frac(0) : frac(n.duration, whole)),
              n.pitch
                ? `${n.pitch.step}${n.pitch.alter ?? 0}${n.pitch.octave}`
                : n.rest
                  ? 'rest'
                  : 'unpitched',
            ].join(' '),
          )
          const read = ours[k]?.notes.map(n =>
            [
              text(n.at),
              text(n.length),
              n.pitch ? `${n.pitch.step}${n.pitch.alter}${n.pitch.octave}` : n.kind,
            ].join(' '),
          )
          expect(read, `part ${p.id}, measure ${m.number}`).toEqual(expected)
        }
      }
    })

    test('has the breath marks and tempo marks of musicxml-io, measure by measure', () => {
      const theirs = parseAuto(file)
      for (const [i, p] of theirs.parts.entries()) {
        const breaths = p.measures.map(
          m => m.entries.flatMap(e => (e.type === 'note' ? (e.notations ?? []) : [])).filter(isBreath).length,
        )
        const marks = p.measures.map(m =>
          m.entries
            .flatMap(e => (e.type === 'direction' ? e.directionTypes : []))
            .flatMap(d => (d.kind === 'metronome' ? [String(d.perMinute)] : [])),
        )
        const ours = written(score, i)
        expect(ours.map(m => m.breaths.filter(b => b.kind === 'breath').length)).toEqual(breaths)
        expect(
          ours.map(m => m.marks.flatMap(t => (t.shape.kind === 'number' ? [t.shape.text] : []))),
        ).toEqual(marks)
      }
    })
  })

  const isBreath = (notation: object): boolean => JSON.stringify(notation).includes('"breath-mark"')

  test('lc6010628: dotted quarter 80 and 72 in turn, played at 120 and 108, at twelve measures', () => {
    const part = openPart('lc6010628.mxl')
    const marks = part.tempos.filter(t => t.from === 'mark')
    expect(marks.map(t => [part.measures[t.measure]?.number, t.tempo && typed(t.tempo)])).toEqual(
      [1, 5, 22, 32, 38, 42, 70, 76, 80, 98, 108, 114].map((m, i) => [
        String(m),
        [1, 3, 5, 6, 8, 10].includes(i) ? 'dotted-quarter=72' : 'dotted-quarter=80',
      ]),
    )
    expect(part.warnings.filter(w => w.includes('played at'))).toEqual([])
    // the same in the piano part, where no mark is printed
    expect(openPart('lc6010628.mxl', 'P2').tempos.filter(t => t.from === 'mark').length).toBe(12)
  })

  test('lc6218732: dotted quarter 132 is 198 quarters', () => {
    const [first] = openPart('lc6218732.mxl').tempos
    expect(first?.tempo && [typed(first.tempo), decimal(quarters(first.tempo))]).toEqual([
      'dotted-quarter=132',
      '198',
    ])
  })

  test('lc6218732: a part with another mark than the top part keeps its own and says so', () => {
    const piano = openPart('lc6218732.mxl', 'P5')
    expect(piano.tempos[0]?.tempo && typed(piano.tempos[0].tempo)).toBe('double-dotted-quarter=132')
    expect(piano.warnings).toContain(
      'measure 0: part P1 has dotted quarter = 132, double dotted quarter = 132 is taken',
    )
  })

  test('lc6688176: 59 breath marks in 325 measures, quarter = 84', () => {
    const score = openScore('lc6688176.mxl')
    const all = score.parts.map(p => must(readPart(score, p.id)))
    expect(all.reduce((n, p) => n + p.measures.length, 0)).toBe(325)
    expect(all.reduce((n, p) => n + p.breaths.filter(b => b.kind === 'breath').length, 0)).toBe(59)
    expect(all.map(p => p.tempos[0]?.tempo && typed(p.tempos[0].tempo))).toEqual([
      '84',
      '84',
      '84',
      '84',
      '84',
    ])
  })

  test('sq7070319: the scherzo comes again after the trio, without repeats, and ends at its fine', () => {
    const part = openPart('sq7070319.mxl')
    const { order } = performed(part)
    const numbers = order.map(i => part.measures[i]?.number)
    expect(numbers.slice(0, 34)).toEqual([...oneTo(16), ...oneTo(18)])
    expect(numbers.slice(-67)).toEqual(['140', ...oneTo(66)])
    expect(order.length).toBe(140 + 16 + 66)
  })
})

const oneTo = (n: number): readonly string[] => Array.from({ length: n }, (_, i) => String(i + 1))

describe('what the files of the suite say of themselves', () => {
  const groups = (start: string) => suitePart(start).measures.map(m => m.meter?.groups ?? m.meterText)
  const positions = (start: string) => suitePart(start).measures.map(m => [m.number, text(m.length)])
  const order = (start: string) =>
    performed(suitePart(start))
      .order.map(i => i + 1)
      .join(' ')

  test('11c: 3+2/8 and 5+3+1/4', () => {
    expect(groups('11c')).toEqual([
      [3, 2],
      [5, 3, 1],
    ])
  })
  test('11d: 3/8+2/8+3/4 and 5/2+1/8', () => {
    expect(groups('11d')).toEqual([
      [3, 2, 2, 2, 2],
      [4, 4, 4, 4, 4, 1],
    ])
  })
  test('11e: (3+2)/8+3/4', () => expect(groups('11e')).toEqual([[3, 2, 2, 2, 2]]))
  test('11h: senza misura', () => expect(groups('11h')).toEqual(['senza misura']))
  test('11b: no time signature', () => expect(groups('11b')).toEqual(['no time signature']))

  test('31c: note = number, text (note = number), note = note', () => {
    const part = suitePart('31c')
    expect(part.tempos.map(t => [text(t.at), t.text])).toEqual([
      ['0', 'dotted quarter = 100'],
      ['1/2', '4/1 = 100'],
      ['1', 'dotted quarter = dotted half'],
      ['3/2', '4/1 = dotted 32nd'],
      ['2', 'dotted quarter = dotted half'],
      ['5/2', 'dotted quarter = 77'],
    ])
    // a dotted quarter at long = 100 is 1066 2/3 a minute: beyond what anyone plays
    expect(part.warnings[0]).toBe(
      'measure 2: dotted quarter = dotted half gives dotted half = 1066.667, which is left out',
    )
    const last = part.tempos.at(-1)
    expect(last?.tempo && typed(last.tempo)).toBe('dotted-quarter=77')
  })

  test('03c: divisions change within the piece', () => {
    const lengths = suitePart('03c').notes.map(n => text(n.length))
    expect(new Set(lengths).size).toBeLessThan(4)
    expect(suitePart('03c').warnings).toEqual([])
  })

  test('32a: one breath mark and one caesura', () => {
    expect(
      suitePart('32a-')
        .breaths.filter(b => b.kind !== 'fermata')
        .map(b => b.kind),
    ).toEqual(['breath', 'caesura'])
  })

  test('33c: the slurs', () => {
    const xml = strFromU8(scoreBytes('musicxml-suite', suite.find(n => n.startsWith('33c')) ?? ''))
    expect(suitePart('33c').slurs.length).toBe(count(xml, /<slur [^>]*type="start"/g))
  })

  test('45a: one measure five times', () => expect(order('45a')).toBe('1 1 1 1 1 2'))
  test('45b: two endings', () => expect(order('45b')).toBe('1 2 1 3 4'))
  test('45c: five times, then three times', () =>
    expect(order('45c')).toBe('1 2 3 2 3 2 3 2 3 2 3 4 5 6 7 4 5 6 7 4 5 6 7 8'))
  test('45d: five endings', () => expect(order('45d')).toBe('1 2 1 3 4 5 1 6 7 8 9 1 10 1 11 12'))
  test('45e: a repeat that begins inside a second ending', () => {
    expect(order('45e')).toBe('1 2 1 3 4 5 5 6 7 6 8 9 8 9 10')
  })
  test('45f: endings that make no sense are played somehow, with a remark', () => {
    const part = suitePart('45f')
    expect(performed(part).warnings).toEqual(['the endings from measure 2 on share a number'])
    expect(performed(part).order.length).toBeGreaterThanOrEqual(part.measures.length)
  })
  test('45g: a repeat that does not end is played once, with a remark', () => {
    expect(order('45g')).toBe('1 2')
    expect(performed(suitePart('45g')).warnings).toEqual([
      'the repeat that begins at measure 2 does not end: it is played once',
    ])
  })

  test('46d: a pick-up of 3/8 and a measure in two halves', () => {
    expect(positions('46d')).toEqual([
      ['0', '3/8'],
      ['1', '1/2'],
      ['X1', '1/2'],
      ['2', '3/4'],
    ])
  })
  test('46f: measures that hold less than their meter', () => {
    expect(positions('46f').map(p => p[1])).toEqual(['1/2', '1', '1/2', '1'])
    expect(suitePart('46f').warnings).toEqual(['measure 3: it holds half where 4/4 asks for whole'])
  })

  test('72a: transposing instruments', () => {
    const score = suiteScore('72a')
    const all = score.parts.map(p => must(readPart(score, p.id)).transpositions.map(t => t.semitones))
    const xml = strFromU8(scoreBytes('musicxml-suite', suite.find(n => n.startsWith('72a')) ?? ''))
    expect(all.flat().length).toBe(count(xml, /<transpose>/g))
    // in B flat a whole step below what is written, in E flat a major sixth (common practice)
    expect(all.flat()).toEqual([-2, -9])
  })

  test('90a: a compressed score', () => expect(suiteScore('90a').parts.length).toBe(1))

  // MusicXML 4.0, element divisions: "if duration = 1 and divisions = 2, this is an eighth note".
  test('an eighth is one of two divisions', () => {
    expect(div(frac(1), times(frac(2), 4))).toEqual(frac(1, 8))
    expect(suitePart('11h').notes.map(n => text(n.length))).toEqual(['1/8', '1/8', '1/8'])
  })
})
