import { describe, expect, test } from 'vitest'
import { signalProgram } from '../../src/click/compile.ts'
import { frac } from '../../src/music/fraction.ts'
import { framesOf, music, nearest, played, RATE } from './support.ts'

describe('small signals alone', () => {
  test('sound one after another, 0.16 s apart or as asked, and ring out for 0.4 s', () => {
    const p = signalProgram(['row', 'up', 'slip'], RATE)
    expect(p.onsets).toEqual([
      { frame: 0, role: 'row', measure: 0, beat: 0 },
      { frame: 0.16 * RATE, role: 'up', measure: 0, beat: 0 },
      { frame: 0.32 * RATE, role: 'slip', measure: 0, beat: 0 },
    ])
    expect(p.frames).toBe(Math.round(0.88 * RATE))
    expect(signalProgram(['row', 'up'], RATE, 0.5).onsets.map(o => o.frame)).toEqual([0, RATE / 2])
    expect(signalProgram(['row', 'up'], RATE, 0.5).frames).toBe(1.4 * RATE)
  })

  test('no music begins, and no verdict is taken, before their end', () => {
    const p = signalProgram(['row'], RATE)
    expect(p.segments).toEqual([{ kind: 'rest', frame: 0 }])
    for (const at of [p.firstNote, p.verdictFrom, p.lastBeat, p.end]) expect(at).toBe(p.frames)
  })

  test('in the rest before a count-in they stand where they were asked for', () => {
    const p = played(music('4/4', 1, '60'), {
      countIn: 1,
      rest: 2,
      signals: [
        { role: 'row', after: 0.25 },
        { role: 'up', after: 0.75 },
      ],
    })
    expect(framesOf(p, 'row', 'up')).toEqual(nearest([0.25, 0.75]))
    expect(p.onsets.slice(0, 2)).toMatchObject([
      { measure: 0, beat: 0 },
      { measure: 0, beat: 0 },
    ])
    expect(framesOf(p, 'countIn')).toEqual(nearest([2, 3, 4, 5]))
    expect(p.segments).toEqual([
      { kind: 'rest', frame: 0 },
      { kind: 'countIn', frame: 2 * RATE },
      { kind: 'passage', frame: 6 * RATE },
    ])
  })
})

describe('a guide that taps the notes of a part', () => {
  const onsets = [frac(0), frac(3, 8), frac(1, 2), frac(1), frac(11, 8), frac(15, 8)]
  const form = music('4/4', 2, '60')

  test('taps each of them where it stands, in its measure', () => {
    const p = played(form, { guide: { onsets } })
    expect(framesOf(p, 'guide')).toEqual(nearest([0, 1.5, 2, 4, 5.5, 7.5]))
    expect(p.onsets.filter(o => o.role === 'guide').map(o => [o.measure, o.beat])).toEqual([
      [1, 0],
      [1, 0],
      [1, 0],
      [2, 0],
      [2, 0],
      [2, 0],
    ])
  })

  test('and is silent with the measures that are', () => {
    const p = played(form, { guide: { onsets }, only: { measures: { on: 1, off: 1 } } })
    expect(framesOf(p, 'guide')).toEqual(nearest([0, 1.5, 2]))
    // Beats that are left out are no silence for the guide.
    expect(framesOf(played(form, { guide: { onsets }, only: { beats: [1] } }), 'guide')).toHaveLength(6)
  })
})
