import type { Ear, Hands } from './stand.ts'

/** Plays each exercise for two turns, then presses on; leaves when his minutes are over. */
export const warmer =
  (minutes: number) =>
  (h: Hands): Ear => {
    let [begun, over] = [Number.NaN, false]
    let exercise = ''
    return line => {
      const turn = /^(.*): .* = [\d.]+, (?:turn|minute) (\d+) of/.exec(line)
      if (!turn || over) return
      if (Number.isNaN(begun)) {
        begun = h.now()
        h.later(1500, () => h.press('right'))
      } else if (h.now() - begun > minutes * 60_000) {
        over = true
        h.later(100, () => h.press('f'))
      } else if (Number(turn[2]) > 2 && turn[1] !== exercise) {
        exercise = turn[1] ?? ''
        h.later(900, () => h.press('right'))
      }
    }
  }
