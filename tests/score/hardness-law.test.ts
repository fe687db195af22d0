import fc from 'fast-check'
import { expect, test } from 'vitest'
import { tempo } from '../../src/music/tempo.ts'
import { hardness } from '../../src/score/hardness.ts'
import { playingOf } from '../../src/score/playing.ts'
import type { Pitch } from '../../src/score/score.ts'
import { hardPlainly, PARTS, type PlainMeasure, type PlainNote } from './hard-plainly.ts'
import { partOf, time } from './scores.ts'

/** Divisions of a quarter: triplets, sixteenths and thirty-seconds are whole numbers. */
const QUARTER = PARTS / 4
const WHOLE = PARTS

const METERS = [
  { xml: time('4', 4), full: 1, beat: 1 / 4, compound: false },
  { xml: time('3', 4), full: 3 / 4, beat: 1 / 4, compound: false },
  { xml: time('2', 2), full: 1, beat: 1 / 2, compound: false },
  { xml: time('6', 8), full: 3 / 4, beat: 3 / 8, compound: true },
  { xml: time('3+2', 8), full: 5 / 8, beat: 3 / 8, compound: true },
  { xml: '<time><senza-misura/></time>', full: null, beat: 1 / 4, compound: false },
] as const

const pitch: fc.Arbitrary<Pitch> = fc.record({
  step: fc.constantFrom(...('CCDEFGAB' as unknown as Pitch['step'][])),
  alter: fc.constantFrom(0, 0, 0, 1, -1, 2, -0.5),
  octave: fc.constantFrom(2, 3, 4, 5, 5, 5, 6),
})
const sound: fc.Arbitrary<readonly Pitch[]> = fc.oneof(
  { weight: 9, arbitrary: pitch.map(p => [p]) },
  { weight: 2, arbitrary: fc.array(pitch, { minLength: 2, maxLength: 3 }) },
  { weight: 1, arbitrary: fc.constant([]) },
)
const event = fc.record({
  units: fc.constantFrom(3, 6, 6, 6, 8, 12, 12, 12, 16, 18, 24, 36, 72),
  pitches: sound,
  rest: fc.nat(9).map(n => n === 0),
  /** As the one before it: repeated notes. */
  again: fc.nat(7).map(n => n === 0),
  tied: fc.nat(11).map(n => n === 0),
  graces: fc.constantFrom(0, 0, 0, 0, 0, 1, 2),
})
const measure = fc.record({
  meter: fc.option(fc.nat(METERS.length - 1), { nil: null, freq: 2 }),
  fifths: fc.option(fc.integer({ min: -7, max: 7 }), { nil: null, freq: 2 }),
  quarters: fc.constantFrom(null, null, null, 60, 92, 160, 30),
  voice: fc.array(event, { minLength: 0, maxLength: 14, size: 'max' }),
  under: fc.oneof(
    { weight: 3, arbitrary: fc.constant([] as never[]) },
    { weight: 1, arbitrary: fc.array(event, { maxLength: 6, size: 'max' }) },
  ),
})
type Written = typeof measure extends fc.Arbitrary<infer T> ? T : never

const pitchXml = (p: Pitch): string =>
  `<pitch><step>${p.step}</step><alter>${p.alter}</alter><octave>${p.octave}</octave></pitch>`

/** The score as XML and as plain numbers. `hands`: what lies under the first voice is another staff. */
const score = (all: readonly Written[], hands: boolean) => {
  const texts: string[] = []
  const measures: PlainMeasure[] = []
  const notes: PlainNote[] = []
  let from = 0
  let meter: (typeof METERS)[number] = METERS[0]
  for (const [index, m] of all.entries()) {
    const changed = m.meter !== null || index === 0
    meter = METERS[m.meter ?? METERS.indexOf(meter)]!
    // A measure that misses its meter keeps its length where all of it is filled: the first voice holds the longest.
    let [xml, at] = ['', 0]
    const put = (
      events: readonly (typeof event extends fc.Arbitrary<infer T> ? T : never)[],
      staff: number,
      most: number,
    ) => {
      let place = 0
      let before: readonly Pitch[] = []
      for (const e of events) {
        if (place + e.units > most) break
        const pitches = e.again ? before : e.pitches
        const inside = `<duration>${e.units}</duration><voice>${staff}</voice>${e.tied && !e.rest ? '<tie type="stop"/>' : ''}<staff>${staff}</staff>`
        const graces = staff === 1 && !e.rest ? e.graces : 0
        for (let g = 0; g < graces; g++)
          xml += `<note><grace/><unpitched/><voice>${staff}</voice><staff>${staff}</staff></note>`
        if (e.rest) xml += `<note><rest/>${inside}</note>`
        else if (pitches.length === 0) xml += `<note><unpitched/>${inside}</note>`
        else
          xml += pitches
            .map((p, i) => `<note>${i > 0 ? '<chord/>' : ''}${pitchXml(p)}${inside}</note>`)
            .join('')
        if (!e.rest)
          notes.push({
            measure: index,
            at: from + place,
            length: e.units,
            pitches,
            count: Math.max(1, pitches.length),
            graces,
            tied: e.tied,
            staff,
          })
        if (!e.rest) before = pitches
        place += e.units
      }
      return place
    }
    const asks = (meter.full ?? 1) * WHOLE
    at = put(m.voice, 1, asks)
    if (at < asks) xml += `<note><rest/><duration>${asks - at}</duration><voice>1</voice></note>`
    xml += `<backup><duration>${asks}</duration></backup>`
    put(m.under, 2, asks)
    texts.push(
      `<attributes><divisions>${QUARTER}</divisions>${m.fifths === null ? '' : `<key><fifths>${m.fifths}</fifths></key>`}${changed ? meter.xml : ''}</attributes>` +
        (m.quarters === null
          ? ''
          : `<direction><direction-type><metronome><beat-unit>quarter</beat-unit><per-minute>${m.quarters}</per-minute></metronome></direction-type></direction><direction><direction-type><words>Andante</words></direction-type></direction>`) +
        (hands ? xml : xml.replaceAll('<staff>2</staff>', '<staff>1</staff>')),
    )
    const { full, beat, compound } = meter
    measures.push({
      at: from,
      length: asks,
      full,
      beat,
      compound,
      fifths: m.fifths,
      quarters: m.quarters,
    })
    from += asks
  }
  return { part: partOf(texts), measures, notes: notes.sort((a, b) => a.at - b.at) }
}

test('what is hard in each measure is the same, counted once more in plain numbers', () => {
  const told = { speed: 0, shape: 0, register: 0, rhythm: 0, chords: 0, syncopations: 0, foreign: 0 }
  fc.assert(
    fc.property(
      fc.array(measure, { minLength: 1, maxLength: 7, size: 'max' }),
      fc.boolean(),
      fc.constantFrom(null, null, 72, 132),
      fc.constantFrom('Flute', 'Violin', 'Soprano', 'Violoncello'),
      (all, hands, quarters, name) => {
        const { part, measures, notes } = score(all, hands)
        const named = { ...part, name }
        const playing = playingOf(named)
        const found = hardness(named, quarters === null ? null : tempo(quarters))
        const plain = hardPlainly(measures, notes, playing, quarters)
        for (const [i, one] of found.entries())
          for (const [what, n] of Object.entries(one)) {
            const expected = plain[i]?.[what as keyof typeof one]
            if (typeof n === 'number' && typeof expected === 'number')
              expect(n, `measure ${i + 1}: ${what}`).toBeCloseTo(expected, 9)
            else expect([what, n]).toEqual([what, expected])
          }
        for (const k of Object.keys(told) as (keyof typeof told)[])
          told[k] += found.filter(h => h[k] > 0.3).length
      },
    ),
    { numRuns: 60 },
  )
  for (const [what, times] of Object.entries(told)) expect(times, what).toBeGreaterThan(10)
})
