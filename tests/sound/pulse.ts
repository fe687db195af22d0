import { type ChildProcess, execFile, spawn, spawnSync } from 'node:child_process'
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { promisify } from 'node:util'

/** A PulseAudio server of our own with one null sink (48 kHz, 16 bit, stereo) and everything that points to it. */
export type Pulse = {
  /** Environment for whatever is to play through this server: PulseAudio's and ALSA's default. */
  readonly env: Readonly<Record<string, string>>
  /** Records what the loudspeaker would get, from now on. */
  record(): Recording
  /** Freezes the server, as a driver that hangs, and lets it go on. */
  freeze(): void
  thaw(): void
  /** The server dies, as when it is restarted or the device is pulled out. */
  kill(): void
  close(): void
}

export type Recording = {
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
const PAREC = ['--raw', '--rate=48000', '--format=s16le', '--channels=2', LATENCY, '-d', 'room.monitor']

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

export const startPulse = async (): Promise<Pulse> => {
  const home = mkdtempSync(join(tmpdir(), 'gradino-pulse-'))
  mkdirSync(join(home, 'config'))
  writeFileSync(join(home, '.asoundrc'), 'pcm.!default { type pulse }\nctl.!default { type pulse }\n')
  const env = { ...process.env, ...environment(home) }
  const server = spawn(
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
      `module-native-protocol-unix auth-anonymous=1 socket=${join(home, 'socket')}`,
    ],
    { env, stdio: 'ignore' },
  )
  const listeners: ChildProcess[] = []
  const listen = (): ChildProcess => {
    const p = spawn('parec', PAREC, { env, stdio: ['ignore', 'pipe', 'ignore'] })
    listeners.push(p)
    return p
  }
  const close = (): void => {
    for (const p of [...listeners, server]) p.kill('SIGKILL')
    rmSync(home, { recursive: true, force: true })
  }
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
  listen().stdout?.resume()
  await wait(200)
  await run('pactl', ['suspend-sink', 'room', '1'], { env })
  await run('pactl', ['suspend-sink', 'room', '0'], { env })

  return {
    env: environment(home),
    record: () => {
      const p = listen()
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
    freeze: () => void server.kill('SIGSTOP'),
    thaw: () => void server.kill('SIGCONT'),
    kill: () => void server.kill('SIGKILL'),
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
