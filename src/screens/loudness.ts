import { DYNAMICS, type Levels } from '../click/voices.ts'

/** One step louder or softer; the same where there is no further one. */
export const louder = (levels: Levels, by: 1 | -1): Levels => {
  const master = DYNAMICS[DYNAMICS.indexOf(levels.master) + by]
  return master === undefined ? levels : { ...levels, master }
}

/** What a screen says about its sound. */
export const soundLine = (output: string, levels: Levels): string =>
  output === 'silent'
    ? 'no sound: follow the mark by eye (gradino sound says why)'
    : levels.master === 'off'
      ? 'the click is off; + makes it louder'
      : `click ${levels.master} through ${output}`
