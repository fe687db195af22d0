import { jumpOf, type PlayedDay } from './load.ts'
import type { Why } from './slots.ts'

const minutes = (m: number): string => `${Math.round(m)} minutes`

/**
 * What is said at the end of a visit and on the first screen; empty where there is nothing to say. `today` = minutes
 * played today, `logged` = earlier days. A caution about a jump comes after seven logged days only.
 */
export const cautionLines = (
  rest: { readonly since: number; readonly now: boolean },
  today: number,
  logged: readonly PlayedDay[],
): readonly string[] => {
  const jump = jumpOf(today, logged)
  return [
    ...(rest.now ? [`${minutes(rest.since)} without a rest: five minutes of rest now.`] : []),
    ...(jump
      ? [
          `${minutes(jump.planned)} today, ${Math.round(jump.usual)} on an average day of the last seven: a sudden jump is better spread over several days.`,
        ]
      : []),
  ]
}

/** The whole answer to a note of pain. */
export const PAIN_TEXT = 'Stop for today, and see a physician or therapist who treats musicians.'

/** Why something is in the day, in a phrase. */
export const whyText = (why: Why): string =>
  ({
    asked: 'you want it today',
    first: 'not played yet',
    away: 'three days without it',
    cold: 'at its goal, not ready yet',
    kept: 'to keep it ready',
    near: 'the date is close',
    closest: 'ready soonest',
    gap: 'a long way to go',
  })[why]
