import type { Block, Item } from './item.ts'

/**
 * One list of rests, at the ends of slots: an early one after 10 to 15 minutes, five minutes in each half hour.
 * Sources: A. Cash, J. Res. Music Educ. 57(3), 2009 (a rest early on); British Association for Performing Arts Medicine,
 * Ten Top Health Tips for Musicians (five minutes every half hour).
 */
const REST = 5
const EARLY = 15
const LATER = 25
/** Up to so many minutes in all there is no rest. */
const SHORT_DAY = 20

const halfUp = (x: number): number => Math.ceil(x * 2 - 1e-9) / 2

/** Minutes of one rest: five, or a sixth of a day that is shorter than half an hour. */
const restOf = (minutes: number): number => Math.min(REST, halfUp(minutes / 6))

/** Minutes of rest that a day of so many asks for at least. */
export const restMinutes = (minutes: number): number => {
  if (minutes <= SHORT_DAY) return 0
  const later = Math.max(0, Math.ceil((minutes - EARLY - REST - LATER) / (LATER + REST)))
  return restOf(minutes) * (1 + later)
}

const keyOf = (b: Block | undefined): string | null => (b?.task.k === 'section' ? b.task.key : null)

/**
 * Blocks in their order with clock times and rests between them. `afterRest` = what is best played fresh: it follows the
 * first rest; where there is none it comes before the last time through. A section never follows itself without a rest.
 */
export const withRests = (
  blocks: readonly Block[],
  afterRest: readonly Block[],
  minutes: number,
): readonly Item[] => {
  const out: Item[] = []
  let [at, stretch, rested] = [0, 0, minutes <= SHORT_DAY]
  let waiting = afterRest
  let last: Block | undefined
  const put = (b: Block): void => {
    out.push({ ...b.task, at, minutes: b.minutes })
    at += b.minutes
    stretch = b.task.k === 'rest' ? 0 : stretch + b.minutes
    last = b
  }
  const rest = (): void => {
    put({ task: { k: 'rest' }, minutes: restOf(minutes) })
    rested = true
    fresh()
  }
  const fresh = (): void => {
    const now = waiting
    waiting = []
    for (const b of now) put(b)
  }
  for (const b of blocks) {
    const ending = b.task.k === 'through'
    const more = b.minutes + (ending ? waiting.reduce((sum, w) => sum + w.minutes, 0) : 0)
    const tooLong = stretch + more > (rested ? LATER : EARLY)
    const same = keyOf(b) !== null && keyOf(b) === keyOf(last)
    if (out.length > 0 && (tooLong || same)) rest()
    if (ending) fresh()
    put(b)
  }
  fresh()
  return out
}
