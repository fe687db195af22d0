import type { Why } from './slots.ts'

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
