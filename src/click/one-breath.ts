import { type Breath, breathsAt, type Form } from '../music/form.ts'
import { type Frac, frac, less, toNumber, zero } from '../music/fraction.ts'
import { EXTENDED_MARKS } from '../music/scale.ts'
import type { Tempo } from '../music/tempo.ts'
import { tempoMap } from './tempo-map.ts'

/** What is played in one breath: from one place to breathe to the next, whole notes and seconds. */
export type Air = { readonly from: Frac; readonly to: Frac; readonly seconds: number }

/**
 * A new bow is to a string player what a breath is to others. Where the music waits for the pedal there is time to
 * breathe before it goes on, also after a fermata.
 */
export const breathes = (b: Breath): boolean =>
  b.kind === 'breath' ||
  b.kind === 'bow' ||
  b.kind === 'slow-breath' ||
  b.kind === 'caesura' ||
  b.waits === true

/** The stretches between breaths with the form's first mark at a tempo; slow breaths count where they are taken. */
export const airs = (form: Form, first: Tempo): readonly Air[] => {
  const map = tempoMap(form, first, 1)
  const inside = breathsAt(form, first).filter(
    b => breathes(b) && less(zero, b.at) && less(b.at, form.length),
  )
  const places = [zero, ...inside.map(b => b.at), form.length]
  return places.slice(1).map((to, i) => {
    const from = places[i] as Frac
    return { from, to, seconds: map.until(to) - map.frames(from) }
  })
}

/** The longest stretch in one breath. */
export const longestAir = (form: Form, first: Tempo): Air =>
  airs(form, first).reduce((a, b) => (b.seconds > a.seconds ? b : a))

/** A tempo rounded up to a hundredth, at least 1. */
export const hundredthsUp = (unit: Frac, bpm: number): Tempo => {
  // Without the last digits of a division, which would lift a whole number by 0.01.
  const hundredths = Math.ceil(Number((bpm * 100).toFixed(6)))
  return { unit, bpm: frac(Math.max(100, hundredths), 100) }
}

/**
 * The tempo of the first mark below which the planned breaths no longer serve and a slow breath is needed, for a player
 * who can play `capacity` seconds in one breath; and the lowest mark of the traditional scale at which they do (null =
 * above 999). Rounded up to 0.01. Slow breaths are left out of account.
 */
export const slowBreathBelow = (
  form: Form,
  capacity: number,
): { readonly tempo: Tempo; readonly enoughAt: number | null } => {
  const written = form.marks[0]?.tempo
  if (!written) throw new RangeError('a form needs a tempo mark at its start')
  const planned = { ...form, breaths: (form.breaths ?? []).filter(b => b.kind !== 'slow-breath') }
  // All times go with the inverse of the tempo, also through ramps and stops.
  const bpm = (toNumber(written.bpm) * longestAir(planned, written).seconds) / capacity
  const tempo = hundredthsUp(written.unit, bpm)
  return { tempo, enoughAt: EXTENDED_MARKS.find(m => m >= toNumber(tempo.bpm)) ?? null }
}
