import { type MidiEvent, writeMidi } from 'midi-file'
import { type Click, type ClickOptions, layOut } from '../click/clicks.ts'
import type { Role } from '../click/program.ts'
import { type TempoMap, tempoMap } from '../click/tempo-map.ts'
import { breathsAt, type Form, type Measure } from '../music/form.ts'
import { add, compare, equal, type Frac, frac, less, roundTimes, zero } from '../music/fraction.ts'
import { type Meter, sameMeter } from '../music/meter.ts'
import { ok, problem, type Result } from '../music/result.ts'
import type { Tempo } from '../music/tempo.ts'

/** An event at a tick from the start; the library takes the distance to the one before. */
type TrackEvent = { readonly tick: number; readonly event: WithoutDelta<MidiEvent> }
type WithoutDelta<E> = E extends MidiEvent ? Omit<E, 'deltaTime'> : never

/** Ticks a quarter: triplets, quintuplets and 64ths fall on whole ticks. */
const TICKS = 960

/** A slowing or quickening is written as even steps of this length. */
const RAMP_STEP = frac(1, 64)

/** Key and velocity on channel 10. Keys: General MIDI percussion map (from memory). */
const DRUMS: Readonly<Partial<Record<Role, readonly [key: number, velocity: number]>>> = {
  downbeat: [76, 112],
  group: [76, 92],
  beat: [77, 92],
  countIn: [77, 92],
  sub: [37, 56],
  guide: [75, 72],
  breath: [69, 64],
}
const DRUM_CHANNEL = 9
/** Length of a click in ticks, short enough for any subdivision. */
const LENGTH = 30

/** Where positions of the score fall in the file, in ticks: `before` and `after` a stop that stands there. */
const tickMap = (form: Form, lead: Frac) => {
  const stops = (form.breaths ?? []).filter(b => less(zero, b.adds) && less(zero, b.at))
  const at = (passed: (stop: Frac, at: Frac) => boolean) => (position: Frac) => {
    const waited = stops.reduce((sum, s) => (passed(s.at, position) ? add(sum, s.adds) : sum), lead)
    return roundTimes(add(position, waited), 4 * TICKS)
  }
  return { stops, before: at(less), after: at((stop, position) => compare(stop, position) <= 0) }
}

/** Score positions between which the tempo is written once: marks, stops, and the steps of ramps. */
const joints = (form: Form): readonly Frac[] => {
  const all: Frac[] = [zero, form.length, ...(form.breaths ?? []).map(b => b.at)]
  form.marks.forEach((mark, i) => {
    const end = form.marks[i + 1]?.at ?? form.length
    all.push(mark.at)
    if (mark.ramp) for (let at = mark.at; less(at, end); at = add(at, RAMP_STEP)) all.push(at)
  })
  return all
    .filter(at => compare(at, form.length) <= 0)
    .sort(compare)
    .filter((at, i, a) => i === 0 || !equal(at, a[i - 1] as Frac))
}

/** Microseconds a quarter from each tick on; each stretch lasts what the tempo map says, to half a microsecond a quarter. */
const tempos = (form: Form, lead: Frac, map: TempoMap): { tick: number; us: number }[] => {
  const ticks = tickMap(form, lead)
  const out: { tick: number; us: number }[] = []
  const stretch = (from: number, to: number, seconds: number): void => {
    if (to <= from) return
    const us = Math.round((seconds * 1e6 * TICKS) / (to - from))
    if (out.at(-1)?.us !== us) out.push({ tick: from, us })
  }
  stretch(0, ticks.before(zero), map.lasting(lead, zero))
  const at = joints(form)
  at.forEach((a, i) => {
    stretch(ticks.before(a), ticks.after(a), map.frames(a) - map.until(a))
    const b = at[i + 1]
    if (b) stretch(ticks.after(a), ticks.before(b), map.until(b) - map.frames(a))
  })
  return out
}

/** A time signature; its MIDI clocks (24 a quarter) are those of a beat: 36 for the dotted beats of 6/8. */
const signature = (m: Meter) => {
  const even = m.groups.every(g => g === m.groups[0])
  const clocks = ((even ? (m.groups[0] ?? 1) : 1) * m.unit.n * 96) / m.unit.d
  const count = m.groups.reduce((a, b) => a + b, 0)
  return {
    type: 'timeSignature',
    meta: true,
    numerator: count,
    denominator: m.unit.d,
    metronome: Math.max(1, Math.round(clocks)),
    thirtyseconds: 8,
  } as const
}

/**
 * Time signatures where the meter changes, and anew after a stop that has shifted the bar lines. A pick-up that no
 * count-in completes gets a measure of its own length.
 */
const signatures = (form: Form, lead: Frac, bars: readonly Measure[]): TrackEvent[] => {
  const { stops, after } = tickMap(form, lead)
  const out: TrackEvent[] = []
  const write = (tick: number, m: Meter) => out.push({ tick, event: signature(m) })
  let running: Meter | null = null
  bars.forEach((bar, i) => {
    const shifted = stops.some(s => compare(s.at, bar.from) <= 0 && less(bars[i - 1]?.from ?? zero, s.at))
    const short = bar.number === 0 && equal(lead, zero) && Number.isInteger(Math.log2(bar.to.d))
    const meter: Meter = short ? { groups: Array(bar.to.n).fill(1), unit: frac(1, bar.to.d) } : bar.meter
    if (!running || shifted || !sameMeter(running, meter)) write(i === 0 ? 0 : after(bar.from), meter)
    running = meter
  })
  return out
}

const notes = (clicks: readonly { tick: number; click: Click }[]): TrackEvent[] =>
  clicks.flatMap(({ tick, click }) => {
    const accented = click.role === 'countIn' && click.beat === 1
    const [key, velocity] = DRUMS[accented ? 'downbeat' : click.role] ?? [77, 64]
    return [
      { tick, event: { type: 'noteOn', channel: DRUM_CHANNEL, noteNumber: key, velocity } },
      {
        tick: tick + LENGTH,
        event: { type: 'noteOff', channel: DRUM_CHANNEL, noteNumber: key, velocity: 0 },
      },
    ]
  })

/** One repetition of a form, its first mark at `tempo`, with its count-in. */
export type MidiPart = { readonly form: Form; readonly tempo: Tempo; readonly options: ClickOptions }

/** Tempos and meters, clicks, and where the part ends, in ticks from its beginning. */
const partEvents = ({ form: written, tempo, options }: MidiPart) => {
  const form = { ...written, breaths: breathsAt(written, tempo) }
  const { lead, counts, beats, guide, breaths, bars } = layOut(form, tempo, options)
  const ticks = tickMap(form, lead)
  const changes = tempos(form, lead, tempoMap(form, tempo, 1))
  const placed = [
    ...[...counts, ...beats, ...guide].map(click => ({ click, tick: ticks.after(click.at) })),
    ...breaths.map(click => ({ click, tick: ticks.before(click.at) })),
  ]
  return {
    slowest: Math.max(...changes.map(t => t.us)),
    conductor: [
      ...signatures(form, lead, bars),
      ...changes.map(
        ({ tick, us }): TrackEvent => ({
          tick,
          event: { type: 'setTempo', meta: true, microsecondsPerBeat: us },
        }),
      ),
    ],
    clicks: notes(placed),
    end: ticks.after(form.length),
  }
}

/** In order of ticks, on one tick as they are given; a track lasts until tick `end` at least. */
const trackOf = (events: readonly TrackEvent[], end: number): MidiEvent[] => {
  const ordered = [...events].sort((a, b) => a.tick - b.tick)
  const last: TrackEvent = {
    tick: Math.max(end, ordered.at(-1)?.tick ?? 0),
    event: { type: 'endOfTrack', meta: true },
  }
  return [...ordered, last].map(
    (e, i) => ({ ...e.event, deltaTime: e.tick - (ordered[i - 1]?.tick ?? 0) }) as MidiEvent,
  )
}

const later = (events: readonly TrackEvent[], by: number): readonly TrackEvent[] =>
  events.map(e => ({ ...e, tick: e.tick + by }))

/**
 * Parts one behind the other as a Standard MIDI File, format 1: a track with tempos and meters, a track with the clicks
 * on channel 10. Each click stands on the tick of its score position in the part, never accumulated. Refuses what the
 * format cannot say (slower than about 3.6 quarters a minute).
 */
export const midiFile = (parts: readonly MidiPart[]): Result<Uint8Array> => {
  const conductor: TrackEvent[] = []
  const clicks: TrackEvent[] = [{ tick: 0, event: { type: 'trackName', meta: true, text: 'Click' } }]
  let from = 0
  for (const part of parts) {
    const p = partEvents(part)
    if (p.slowest > 0xff_ffff)
      return problem(
        'tempo',
        `quarter = ${(6e7 / p.slowest).toFixed(1)}`,
        '3.6 quarters a minute or more in a MIDI file',
      )
    for (const e of later(p.conductor, from)) conductor.push(e)
    for (const e of later(p.clicks, from)) clicks.push(e)
    from += p.end
  }
  const header = { format: 1, numTracks: 2, ticksPerBeat: TICKS } as const
  return ok(Uint8Array.from(writeMidi({ header, tracks: [trackOf(conductor, from), trackOf(clicks, from)] })))
}
