import type { Role } from '../../../src/click/program.ts'
import { DEFAULT_LEVELS } from '../../../src/click/voices.ts'
import type { Body, Event } from '../../../src/ladder/event.ts'
import { DEFAULT_RULES } from '../../../src/ladder/rules.ts'
import { rungs } from '../../../src/ladder/rungs.ts'
import { plainForm } from '../../../src/music/form.ts'
import { decimal } from '../../../src/music/fraction.ts'
import { parseMeter } from '../../../src/music/meter.ts'
import type { Result } from '../../../src/music/result.ts'
import { tempo } from '../../../src/music/tempo.ts'
import { type Conductor, conduct } from '../../../src/screens/practice/conduct.ts'
import { openSound } from '../../../src/sound/open-sound.ts'
import type { Sound, SoundEvent } from '../../../src/sound/sound.ts'
import { pedalLock } from '../../../src/terminal/lock.ts'
import type { Setup } from '../../../src/visit/session.ts'
import { slotClock } from '../../../src/visit/slot-clock.ts'
import { numbered } from '../../ladder/live.ts'

export const must = <T>(r: Result<T>): T => {
  if (!r.ok) throw new Error(r.problem.accepted)
  return r.value
}

/** A clock that stands still until it is told to run; timers run in order of their time. Milliseconds. */
export const virtualClock = () => {
  let t = 1000
  let next = 0
  const timers = new Map<number, { at: number; f: () => void }>()
  const quiet = (): Promise<void> => new Promise(resolve => setImmediate(resolve))
  return {
    now: () => t,
    wall: () => t,
    later: (ms: number, f: () => void) => {
      const id = next++
      timers.set(id, { at: t + Math.max(0, ms), f })
      return () => void timers.delete(id)
    },
    run: async (ms: number): Promise<void> => {
      const until = t + ms
      await quiet()
      for (;;) {
        const due = [...timers]
          .filter(([, x]) => x.at <= until)
          .sort((a, b) => a[1].at - b[1].at || a[0] - b[0])[0]
        if (!due) break
        timers.delete(due[0])
        t = Math.max(t, due[1].at)
        due[1].f()
        await quiet()
      }
      t = until
      await quiet()
    },
  }
}

/** A setting: four beats at 104 and up, one measure of count-in, unless the test says otherwise. */
export const setup = (
  change: Omit<Partial<Setup>, 'goal'> & {
    measures?: number
    start?: number
    goal?: number
    from?: number
  } = {},
): Setup => {
  const { measures = 2, start = 104, goal = 120, from = 0, ...rest } = change
  const top = tempo(goal)
  return {
    key: 'section test even',
    form: plainForm(must(parseMeter('4/4')), measures, top),
    numbers: Array.from({ length: measures }, (_, i) => String(41 + i)),
    goal: top,
    rhythm: null,
    opening: { rungs: must(rungs(tempo(start), top, { kind: 'notch' })), at: from, rules: DEFAULT_RULES },
    ceiling: null,
    click: { countIn: 1 },
    pedals: 2,
    after: 'wait',
    rest: { clean: 2, slip: 4 },
    rate: 48_000,
    ...rest,
  }
}

export type Stage = {
  readonly conductor: Conductor
  readonly clock: ReturnType<typeof virtualClock>
  readonly journal: Event[]
  /** Small signals that were heard apart from a repetition. */
  readonly signals: readonly (readonly Role[])[]
  /** Who is told when there is something to draw. */
  readonly onChange: (f: () => void) => void
  readonly diskFull: (full: boolean) => void
  /** The sound says something that no clock does: that it broke off, or is back. What sounds goes on. */
  readonly hear: (e: SoundEvent) => Promise<void>
  /** Lets time pass until the given place of the present take is heard, then presses. */
  readonly press: (
    pedal: 'right' | 'left',
    when?: 'now' | 'middle' | 'lastMeasure' | 'end' | 'rest' | 'countIn',
  ) => Promise<void>
  readonly rung: () => string
  readonly row: () => number
  /** One whole repetition for each letter: C = clean, N = not clean. */
  readonly play: (verdicts: string) => Promise<void>
}

/** A player, a pedal and a journal in memory, in time that passes only when asked; a slot of so many minutes. */
export const stage = async (s: Setup = setup(), slotMinutes?: number): Promise<Stage> => {
  const clock = virtualClock()
  const journal: Event[] = []
  let full = false
  const append = async (bodies: readonly Body[]): Promise<readonly Event[]> => {
    if (full) throw new Error('The journal cannot be written: the disk is full.')
    const stored = bodies.map((b, i): Event => {
      const line = numbered(b, 's', journal.length + 1 + i, 's-1')
      return { ...line, time: '2026-03-09T10:00:00.000Z', offset: 60 }
    })
    journal.push(...stored)
    return stored
  }
  const signals: (readonly Role[])[] = []
  let changed = (): void => {}
  const opened = await openSound({
    output: 'silent',
    now: clock.now,
    player: new URL('file:///none'),
    levels: DEFAULT_LEVELS,
    silent: clock,
  })
  const listeners = new Set<(e: SoundEvent) => void>()
  const sound: Sound = {
    ...opened,
    on: f => {
      listeners.add(f)
      const off = opened.on(f)
      return () => {
        listeners.delete(f)
        off()
      }
    },
    play: (p, after) => {
      if (p.firstNote === p.frames && p.onsets.length > 0) signals.push(p.onsets.map(o => o.role))
      return opened.play(p, after)
    },
  }
  const conductor = conduct({
    setup: s,
    sound,
    append,
    timing: clock,
    lock: pedalLock(),
    changed: () => changed(),
    ...(slotMinutes === undefined ? {} : { slot: slotClock(clock, slotMinutes) }),
  })
  const takeFrame = (when: string): number => {
    const p = conductor.session().current?.program
    if (!p) return 0
    if (when === 'middle') return p.firstNote + 1000
    if (when === 'lastMeasure') return p.verdictFrom + 1000
    if (when === 'end') return p.end + 4800
    if (when === 'countIn')
      return Math.round((p.firstNote + (p.segments.find(x => x.kind === 'countIn')?.frame ?? 0)) / 2)
    return 2400
  }
  const until = async (when: string): Promise<void> => {
    for (let i = 0; i < 1000; i++) {
      const frame = conductor.frame()
      const wanted = takeFrame(when)
      if (frame !== null && frame >= wanted) return
      await clock.run(frame === null ? 20 : Math.min(1000, ((wanted - frame) / 48_000) * 1000 + 1))
    }
    throw new Error(`never heard: ${when}`)
  }
  const press: Stage['press'] = async (pedal, when = 'now') => {
    if (when !== 'now') await until(when)
    conductor.pedal(pedal, clock.now())
    await conductor.settled()
    await clock.run(30)
  }
  const play: Stage['play'] = async verdicts => {
    for (const v of verdicts) {
      if (conductor.session().phase !== 'going') await press('right')
      await press(v === 'C' ? 'right' : 'left', s.after === 'wait' ? 'end' : 'lastMeasure')
      await clock.run(900)
      while (conductor.session().next) await clock.run(50)
    }
  }
  return {
    conductor,
    clock,
    signals,
    journal,
    onChange: f => {
      changed = f
    },
    diskFull: f => {
      full = f
    },
    hear: async e => {
      for (const f of [...listeners]) f(e)
      await conductor.settled()
      await clock.run(30)
    },
    press,
    play,
    rung: () =>
      decimal(conductor.session().ladder.rungs[conductor.session().ladder.at]?.bpm ?? { n: 0, d: 1 }),
    row: () => conductor.session().ladder.row,
  }
}
