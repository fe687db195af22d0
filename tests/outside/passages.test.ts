import { describe, expect, test } from 'vitest'
import { frac } from '../../src/music/fraction.ts'
import { parsePlace } from '../../src/music/place.ts'
import { guideOf, parseRhythm, quickness, type Rhythm } from '../../src/music/rhythm.ts'
import { related, typed } from '../../src/music/tempo.ts'
import { framesOf, music, nearest, played, RATE, tempoOf } from '../click/support.ts'
import { ONSET_TABLES } from './onset-tables.ts'

const rhythm = (s: string): Rhythm => {
  const r = parseRhythm(s)
  if (!r.ok) throw new Error(s)
  return r.value
}
const eighth = frac(1, 8)

// Source: R. DeLone et al., Aspects of Twentieth-Century Music (1975), chapter 3: new tempo / old = pivots in the old beat /
// pivots in the new one; three eighths to two make x/84 = 3/2.
test('metric modulation: dotted quarter = 84, eighth = eighth, is quarter = 126', () => {
  const before = tempoOf('dotted-quarter=84')
  const after = related(before, eighth, eighth, frac(1, 4))
  expect(typed(after)).toBe('126')
  const form = {
    meters: [
      { at: frac(0), meter: music('6/8', 1, '60').meters[0]!.meter },
      { at: frac(3, 4), meter: music('4/4', 1, '60').meters[0]!.meter },
    ],
    marks: [
      { at: frac(0), tempo: before },
      { at: frac(3, 4), tempo: after },
    ],
    pickup: frac(0),
    length: frac(7, 4),
  }
  // Counted out, all eighths of both measures are alike: 60 / 252 of a second.
  const p = played(form, { pulse: eighth })
  expect(framesOf(p)).toEqual(nearest(Array.from({ length: 14 }, (_, i) => (i * 60) / 252)))
})

// Source: abc2midi 4.84 and LilyPond 2.24.1: M:C| with half = 60 has a quarter every 0.5 s.
test('alla breve in 2, and the same counted in 4', () => {
  expect(framesOf(played(music('2/2', 1, 'half=60')))).toEqual([0, RATE])
  expect(framesOf(played(music('2/2', 1, 'half=60'), { pulse: frac(1, 4) }))).toEqual(
    nearest([0, 0.5, 1, 1.5]),
  )
})

// Source: Open Music Theory, Meter (viva.pressbooks.pub/openmusictheory): in a compound meter the beats are a third of the upper number.
test.each([
  ['6/8', 2],
  ['9/8', 3],
  ['12/8', 4],
])('a place in %s can name %d beats, a dotted quarter apart', (m, beats) => {
  const of = { form: music(m, 1, '60'), numbers: ['7'] }
  for (let beat = 1; beat <= beats; beat++)
    expect(parsePlace(`7.${beat}`, of)).toEqual({ ok: true, value: frac(3 * (beat - 1), 8) })
  expect(parsePlace(`7.${beats + 1}`, of).ok).toBe(false)
})

// Source: W3C MusicXML 4.0, element swing: first 2, second 1, applied to eighths: "the first note is twice as long".
test('2:1 on eighths: the first is twice as long as the second', () => {
  const p = played(music('4/4', 1, '60'), { guide: guideOf(rhythm('2:1'), eighth) })
  const frames = [...framesOf(p, 'guide'), p.end]
  const lengths = frames.slice(1).map((f, i) => f - (frames[i] as number))
  expect(lengths).toEqual([32_000, 16_000, 32_000, 16_000, 32_000, 16_000, 32_000, 16_000])
})

// Source: abc standard 2.1, section 4.4: ">" dots the note before and halves the next, "<" the reverse, ">>" double-dots and
// quarters; as written there, a>b is a3/2 b/2.
describe('broken rhythm', () => {
  const table = ONSET_TABLES.find(t => t.name.startsWith('broken rhythm'))?.seconds ?? []
  const seconds = (r: string) =>
    framesOf(played(music('2/4', 1, '120'), { guide: guideOf(rhythm(r), eighth) }), 'guide').map(
      f => f / RATE,
    )

  test('> is 3:1, < is 1:3, with the onsets that three programs render', () => {
    expect(seconds('3:1')).toEqual(table.slice(0, 4))
    expect(seconds('1:3')).toEqual(table.slice(4).map(s => s - 1))
  })

  test('>> is 7:1, and its short note four times as quick', () => {
    expect(seconds('7:1')).toEqual([0, 0.4375, 0.5, 0.9375])
    expect(quickness(rhythm('7:1'))).toEqual(frac(4))
  })
})

// The same tables: one long and three short, three short and one long, a triplet's 2:1.
describe('rhythms as three programs render them', () => {
  test.each([
    ['one long and three short', '3:1:1:1', frac(3, 32)],
    ['three short and one long', '1:1:1:3', frac(3, 32)],
    ['triplet long-short', '2:1', eighth],
  ])('%s', (name, r, run) => {
    const table = ONSET_TABLES.find(t => t.name.startsWith(name))
    if (!table) throw new Error(name)
    const p = played(table.form, { guide: guideOf(rhythm(r), run) })
    const got = framesOf(p, 'guide').map(f => f / RATE)
    expect(got).toHaveLength(table.seconds.length)
    got.forEach((s, i) => {
      expect(Math.abs(s - (table.seconds[i] as number))).toBeLessThan(2e-5)
    })
  })
})
