import { type Frac, frac, less, min, mul, wholeTimes } from '../music/fraction.ts'
import { type Meter, measureLength, parseMeter } from '../music/meter.ts'
import type { Time } from './score.ts'
import { clean } from './text.ts'
import { child, type Element } from './xml.ts'

const SENZA_MISURA: Time = { meter: null, text: 'senza misura' }
export const NO_TIME: Time = { meter: null, text: 'no time signature' }
const MAX_PAIRS = 16

/**
 * A `time` element. One pair of beats and beat-type may hold a sum ("3+2" over 8); several pairs are added up
 * (2/4+3/8). Source: MusicXML 4.0, element time.
 */
export const readTime = (el: Element): Time => {
  if (child(el, 'senza-misura')) return SENZA_MISURA
  const pairs: string[] = []
  let beats = ''
  for (const c of el.children.slice(0, 2 * MAX_PAIRS)) {
    if (c.name === 'beats') beats = clean(c.text)
    if (c.name === 'beat-type') pairs.push(`${beats}/${clean(c.text)}`)
  }
  const read = pairs.flatMap(p => {
    const m = parseMeter(p)
    return m.ok ? [m.value] : []
  })
  return {
    meter: read.length === pairs.length ? added(read) : null,
    text: clean(pairs.join('+')) || 'an empty time',
  }
}

/** Several meters in one measure over their smallest unit; 3/8 beside a 2/4 is one group of three eighths. */
const added = (meters: readonly Meter[]): Meter | null => {
  if (meters.length < 2) return meters[0] ?? null
  const unit = meters.map(m => m.unit).reduce(min)
  const groups = meters.flatMap(m => {
    const k = wholeTimes(m.unit, unit) as number
    const oneGroup = k === 1 && m.groups.every(g => g === 1)
    return oneGroup ? [m.groups.length] : m.groups.map(g => g * k)
  })
  return { groups, unit }
}

const QUARTERS: Meter = { groups: [1], unit: frac(1, 4) }
const FINEST = frac(1, 128)

/**
 * A meter of exactly this length, for a measure shorter or longer than its time signature or without one: the
 * groups of the meter, cut off or begun again, over a finer unit where the length asks for it.
 */
export const fitted = (meter: Meter | null, length: Frac): Meter => {
  const m = meter ?? QUARTERS
  let unit = m.unit
  while (wholeTimes(length, unit) === null && less(FINEST, unit)) unit = mul(unit, frac(1, 2))
  let left = wholeTimes(length, unit)
  if (left === null) return { groups: [1], unit: length }
  const scale = wholeTimes(m.unit, unit) as number
  const groups: number[] = []
  for (let i = 0; left > 0; i++) {
    const group = Math.min(left, (m.groups[i % m.groups.length] as number) * scale)
    groups.push(group)
    left -= group
  }
  return { groups, unit }
}

/** Length that the time signature asks for, null where there is none. */
export const nominal = (meter: Meter | null): Frac | null => (meter ? measureLength(meter) : null)

export const isShort = (meter: Meter | null, length: Frac): boolean =>
  meter !== null && less(length, measureLength(meter))
