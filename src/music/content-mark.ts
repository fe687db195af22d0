import type { Form } from './form.ts'
import { fractionText } from './fraction.ts'
import { meterText } from './meter.ts'
import { ratioOf } from './tempo.ts'

/** FNV-1a, 64 bits (Fowler, Noll, Vo; constants from memory): short, and the same on every machine. */
const hash = (s: string): string => {
  let h = 0xcbf29ce484222325n
  for (const byte of new TextEncoder().encode(s)) h = BigInt.asUintN(64, (h ^ BigInt(byte)) * 0x100000001b3n)
  return h.toString(36)
}

/**
 * What makes the music of a section what it is: its place, meters, pick-up, length and the ratios of its tempos. As long
 * as this text stays, ceilings stay true; titles, notes, breaths, dates, goal and start do not enter.
 */
export const contentMark = (f: Form, place: string): string => {
  const first = f.marks[0]
  const marks = f.marks.map(m => [
    fractionText(m.at),
    first ? fractionText(ratioOf(m.tempo, first.tempo)) : '',
    m.ramp ? 'ramp' : '',
  ])
  const meters = f.meters.map(m => [fractionText(m.at), meterText(m.meter)])
  return hash(JSON.stringify([place, fractionText(f.pickup), fractionText(f.length), meters, marks]))
}
