import { beatsOf } from '../../click/beats.ts'
import type { Levels } from '../../click/voices.ts'
import type { Sound } from '../../sound/sound.ts'
import type { Done } from '../../store/trouble.ts'
import type { PedalLock } from '../../terminal/lock.ts'
import { louder } from '../loudness.ts'
import { type Timing, watchSleep } from '../slept.ts'
import { type Command, commandOf, type Pedals } from './keys.ts'
import type { Stretch } from './marks.ts'
import { type Action, type Effect, newReading, type Pass, passOf, reduce, type State } from './reduce.ts'

/** After the written end a press still marks the last beats: the foot comes later than the ear. Seconds. */
const GRACE = 1.2
/** A press that was meant for the music does not answer the question that comes up under it. Milliseconds. */
const LINGER = 600

/** What a reading needs, on a screen and as plain lines. */
export type ReadingParts = {
  readonly passes: readonly Pass[]
  readonly sound: Sound
  readonly timing: Timing
  readonly lock: PedalLock
  /** How many there are, and their keys. */
  readonly count: 1 | 2
  readonly pedals: Pedals
  readonly levels: Levels
  /** Keeps stretches as sections of a passage; gives the names of those that were not there before. */
  readonly store: (pass: Pass, stretches: readonly Stretch[]) => Promise<Done<readonly string[]>>
  readonly louder: (levels: Levels) => void
}

export type ReadingConductor = {
  readonly state: () => State
  /** The frame of the present passage that is heard; null = nothing sounds. */
  readonly frame: () => number | null
  readonly levels: () => Levels
  /** A key by its id at a time in monotonic ms. */
  readonly key: (id: string, at: number) => void
  /** Resolves when what was being stored has been. */
  readonly settled: () => Promise<void>
  readonly close: () => void
}

/**
 * All that a screen and plain lines share. `changed`: there is something new to show; `ended`: the reading is over;
 * `failed`: storing threw what is no sentence for the player.
 */
export const conductReading = (
  o: ReadingParts & {
    readonly changed: () => void
    readonly ended: () => void
    readonly failed: (error: unknown) => void
  },
): ReadingConductor => {
  const { sound, timing, lock } = o
  let state = newReading(o.passes)
  let levels = o.levels
  let id: number | null = null
  let cancel = (): void => {}
  let storing: Promise<void> = Promise.resolve()
  let offeredAt = Number.NEGATIVE_INFINITY

  const frameAt = (t: number): number | null =>
    id === null || state.phase !== 'going' ? null : sound.frameAt(id, t)

  /** Wakes at the next beat that is heard, and after the end. */
  const watch = (): void => {
    cancel()
    if (id === null || state.phase !== 'going') return
    const { program } = passOf(state)
    const now = sound.frameAt(id, timing.now()) ?? -2
    const end = program.end + Math.round(GRACE * program.rate)
    const frame = beatsOf(program).find(b => b.frame > now + 1)?.frame ?? end
    const at = sound.heardAt(id, frame)
    if (at === null) return
    cancel = timing.later(Math.max(1, at - timing.now()), () => {
      if ((frameAt(timing.now()) ?? 0) >= end - 1) act({ k: 'over' })
      else {
        o.changed()
        watch()
      }
    })
  }

  const perform = (e: Effect): void => {
    if (e.k === 'play') id = sound.play(e.program, 'now')
    else if (e.k === 'silence') {
      id = null
      sound.stop()
    } else if (e.k === 'store') storing = keep(e.pass, e.stretches).catch(o.failed)
    else o.ended()
  }
  const keep = async (pass: Pass, all: readonly Stretch[]): Promise<void> => {
    const done = await o.store(pass, all)
    act(done.ok ? { k: 'stored', names: done.value } : { k: 'refused', text: done.message })
  }
  const act = (a: Action): void => {
    const before = state.phase
    const step = reduce(state, a)
    state = step.state
    if (state.phase === 'offer' && before !== 'offer') offeredAt = timing.now()
    for (const e of step.effects) perform(e)
    o.changed()
    watch()
  }

  const obey = (command: Command, at: number): void => {
    if (command.k === 'pedal') {
      if (lock.press(command.pedal, at) !== 'accepted') return
      if (state.phase !== 'offer') act({ k: 'press', frame: frameAt(at) })
      else if (command.pedal === 'right' && at - offeredAt >= LINGER) act({ k: 'store' })
    } else if (command.k === 'act') act(command.action)
    else {
      const next = louder(levels, command.by)
      if (next === levels) return
      levels = next
      sound.levels(levels)
      o.louder(levels)
      o.changed()
    }
  }

  const unlisten = sound.on(e => {
    if (e.k === 'started') watch()
    else if (e.k === 'trouble' && e.kind !== 'underrun') act({ k: 'lost' })
    o.changed()
  })

  // What was heard before the sleep has no place in what is heard after it.
  const stopWatch = watchSleep(timing, () => act({ k: 'slept' }))

  return {
    state: () => state,
    frame: () => frameAt(timing.now()),
    levels: () => levels,
    key: (key, at) => {
      const command = commandOf(key, o.pedals, state.phase)
      if (command) obey(command, at)
    },
    settled: () => storing,
    close: () => {
      cancel()
      unlisten()
      stopWatch()
    },
  }
}
