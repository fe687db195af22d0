import type { Controls, Pressed } from '../terminal/key-table.ts'
import { LINGER, type Pedal, type PedalLock } from '../terminal/lock.ts'
import type { ScreenRun } from '../terminal/run-screen.tsx'
import { keyLabel } from '../terminal/words.ts'
import { choosing, chosen } from '../visit/pedal-table.ts'

/** The number of a line as it is typed: digits that follow each other are one number where the list is that long. */
export const newNumber = () => {
  let typed = ''
  /** What a key does, with the line that was meant; anything but a digit begins anew. `count` = lines that have a number. */
  return <A extends { readonly kind: string }>(does: A, id: string, count: number): A => {
    if (does.kind !== 'to') {
      typed = ''
      return does
    }
    typed = typed !== '' && Number(typed + id) <= count ? typed + id : id
    return { ...does, at: Number(typed) - 1 }
  }
}

/** The place of the cursor after so many lines: at the ends it stops, or goes round. */
export const stepped = (at: number, count: number, by: number, round: boolean): number =>
  round ? (at + by + count) % count : Math.max(0, Math.min(count - 1, at + by))

/** When a press of the one pedal means something else, where a choice stands since then; null = never. Monotonic ms. */
export const choiceWakes = (since: number, now: number): { readonly in: number } | null => {
  const { until } = choosing(now - since)
  return Number.isFinite(until) ? { in: since + until - now } : null
}

/** Where one pedal stands among choices, the first of which is the usual one, and since when. Monotonic ms. */
export type FootAt = { readonly at: number; readonly since: number }

/** A press of it: on to the next choice, or the one that it takes; null = none yet. */
export const footStep = (
  c: FootAt,
  count: number,
  now: number,
): { readonly choice: FootAt; readonly takes: number | null } => {
  const { moment } = choosing(now - c.since)
  return moment === 'passing' && count > 1
    ? { choice: { at: (c.at + 1) % count, since: now }, takes: null }
    : { choice: { at: 0, since: now }, takes: moment === 'standing' ? c.at : 0 }
}

/** How a foot goes through choices: what its press means now, and when that changes by itself. Monotonic ms. */
export type Walk = {
  /** A choice was announced: by a press, a key, or because it came up. */
  readonly touch: (at: number) => void
  readonly press: (pedal: Pedal, at: number) => 'next' | 'take' | 'wake'
  readonly wakes: (at: number) => { readonly in: number } | null
}

export const newWalk = (pedals: 1 | 2, begun: number): Walk => {
  let since = begun
  return {
    touch: at => {
      since = at
    },
    press: (pedal, at) => chosen(at - since, pedal, pedals),
    wakes: at => (pedals === 1 ? choiceWakes(since, at) : null),
  }
}

/**
 * What a press does to a list of choices: a key its own thing, a digit the line with that number, a pedal what `foot` says.
 * `back` = from another screen, which a pedal may have closed.
 */
export const walking = (walk: Walk, lock: PedalLock, back: boolean) => {
  const number = newNumber()
  return <A extends { readonly kind: string }>(
    press: Pressed<A> | null,
    at: number,
    /** Lines that have a number. */
    count: number,
    run: Pick<ScreenRun<never, never, never>, 'since' | 'changed'>,
    foot: (pedal: Pedal, does: ReturnType<Walk['press']>) => A | null,
  ): A | null => {
    if (!press) return null
    if (press.kind === 'key') {
      walk.touch(at)
      return number(press.does, press.id, count)
    }
    const early = back && at - run.since() < LINGER
    if (lock.press(press.pedal, at) !== 'accepted' || early) return null
    const action = foot(press.pedal, walk.press(press.pedal, at))
    walk.touch(at)
    if (!action) run.changed()
    return action && number(action, '', 0)
  }
}

/** What the pedals do to choices now: "pedal (Page Down): next line". `take` and `next` in the words of the screen. */
export const walkHint = (
  walk: Walk,
  at: number,
  c: Pick<Controls, 'right' | 'left' | 'pedals'>,
  words: { readonly take: string; readonly next: string },
): string => {
  if (c.pedals === 1) {
    const does = { next: words.next, take: words.take, wake: `choose, then ${words.take}` }
    return `pedal (${keyLabel(c.right)}): ${does[walk.press('right', at)]}`
  }
  return `right (${keyLabel(c.right)}) or Enter: ${words.take}   left (${keyLabel(c.left)}): ${words.next}`
}
