export type Pedal = 'right' | 'left'

/** Accepted: act on it. Held: the foot is still there, or bounced. Both: one foot hit both pedals. */
export type Press = 'accepted' | 'held' | 'both'

export type PedalLock = {
  /** One key event of a pedal at `t` (ms, monotonic); answers at once, so an accepted press has no delay. */
  press(pedal: Pedal, t: number): Press
}

/** Long enough for most systems, where a pedal's own repeat was not measured, ms. */
export const USUAL_LOCK = 750

/** What systems do with a key that is held, ms; null = this pedal does not repeat. */
export type Repeat = { readonly delay: number; readonly interval: number } | null

/** A press that closed one thing does not answer the next one, which comes up under it, ms. */
export const LINGER = 600

const MARGIN = 150
/** The limits of a lock, ms: a nervous second tap comes within 300 ms; a repetition hardly ends within two seconds. */
export const SHORTEST_LOCK = 400
const LONGEST_LOCK = 2000

/**
 * How long after a press the same pedal is locked, ms: a little longer than the system waits before it repeats a held
 * key. Nothing else tells a held pedal from one that was pressed again.
 */
export const lockFor = (repeat: Repeat): number =>
  repeat === null
    ? USUAL_LOCK
    : Math.min(LONGEST_LOCK, Math.max(SHORTEST_LOCK, Math.round((repeat.delay + MARGIN) / 10) * 10))

const never = Number.NEGATIVE_INFINITY
const other = (pedal: Pedal): Pedal => (pedal === 'right' ? 'left' : 'right')

/**
 * One press of a pedal = one verdict, though a terminal tells neither releases nor repeats.
 *
 * - A press is *fresh* when its own pedal was silent for `quietMs`; every event, used or not, starts that
 *   silence anew. So a held pedal that repeats is one press.
 * - A fresh press is accepted `lockMs` after the last accepted one **of the same pedal**: the first repeat of
 *   a held key may come late (660 ms was measured under X). Held keys whose first repeat comes later than
 *   `lockMs` count twice: no rule of time can tell those from a second press.
 * - The other pedal is not locked, since a later press there is a correction.
 * - Fresh presses of both pedals within `pairMs` are 'both', locked or not: a locked press beside an open one
 *   would otherwise turn the verdict. After it both pedals are locked, and need `quietMs` without either.
 */
export const pedalLock = ({
  lockMs = USUAL_LOCK,
  quietMs = 250,
  pairMs = 120,
}: {
  readonly lockMs?: number | undefined
  readonly quietMs?: number
  readonly pairMs?: number
} = {}): PedalLock => {
  const feet = {
    right: { event: never, fresh: never, accepted: never },
    left: { event: never, fresh: never, accepted: never },
  }
  let afterBoth = false

  return {
    press(pedal, t) {
      const me = feet[pedal]
      const you = feet[other(pedal)]
      const fresh = t - me.event >= quietMs
      me.event = t
      if (!fresh) return 'held'
      me.fresh = t
      if (t - you.fresh <= pairMs) {
        me.accepted = you.accepted = t
        afterBoth = true
        return 'both'
      }
      if (t - me.accepted < lockMs || (afterBoth && t - you.event < quietMs)) return 'held'
      me.accepted = t
      afterBoth = false
      return 'accepted'
    },
  }
}
