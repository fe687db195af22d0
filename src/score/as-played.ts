import { add } from '../music/fraction.ts'
import { parseMeasure } from '../music/place.ts'
import { ok, problem, type Result } from '../music/result.ts'
import { lastNamed, measureNamed } from './places.ts'
import { performed } from './repeats.ts'
import type { Measure, Part } from './score.ts'
import type { Stretch } from './score-passage.ts'

/** Where a measure first comes in the order played; "43(2)" is its second time. -1 where it never comes. */
const comes = (
  part: Part,
  order: readonly number[],
  numbers: readonly string[],
  text: string,
  named: (part: Part, text: string) => number | null,
): number => {
  const read = parseMeasure(text, numbers)
  return read.ok ? read.value : order.indexOf(named(part, text) ?? -1)
}

/**
 * Where a stretch that begins at `first` ends when its last measure is named without a time: as long as the music stays
 * between the two, else the next time that the last one comes.
 */
const endOf = (order: readonly number[], first: number, last: number): number => {
  const begins = order[first] as number
  const [low, high] = [Math.min(begins, last), Math.max(begins, last)]
  const left = order.findIndex((m, i) => i > first && (m < low || m > high))
  const inside = order.lastIndexOf(last, left < 0 ? order.length - 1 : left - 1)
  return inside >= first ? inside : order.indexOf(last, first)
}

/** Whole measures in the order in which they are played, from the first one named to the last. */
export const playedMeasures = (
  part: Part,
  from: string | undefined,
  to: string | undefined,
): Result<Stretch> => {
  const { order } = performed(part)
  const at = (i: number): Measure => part.measures[order[i] as number] as Measure
  const numbers = order.map((_, i) => at(i).number)
  const range = `a measure that is played, from ${numbers[0]} to ${numbers.at(-1)}, or its second time as "${numbers[0]}(2)"`
  const first = from === undefined ? 0 : comes(part, order, numbers, from, measureNamed)
  if (first < 0) return problem('--from', from ?? '', range)
  const named = to === undefined ? order.length - 1 : comes(part, order, numbers, to, lastNamed)
  const timed = to === undefined || /\(\d+\)\s*$/.test(to)
  const last = timed || named < 0 ? named : endOf(order, first, order[named] as number)
  const begins = at(first)
  if (last < first) return problem('--to', to ?? '', `${range}, after measure ${begins.number}`)
  const ends = at(last)
  const played = order.slice(first, last + 1)
  const asWritten = played.every((m, i) => m === begins.index + i)
  return ok({
    from: { measure: begins.index, at: begins.at },
    to: { measure: ends.index, at: add(ends.at, ends.length) },
    ...(asWritten ? {} : { played }),
  })
}

const inOrder = (order: readonly number[]): boolean => order.every((m, i) => m === i)

/** Written neighbors of a stretch that are never played one after the other: a first ending and a second. */
const apart = (order: readonly number[], { from, to }: Stretch): readonly number[] => {
  const after = new Set(order.map((m, i) => `${m} ${order[i + 1]}`))
  const inside = Array.from({ length: Math.max(0, to.measure - from.measure) }, (_, i) => from.measure + i)
  return inside.filter(m => !after.has(`${m} ${m + 1}`))
}

/** What is said of repeats and jumps: how they are taken, and where a passage as written is never played so. */
export const playedRemarks = (
  part: Part,
  asPlayed: boolean,
  passages: readonly (Stretch & { readonly name: string })[],
): readonly string[] => {
  const { order, warnings } = performed(part)
  if (inOrder(order)) return asPlayed ? ['it has no repeats or jumps: it is played as written'] : []
  const name = (i: number): string => (part.measures[i] as Measure).number
  const counts = `${part.measures.length} measures as written, ${order.length} as played`
  const first = asPlayed
    ? [`repeats and jumps are played out: ${counts}`, ...warnings]
    : [`repeats and jumps are not played out: ${counts} (--as-played)`]
  const whole = (p: Stretch): boolean => p.from.measure === 0 && p.to.measure === part.measures.length - 1
  const never = passages
    .filter(p => !p.played && !whole(p))
    .flatMap(p =>
      apart(order, p).map(
        m => `${p.name}: as played measure ${name(m)} is never followed by measure ${name(m + 1)}`,
      ),
    )
  return [...first, ...new Set(never)]
}
