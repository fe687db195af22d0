import { describe, expect, test } from 'vitest'
import { tempoMap } from '../../src/click/tempo-map.ts'
import { QUARTER } from '../../src/music/note-value.ts'
import { MARKS, tempo } from '../../src/music/tempo.ts'
import { framesOf, music, played, RATE } from '../click/support.ts'
import { BEAT_LENGTHS } from './beat-lengths.ts'

// Source: "Metronome 'Scale'", Horn mailing list, University of Memphis, May 2009 (two posts: the 39 numbers, and that
// 40-80 doubled gives 80-160, doubled again 160-208). A drummers' essay on the web names the same "total of 39 markings".
describe('the traditional scale', () => {
  const POSTED =
    '40 42 44 46 48 50 52 54 56 58 60 63 66 69 72 76 80 84 88 92 96 100 104 108 112 116 120 126 132 138 144 152 160 168 176 184 192 200 208'

  test('is the posted list of 39', () => {
    expect(MARKS.join(' ')).toBe(POSTED)
    expect(MARKS).toHaveLength(39)
  })

  test('repeats itself at double speed, as the post says', () => {
    for (const m of MARKS.filter(m => m >= 80)) expect(MARKS).toContain(m / 2)
  })

  test('has steps of 2, 3, 4, 6 and 8, each from 3.45 to 5.56 percent', () => {
    const stepAt = (m: number) => (m < 60 ? 2 : m < 72 ? 3 : m < 120 ? 4 : m < 144 ? 6 : 8)
    MARKS.slice(1).forEach((m, i) => {
      const before = MARKS[i] as number
      expect(m - before).toBe(stepAt(before))
      const percent = (100 * (m - before)) / before
      expect(percent).toBeGreaterThan(3.44)
      expect(percent).toBeLessThan(5.57)
    })
  })
})

// Source: K. W. Gehrkens, Music Notation and Terminology (1914), section 108 and its footnote: "M.M. 92 ... there will
// be 92 clicks per minute"; set at 60 it must give 60 clicks a minute (the book bears 57 to 63; here it is exact).
describe('beats a minute are clicks in a minute', () => {
  test.each([60, 92, 208])('%d', bpm => {
    const frames = framesOf(played(music('4/4', 2 * bpm, String(bpm))))
    const minute = (k: number) => frames.filter(f => f >= k * 60 * RATE && f < (k + 1) * 60 * RATE)
    expect([0, 1, 2].map(k => minute(k).length)).toEqual([bpm, bpm, bpm])
    expect(minute(1)[0]).toBe(60 * RATE)
  })
})

describe('the length of one beat, at all 39 marks', () => {
  const beat = (bpm: number, rate: number) =>
    tempoMap(music('4/4', 1, String(bpm)), tempo(bpm), rate).frames(QUARTER)

  // Common practice, no source: 60 s / BPM, computed apart from this program.
  test('agrees with the generated table', () => {
    expect(BEAT_LENGTHS.map(r => r[0])).toEqual(MARKS)
    for (const [bpm, ms, at48, at44] of BEAT_LENGTHS) {
      expect(beat(bpm, 1000)).toBeCloseTo(ms, 4)
      expect(beat(bpm, 48_000)).toBeCloseTo(at48, 4)
      expect(beat(bpm, 44_100)).toBeCloseTo(at44, 4)
    }
  })

  test('is a whole number of frames at 48 kHz for exactly those marks that divide 2,880,000', () => {
    const whole = MARKS.filter(m => Number.isInteger(beat(m, 48_000)))
    expect(whole).toEqual(MARKS.filter(m => 2_880_000 % m === 0))
    expect(whole).toHaveLength(13)
  })
})
