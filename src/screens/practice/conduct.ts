import { signalProgram } from '../../click/compile.ts'
import { beatsOf } from '../../click/program.ts'
import type { Body, Event } from '../../ladder/event.ts'
import type { Sound } from '../../sound/sound.ts'
import { backLine, brokeOffLine } from '../../sound/words.ts'
import type { PedalLock } from '../../terminal/lock.ts'
import { resumed } from '../../visit/fast.ts'
import { legOf } from '../../visit/legs.ts'
import type { Pedal } from '../../visit/pedal-table.ts'
import { reduce } from '../../visit/reduce.ts'
import {
  type Action,
  type Effect,
  newSession,
  openingBody,
  type Session,
  type Setup,
  type Sounding,
  sounding,
} from '../../visit/session.ts'
import { MORE, type SlotClock } from '../../visit/slot-clock.ts'
import { type Timing, watchSleep } from '../desk.ts'
import { SLEPT } from './words.ts'

/** Resolves when the events are on disk, rejects with one sentence. */
export type Append = (bodies: readonly Body[]) => Promise<readonly Event[]>

/** A visit as it was left, and the seconds practiced in it. */
export type Held = { readonly session: Session; readonly seconds: number }

export type Conductor = {
  readonly session: () => Session
  /** The frame of the current take that is heard now; null = nothing sounds. */
  readonly frame: () => number | null
  /** Seconds practiced: all that sounded, and waits of at most 20 s each. */
  readonly seconds: () => number
  /** Whole minutes left in the slot; null = there is no slot. */
  readonly minutesLeft: () => number | null
  readonly pedal: (pedal: 'right' | 'left', at: number) => void
  readonly act: (a: Action) => void
  /** Resolves when everything said so far has been done. */
  readonly settled: () => Promise<void>
  readonly close: () => void
}

const LONGEST_WAIT = 20

/**
 * Leads one visit: takes presses, asks the reducer, writes the journal, plays. Actions are done one after another, each
 * wholly: what follows a verdict waits until the verdict is on disk. `changed` is called when there is something to draw;
 * `beat` at each beat that is heard.
 */
export const conduct = (o: {
  readonly setup: Setup
  readonly sound: Sound
  readonly append: Append
  readonly timing: Timing
  readonly lock: PedalLock
  readonly changed: () => void
  /** A visit that was left for something else goes on. */
  readonly from?: Held
  /** The time of the slot that this visit is a part of. */
  readonly slot?: SlotClock
}): Conductor => {
  const { sound, timing, setup } = o
  let session = o.from ? resumed(setup, o.from.session) : newSession(setup)
  /** Sound ids by repetition. */
  const ids = new Map<number, number>()
  const queue: (() => Action)[] = []
  let working: Promise<void> | null = null
  let cancel: (() => void)[] = []
  let rested = (): void => {}
  let heard = o.from?.seconds ?? 0
  /** Seconds of the present wait. */
  let waited = 0
  let since = timing.now()
  let plays = false
  /** The sound has broken off, in a repetition or between two, and is not back; or there is none. */
  let lost: 'broken' | 'between' | 'silent' | null = null

  const idOf = (t: Sounding | null): number | undefined => (t ? ids.get(t.rep) : undefined)
  const frameAt = (t: number): number | null => {
    const id = idOf(sounding(session))
    return id === undefined ? null : sound.frameAt(id, t)
  }

  const count = (): void => {
    const passed = (timing.now() - since) / 1000
    // However often the screen asks in between.
    const counts = session.phase === 'ready' ? 0 : Math.max(0, LONGEST_WAIT - waited)
    heard += plays ? passed : Math.min(passed, counts)
    waited = plays ? 0 : waited + passed
    since = timing.now()
    plays = session.phase === 'going' && session.current?.over === false && !session.current.legs?.held
  }

  const perform = async (e: Effect): Promise<void> => {
    if (e.kind === 'stop') sound.stop()
    else if (e.kind === 'signal') sound.play(signalProgram([e.role], setup.rate), 'now')
    else if (e.kind === 'rest') {
      rested()
      rested = timing.later(e.seconds * 1000, () => enqueue(() => ({ kind: 'rested', events: e.events })))
    } else if (e.kind === 'unqueue') {
      const behind = idOf(session.current)
      // Whatever lay behind the current take is replaced by a moment of silence.
      if (behind !== undefined) sound.play({ ...signalProgram([], setup.rate), frames: 1 }, behind)
    } else if (e.kind === 'more') o.slot?.more(MORE)
    else if (e.kind === 'play') {
      const behind = e.after === 'current' ? idOf(session.current) : undefined
      ids.set(e.take.rep, sound.play(e.take.program, behind ?? 'now'))
    } else await write(e.bodies, e.then)
  }

  const write = async (
    bodies: readonly Body[],
    then: (Effect & { kind: 'append' })['then'],
  ): Promise<void> => {
    count()
    const opening = { ...openingBody(setup), heard: Math.round(heard) }
    const all = session.events.length === 0 ? [opening, ...bodies] : bodies
    if (bodies.length === 0) return apply({ kind: 'stored', events: [], then })
    let events: readonly Event[]
    try {
      events = await o.append(all)
    } catch (error) {
      return apply({ kind: 'notStored', text: error instanceof Error ? error.message : String(error) })
    }
    return apply({ kind: 'stored', events, then })
  }

  const apply = async (a: Action): Promise<void> => {
    const step = reduce(session, a)
    count()
    session = step.session
    count()
    if (session.phase === 'going') o.slot?.begin()
    o.changed()
    for (const e of step.effects) await perform(e)
    watch()
  }

  const work = async (): Promise<void> => {
    for (let next = queue.shift(); next; next = queue.shift()) await apply(next())
    working = null
  }
  const enqueue = (a: () => Action): void => {
    queue.push(a)
    working ??= work()
  }

  /** Waits for the next thing to be heard of the current take: its first note, its end, and each beat on the way. */
  const watch = (): void => {
    for (const c of cancel) c()
    cancel = []
    const take = sounding(session)
    const id = idOf(take)
    if (!take || id === undefined || take.over || take.legs?.held) return
    if (take === session.current && session.phase !== 'going') return
    const at = (frame: number, then: () => void): void => {
      const heardAt = sound.heardAt(id, frame)
      if (heardAt === null) return
      const again = (): void => {
        const now = sound.heardAt(id, frame)
        // The clock line may have moved on: only what has been heard counts.
        if (now !== null && now > timing.now() + 1) cancel.push(timing.later(now - timing.now(), again))
        else then()
      }
      cancel.push(timing.later(Math.max(0, heardAt - timing.now()), again))
    }
    if (!take.entered && take === session.current)
      at(take.program.firstNote, () => enqueue(() => ({ kind: 'entered', rep: take.rep })))
    else at(take.program.end, () => enqueue(() => ({ kind: 'over', rep: take.rep, leg: legOf(take) })))
    const frame = sound.frameAt(id, timing.now()) ?? -1
    const beat = beatsOf(take.program).find(x => x.frame > frame + 1)
    if (beat)
      at(beat.frame, () => {
        o.changed()
        watch()
      })
  }

  /**
   * A repetition that sounded when the sound broke off, or began before it was back, is broken. A count-in begins anew,
   * by itself: a part of it was not heard.
   */
  const brokenOff = (first: boolean, line: (broken: boolean) => string): Action => {
    const take = session.hearing === null && session.phase === 'going' ? session.current : null
    const plays = take !== null && !take.over && !take.legs?.held
    if (plays && take.entered) {
      lost = 'broken'
      return { kind: 'interrupted', text: line(true) }
    }
    if (plays && !first) ids.set(take.rep, sound.play(take.program, 'now'))
    return { kind: 'refuse', text: line(lost === 'broken') }
  }

  const unlisten = sound.on(e => {
    if (e.kind === 'started') {
      const rep = [...ids].find(([, id]) => id === e.id)?.[0]
      if (rep !== undefined && session.next?.rep === rep) {
        const heardAt = sound.heardAt(e.id, 0) ?? timing.now()
        timing.later(Math.max(0, heardAt - timing.now()), () => enqueue(() => ({ kind: 'started', rep })))
      } else watch()
    } else if (e.kind === 'trouble' && e.what !== 'underrun') {
      lost = 'between'
      enqueue(() => brokenOff(true, brokeOffLine))
    } else if (e.kind === 'output') {
      const before = lost
      if (before === null && e.name === 'silent') lost = 'silent'
      if (before === null) o.changed()
      else
        enqueue(() => {
          const line = (broken: boolean): string => backLine(e.name, broken)
          // What was shown in silence goes on, and is heard from here on.
          const a =
            lost === 'silent' ? ({ kind: 'refuse', text: line(false) } as const) : brokenOff(false, line)
          lost = e.name === 'silent' ? 'silent' : null
          return a
        })
    } else o.changed()
  })

  const timed = (): void => {
    const is = o.slot?.is() ?? 'left'
    if (is === 'left') o.changed()
    else enqueue(() => ({ kind: 'time', is }))
  }
  const unwatch = o.slot?.watch(timed)
  if (o.slot) {
    session = { ...session, slot: 'left' }
    timing.later(0, timed)
  }

  const stopTick = watchSleep(timing, () => enqueue(() => ({ kind: 'interrupted', text: SLEPT })))

  return {
    session: () => session,
    frame: () => frameAt(timing.now()),
    seconds: () => {
      count()
      return heard
    },
    minutesLeft: () => o.slot?.minutesLeft() ?? null,
    pedal: (pedal, at) => {
      const press = o.lock.press(pedal, at)
      if (press === 'held') return
      const said: Pedal = press === 'both' ? 'both' : pedal
      enqueue(() => ({ kind: 'pedal', pedal: said, frame: frameAt(at) }))
    },
    act: a => enqueue(() => a),
    settled: async () => {
      while (working) await working
    },
    close: () => {
      stopTick()
      rested()
      for (const c of cancel) c()
      unlisten()
      unwatch?.()
    },
  }
}
