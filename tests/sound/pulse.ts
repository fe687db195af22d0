import { type ChildProcess, execFile, spawn, spawnSync } from 'node:child_process'
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { promisify } from 'node:util'

/** A sound server with one null sink, `room` (48 kHz, 16 bit, stereo), to play into and to listen to. */
export type Room = {
  /** Environment for whatever is to play through this server: PulseAudio's and ALSA's default. */
  readonly env: Readonly<Record<string, string>>
  /** Records what the loudspeaker would get, from now on. */
  record(sink?: string): Recording
  /** One more loudspeaker, by name; `title` is what people see, in one word. */
  addSink(name: string, title: string): Promise<void>
  /** The system plays through this one from now on. */
  choose(name: string): Promise<void>
}

/** A server of our own, to break. */
export type Pulse = Room & {
  /** Freezes the server, as a driver that hangs, and lets it go on. */
  freeze(): void
  thaw(): void
  /** The server dies, as when it is restarted or the device is pulled out. */
  kill(): void
  /** It is started again at the same place. */
  revive(): Promise<void>
  close(): void
}

type Recording = {
  /** Stops; samples of the left channel, and the monotonic ms at which sample 0 was heard. */
  stop(): Promise<{ samples: Int16Array; heardAt: number }>
}

const run = promisify(execFile)
const wait = (ms: number) => new Promise(r => setTimeout(r, ms))
const now = (): number => Number(process.hrtime.bigint()) / 1e6

/** What is missing on this machine, or null. */
export const missing = (): string | null =>
  ['pulseaudio', 'pactl', 'parec'].find(c => spawnSync(c, ['--version']).error) ?? null

/**
 * A null sink without listeners renders two seconds ahead, and no real device does that. A listener in a hurry keeps it
 * at a few milliseconds, once it has been suspended and resumed.
 */
const LATENCY = '--latency-msec=2'
const PAREC = ['--raw', '--rate=48000', '--format=s16le', '--channels=2', LATENCY]

/** An environment in which there is no sound device at all. */
export const nothingHere = (): { env: Readonly<Record<string, string>>; close(): void } => {
  const home = mkdtempSync(join(tmpdir(), 'gradino-quiet-'))
  return { env: environment(home), close: () => rmSync(home, { recursive: true, force: true }) }
}

const environment = (home: string) => ({
  HOME: home,
  XDG_CONFIG_HOME: join(home, 'config'),
  XDG_RUNTIME_DIR: home,
  PULSE_SERVER: `unix:${join(home, 'socket')}`,
})

const listenTo = (sink: string, env: NodeJS.ProcessEnv): ChildProcess =>
  spawn('parec', [...PAREC, '-d', `${sink}.monitor`], { env, stdio: ['ignore', 'pipe', 'ignore'] })

/** Plays into a server that runs, and listens to it. `opened` gets every process that is started. */
export const roomOf = (
  env: Readonly<Record<string, string>>,
  opened: (p: ChildProcess) => void = () => {},
): Room => {
  const all = { ...process.env, ...env }
  const listen = (sink: string): ChildProcess => {
    const p = listenTo(sink, all)
    opened(p)
    return p
  }
  return {
    env,
    addSink: async (name, title) => {
      const format = ['rate=48000', 'format=s16le', 'channels=2']
      const described = `sink_properties=device.description=${title}`
      await run('pactl', ['load-module', 'module-null-sink', `sink_name=${name}`, ...format, described], {
        env: all,
      })
      listen(name).stdout?.resume()
      await wait(200)
      await run('pactl', ['suspend-sink', name, '1'], { env: all })
      await run('pactl', ['suspend-sink', name, '0'], { env: all })
    },
    choose: async name => {
      await run('pactl', ['set-default-sink', name], { env: all })
    },
    record: (sink = 'room') => {
      const p = listen(sink)
      const chunks: Buffer[] = []
      let bytes = 0
      // Each chunk arrives at the earliest when its last sample is heard; the earliest arrival of all is nearest.
      let heardAt = Number.POSITIVE_INFINITY
      p.stdout?.on('data', (b: Buffer) => {
        chunks.push(b)
        bytes += b.length
        heardAt = Math.min(heardAt, now() - bytes / 192)
      })
      return {
        stop: async () => {
          p.kill('SIGKILL')
          await new Promise(r => p.once('close', r))
          const all = Buffer.concat(chunks)
          return {
            samples: Int16Array.from({ length: all.length >> 2 }, (_, i) => all.readInt16LE(4 * i)),
            heardAt,
          }
        },
      }
    },
  }
}

/** A loudspeaker for one test alone: what others play meanwhile is not heard there. */
export const roomOfItsOwn = async (env: Readonly<Record<string, string>>, sink: string): Promise<Room> => {
  const room = roomOf(env)
  await room.addSink(sink, sink)
  return { ...room, env: { ...env, PULSE_SINK: sink }, record: (where = sink) => room.record(where) }
}

export const startPulse = async (): Promise<Pulse> => {
  const home = mkdtempSync(join(tmpdir(), 'gradino-pulse-'))
  mkdirSync(join(home, 'config'))
  writeFileSync(join(home, '.asoundrc'), 'pcm.!default { type pulse }\nctl.!default { type pulse }\n')
  const env = { ...process.env, ...environment(home) }
  const socket = join(home, 'socket')
  const begin = (): ChildProcess =>
    spawn(
      'pulseaudio',
      [
        '-n',
        '--daemonize=no',
        '--use-pid-file=no',
        '--exit-idle-time=-1',
        '--disallow-exit',
        '-L',
        'module-null-sink sink_name=room rate=48000 format=s16le channels=2',
        '-L',
        `module-native-protocol-unix auth-anonymous=1 socket=${socket}`,
      ],
      { env, stdio: 'ignore' },
    )
  let server = begin()
  const listeners: ChildProcess[] = []
  const room = roomOf(environment(home), p => listeners.push(p))
  const close = (): void => {
    for (const p of [...listeners, server]) p.kill('SIGKILL')
    rmSync(home, { recursive: true, force: true })
  }
  /** Waits for the server, and has somebody listen to it. */
  const settle = async (): Promise<void> => {
    for (let tries = 0; ; tries++) {
      try {
        await run('pactl', ['info'], { env })
        break
      } catch (e) {
        if (tries < 50) await wait(50)
        else {
          close()
          throw e
        }
      }
    }
    const p = listenTo('room', env)
    listeners.push(p)
    p.stdout?.resume()
    await wait(200)
    await run('pactl', ['suspend-sink', 'room', '1'], { env })
    await run('pactl', ['suspend-sink', 'room', '0'], { env })
  }
  await settle()
  return {
    ...room,
    freeze: () => void server.kill('SIGSTOP'),
    thaw: () => void server.kill('SIGCONT'),
    kill: () => void server.kill('SIGKILL'),
    revive: async () => {
      rmSync(socket, { force: true })
      server = begin()
      await settle()
    },
    close,
  }
}

/** First samples of sounds: louder than `threshold` after at least 20 ms below it. */
export const onsetsIn = (samples: Int16Array, threshold = 10): number[] => {
  const found: number[] = []
  let quiet = 960
  for (const [i, s] of samples.entries()) {
    if (Math.abs(s) <= threshold) quiet++
    else {
      if (quiet >= 960) found.push(i)
      quiet = 0
    }
  }
  return found
}
