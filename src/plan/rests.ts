import { parts, sum } from './halves.ts'
import type { Item, Unplaced } from './item.ts'

/**
 * Rests between stretches of music, the one truth of the plan and of the cautions: a first one after 10 to 15 minutes of
 * playing, then five minutes after 25 at most.
 * Sources: British Association for Performing Arts Medicine, Ten Top Health Tips for Musicians (five minutes every half
 * hour); G. Klickstein, The Musician's Way, 2009, p. 75 (25 minutes, then 5); the early rest: A. Cash, J. Res. Music
 * Educ. 57(3), 2009.
 */
export const REST = 5
export const SOONEST = 10
export const EARLY = 15
export const LATER = 25
/** A rest may be so long before one more takes its place: a day of an hour has one of eight minutes, not two of five. */
const LONGEST_REST = 8
/** A rest finds no place inside a single take, so it may have to come so much sooner. */
const SPARE = 2
/** A visit that a rest cuts in two leaves so many minutes on both sides, where it can. */
const LEAST = 2

/** Minutes of one rest at least: five, or a sixth of what there is in less than half an hour. */
const restOf = (minutes: number): number => Math.min(REST, Math.ceil(minutes / 3) / 2)

/** What was played today before, since the last rest. */
export type Since = { readonly music: number; readonly rested: boolean }

const MORNING: Since = { music: 0, rested: false }

/** So much is played before the next rest at most. */
const before = ({ rested }: Since): number => (rested ? LATER : EARLY)

/** So much was played since the last rest that the next one comes first. */
export const restIsDue = (since: Since): boolean => since.music >= before(since)

/** Music that so many rests have room between, each stretch of it as long as it may be. */
const musicWith = (rests: number, since: Since): number =>
  Math.max(0, before(since) - since.music) + rests * LATER - Math.max(0, rests - 1) * SPARE

/** How many rests so many minutes of music and rests hold. */
const restsToday = (minutes: number, since: Since): number => {
  let rests = 0
  while (musicWith(rests, since) + rests * LONGEST_REST < minutes) rests++
  return rests
}

/** The rests of a day in their order, minutes: what no stretch of music may take makes them longer. */
const restsOf = (minutes: number, since: Since): readonly number[] => {
  const n = restsToday(minutes, since)
  return parts(Math.max(n * restOf(minutes), minutes - musicWith(n, since)), n)
}

/** Minutes of rest in so many minutes of music and rests. */
export const restMinutes = (minutes: number, since: Since = MORNING): number => sum(restsOf(minutes, since))

/** Between two blocks, in minutes of music. */
const endsIn = (blocks: readonly Unplaced[]): readonly number[] => {
  let at = 0
  return blocks
    .map(b => {
      at += b.minutes
      return at
    })
    .slice(0, -1)
}

/** Inside visits, with so many minutes on both sides. */
const cutsIn = (blocks: readonly Unplaced[], least: number): readonly number[] => {
  let at = 0
  return blocks.flatMap(b => {
    const from = at
    at += b.minutes
    if (b.task.kind !== 'section' && b.task.kind !== 'seam') return []
    return Array.from({ length: (b.minutes - 2 * least) * 2 + 1 }, (_, i) => from + least + i / 2)
  })
}

const nearest = (all: readonly number[], to: number): number | undefined =>
  [...all].sort((a, b) => Math.abs(a - to) - Math.abs(b - to))[0]

/** After how much music each rest comes. */
const restsAfter = (
  blocks: readonly Unplaced[],
  rests: number,
  since: Since,
  soon: boolean,
): readonly number[] => {
  const music = sum(blocks.map(b => b.minutes))
  const out: number[] = []
  // What was played before counts for the first one.
  let [from, most, early] = [-since.music, before(since), soon]
  for (let left = rests; left > 0; left--) {
    const high = from + most
    // Enough has to be played before it that what follows needs no more rests than are left.
    const low = Math.max(from + SOONEST, music - LATER * left)
    const begun = Math.max(0, from)
    const wish = early ? low + left * SPARE : begun + (music - begun) / (left + 1)
    const to = Math.min(high, wish)
    const inside = (t: number): boolean => t >= low && t <= high
    const places = [endsIn(blocks), cutsIn(blocks, LEAST), cutsIn(blocks, 0.5)]
    const place =
      places.flatMap(all => nearest(all.filter(inside), to) ?? [])[0] ??
      nearest(
        endsIn(blocks).filter(t => t > begun),
        to,
      )
    if (place === undefined) break
    out.push(place)
    ;[from, most, early] = [place, LATER, false]
  }
  return out
}

/** A visit after a rest goes on where it stopped. */
const goesOn = (b: Unplaced): Unplaced['task'] =>
  b.task.kind === 'section' ? { ...b.task, again: true, from: null, toPass: null } : b.task

/**
 * Blocks of music in their order, with rests between them; all in whole or half minutes. `from` = when they begin;
 * `minutes` = what there is for them with their rests. A rest comes between two blocks where it can, else inside a visit.
 * After a long warm-up the first one comes as soon as it may.
 */
export const withRests = (
  blocks: readonly Unplaced[],
  from: number,
  minutes: number,
  since: Since = MORNING,
): readonly Item[] => {
  const out: Item[] = []
  const music = sum(blocks.map(b => b.minutes))
  // A day that is not full may need none.
  const short = music + since.music <= EARLY && music + restMinutes(minutes, since) < minutes
  const lengths = [...restsOf(minutes, since)]
  const places = short ? [] : [...restsAfter(blocks, lengths.length, since, from >= SOONEST)]
  let [at, played] = [from, 0]
  const put = (task: Unplaced['task'], m: number): void => {
    out.push({ ...task, at, minutes: m })
    at += m
  }
  const rest = (): void => {
    put({ kind: 'rest' }, lengths.shift() as number)
    places.shift()
  }
  for (const b of blocks) {
    const end = played + b.minutes
    let task = b.task
    for (let next = places[0]; next !== undefined && next < end; next = places[0]) {
      put(task, next - played)
      played = next
      task = goesOn(b)
      rest()
    }
    put(task, end - played)
    played = end
    if (places[0] === played) rest()
  }
  return out
}
