import type { Levels } from '../click/voices.ts'
import { DEVICES, type Device, type OutputName } from './outputs/output.ts'
import { type Ending, type Player, startPlayer } from './player-process.ts'
import type { FromPlayer, ToPlayer } from './protocol.ts'
import { silentPlayer, type Ticking } from './silent.ts'
import { book, type Sound, type SoundEvent } from './sound.ts'
import { RATE } from './stream.ts'

/** After this long without trouble a failed output is worth a second try, ms. */
const TRUSTED = 10_000
/** Opening takes at most this long in all, ms; then nothing more is tried. */
const PATIENCE = 6000

export type SoundOptions = {
  readonly output: 'auto' | OutputName
  /** Monotonic ms, as `monotonic` of stream.ts; agrees between processes. */
  readonly now: () => number
  /** The bundled player. */
  readonly player: URL
  /** How much later than the device says the ear hears it (wireless speakers), ms. */
  readonly offsetMs?: number
  readonly levels: Levels
  /** A queue of 200 ms instead of 100 from the start, for a busy computer: steadier, and slower to answer. */
  readonly deep?: boolean
  /** Clock of the silent output; by default real time. */
  readonly silent?: Ticking
}

const realTime = (now: () => number): Ticking => ({
  now,
  later: (ms, f) => {
    const timer = setTimeout(f, ms)
    return () => clearTimeout(timer)
  },
})

/**
 * Opens the sound at once; what is played before an output is ready waits for it. Never fails: if no output works it ends
 * at the silent clock. When an output fails while playing, it is started once more, then the next ones are tried; what was
 * queued is gone, and what is asked for meanwhile waits for the new output.
 */
export const beginSound = (o: SoundOptions): Sound => {
  const candidates: readonly Device[] =
    o.output === 'auto' ? DEVICES : o.output === 'silent' ? [] : [o.output]
  const ticking = o.silent ?? realTime(o.now)
  const listeners = new Set<(e: SoundEvent) => void>()
  const refused = new Map<OutputName, string>()
  const notes = book(o.offsetMs ?? 0)
  let levels = o.levels
  let lastId = 0
  let output: OutputName = 'silent'
  let player: Player | null = null
  let waiting: ToPlayer[] = []
  const closing = new AbortController()
  let opening: Promise<void> = Promise.resolve()
  let since = o.now()
  let retried = false

  const emit = (e: SoundEvent): void => {
    for (const f of [...listeners]) f(e)
  }
  const hear = (m: FromPlayer): void => {
    const e = notes.enter(m, output)
    if (e) emit(e)
  }
  const use = (p: Player, name: OutputName): void => {
    player = p
    output = name
    p.send({ k: 'levels', levels })
    for (const m of waiting) p.send(m)
    waiting = []
    emit({ k: 'output', name })
  }

  const open = async (names: readonly Device[]): Promise<void> => {
    const began = o.now()
    for (const name of names) {
      if (closing.signal.aborted) return
      if (o.now() - began > PATIENCE) break
      notes.newStream()
      const opened = await startPlayer({
        player: o.player,
        output: name,
        deep: o.deep,
        tell: hear,
        ended: (how, reason) => lost(name, how, reason),
        abandon: closing.signal,
      })
      if (opened.ok) {
        if (closing.signal.aborted) return opened.player.close()
        refused.delete(name)
        since = o.now()
        return use(opened.player, name)
      }
      refused.set(name, opened.why)
    }
    if (closing.signal.aborted) return
    notes.newStream()
    use(silentPlayer(ticking, hear), 'silent')
  }
  /** An output has failed while playing: once more the same if it can be trusted, then the ones behind it. */
  const lost = (name: Device, how: Ending, reason: string): void => {
    player = null
    if (closing.signal.aborted) return
    emit({ k: 'trouble', kind: how, output: name })
    if (o.now() - since > TRUSTED) retried = false
    const behind = candidates.slice(candidates.indexOf(name) + 1)
    const next = retried ? behind : [name, ...behind]
    if (retried) refused.set(name, `${how === 'gone' ? 'broke off' : 'stood still'} while playing: ${reason}`)
    retried = true
    opening = open(next)
  }

  const send = (m: ToPlayer): void => {
    if (player) player.send(m)
    else waiting.push(m)
  }
  opening = open(candidates)

  return {
    ready: () => opening,
    output: () => output,
    refused: () => [...refused].map(([name, why]) => ({ name, why })),
    play: (program, after) => {
      if (program.rate !== RATE) throw new RangeError(`a program of rate ${program.rate}; accepted: ${RATE}`)
      if (after === 'now') waiting = []
      send({ k: 'play', id: ++lastId, program, after })
      return lastId
    },
    stop: () => {
      waiting = []
      if (player) send({ k: 'stop' })
    },
    levels: l => {
      levels = l
      player?.send({ k: 'levels', levels })
    },
    heardAt: notes.heardAt,
    frameAt: notes.frameAt,
    on: f => {
      listeners.add(f)
      return () => listeners.delete(f)
    },
    close: async () => {
      closing.abort()
      await opening
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
