import { divide, inHalves } from './share.ts'
import { daysToClimb, needOf, type Work } from './work.ts'

/** A stay on one section: half minutes. */
export type Slot = { readonly work: Work; readonly minutes: number }

/** A slot is the longer of three minutes and twelve repetitions, but eight minutes at most. */
const SHORTEST = 3
const REPETITIONS = 12
export const LONGEST = 8
/** Less than this a day lets hardly any section reach its goal; so fewer sections have more of it. */
const WORTH_IT = 6
/** No section takes more of the day's climbing than this share, where there are enough others, or these minutes. */
const CAP = 0.35
const CAP_OF_FEW = 1.2
const MOST = 24

const sum = (all: readonly number[]): number => all.reduce((a, b) => a + b, 0)
const halfUp = (x: number): number => Math.ceil(x * 2 - 1e-9) / 2

const slotLength = (w: Work): number =>
  Math.min(LONGEST, halfUp(Math.max(SHORTEST, (REPETITIONS * w.secondsPerRepetition) / 60)))

/** Minutes that a section asks of this day: nearer dates ask for more. */
const asks = (w: Work, date: string): number => needOf(w) / daysToClimb(w, date)

/** Longest away first; one that was never played is as one that was left out for a day. Then what asks for most. */
const inTurn = (works: readonly Work[], date: string): readonly Work[] => {
  const away = (w: Work): number => w.lastPlayedDaysAgo ?? 2
  return [...works].sort((a, b) => away(b) - away(a) || asks(b, date) - asks(a, date))
}

/** How many from the front fit into so many minutes. */
const fitting = (lengths: readonly number[], minutes: number): number => {
  let [used, count] = [0, 0]
  for (const length of lengths) {
    used += length
    if (used > minutes + 1e-9) break
    count++
  }
  return count
}

/**
 * Sections of this day: as many as can have six minutes, the others in turn; but half of them at least, so that each comes
 * every second day, where their shortest slots fit.
 */
const chosen = (works: readonly Work[], date: string, minutes: number): readonly Work[] => {
  const all = inTurn(works, date)
  const shortest = all.map(slotLength)
  const well = fitting(
    shortest.map(l => Math.max(WORTH_IT, l)),
    minutes,
  )
  const fits = fitting(shortest, minutes)
  // One section alone can use one slot, no more; a second one keeps it from following itself.
  const fewest = minutes > LONGEST ? Math.min(2, fits) : 1
  return all.slice(0, Math.max(1, well, fewest, Math.min(Math.ceil(all.length / 2), fits)))
}

/** Half minutes for each, so that they can be cut into slots that are neither too short nor too long. */
const sharesOf = (works: readonly Work[], date: string, minutes: number): readonly number[] => {
  const least = works.map(w => Math.max(WORTH_IT, slotLength(w)))
  const floors = sum(least) <= minutes ? least : works.map(slotLength)
  const cap = Math.min(MOST, Math.max(CAP, CAP_OF_FEW / works.length) * minutes)
  let caps = works.map(() => cap)
  for (;;) {
    const claims = works.map((w, i) => ({
      need: asks(w, date),
      floor: floors[i] as number,
      cap: caps[i] as number,
    }))
    const shares = divide(claims, minutes)
    const most = works.map((w, i) => LONGEST * Math.max(1, Math.floor((shares[i] as number) / slotLength(w))))
    if (shares.every((s, i) => s <= (most[i] as number) + 1e-9)) return inHalves(shares)
    caps = caps.map((c, i) => ((shares[i] as number) > (most[i] as number) ? (most[i] as number) : c))
  }
}

/** How many slots: short ones, but no more of one section than the others can separate. */
const slotCounts = (works: readonly Work[], shares: readonly number[]): readonly number[] => {
  const fewest = shares.map(s => Math.max(1, Math.ceil(s / LONGEST - 1e-9)))
  const counts = works.map((w, i) => Math.max(1, Math.floor((shares[i] as number) / slotLength(w) + 1e-9)))
  return counts.map((n, i) => Math.max(fewest[i] as number, Math.min(n, sum(counts) - n + 1)))
}

/** A share cut into slots that differ by half a minute at most, the longer ones first. */
const cut = (minutes: number, n: number): readonly number[] => {
  const halves = Math.round(minutes * 2)
  return Array.from({ length: n }, (_, i) => (Math.floor(halves / n) + (i < halves % n ? 1 : 0)) / 2)
}

/** What has most minutes left comes first, never the same twice running while another one is left. */
const ordered = (all: readonly Slot[][]): readonly Slot[] => {
  const left = all.map(slots => [...slots])
  const out: Slot[] = []
  const minutes = (slots: readonly Slot[]): number => sum(slots.map(s => s.minutes))
  for (;;) {
    const open = left.filter(slots => slots.length > 0)
    if (open.length === 0) return out
    const count = sum(open.map(slots => slots.length))
    const others = open.filter(slots => slots[0]?.work !== out.at(-1)?.work)
    // One that has as many slots as all others together and one more has to come now, or it will follow itself.
    const pressing = others.find(slots => slots.length * 2 > count)
    const next =
      pressing ?? [...(others.length > 0 ? others : open)].sort((a, b) => minutes(b) - minutes(a))[0]
    out.push(next?.shift() as Slot)
  }
}

/** The slots of a day in their order, hardest first; together at most `minutes`. */
export const slotsOf = (works: readonly Work[], date: string, minutes: number): readonly Slot[] => {
  if (works.length === 0 || minutes < 0.5) return []
  const today = chosen(works, date, minutes)
  const shares = sharesOf(today, date, minutes)
  const counts = slotCounts(today, shares)
  const slots = today.map((work, i) =>
    cut(shares[i] as number, counts[i] as number).map(m => ({ work, minutes: m })),
  )
  return ordered(slots.sort((a, b) => asks(b[0]?.work as Work, date) - asks(a[0]?.work as Work, date)))
}
