import { DEFAULT_LEVELS } from '../../../src/click/voices.ts'
import type { HeardClick as Sounding } from '../../../src/screens/click/feed.ts'
import { newClick, type State } from '../../../src/screens/click/reduce.ts'
import { theClick } from '../../../src/screens/click/screen.ts'
import { openSound } from '../../../src/sound/open-sound.ts'
import type { Sound, SoundEvent } from '../../../src/sound/sound.ts'
import { pedalLock } from '../../../src/terminal/lock.ts'
import type { PlainTerminal } from '../../../src/terminal/open-plain.ts'
import { runScreen } from '../../../src/terminal/run-screen.tsx'
import { meter, RATE, tempoOf } from '../../click/support.ts'
import { TWO } from '../controls.ts'
import { virtualClock } from '../practice/stage.ts'

/** One click as it was heard: seconds since the first one, and what it was. */
export type Heard = { readonly seconds: number; readonly role: string; readonly measure: number }

export type ClickStage = {
  readonly conductor: {
    readonly state: () => State
    readonly heard: () => Sounding | null
    readonly turning: () => boolean
    readonly key: (id: string, at: number) => void
  }
  readonly clock: ReturnType<typeof virtualClock>
  readonly key: (id: string) => Promise<void>
  /** Every click that was heard so far, from what was sent to the sound and when it began. */
  readonly heard: () => readonly Heard[]
  /** Seconds that are queued now behind what is heard. */
  readonly queued: () => number
  readonly left: () => boolean
  /** The sound says something that no clock does: that it broke off, or is back. What sounds goes on. */
  readonly hear: (e: SoundEvent) => void
}

/** A click in time that passes only when asked; what the sound plays is written down. */
export const clickStage = async (
  o: { tempo?: string; meter?: string; more?: Partial<State> } = {},
): Promise<ClickStage> => {
  const clock = virtualClock()
  const plain = await openSound({
    output: 'silent',
    now: clock.now,
    player: new URL('file:///none'),
    levels: DEFAULT_LEVELS,
    silent: clock,
  })
  const programs = new Map<number, Parameters<Sound['play']>[0]>()
  /** Frame of the stream at which a program begins, and when that is heard. */
  const begun = new Map<number, { frame: number; at: number }>()
  const cuts = new Map<number, number>()
  plain.on(e => {
    if (e.kind === 'started') begun.set(e.id, { frame: e.frame, at: plain.heardAt(e.id, 0) ?? 0 })
    if (e.kind === 'cut') cuts.set(e.id, e.frame)
  })
  const listeners = new Set<(e: SoundEvent) => void>()
  const sound: Sound = {
    ...plain,
    on: f => {
      listeners.add(f)
      const off = plain.on(f)
      return () => {
        listeners.delete(f)
        off()
      }
    },
    play: (p, after) => {
      const id = plain.play(p, after)
      programs.set(id, p)
      return id
    },
  }
  let left = false
  const click: State = {
    ...newClick({
      tempo: tempoOf(o.tempo ?? '120'),
      meter: meter(o.meter ?? '4/4'),
      subdivide: 1,
      pulse: null,
      only: null,
      countIn: 0,
    }),
    ...o.more,
  }
  const size = () => ({ rows: 24, cols: 80 })
  const made = theClick({
    terminal: { size } as never,
    click,
    sound,
    timing: clock,
    lock: pedalLock(),
    controls: TWO,
    levels: DEFAULT_LEVELS,
    motion: 'glide',
    rate: RATE,
    louder: () => {},
  })
  let state = click
  let press: (key: { id: string; at: number }) => void = () => {}
  const terminal = {
    ink: null,
    size,
    line: () => {},
    typing: () => {},
    onResize: () => () => {},
    onKey: (f: typeof press) => {
      press = f
      return () => {}
    },
  } as unknown as PlainTerminal
  const topics = (s: State) => {
    state = s
    return {}
  }
  void runScreen(terminal, clock, { ...made.screen, topics }).then(() => {
    left = true
  })
  const conductor = {
    state: () => state,
    heard: made.heard,
    turning: () => made.turning(state),
    key: (id: string, at: number) => press({ id, at }),
  }
  const frames = (): { frame: number; role: string; measure: number }[] =>
    [...begun].flatMap(([id, begin]) => {
      const p = programs.get(id)
      const end = cuts.get(id) ?? Number.POSITIVE_INFINITY
      const now = Math.round(((clock.now() - begin.at) * RATE) / 1000)
      return (p?.onsets ?? [])
        .filter(x => x.frame < end && x.frame <= now)
        .map(x => ({ frame: begin.frame + x.frame, role: x.role, measure: x.measure }))
    })
  return {
    conductor,
    clock,
    key: async id => {
      conductor.key(id, clock.now())
      await clock.run(0)
    },
    heard: () => {
      const all = frames()
      return all.map(x => ({
        seconds: (x.frame - (all[0]?.frame ?? 0)) / RATE,
        role: x.role,
        measure: x.measure,
      }))
    },
    queued: () => {
      const ids = [...programs.keys()].filter(id => !begun.has(id) && !cuts.has(id))
      return ids.reduce((s, id) => s + (programs.get(id)?.frames ?? 0) / RATE, 0)
    },
    left: () => left,
    hear: e => {
      for (const f of [...listeners]) f(e)
    },
  }
}
