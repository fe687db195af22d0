import { fork } from 'node:child_process'
import { tmpdir } from 'node:os'
import { type FromPlayer, type PlayerStart, readFromPlayer, type ToPlayer } from './protocol.ts'
import { why } from './why.ts'

/** Looks at the frame count, ms, and how many without progress mean that the output stands still: one second. */
const LOOK = 200
const LOOKS = 4
/** How long a process may take to say goodbye, ms. */
const LEAVE_LIMIT = 1000

/** Whatever plays programs: the sound process, or the silent clock. */
export type Player = {
  send(m: ToPlayer): void
  close(): Promise<void>
}
export type PlayerFault = 'gone' | 'stalled'
export type Opened =
  | {
      ok: true
      player: Player
      depthMs: number
      /** Where it is heard, as the system calls it; null = it does not say. */
      device: string | null
      /** All devices of this output, where they were asked for. */
      devices: readonly string[]
    }
  | { ok: false; why: string }

/**
 * Starts a sound process and waits until its output has taken frames. `tell` gets everything it says from then on;
 * `ended` is called once if it dies or stands still (it is killed first), not after close().
 */
export const startPlayer = (o: {
  player: URL
  start: PlayerStart
  /** How long the output may take to open, ms; a cold start on a small computer takes about one second. */
  patience: number
  tell: (m: FromPlayer) => void
  ended: (how: PlayerFault, why: string) => void
  /** Gives up opening. */
  abandon?: AbortSignal
}): Promise<Opened> =>
  new Promise(resolve => {
    // Not the working folder: one output would leave a crash log there. Nothing it prints may reach the terminal.
    const child = fork(o.player, [JSON.stringify(o.start)], {
      cwd: tmpdir(),
      execArgv: [],
      stdio: ['pipe', 'ignore', 'pipe', 'ipc'],
    })
    let state: 'opening' | 'open' | 'over' = 'opening'
    let said = ''
    let frame = 0
    let idle = 0
    let watch: NodeJS.Timeout | undefined
    const exited = new Promise<void>(done => child.once('close', () => done()))
    /** What it has started: one that waits for a device that hangs would stay behind. */
    const owned: number[] = []

    const kill = (): void => {
      child.kill('SIGKILL')
      for (const pid of owned.splice(0)) {
        try {
          process.kill(pid, 'SIGKILL')
        } catch {
          // It has ended with the other one.
        }
      }
    }
    const over = (reason: string, how: PlayerFault): void => {
      const was = state
      state = 'over'
      clearTimeout(limit)
      clearInterval(watch)
      kill()
      const plain = why(o.start.output, reason)
      if (was === 'opening') resolve({ ok: false, why: plain })
      if (was === 'open') o.ended(how, plain)
    }
    const limit: NodeJS.Timeout = setTimeout(() => over('did not answer', 'stalled'), o.patience)

    const send = (m: ToPlayer): void => {
      // An error here is followed by the end of the process, which is heard.
      if (child.connected) child.send(m, () => {})
    }
    const player: Player = {
      send,
      close: async () => {
        if (state === 'over') return
        state = 'over'
        clearInterval(watch)
        send({ kind: 'bye' })
        const late = setTimeout(kill, LEAVE_LIMIT)
        await exited
        clearTimeout(late)
        kill()
      },
    }
    const ready = ({ depthMs, device, devices }: FromPlayer & { kind: 'ready' }): void => {
      state = 'open'
      clearTimeout(limit)
      watch = setInterval(() => {
        idle++
        if (idle > LOOKS) over('did not answer', 'stalled')
      }, LOOK)
      resolve({ ok: true, player, depthMs, device, devices })
    }
    const hear = (m: FromPlayer): void => {
      if (m.kind === 'failed') over(m.reason, 'gone')
      else if (m.kind === 'ready') ready(m)
      else if (m.kind === 'owns') owned.push(m.pid)
      else o.tell(m)
      if (m.kind !== 'clock' || m.frame <= frame) return
      frame = m.frame
      idle = 0
    }
    o.abandon?.addEventListener('abort', () => {
      if (state === 'opening') over('given up', 'gone')
    })
    if (o.abandon?.aborted) over('given up', 'gone')
    child.stderr?.setEncoding('utf8').on('data', (s: string) => {
      said = (said + s).slice(-2000)
    })
    child.stdin?.on('error', () => {})
    child.on('message', m => {
      if (state === 'over') return
      const read = readFromPlayer(m)
      if (read) hear(read)
      else over('said something that was not understood', 'gone')
    })
    child.on('error', e => over(e.message, 'gone'))
    // Some outputs chatter while they open well, so their words count only if they fail to.
    child.on('close', (code, signal) => over(`${state === 'opening' ? said : ''} ${signal ?? code}`, 'gone'))
  })
