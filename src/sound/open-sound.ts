import type { Levels } from '../click/voices.ts'
import { askedFor } from './asked.ts'
import { gapCount } from './depth.ts'
import { DEVICES, type Device, type OutputName } from './outputs/output.ts'
import { type Player, type PlayerFault, startPlayer } from './player-process.ts'
import type { FromPlayer } from './protocol.ts'
import { type Found, type Start, search, type Voice, voiceOf } from './search.ts'
import { silentPlayer, type Ticking } from './silent.ts'
import { book, type Sound, type SoundEvent } from './sound.ts'
import { msOf, RATE } from './stream.ts'
import { lasting } from './why.ts'

/** After this long without trouble a failed output is the first to be tried again, ms. */
const TRUSTED = 10_000
/** Two outputs that take turns are both silent for so long before and after, ms, if the music lets them. */
const TURN = 300
/** So long an output may take to open before the next one is tried beside it, ms: at the start, and when one was lost. */
const STAGGER = 800
const STAGGER_LOST = 250
/** Without sound for so long, the silent clock begins, and the search goes on, ms: at the start, and when one was lost. */
const SILENT_AFTER = 2500
const SILENT_AFTER_LOST = 1000
/** So long an output may take to open, ms, at first and at most: twice as long each time that none was found. */
const PATIENCE = 6000
const MOST_PATIENCE = 48_000
/** Between one search and the next while silent, ms, at first and at most. */
const PAUSE = 1000
const LONGEST_PAUSE = 30_000

export type SoundOptions = {
  readonly output: 'auto' | OutputName
  /** A part of the name of the device to play through; absent = the system's own choice. */
  readonly device?: string | undefined
  /** Monotonic ms, as `monotonic` of stream.ts; agrees between processes. */
  readonly now: () => number
  /** The bundled player. */
  readonly player: URL
  /** How much later than the device says the ear hears it (wireless speakers), ms. null = a device without a name. */
  readonly offsetMs?: (device: string | null) => number
  readonly levels: Levels
  /** A queue of 200 ms instead of 100 from the start, for a busy computer: steadier, and slower to answer. */
  readonly deep?: boolean
  /** Keep a faint stream open, so that wireless headphones do not fall asleep. */
  readonly faint?: boolean
  /** Clock of the silent output; by default real time. */
  readonly silent?: Ticking
}

const timer = (ms: number, f: () => void): (() => void) => {
  const t = setTimeout(f, ms)
  return () => clearTimeout(t)
}

/** Resolves after so many ms, or when it is given up. */
const pause = (ms: number, abandon: AbortSignal): Promise<void> =>
  new Promise(resolve => {
    const end = (): void => {
      callOff()
      abandon.removeEventListener('abort', end)
      resolve()
    }
    const callOff = timer(ms, end)
    abandon.addEventListener('abort', end)
  })

const promised = (): { readonly promise: Promise<void>; readonly keep: () => void } => {
  let keep = (): void => {}
  const promise = new Promise<void>(resolve => {
    keep = resolve
  })
  return { promise, keep }
}

/**
 * Opens the sound at once; what is played before an output is ready waits for it. Never fails: while no output works the
 * silent clock goes on, and the search too. When an output fails while playing, or one is found while silent, what was
 * asked for goes on in the next one at the moment at which it would have been heard: the beat is kept across the gap.
 */
export const beginSound = (o: SoundOptions): Sound => {
  const candidates: readonly Device[] =
    o.output === 'auto' ? DEVICES : o.output === 'silent' ? [] : [o.output]
  const ticking = o.silent ?? { now: o.now, later: timer }
  const listeners = new Set<(e: SoundEvent) => void>()
  const refused = new Map<OutputName, string>()
  const notes = book()
  const asked = askedFor()
  const closing = new AbortController()
  let levels = o.levels
  let lastId = 0
  let output: OutputName = 'silent'
  let device: string | null = null
  let absent = false
  let player: Player | null = null
  let voice: Voice | null = null
  let since = o.now()
  let arrived = promised()
  const gaps = gapCount()
  /** Outputs that had too many gaps, on a computer this busy. */
  const restless = new Set<OutputName>()

  const emit = (e: SoundEvent): void => {
    for (const f of [...listeners]) f(e)
  }
  const hear = (m: FromPlayer): void => {
    if (m.kind === 'ended' || m.kind === 'cut') asked.over(m.id)
    if (m.kind === 'moved') {
      device = m.device
      notes.move(o.offsetMs?.(device) ?? 0)
    }
    const e = notes.enter(m, output)
    if (e) emit(e)
    if (m.kind === 'trouble' && gaps.gap(o.now())) void moveOn()
  }
  /** From now on this one plays, and what was asked for goes on in it. */
  const use = (p: Player, v: Voice, name: OutputName, plays: string | null): void => {
    const before = player
    const programs = asked.all()
    const [first] = programs
    const offset = o.offsetMs?.(plays) ?? 0
    const due = first ? notes.heardAt(first.id, 0) : null
    voice?.end()
    player = p
    voice = v
    output = name
    device = plays
    since = o.now()
    gaps.anew()
    notes.begin(offset)
    v.begin()
    void before?.close()
    p.send({ kind: 'levels', levels })
    if (first) p.send({ kind: 'join', programs: [...programs], heardAt: due === null ? null : due - offset })
    emit({ kind: 'output', name })
    arrived.keep()
  }
  const goSilent = (): void => {
    if (player || closing.signal.aborted) return
    const v = voiceOf(hear)
    use(silentPlayer(ticking, v.tell), v, 'silent', null)
  }

  const starting =
    (wanted: string | null): Start =>
    async (name, patience, abandon) => {
      const v = voiceOf(hear)
      const opened = await startPlayer({
        player: o.player,
        start: {
          output: name,
          deep: o.deep === true || restless.size > 0,
          device: wanted,
          faint: o.faint === true,
          list: false,
        },
        patience,
        tell: v.tell,
        ended: (how, reason) => (voice === v ? lost(name, how, reason) : v.end()),
        abandon,
      })
      return opened.ok ? { ...opened, voice: v } : opened
    }
  /** One search; null = no output opened. */
  const once = async (names: readonly Device[], patience: number, stagger: number): Promise<Found | null> => {
    const wanted = o.device ?? null
    const among = { names, patience, stagger, later: timer, abandon: closing.signal }
    const told = (name: Device, why: string): void => void refused.set(name, why)
    const found = await search({ ...among, start: starting(wanted), refused: told })
    absent = found === null && wanted !== null
    return absent ? search({ ...among, start: starting(null), refused: told }) : found
  }
  /** Searches until an output plays. */
  const seek = async (names: readonly Device[], stagger: number, silentAfter: number): Promise<void> => {
    const callOff = timer(silentAfter, goSilent)
    let next = names
    for (let round = 0; next.length > 0; round++) {
      const found = await once(next, Math.min(PATIENCE * 2 ** round, MOST_PATIENCE), stagger)
      callOff()
      if (closing.signal.aborted) return void found?.player.close()
      if (found && !found.voice.over()) {
        refused.delete(found.name)
        return use(found.player, found.voice, found.name, found.device)
      }
      goSilent()
      await pause(Math.min(PAUSE * 2 ** round, LONGEST_PAUSE), closing.signal)
      if (closing.signal.aborted) return
      // What only an installation changes is not tried again.
      next = candidates.filter(name => !lasting(refused.get(name) ?? ''))
    }
    callOff()
    goSilent()
  }
  /** The present output has too many gaps: another one takes over while it still plays, where nothing sounds. */
  const moveOn = async (): Promise<void> => {
    const from = voice
    restless.add(output)
    const names = candidates.filter(name => !restless.has(name) && !lasting(refused.get(name) ?? ''))
    if (names.length === 0) return
    const found = await once(names, PATIENCE, STAGGER)
    if (!found) return
    for (const until = o.now() + PATIENCE; o.now() < until && soundsSoon(); ) await pause(20, closing.signal)
    if (closing.signal.aborted || voice !== from || found.voice.over()) return void found.player.close()
    refused.set(output, 'it had too many gaps: the computer is very busy')
    use(found.player, found.voice, found.name, found.device)
  }
  /** Is a click heard, or handed over, within the time in which two outputs take turns? */
  const soundsSoon = (): boolean => {
    const [from, to] = [o.now() - TURN, o.now() + TURN]
    const [first] = asked.all()
    let at = first ? notes.heardAt(first.id, 0) : null
    for (const { program } of asked.all()) {
      if (at === null || at > to) return false
      const begin = at
      if (program.tone) return true
      if (program.onsets.some(x => begin + msOf(x.frame) > from && begin + msOf(x.frame) < to)) return true
      at += msOf(program.frames)
    }
    return false
  }
  /** An output has failed while playing: the same again if it can be trusted, and the others. */
  const lost = (name: Device, how: PlayerFault, reason: string): void => {
    voice?.end()
    player = null
    if (closing.signal.aborted) return
    arrived = promised()
    const others = candidates.filter(c => c !== name)
    const trusted = o.now() - since > TRUSTED
    if (!trusted)
      refused.set(name, `${how === 'gone' ? 'broke off' : 'stood still'} while playing: ${reason}`)
    emit({ kind: 'trouble', what: how, output: name })
    void seek(trusted ? [name, ...others] : [...others, name], STAGGER_LOST, SILENT_AFTER_LOST)
  }
  void seek(candidates, STAGGER, SILENT_AFTER)

  return {
    ready: () => arrived.promise,
    output: () => output,
    device: () => device,
    absent: () => (absent && output !== 'silent' ? (o.device ?? null) : null),
    refused: () => [...refused].map(([name, why]) => ({ name, why })),
    play: (program, after) => {
      if (program.rate !== RATE) throw new RangeError(`a program of rate ${program.rate} instead of ${RATE}`)
      const id = ++lastId
      asked.play(id, program, after)
      player?.send({ kind: 'play', id, program, after })
      return id
    },
    stop: () => {
      asked.clear()
      player?.send({ kind: 'stop' })
    },
    levels: l => {
      levels = l
      player?.send({ kind: 'levels', levels })
    },
    heardAt: notes.heardAt,
    frameAt: notes.frameAt,
    on: f => {
      listeners.add(f)
      return () => listeners.delete(f)
    },
    close: async () => {
      closing.abort()
      arrived.keep()
      await player?.close()
    },
  }
}

/** The same, once the first output is ready. */
export const openSound = async (o: SoundOptions): Promise<Sound> => {
  const sound = beginSound(o)
  await sound.ready()
  return sound
}
