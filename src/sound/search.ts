import type { Device } from './outputs/output.ts'
import type { Opened } from './player-process.ts'
import type { FromPlayer } from './protocol.ts'

type Started =
  | (Opened & { readonly ok: true } & { readonly voice: Voice })
  | (Opened & { readonly ok: false })
export type Found = Started & { readonly ok: true } & { readonly name: Device }

/** Starts one output; patient for so many ms. */
export type Start = (name: Device, patience: number, abandon: AbortSignal) => Promise<Started>

/**
 * Tries outputs in order, the next one when one has failed or has not answered for `stagger` ms, all of them patient for
 * `patience` ms; the first that opens is taken, and the others are given up. A computer that is slow only for a moment
 * costs that moment, and an output that hangs costs no more than the others. Resolves with null when none opened.
 */
export const search = (o: {
  readonly names: readonly Device[]
  readonly start: Start
  readonly patience: number
  readonly stagger: number
  readonly later: (ms: number, f: () => void) => () => void
  readonly refused: (name: Device, why: string) => void
  readonly abandon: AbortSignal
}): Promise<Found | null> =>
  new Promise(resolve => {
    const rest = [...o.names]
    const others = new AbortController()
    const giveUp = (): void => others.abort()
    let open = 0
    let over = false
    let callOff = (): void => {}

    const end = (found: Found | null): void => {
      if (over) return
      over = true
      callOff()
      o.abandon.removeEventListener('abort', giveUp)
      others.abort()
      resolve(found)
    }
    const next = (): void => {
      callOff()
      const name = rest.shift()
      if (name !== undefined && !over && !o.abandon.aborted) begin(name)
      else if (open === 0 || o.abandon.aborted) end(null)
    }
    const begin = (name: Device): void => {
      open++
      callOff = o.later(o.stagger, next)
      void o.start(name, o.patience, others.signal).then(opened => {
        open--
        if (!opened.ok) {
          if (over) return
          o.refused(name, opened.why)
          next()
        } else if (over) void opened.player.close()
        else end({ ...opened, name })
      })
    }
    o.abandon.addEventListener('abort', giveUp)
    next()
  })

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
