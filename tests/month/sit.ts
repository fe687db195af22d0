import type { Rep } from './count.ts'
import type { Ear, Hands } from './stand.ts'

/** The music as the player knows it: beats of the passage and of one measure. */
export type Music = { readonly beats: number; readonly measure: number }

export type Wish = {
  readonly music: Music
  /** How the next repetition will go, at a tempo. */
  readonly judge: (tempo: number) => {
    readonly clean: boolean
    readonly stopped: boolean
    readonly wrong: boolean
  }
  /** After each repetition: whether he leaves. `decided` = the rung has just changed. */
  readonly leave: (o: {
    readonly reps: number
    readonly seconds: number
    readonly decided: boolean
    readonly tempo: number
    readonly goal: boolean
  }) => boolean
  /** A tempo that he types before the start. */
  readonly byHand: number | null
  /** Once and apart: the visit ends by itself, and the usual one that follows is left at once. */
  readonly once: boolean
}

/** What he came away with. */
export type Sat = { reps: Rep[]; seconds: number; said: string[] }

const RUNG = /^(.+) = ([\d.]+): (finding the start|once|\S+ of .+)$/
const UNDERSTOOD = /^(Clean\.|Not clean\.|Stopped|A rung down|The goal is reached|Down three times)/
/** Whole measures are counted in, as many as last so long. Seconds. */
const COUNT_IN = 1.5
/** Seconds of rest after a clean one and after a slip; after short music half of it, the count-in after a clean one among it. */
const REST = { clean: 2, slip: 4 }
const LEAST_REST = 1

/** A player who hears lines and presses pedals: what he counts is what he heard. */
export const sitter = (
  wish: Wish,
  wall: () => number,
): { readonly sat: Sat; readonly ear: (h: Hands) => Ear } => {
  const sat: Sat = { reps: [], seconds: 0, said: [] }
  const ear = (h: Hands): Ear => {
    let [tempo, finding, frames, begun, goal] = [Number.NaN, false, 0, 0, false]
    let now: (ReturnType<Wish['judge']> & { tempo: number; finding: boolean }) | null = null
    /** He pressed the wrong pedal and knows it. */
    let mistaken = false

    const verdict = (): void => {
      if (!now) return
      mistaken = now.wrong && !wish.once
      h.press(now.clean === mistaken ? 'left' : 'right')
    }
    const { beats, measure } = wish.music
    const counted = (at: number): number => measure * Math.ceil((COUNT_IN * at) / (60 * measure) - 1e-9)
    const restAfter = (clean: boolean, at: number): number => {
      const half = ((beats / 2 - (clean ? counted(at) : 0)) * 60) / at
      return Math.max(LEAST_REST, Math.min(clean ? REST.clean : REST.slip, half))
    }
    const repetition = (rest: number): void => {
      now = { ...wish.judge(tempo), tempo, finding }
      if (!now.stopped) return
      h.later((rest + ((counted(tempo) + beats * 0.4) * 60) / tempo) * 1000, () => h.press('left'))
    }
    const start = (): void => {
      begun = h.now()
      h.press('right')
      repetition(0)
    }
    const keep = (): void => {
      if (!now) return
      const { clean, stopped, tempo: at, finding: f } = now
      sat.reps.push({ tempo: at, clean, stopped, finding: f, at: wall() })
      sat.seconds = (h.now() - begun) / 1000
      now = null
    }
    const goOn = (clean: boolean, before: number, asked: boolean): void => {
      const decided = tempo !== before
      if (wish.leave({ reps: sat.reps.length, seconds: sat.seconds, decided, tempo, goal })) {
        h.later(500, () => h.press('f'))
      } else if (asked) {
        // Once, after the goal: he stays here.
        h.later(700, () => {
          h.press('left')
          repetition(0)
        })
      } else repetition(restAfter(clean, before))
    }

    return line => {
      sat.said.push(line)
      const rung = RUNG.exec(line)
      if (rung) [tempo, finding] = [Number(rung[2]), /finding/.test(rung[3] ?? '')]
      else if (/^either pedal .*: start$/.test(line)) {
        frames++
        if (frames === 2) keep()
        h.later(1500, () => {
          if (frames === 2) h.press('f')
          else if (wish.byHand === null) start()
          else {
            for (const digit of String(wish.byHand)) h.press(digit)
            h.press('\r')
          }
        })
      } else if (/^By hand/.test(line)) h.later(800, start)
      else if (line === 'Clean or not clean?') h.later(600, verdict)
      else if (UNDERSTOOD.test(line) && now) {
        if (mistaken) {
          mistaken = false
          const right = now.clean ? 'right' : 'left'
          h.later(1100, () => h.press(right))
          return
        }
        const { clean, tempo: before } = now
        const asked = line.startsWith('The goal is reached')
        goal ||= asked
        keep()
        // The rung is said after the verdict.
        h.later(1, () => goOn(clean, before, asked))
      } else if (/beyond the goal|could not|cannot|wrong that should not/.test(line)) throw new Error(line)
    }
  }
  return { sat, ear }
}
