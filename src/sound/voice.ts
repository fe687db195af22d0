import type { FromPlayer } from './protocol.ts'

/** The word of one player: kept until it is the one that plays, and not heard any more once another one plays. */
export type Voice = {
  readonly tell: (m: FromPlayer) => void
  readonly begin: () => void
  readonly end: () => void
  readonly over: () => boolean
}

export const voiceOf = (hear: (m: FromPlayer) => void): Voice => {
  let kept: FromPlayer[] = []
  let state: 'before' | 'heard' | 'over' = 'before'
  return {
    tell: m => {
      if (state === 'before') kept.push(m)
      else if (state === 'heard') hear(m)
    },
    begin: () => {
      state = 'heard'
      for (const m of kept) hear(m)
      kept = []
    },
    end: () => {
      state = 'over'
    },
    over: () => state === 'over',
  }
}
