import type { Why } from './slots.ts'

/** Why something is in the day, in a phrase. */
export const whyText = (why: Why): string =>
  ({
    asked: 'you want it today',
    first: 'not played yet',
    away: 'three days without it',
    cold: 'at its goal, not ready yet',
    kept: 'ready, and to stay so',
    near: 'the date is close',
    closest: 'soonest ready',
    gap: 'much is still missing',
  })[why]
