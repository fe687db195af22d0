import { strFromU8, unzipSync } from 'fflate'
import { parseAuto, withAbsolutePositions } from 'musicxml-io'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { decimal, frac } from '../../src/music/fraction.ts'
import { quarters, typed } from '../../src/music/tempo.ts'
import { type ProposedPassage, proposePassages } from '../../src/score/proposals.ts'
import { readPart } from '../../src/score/read-part.ts'
import { performed } from '../../src/score/repeats.ts'
import type { Part, Score, WrittenMeasure } from '../../src/score/score.ts'
import { must, text } from '../score/scores.ts'
import { measuresOf, meets, partOf } from './hard-hits.ts'
import { HARD_PLACES } from './hard-places.ts'
import { openScore, openscore, scoreBytes } from './scores-by-others.ts'

/*
 * All that is asked of the scores of OpenScore stands in one file, so that each of them is read once.
 *
 * Source: works of the OpenScore Lieder and String Quartets collections (CC0, scores/README.md). Second readers: npm
 * musicxml-io 0.9.6 (MIT), and counts of the raw XML made here.
 */
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

describe('every score of OpenScore', () => {
  describe.each(openscore)('%s', name => {
    const file = scoreBytes('openscore', name)
    const score = openScore(name)
    const parts = rawParts(rawXml(file))
    let theirs: ReturnType<typeof parseAuto> | null = null
    /** As musicxml-io reads it. */
    const other = () => {
      theirs ??= parseAuto(file)
      return theirs
    }
    afterAll(() => {
      theirs = null
    })

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
      for (const [i, p] of other().parts.entries()) {
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
      for (const [i, p] of other().parts.entries()) {
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

/*
 * Source: repeats, endings, da capo and fine as the engraver Verovio 6.3.0 (npm verovio, LGPL) expands them for its playback:
 * measureOn events of renderToTimemap, as runs of measures counted from 0. It knows no movements, so that a da capo
 * goes to the first measure of the file there; here it is counted from the first measure of its movement. Files that are
 * not named are played once from beginning to end.
 */
const EXPANDED: Readonly<Record<string, readonly string[]>> = {
  lc31184216: ['0-34 13-69'],
  lc6218732: ['0-10 1-9 11-20'],
  sq7070319: ['0-15 0-139 0-65'],
  sq7070781: ['0-27 0-71 28-79 72-103 80-103 0-71'],
  sq13744399: ['0-225', '0-92', '0-53 16-52 54-65 55-64 66-96 0-52 54', '0-265'],
  sq8885439: ['0-62 2-177', '0-96', '0-195 0-47', '0-381'],
}

const runs = (order: readonly number[]): string => {
  const out: [number, number][] = []
  for (const i of order) {
    const last = out.at(-1)
    if (last && last[1] === i - 1) last[1] = i
    else out.push([i, i])
  }
  return out.map(r => [...new Set(r)].join('-')).join(' ')
}

describe('as played, equal to the expansion of an engraver', () => {
  test.each(openscore)('%s', name => {
    const score = openScore(name)
    const ours = score.movements.map(m => performed(must(readPart(score, score.parts[0]?.id ?? '', m))).order)
    const once = score.movements.map(m => runs(Array.from({ length: m.to - m.from + 1 }, (_, i) => i)))
    expect(ours.map(runs)).toEqual(EXPANDED[name.replace('.mxl', '')] ?? once)
  })
})

test('every measure of a quartet with a da capo is played', () => {
  for (const name of ['sq13744399.mxl', 'sq8885439.mxl', 'sq7070319.mxl', 'sq7070781.mxl']) {
    const score = openScore(name)
    for (const m of score.movements) {
      const { order } = performed(must(readPart(score, 'P1', m)))
      expect(new Set(order).size, `${name}, ${m.name}`).toBe(m.to - m.from + 1)
    }
  }
})

// What is hardest is one person's reading: no source.
describe('twenty parts whose hardest places were marked by hand', () => {
  let all: readonly { one: (typeof HARD_PLACES)[number]; part: Part; proposals: readonly ProposedPassage[] }[]
  beforeAll(() => {
    all = HARD_PLACES.map(one => {
      const part = partOf(one)
      return { one, part, proposals: proposePassages(part) }
    })
  })

  test('the two hardest places of a part are among the first three proposals in 16 of 20 parts', () => {
    const missed = all.filter(
      ({ one, part, proposals }) => !one.places.every(place => meets(part, place, proposals.slice(0, 3))),
    )
    expect(all.length).toBe(20)
    expect(missed.map(({ one }) => `${one.file} ${one.part}`).length).toBeLessThanOrEqual(4)
  })

  test('at most eight proposals, each of two to eight measures', () => {
    for (const { part, proposals } of all) {
      expect(proposals.length).toBeGreaterThan(1)
      expect(proposals.length).toBeLessThanOrEqual(8)
      for (const p of proposals) {
        const [a, b] = measuresOf(part, p)
        expect(b - a + 1).toBeLessThanOrEqual(9)
        expect(p.why).toMatch(/\S/)
      }
    }
  })
})
