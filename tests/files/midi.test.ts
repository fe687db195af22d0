import fc from 'fast-check'
import { parseMidi } from 'midi-file'
import { describe, expect, test } from 'vitest'
import type { ClickOptions } from '../../src/click/clicks.ts'
import { midiFile } from '../../src/files/midi.ts'
import type { Form } from '../../src/music/form.ts'
import { type Frac, frac, zero } from '../../src/music/fraction.ts'
import { MARKS } from '../../src/music/tempo.ts'
import { eighths, meter, music, played, RATE, tempoOf } from '../click/support.ts'
import { BEAT_LENGTHS } from '../outside/beat-lengths.ts'
import { ONSET_TABLES } from '../outside/onset-tables.ts'

const PLAIN: ClickOptions = { countIn: 0, subdivide: 1 }

const bytes = (form: Form, o: Partial<ClickOptions> = {}): Uint8Array => {
  const r = midiFile([{ form, tempo: form.marks[0]?.tempo ?? tempoOf('60'), options: { ...PLAIN, ...o } }])
  if (!r.ok) throw new Error(r.problem.got)
  return r.value
}

/** Note-ons in seconds, tempos and time signatures in ticks, as npm midi-file 1.2.4 reads them. */
const read = (file: Uint8Array) => {
  const { header, tracks } = parseMidi(file)
  const perQuarter = header.ticksPerBeat ?? 1
  const tempos: [tick: number, us: number][] = []
  const signatures: (readonly [tick: number, ...four: number[]])[] = []
  const ons: { tick: number; channel: number; key: number; velocity: number }[] = []
  let end = 0
  for (const track of tracks) {
    let tick = 0
    for (const e of track) {
      tick += e.deltaTime
      if (e.type === 'setTempo') tempos.push([tick, e.microsecondsPerBeat])
      if (e.type === 'timeSignature')
        signatures.push([tick, e.numerator, e.denominator, e.metronome, e.thirtyseconds])
      if (e.type === 'noteOn') ons.push({ tick, channel: e.channel, key: e.noteNumber, velocity: e.velocity })
    }
    end = Math.max(end, tick)
  }
  const secondsAt = (tick: number): number =>
    tempos.reduce((sum, [from, us], i) => {
      const to = Math.min(tick, tempos[i + 1]?.[0] ?? Infinity)
      return to > from ? sum + ((to - from) * us) / perQuarter / 1e6 : sum
    }, 0)
  return { header, tempos, signatures, ons, seconds: ons.map(o => secondsAt(o.tick)), end: secondsAt(end) }
}

const hex = (file: Uint8Array): string => Buffer.from(file).toString('hex')

// Standard MIDI-File Format Specification 1.1, International MIDI Association: the worked examples in its text.
// Source: Standard MIDI File 1.0, meta events set tempo (FF 51) and time signature (FF 58).
describe('the bytes of the specification', () => {
  test('6/8 that clicks every three eighths is FF 58 04 06 03 24 08', () => {
    expect(hex(bytes(music('6/8', 1, 'dotted-quarter=72')))).toContain('ff580406032408')
  })

  test('4/4 is FF 58 04 04 02 18 08', () => {
    expect(hex(bytes(music('4/4', 1, '120')))).toContain('ff580404021808')
  })

  test('120 quarters a minute are FF 51 03 07 A1 20', () => {
    expect(hex(bytes(music('4/4', 1, '120')))).toContain('ff510307a120')
    expect(hex(bytes(music('6/8', 1, 'dotted-quarter=80')))).toContain('ff510307a120')
  })

  test('four minutes at 120, and 480 beats at any mark, end within 500 microseconds', () => {
    for (const m of MARKS) {
      const { end } = read(bytes(music('4/4', 120, String(m))))
      expect(Math.abs(end - (480 * 60) / m)).toBeLessThan(500e-6)
    }
  })
})

describe('tempos and meters', () => {
  test('every mark of the scale is its rounded microseconds a quarter', () => {
    for (const [bpm, , , , , rounded] of BEAT_LENGTHS)
      expect(read(bytes(music('4/4', 1, String(bpm)))).tempos).toEqual([[0, rounded]])
  })

  // 2/2 = 48 and 6/8 = 36 are what LilyPond, abcjs and abc2midi have in common.
  test.each([
    ['2/2', [2, 2, 48, 8]],
    ['6/8', [6, 8, 36, 8]],
    ['9/8', [9, 8, 36, 8]],
    ['3/8', [3, 8, 12, 8]],
    ['7/8', [7, 8, 12, 8]],
  ])('%s', (m, [n, d, clocks, bb]) => {
    expect(read(bytes(music(m, 1, '60'))).signatures).toEqual([[0, n, d, clocks, bb]])
  })

  test('a new meter stands at its bar line, behind the count-in', () => {
    const form: Form = {
      ...music('3/4', 1, '60'),
      meters: [
        { at: zero, meter: meter('3/4') },
        { at: frac(3, 4), meter: meter('7/8') },
      ],
      length: frac(13, 8),
    }
    const found = read(bytes(form, { countIn: 1 })).signatures.map(([tick, n]) => [tick / 960, n])
    expect(found).toEqual([
      [0, 3],
      [6, 7],
    ])
  })

  test('a pick-up without count-in has a measure of its own; a count-in completes it', () => {
    const form = music('4/4', 1, '60', eighths(1))
    const starts = (o: Partial<ClickOptions>) =>
      read(bytes(form, o)).signatures.map(([tick, n, d]) => [tick / 960, n, d])
    expect(starts({})).toEqual([
      [0, 1, 8],
      [0.5, 4, 4],
    ])
    expect(starts({ countIn: 1 })).toEqual([[0, 4, 4]])
  })

  test('after a stop inside the music the bar lines start anew', () => {
    const form = {
      ...music('4/4', 2, '60'),
      breaths: [{ at: frac(1), kind: 'caesura' as const, adds: eighths(3) }],
    }
    const file = read(bytes(form))
    expect(file.signatures.map(([tick, n]) => [tick / 960, n])).toEqual([
      [0, 4],
      [5.5, 4],
    ])
    expect(file.end).toBeCloseTo(9.5, 9)
  })

  test('slower than the format can say is refused', () => {
    const r = midiFile([{ form: music('4/4', 1, 'eighth=2'), tempo: tempoOf('eighth=2'), options: PLAIN }])
    expect(r).toMatchObject({ ok: false, problem: { field: 'tempo', got: 'quarter = 1.0' } })
  })
})

describe('clicks', () => {
  test('are on channel 10, the downbeat loudest', () => {
    const { ons } = read(bytes(music('4/4', 2, '60'), { subdivide: 2 }))
    expect(ons.every(o => o.channel === 9)).toBe(true)
    const [downbeat, half, beat] = ons.map(o => o.velocity) as [number, number, number]
    expect(downbeat).toBeGreaterThan(beat)
    expect(beat).toBeGreaterThan(half)
  })

  test('end before the next one, each note-on with its note-off', () => {
    const { tracks } = parseMidi(bytes(music('4/4', 2, '208'), { subdivide: 4 }))
    const sounding = new Set<number>()
    for (const e of tracks[1] ?? []) {
      if (e.type === 'noteOn') {
        expect(sounding.has(e.noteNumber)).toBe(false)
        sounding.add(e.noteNumber)
      }
      if (e.type === 'noteOff') sounding.delete(e.noteNumber)
    }
    expect(sounding.size).toBe(0)
  })

  test.each(ONSET_TABLES.map(t => [t.name, t] as const))('%s', (_, { form, guide, subdivide, seconds }) => {
    const file = read(bytes(form, { ...(guide ? { guide } : {}), subdivide: subdivide ?? 1 }))
    const key = guide ? 75 : null
    const found = file.seconds.filter((_, i) => key === null || file.ons[i]?.key === key)
    expect(found).toHaveLength(seconds.length)
    // Tempo rounded to a microsecond a quarter, tables to a microsecond.
    found.forEach((s, i) => {
      expect(Math.abs(s - (seconds[i] as number))).toBeLessThan(10e-6)
    })
  })
})

const typed = fc.integer({ min: 20_000, max: 240_000 }).map(t => tempoOf(String(t / 1000)))
const forms = fc
  .record({
    m: fc.constantFrom('4/4', '7/8', '6/8', '2/2'),
    tempos: fc.tuple(typed, typed, typed),
    ramp: fc.boolean(),
    breath: fc.option(fc.record({ where: fc.integer({ min: 1, max: 10 }), adds: fc.nat(4) }), {
      nil: undefined,
    }),
    pickup: fc.nat(1),
  })
  .map(({ m, tempos: [a, b, c], ramp, breath, pickup }): Form => {
    const form = music(m, 3, '60', eighths(pickup))
    const at = (w: Frac, tempo: typeof a) => ({ at: w, tempo })
    return {
      ...form,
      marks: [
        at(zero, a),
        { ...at(frac(1, 2), b), ...(ramp ? { ramp: true as const } : {}) },
        at(frac(5, 4), c),
      ],
      breaths: breath ? [{ at: eighths(breath.where), kind: 'fermata', adds: eighths(breath.adds) }] : [],
    }
  })

test('any form: the file and the samples have the same onsets, to a tick and a step of the ramp', () => {
  fc.assert(
    fc.property(forms, fc.nat(2), fc.integer({ min: 1, max: 3 }), (form, countIn, subdivide) => {
      const program = played(form, { countIn, subdivide })
      const file = read(bytes(form, { countIn, subdivide }))
      const ours = program.onsets.map(o => o.frame / RATE)
      const theirs = [...file.seconds].sort((a, b) => a - b)
      expect(theirs).toHaveLength(ours.length)
      // A whole frame for the segments' starts, half a tick at the slowest tempo, 1 us a quarter; in ramps the even step.
      const within = form.marks[1]?.ramp ? 0.004 : 0.002
      theirs.forEach((s, i) => {
        expect(Math.abs(s - (ours[i] as number))).toBeLessThan(within)
      })
      expect(Math.abs(file.end - program.end / RATE)).toBeLessThan(0.002)
    }),
    { numRuns: 200 },
  )
})
