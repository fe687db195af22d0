import { DYNAMICS, type Levels } from '../click/voices.ts'
import type { SoundingDesk } from './overlay.ts'
import { CLICK_OFF, clickThrough, NO_SOUND } from './words.ts'

/** What a screen says about its sound; `output` = null while that is being opened, `absent` = a device that is not here. */
export const soundLine = (output: string | null, levels: Levels, absent: string | null = null): string =>
  output === null
    ? 'the sound is being opened ...'
    : output === 'silent'
      ? 'no sound: follow the moving mark'
      : levels.master === 'off'
        ? 'the click is off; + makes it louder'
        : `click ${levels.master} through ${output}${absent === null ? '' : `; "${absent.slice(0, 30)}" isn't here`}`

/** The sound of a screen while it runs: how loud it is, and what is said of it. */
export const loudness = ({
  sound,
  levels: begun,
  louder,
}: Pick<SoundingDesk, 'sound' | 'levels' | 'louder'>) => {
  let levels = begun
  let ready = false
  return {
    /** Calls back when there is a sound. */
    open: (then: () => void): void =>
      void sound.ready().then(() => {
        ready = true
        then()
      }),
    /** One step louder or softer; null = there is no further one. */
    change: (by: 1 | -1): Levels | null => {
      const master = DYNAMICS[DYNAMICS.indexOf(levels.master) + by]
      if (master === undefined) return null
      levels = { ...levels, master }
      sound.levels(levels)
      louder(levels)
      return levels
    },
    changed: (): boolean => levels !== begun,
    line: (): string => soundLine(ready ? sound.output() : null, levels, sound.absent()),
    /** The same to be spoken: there is no mark to follow. */
    said: (): string => {
      if (!ready) return ''
      if (sound.output() === 'silent') return NO_SOUND
      return levels.master === 'off' ? CLICK_OFF : clickThrough(levels.master, sound.absent())
    },
  }
}
