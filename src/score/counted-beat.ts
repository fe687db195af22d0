import { div, equal, type Frac, frac, less, mul, times } from '../music/fraction.ts'
import { type Meter, measureLength } from '../music/meter.ts'
import { QUARTER } from '../music/note-value.ts'
import { inUnit, type Tempo } from '../music/tempo.ts'

/** The traditional scale ends here: what is quicker is counted in a longer beat, what is slower in a shorter one. */
const FASTEST_BEAT = frac(208)
const SLOWEST_BEAT = frac(30)

/** The beat that a meter is counted in: a group where all are alike (6/8: dotted quarter), the half in cut time. */
const ownBeat = (meter: Meter | null): Frac => {
  if (!meter) return QUARTER
  const group = meter.groups[0] as number
  const even = meter.groups.every(g => g === group)
  if (even && group > 1) return times(meter.unit, group)
  return less(meter.unit, QUARTER) && meter.groups.length > 3 ? QUARTER : meter.unit
}

/** The beat in which a tempo (quarters a minute) is counted in a meter: its own, unless that were too quick or too slow. */
export const countedBeat = (meter: Meter | null, quarters: Frac): Frac => {
  const beat = ownBeat(meter)
  const bpm = inUnit({ unit: QUARTER, bpm: quarters }, beat).bpm
  if (less(FASTEST_BEAT, bpm)) {
    const whole = meter ? measureLength(meter) : mul(beat, frac(2))
    // three in a measure are counted in one, two and four in halves
    return meter && meter.groups.length <= 3 && less(whole, frac(1)) ? whole : mul(beat, frac(2))
  }
  if (!less(bpm, SLOWEST_BEAT)) return beat
  return div(beat, frac(dotted(beat) ? 3 : 2))
}

const dotted = (v: Frac): boolean => v.n === 3

/** Whether anyone counts this tempo (quarters a minute) in this note value. */
export const counts = (quarters: Frac | null, unit: Frac): boolean => {
  if (!quarters) return false
  const { bpm } = inUnit({ unit: QUARTER, bpm: quarters }, unit)
  return !less(FASTEST_BEAT, bpm) && !less(bpm, SLOWEST_BEAT)
}

/** A tempo of playback as a musician says it: in the counted beat, a whole number. */
const rounded = (t: Tempo): Tempo => ({
  unit: t.unit,
  bpm: frac(Math.max(1, Math.round(t.bpm.n / t.bpm.d))),
})

export const sameBeat = (a: Meter | null, b: Meter | null): boolean => equal(ownBeat(a), ownBeat(b))
export const inBeat = (quarters: Frac, unit: Frac): Tempo =>
  rounded(inUnit({ unit: QUARTER, bpm: quarters }, unit))
