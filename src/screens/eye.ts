import type { Timing } from './slept.ts'

/** Between two drawings of the traveling mark, when there is no sound to follow. Milliseconds. */
const EYE = 80

/** Calls `draw` again and again until it is called off. */
export const travels = (timing: Timing, draw: () => void): (() => void) => {
  let stop = (): void => {}
  const again = (): void => {
    stop = timing.later(EYE, () => {
      draw()
      again()
    })
  }
  again()
  return () => stop()
}
