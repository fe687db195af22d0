import type { Form } from '../music/form.ts'
import { add, type Frac, less, max, toNumber, zero } from '../music/fraction.ts'
import { measureLength } from '../music/meter.ts'
import type { Tempo } from '../music/tempo.ts'
import { type Click, layOut } from './clicks.ts'
import type { CompileOptions, Onset, Program, Role } from './program.ts'
import { tempoMap } from './tempo-map.ts'

/**
 * Compiles a form, with its first mark at `tempo`, into frames and roles: rest, count-in, passage.
 * Each onset is the rounded exact time from its segment's start (never accumulated), segments start on whole frames.
 * Throws RangeError for a form without meter or tempo mark.
 */
export const compile = (form: Form, tempo: Tempo, o: CompileOptions): Program => {
  const map = tempoMap(form, tempo, o.rate)
  const { lead, counts, beats, unheard, guide, breaths, bars } = layOut(form, tempo, o)

  const restFrames = Math.round((o.rest ?? 0) * o.rate)
  const firstNote = restFrames + Math.round(map.lasting(lead, zero))
  const end = firstNote + Math.round(map.frames(form.length))
  const counted = (at: Frac): number => restFrames + Math.round(map.lasting(add(at, lead), zero))
  const frameOf = (at: Frac): number => firstNote + Math.round(map.frames(at))
  const frameBefore = (at: Frac): number => firstNote + Math.round(map.until(at))
  const placed = (clicks: readonly Click[], frame: (at: Frac) => number): Onset[] =>
    clicks.map(({ at, ...click }) => ({ ...click, frame: frame(at) }))

  const signals = (o.signals ?? []).map(s => ({
    frame: Math.round(s.after * o.rate),
    role: s.role,
    measure: 0,
    beat: 0,
  }))
  const onsets = [
    ...signals,
    ...placed(counts, counted),
    ...placed(beats, frameOf),
    ...placed(guide, frameOf),
    ...placed(breaths, frameBefore),
  ].sort((a, b) => a.frame - b.frame)

  const pulses = [...beats.filter(c => c.role !== 'sub'), ...unheard].map(c => c.at)
  const lastBeat = frameOf(pulses.reduce(max, zero))
  const lastBar = bars.at(-1)
  const longerThanOne = lastBar !== undefined && less(measureLength(lastBar.meter), form.length)
  return {
    rate: o.rate,
    frames: end,
    onsets,
    segments: [
      ...(restFrames > 0 ? [{ kind: 'rest' as const, frame: 0 }] : []),
      ...(toNumber(lead) > 0 ? [{ kind: 'countIn' as const, frame: restFrames }] : []),
      { kind: 'passage', frame: firstNote },
    ],
    firstNote,
    verdictFrom: longerThanOne ? frameOf(lastBar.from) : lastBeat,
    lastBeat,
    end,
    unheard: unheard.map(({ at, measure, beat }) => ({ frame: frameOf(at), measure, beat })),
  }
}

/** Small signals alone, `every` seconds apart: nothing else sounds. */
export const signalProgram = (roles: readonly Role[], rate: number, every = 0.16): Program => {
  const frames = Math.round((roles.length * every + 0.4) * rate)
  return {
    rate,
    frames,
    onsets: roles.map((role, i) => ({ frame: Math.round(i * every * rate), role, measure: 0, beat: 0 })),
    segments: [{ kind: 'rest', frame: 0 }],
    firstNote: frames,
    verdictFrom: frames,
    lastBeat: frames,
    end: frames,
  }
}
