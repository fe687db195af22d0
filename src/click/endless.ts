import { plainForm } from '../music/form.ts'
import { add, type Frac, sub, times, zero } from '../music/fraction.ts'
import { type Meter, measureLength } from '../music/meter.ts'
import type { Tempo } from '../music/tempo.ts'
import { type Click, type ClickOptions, layOut } from './clicks.ts'
import type { Onset, Program } from './program.ts'
import { tempoMap } from './tempo-map.ts'

/** One meter at one tempo, for as long as it is wanted. */
export type Steady = Pick<ClickOptions, 'subdivide' | 'pulse' | 'only'> & {
  readonly meter: Meter
  readonly tempo: Tempo
}

export type Endless = {
  /** The measures counted in before it, as a program of their own; 0 = null. */
  readonly countIn: (measures: number) => Program | null
  /** The measures from index `from` (0 = the first) on, `count` of them. */
  readonly measures: (from: number, count: number) => Program
  /** Seconds of one measure. */
  readonly seconds: number
}

/**
 * A click without an end, some measures at a time. Each onset stands where it would stand in one long program: rounded
 * from the exact time since measure `first`, never accumulated, so programs laid end to end do not drift. Measures are
 * numbered from 1 on and keep their numbers when a new tempo or meter begins at `first`.
 */
export const endless = (s: Steady, rate: number, first: number): Endless => {
  const { meter, tempo } = s
  const length = measureLength(meter)
  const cycle = s.only?.measures ? s.only.measures.on + s.only.measures.off : 1
  const form = plainForm(meter, cycle, tempo)
  const map = tempoMap(form, tempo, rate)
  const laid = layOut(form, tempo, { ...s, countIn: 0 })
  const frame = (measure: number, into: Frac): number =>
    Math.round(map.frames(add(times(length, measure - first), into)))
  const start = (measure: number): number => frame(measure, zero)

  /** Clicks of one measure, their frames counted from the beginning of measure `from`. */
  const place = (clicks: readonly Click[], measure: number, from: number): Onset[] => {
    const number = (measure % cycle) + 1
    const barline = times(length, number - 1)
    return clicks
      .filter(c => c.measure === number)
      .map(c => ({
        frame: frame(measure, sub(c.at, barline)) - start(from),
        role: c.role,
        measure: measure + 1,
        beat: c.beat,
      }))
  }

  return {
    countIn: count => {
      const { lead, counts } = layOut(form, tempo, { ...s, countIn: count })
      if (counts.length === 0) return null
      const frames = Math.round(map.lasting(lead, zero))
      return {
        rate,
        frames,
        onsets: counts.map(c => ({
          frame: Math.round(map.lasting(add(c.at, lead), zero)),
          role: c.role,
          measure: c.measure,
          beat: c.beat,
        })),
        segments: [{ kind: 'countIn', frame: 0 }],
        firstNote: frames,
        verdictFrom: frames,
        lastBeat: frames,
        end: frames,
      }
    },
    measures: (from, count) => {
      const all = Array.from({ length: count }, (_, i) => from + i)
      const frames = start(from + count) - start(from)
      const onsets = all.flatMap(m => place(laid.beats, m, from))
      const unheard = all.flatMap(m => place(laid.unheard, m, from)).map(({ role: _, ...o }) => o)
      const beats = [...onsets.filter(o => o.role !== 'sub'), ...unheard].map(o => o.frame)
      return {
        rate,
        frames,
        onsets,
        segments: [{ kind: 'passage', frame: 0 }],
        firstNote: 0,
        verdictFrom: start(from + count - 1) - start(from),
        lastBeat: Math.max(...beats),
        end: frames,
        unheard,
      }
    },
    seconds: map.frames(length) / rate,
  }
}
