import { describe, expect, test } from 'vitest'
import type { Breath, BreathKind, Form } from '../../src/music/form.ts'
import { type Frac, frac, zero } from '../../src/music/fraction.ts'
import { countInFrames, framesOf, meter, music, nearest, played, RATE, tempoOf } from './support.ts'

/** Two measures of 4/4 at 60 with a mark on the second bar line. */
const marked = (kind: BreathKind, more: Partial<Breath> = {}): Form => ({
  ...music('4/4', 2, '60'),
  breaths: [{ at: frac(1), kind, adds: frac(1, 4), ...more }],
})

describe('marks between notes', () => {
  test.each(['breath', 'bow', 'turn', 'mute', 'instrument', 'look'] as const)(
    '%s is cued softly and takes no time',
    kind => {
      const p = played(marked(kind))
      expect(framesOf(p, 'breath')).toEqual([4 * RATE])
      expect(p.end).toBe(8 * RATE)
    },
  )

  test.each(['caesura', 'fermata'] as const)('%s adds its time at any tempo', kind => {
    expect(played(marked(kind)).end).toBe(9 * RATE)
    expect(played(marked(kind), {}, '120').end).toBe(4.5 * RATE)
    expect(framesOf(played(marked(kind)), 'breath')).toEqual([4 * RATE])
  })

  test('a cue belongs to the measure before which it stands', () => {
    const at = (...places: readonly Frac[]) =>
      places.map(p => ({ at: p, kind: 'breath' as const, adds: zero }))
    const p = played({ ...music('4/4', 3, '60'), breaths: at(frac(1, 4), frac(1), frac(7, 4)) })
    expect(p.onsets.filter(o => o.role === 'breath').map(o => o.measure)).toEqual([1, 2, 2])
    const upbeat = played({ ...music('4/4', 3, '60', frac(1, 2)), breaths: at(frac(1, 4), frac(1, 2)) })
    expect(upbeat.onsets.filter(o => o.role === 'breath').map(o => o.measure)).toEqual([0, 1])
  })

  test('a slow breath is taken, and adds its beat, only below its tempo', () => {
    const form = marked('slow-breath', { below: tempoOf('80') })
    const beats = (t: string) => (played(form, {}, t).end / RATE) * (Number(t) / 60)
    expect(beats('60')).toBe(9)
    expect(beats('79')).toBeCloseTo(9, 4)
    expect(beats('80')).toBe(8)
    expect(framesOf(played(form, {}, '60'), 'breath')).toHaveLength(1)
    expect(framesOf(played(form, {}, '80'), 'breath')).toEqual([])
  })

  test('a slow breath whose tempo is not said is never taken', () => {
    expect(played(marked('slow-breath')).end).toBe(8 * RATE)
  })

  test('a fermata before a new tempo holds in the old one', () => {
    const form: Form = {
      ...marked('fermata'),
      marks: [
        { at: zero, tempo: tempoOf('60') },
        { at: frac(1), tempo: tempoOf('120') },
      ],
    }
    expect(framesOf(played(form), 'downbeat')).toEqual(nearest([0, 5]))
  })
})

describe('a pulse apart from the tempo’s note value', () => {
  const beats = (m: string, t: string, pulse: Frac) =>
    framesOf(played(music(m, 1, t), { pulse }), 'downbeat', 'group', 'beat').map(f => f / RATE)

  test('4/4 in quarters: in 2, in 1, subdivided', () => {
    expect(beats('4/4', '60', frac(1, 2))).toEqual([0, 2])
    expect(beats('4/4', '60', frac(1))).toEqual([0])
    expect(beats('4/4', '60', frac(1, 8))).toEqual([0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5])
  })

  test('2/2 in halves: in 4; 6/8 in dotted quarters: in 1 and in six; 12/8: in 2', () => {
    expect(beats('2/2', 'half=30', frac(1, 4))).toEqual([0, 1, 2, 3])
    expect(beats('6/8', 'dotted-quarter=60', frac(3, 4))).toEqual([0])
    expect(beats('6/8', 'dotted-quarter=60', frac(1, 8))).toHaveLength(6)
    expect(beats('12/8', 'dotted-quarter=60', frac(3, 4))).toEqual([0, 2])
  })

  test('the count-in is counted in it too, and is still two clicks long', () => {
    const p = played(music('3/4', 2, '180'), { countIn: 1, pulse: frac(3, 4) })
    expect(countInFrames(p)).toEqual(nearest([0, 1]))
    expect(p.firstNote).toBe(2 * RATE)
  })

  test('the tempo and the length of the passage stay', () => {
    expect(played(music('4/4', 3, '92'), { pulse: frac(1, 2) }).end).toBe(played(music('4/4', 3, '92')).end)
  })
})

describe('fewer clicks', () => {
  const form = music('4/4', 6, '60', frac(1, 4))
  const full = played(form, { countIn: 1, subdivide: 2 })
  const heard = (only: NonNullable<Parameters<typeof played>[1]>['only'], subdivide = 1) => {
    const p = played(form, { countIn: 1, subdivide, ...(only ? { only } : {}) })
    return p.onsets.filter(o => o.frame >= p.firstNote).map(o => `${o.measure}.${o.beat}`)
  }

  test('on two and four', () => {
    expect(heard({ beats: [2, 4] }).slice(0, 5)).toEqual(['0.4', '1.2', '1.4', '2.2', '2.4'])
  })

  test('on the first beat only, with its subdivisions if there are any', () => {
    expect(heard({ beats: [1] })).toEqual(['1.1', '2.1', '3.1', '4.1', '5.1', '6.1'])
    expect(heard({ beats: [1] }, 2).slice(0, 3)).toEqual(['1.1', '1.1', '2.1'])
  })

  test('every second measure, and two on, two off; the pick-up is on', () => {
    const measures = (only: Parameters<typeof heard>[0]) => [
      ...new Set(heard(only).map(x => x.split('.')[0])),
    ]
    expect(measures({ measures: { on: 1, off: 1 } })).toEqual(['0', '1', '3', '5'])
    expect(measures({ measures: { on: 2, off: 2 } })).toEqual(['0', '1', '2', '5', '6'])
  })

  test('both at once', () => {
    expect(heard({ beats: [2], measures: { on: 1, off: 2 } })).toEqual(['1.2', '4.2'])
  })

  test.each([
    { beats: [2] },
    { beats: [1], measures: { on: 1, off: 5 } },
    { measures: { on: 2, off: 2 } },
    { beats: [] },
  ])('count-in, first note, last beat and the moment of the verdict stay: %j', only => {
    const p = played(form, { countIn: 1, subdivide: 2, only })
    for (const key of ['firstNote', 'lastBeat', 'verdictFrom', 'end', 'frames', 'segments'] as const)
      expect(p[key]).toEqual(full[key])
    expect(countInFrames(p)).toEqual(countInFrames(full))
  })

  test('what is not heard is still known, for the eye', () => {
    const p = played(form, { only: { beats: [1] } })
    expect(p.unheard?.slice(0, 4)).toEqual([
      { frame: 0, measure: 0, beat: 4 },
      { frame: 2 * RATE, measure: 1, beat: 2 },
      { frame: 3 * RATE, measure: 1, beat: 3 },
      { frame: 4 * RATE, measure: 1, beat: 4 },
    ])
    expect(full.unheard).toEqual([])
  })

  test('an altered rhythm is silent in the measures that are', () => {
    const guide = { ratios: [3, 1], group: frac(1, 4) }
    const p = played(form, { guide, only: { beats: [], measures: { on: 1, off: 1 } } })
    expect([...new Set(p.onsets.map(o => o.measure))]).toEqual([0, 1, 3, 5])
  })
})

test('from the measure on whose tempo is in another note value, that one is counted', () => {
  const form: Form = {
    ...music('4/4', 1, '60'),
    length: frac(14, 4),
    meters: [
      { at: zero, meter: meter('4/4') },
      { at: frac(1), meter: meter('6/8') },
      { at: frac(10, 4), meter: meter('4/4') },
    ],
    marks: [
      { at: zero, tempo: tempoOf('60') },
      { at: frac(1), tempo: tempoOf('dotted-quarter=60') },
      { at: frac(10, 4), tempo: tempoOf('half=60') },
    ],
  }
  expect(played(form).onsets.map(o => `${o.measure}.${o.beat}`)).toEqual([
    ...['1.1', '1.2', '1.3', '1.4', '2.1', '2.2', '3.1', '3.2', '4.1', '4.2'],
  ])
})

describe('a free ritardando', () => {
  const form: Form = {
    ...music('4/4', 5, '120'),
    marks: [
      { at: zero, tempo: tempoOf('90'), ramp: true },
      { at: frac(1), tempo: tempoOf('120') },
      { at: frac(2), tempo: tempoOf('120'), ramp: true },
      { at: frac(3), tempo: tempoOf('60') },
      { at: frac(4), tempo: tempoOf('60'), ramp: true },
      { at: frac(5), tempo: tempoOf('60') },
    ],
    breaths: [{ at: frac(5, 2), kind: 'breath', adds: zero }],
  }
  const full = played(form)
  const free = played(form, { freeRitardando: true })

  test('clicks where it begins and where the new tempo is reached, not between; speeding up clicks, and what stays', () => {
    expect(free.onsets.filter(o => o.role !== 'breath').map(o => `${o.measure}.${o.beat}`)).toEqual([
      ...['1.1', '1.2', '1.3', '1.4', '2.1', '2.2', '2.3', '2.4', '3.1'],
      ...['4.1', '4.2', '4.3', '4.4', '5.1', '5.2', '5.3', '5.4'],
    ])
  })

  test('keeps its cues and its time', () => {
    expect(framesOf(free, 'breath')).toEqual(framesOf(full, 'breath'))
    expect([free.end, free.lastBeat, free.verdictFrom]).toEqual([full.end, full.lastBeat, full.verdictFrom])
    expect(free.unheard).toHaveLength(3)
  })
})
