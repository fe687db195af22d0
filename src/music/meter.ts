import { compare, equal, type Frac, frac, less, times, wholeTimes } from './fraction.ts'
import { ok, problem, type Result } from './result.ts'

/** Beat groups over a written unit: 7/8 as 2+2+3 is `{ groups: [2,2,3], unit: 1/8 }`, 4/4 is four groups of 1. */
export type Meter = { readonly groups: readonly number[]; readonly unit: Frac }

const ACCEPTED =
  'a meter like 4/4, 6/8, 7/8 or 2+2+3/8, over 1, 2, 4, 8, 16, 32 or 64, at most 64 units a measure'

/** How a meter is felt where nobody says: 6/8 is 3+3, 5/8 is 2+3, 7/8 is 2+2+3, all else beat by beat. */
const customary = (count: number, under: number): readonly number[] => {
  if (under >= 8 && count > 3 && count % 3 === 0) return Array(count / 3).fill(3)
  if (under >= 8 && count > 3 && count % 2 === 1) return [...Array((count - 3) / 2).fill(2), 3]
  return Array(count).fill(1)
}

/** Meters that are printed as a sign: common time, and cut time. */
const SIGNS: ReadonlyMap<string, string> = new Map([
  ['c', '4/4'],
  ['\u{1d134}', '4/4'],
  ['\u00a2', '2/2'],
  ['c|', '2/2'],
  ['\u{1d135}', '2/2'],
])

/** "4/4", "6/8", "7/8", "3+2/8", "C", "\u00a2": a sum says the groups, a single number takes the customary ones. */
export const parseMeter = (s: string, field = 'meter'): Result<Meter> => {
  const m = /^(\d{1,2}(?:\+\d{1,2})*)\/(1|2|4|8|16|32|64)$/.exec(
    (SIGNS.get(s.trim().toLowerCase()) ?? s.trim()).replace(/\s*([+/])\s*/g, '$1'),
  )
  if (!m?.[1] || !m[2]) return problem(field, s, ACCEPTED)
  const written = m[1].split('+').map(Number)
  const under = Number(m[2])
  const count = written.reduce((a, b) => a + b, 0)
  if (written.some(g => g < 1) || count > 64) return problem(field, s, ACCEPTED)
  return ok({ groups: written.length > 1 ? written : customary(count, under), unit: frac(1, under) })
}

/** "4/4", "6/8", "3+2/8": the groups are written out only where they are not the customary ones. */
export const meterText = (m: Meter): string => {
  const count = m.groups.reduce((a, b) => a + b, 0)
  const usual = customary(count, m.unit.d)
  const same = usual.length === m.groups.length && usual.every((g, i) => g === m.groups[i])
  return `${same ? count : m.groups.join('+')}/${m.unit.d}`
}

/** Length of one measure in whole notes. */
export const measureLength = (m: Meter): Frac =>
  times(
    m.unit,
    m.groups.reduce((a, b) => a + b, 0),
  )

export const sameMeter = (a: Meter, b: Meter): boolean => meterText(a) === meterText(b)

/** Where one pulse of a measure stands: whole notes from the bar line, and whether a group of the meter starts there. */
export type Pulse = { readonly at: Frac; readonly group: boolean }

/** Where the meter's own beats stand: the starts of its groups, in whole notes from the bar line. */
export const groupStarts = (m: Meter): readonly Frac[] =>
  m.groups.map((_, i) =>
    times(
      m.unit,
      m.groups.slice(0, i).reduce((a, b) => a + b, 0),
    ),
  )

/**
 * The pulses that a player counts when the tempo is given in `unit`.
 * A unit longer than the written one is counted in itself where it fits measure and groups (4/4 in halves: in 2; 6/8 in
 * dotted halves: in 1), else by the groups (6/8 in quarters still in two, 7/8 as 2+2+3 in three). The written unit or a
 * shorter one is counted out.
 */
export const pulses = (m: Meter, unit: Frac): readonly Pulse[] => {
  const whole = measureLength(m)
  const starts = groupStarts(m)
  const even = (step: Frac): readonly Pulse[] =>
    Array.from({ length: wholeTimes(whole, step) ?? 0 }, (_, i) => times(step, i)).map(at => ({
      at,
      group: starts.some(g => equal(g, at)),
    }))
  if (compare(unit, m.unit) > 0) {
    const counted = even(unit)
    const fits = counted.length > 0 && counted.every(p => p.group)
    return (fits ? counted.map(p => p.at) : starts).map(at => ({ at, group: false }))
  }
  const step = less(unit, m.unit) && wholeTimes(m.unit, unit) !== null ? unit : m.unit
  const counted = even(step)
  return counted.every(p => p.group) ? counted.map(p => ({ ...p, group: false })) : counted
}

/** The beat that is felt: in 6/8, 9/8, 12/8 (threes throughout) the dotted note, else the quarter. */
export const feltBeat = (m: Meter): Frac =>
  m.groups.length > 1 && m.groups.every(g => g === 3) ? times(m.unit, 3) : frac(1, 4)
