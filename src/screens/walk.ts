import { keyLabel } from '../terminal/key-label.ts'
import type { Controls } from '../terminal/key-table.ts'
import type { Pedal, PedalLock } from '../terminal/lock.ts'
import { LINGER, type ScreenRun } from '../terminal/run-screen.tsx'
import { choosing, chosen } from '../visit/pedal-table.ts'
import { newNumber } from './numbers.ts'

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

/**
 * What a press does to a list of choices: a key its own thing, a digit the line with that number, a pedal what `foot` says.
 * `back` = from another screen, which a pedal may have closed.
 */
export const walking = (walk: Walk, lock: PedalLock, back: boolean) => {
  const number = newNumber()
  return <A extends { readonly kind: string }>(
    press: { readonly pedal: Pedal } | { readonly action: A } | null,
    at: number,
    /** Lines that have a number. */
    count: number,
    run: Pick<ScreenRun<never, never, never>, 'since' | 'changed'>,
    foot: (pedal: Pedal, does: ReturnType<Walk['press']>) => A | null,
  ): A | null => {
    if (!press) return null
    if ('action' in press) {
      walk.touch(at)
      return number(press.action, count)
    }
    const early = back && at - run.since() < LINGER
    if (lock.press(press.pedal, at) !== 'accepted' || early) return null
    const action = foot(press.pedal, walk.press(press.pedal, at))
    walk.touch(at)
    if (!action) run.changed()
    return action && number(action, 0)
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
