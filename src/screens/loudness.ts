import { DYNAMICS, type Levels } from '../click/voices.ts'
import { CLICK_OFF, clickThrough, NO_SOUND } from './words.ts'

/** One step louder or softer; the same where there is no further one. */
export const louder = (levels: Levels, by: 1 | -1): Levels => {
  const master = DYNAMICS[DYNAMICS.indexOf(levels.master) + by]
  return master === undefined ? levels : { ...levels, master }
}

/** What a screen says about its sound; `output` = null while that is being opened, `absent` = a device that is not here. */
export const soundLine = (output: string | null, levels: Levels, absent: string | null = null): string =>
  output === null
    ? 'the sound is being opened ...'
    : output === 'silent'
      ? 'no sound: follow the moving mark'
      : levels.master === 'off'
        ? 'the click is off; + makes it louder'
        : `click ${levels.master} through ${output}${absent === null ? '' : `; "${absent.slice(0, 30)}" isn't here`}`

/** The same to be spoken: there is no mark to follow. */
export const soundSaid = (output: string, levels: Levels, absent: string | null = null): string =>
  output === 'silent' ? NO_SOUND : levels.master === 'off' ? CLICK_OFF : clickThrough(levels.master, absent)
