import { keyLabel } from '../terminal/key-label.ts'
import type { Controls } from '../terminal/key-table.ts'
import type { Pedal } from '../terminal/lock.ts'
import { choosing, chosen } from '../visit/pedal-table.ts'

/** How a foot goes through choices: what its press means now, and when that changes by itself. Monotonic ms. */
export type Walk = {
  /** A choice was announced: by a press, a key, or because it came up. */
  readonly touch: (at: number) => void
  readonly press: (pedal: Pedal, at: number) => 'next' | 'take' | 'wake'
  /** Milliseconds until a press means something else; null = never. */
  readonly due: (at: number) => number | null
}

export const newWalk = (pedals: 1 | 2, begun: number): Walk => {
  let since = begun
  return {
    touch: at => {
      since = at
    },
    press: (pedal, at) => chosen(at - since, pedal, pedals),
    due: at => {
      const { until } = choosing(at - since)
      return pedals === 1 && Number.isFinite(until) ? since + until - at : null
    },
  }
}

/** What the pedals do to choices now: "pedal (Page Down): next line". `take` and `next` in the words of the screen. */
export const walkHint = (
  walk: Walk,
  at: number,
  c: Pick<Controls, 'right' | 'left' | 'pedals'>,
  words: { readonly take: string; readonly next: string; readonly enter?: boolean },
): string => {
  if (c.pedals === 1) {
    const does = { next: words.next, take: words.take, wake: `choose, then ${words.take}` }
    return `pedal (${keyLabel(c.right)}): ${does[walk.press('right', at)]}`
  }
  const enter = words.enter === false ? '' : ' or Enter'
  return `right (${keyLabel(c.right)})${enter}: ${words.take}   left (${keyLabel(c.left)}): ${words.next}`
}

/** How one pedal chooses, for the help. */
export const ONE_PEDAL: readonly string[] = [
  'One pedal: a press goes to the next line. When a line has stood for two',
  'seconds, a press takes it. After ten more a press only wakes it again.',
]
