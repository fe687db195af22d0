/** A press up to so long before its beat belongs to it, ms; nobody presses earlier. */
const EARLY = 200
/** Presses that an answer needs. */
const FEWEST = 12

/** `ms`: how much later than the device says the click is heard; `spread`: how far half of the presses lie from that. */
export type Offset = { readonly ms: number; readonly spread: number }

const middle = (all: readonly number[]): number => {
  const sorted = [...all].sort((a, b) => a - b)
  const [low, high] = [sorted[(sorted.length - 1) >> 1], sorted[sorted.length >> 1]]
  return ((low ?? Number.NaN) + (high ?? Number.NaN)) / 2
}

/**
 * What presses with the click say, both in monotonic ms: the median distance of a press from the beat before it. Never
 * below 0: nobody hears a click before it sounds, and most people press with a steady beat a little early. null = too
 * few presses.
 */
export const offsetFrom = (presses: readonly number[], beats: readonly number[]): Offset | null => {
  const late = presses.flatMap(p => {
    const beat = beats.findLast(b => b <= p + EARLY)
    return beat === undefined ? [] : [p - beat]
  })
  if (late.length < FEWEST) return null
  const ms = middle(late)
  return { ms: Math.max(0, Math.round(ms)), spread: Math.round(middle(late.map(l => Math.abs(l - ms)))) }
}
