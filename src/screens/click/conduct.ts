import type { Steady } from '../../click/endless.ts'
import type { Levels } from '../../click/voices.ts'
import type { Sound } from '../../sound/sound.ts'
import { backLine, brokeOffLine } from '../../sound/words.ts'
import type { PedalLock } from '../../terminal/lock.ts'
import { louder } from '../loudness.ts'
import { type Timing, watchSleep } from '../slept.ts'
import { feed, type Heard } from './feed.ts'
import { commandOf, type Pedals } from './keys.ts'
import { type Action, clickOf, reduce, type State } from './reduce.ts'
import { tapCount } from './taps.ts'

export type ClickConductor = {
  readonly state: () => State
  /** What is heard now; null = nothing. */
  readonly heard: () => Heard | null
  /** Another click was asked for and begins at the next bar line. */
  readonly turning: () => boolean
  readonly levels: () => Levels
  /** A key by its id at a time in monotonic ms. */
  readonly key: (id: string, at: number) => void
  readonly close: () => void
}

/** What the click needs, on a screen and as plain lines. */
export type ClickParts = {
  readonly click: State
  readonly sound: Sound
  readonly timing: Timing
  readonly lock: PedalLock
  /** How many there are, and their keys. */
  readonly count: 1 | 2
  readonly pedals: Pedals
  readonly levels: Levels
  /** Frames a second. */
  readonly rate: number
  readonly louder: (levels: Levels) => void
}

export type Left = { readonly lines: readonly string[] }

/**
 * All that a screen and plain lines share: keys, pedals, the state, and the sound that follows it. `changed` is called
 * when there is something new to show, `left` when the player leaves.
 */
export const conductClick = (
  o: ClickParts & { readonly changed: () => void; readonly left: () => void },
): ClickConductor => {
  const { sound, timing, lock } = o
  let state = o.click
  let wanted: Steady = clickOf(state)
  let levels = o.levels
  /** The sound has broken off and is not back; or there is none. */
  let lost = false
  const going = feed({ sound, timing, rate: o.rate, beat: o.changed })

  const act = (a: Action): void => {
    const step = reduce(state, a)
    state = step.state
    for (const e of step.effects) {
      if (e === 'stop') going.stop()
      else if (e === 'leave') o.left()
      else {
        wanted = clickOf(state)
        if (e === 'start') going.start(wanted, state.countIn)
        else going.change(wanted)
      }
    }
    o.changed()
  }

  /** The left pedal taps while nothing sounds; a foot that still holds it after the stop does not. */
  const pedal = (which: 'right' | 'left', at: number): void => {
    const press = lock.press(which, at)
    if (state.going) {
      if (press !== 'held') act({ k: 'press' })
    } else if (which === 'left') {
      if (press === 'accepted' || (press === 'held' && tapCount(state.taps) > 0)) act({ k: 'tap', at })
    } else if (press === 'accepted') act({ k: 'press' })
  }

  const changeLevel = (by: 1 | -1): void => {
    const next = louder(levels, by)
    if (next === levels) return
    levels = next
    sound.levels(levels)
    o.louder(levels)
    o.changed()
  }

  const unlisten = sound.on(e => {
    // The click goes on by itself, in time.
    if (e.k === 'trouble' && e.kind !== 'underrun') {
      lost = true
      act({ k: 'said', text: brokeOffLine(false) })
    } else if (e.k === 'output') {
      if (lost) act({ k: 'said', text: backLine(e.name, false) })
      else o.changed()
      lost = e.name === 'silent'
    }
  })

  // What was heard before the sleep has no place in what is heard after it.
  const stopWatch = watchSleep(timing, () => act({ k: 'slept' }))

  return {
    state: () => state,
    heard: going.heard,
    turning: () => {
      const heard = state.going ? going.heard() : null
      return heard !== null && heard.click !== wanted
    },
    levels: () => levels,
    key: (id, at) => {
      const command = commandOf(id, at, o.pedals, state)
      if (command?.k === 'pedal') pedal(command.pedal, at)
      else if (command?.k === 'act') act(command.action)
      else if (command) changeLevel(command.by)
    },
    close: () => {
      unlisten()
      stopWatch()
      going.close()
    },
  }
}
