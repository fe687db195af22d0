import { spawn } from 'node:child_process'
import { framesOf, RATE } from '../stream.ts'
import { type Deps, type Device, named, type OpenOutput } from './output.ts'
import { keepPace, pace } from './paced.ts'
import { alsaDevices, sinks } from './system-devices.ts'

/** A program of the system that plays what comes down a pipe. What it says is read in English. */
type PipeCommand = {
  readonly name: Device
  /** For a queue of so many ms. */
  readonly args: (ahead: number) => readonly string[]
  /** What is added to play through a device of this name, or through one whose name holds it. Rejects if there is none. */
  readonly to: (device: string) => Promise<readonly string[]>
  /** Between its buffer and the ear, ms. */
  readonly extraMs: number
  /** Said when the device is open. Fed before that, the time it takes to start would count as depth. */
  readonly opened: RegExp
  /** How it says how much it has played: seconds. */
  readonly played?: RegExp
}

const start = ({ name }: PipeCommand, args: readonly string[], owns: Deps['owns']) => {
  const child = spawn(name, args, {
    stdio: ['pipe', 'ignore', 'pipe'],
    env: { ...process.env, LC_ALL: 'C' },
  })
  if (child.pid !== undefined) owns(child.pid)
  let last = ''
  child.stderr.setEncoding('utf8').on('data', (s: string) => {
    last = (last + s).slice(-300)
  })
  // A broken pipe is told by the end of the process.
  child.stdin.on('error', () => {})
  const ended = new Promise<string>(resolve => {
    child.on('error', e => resolve(e.message))
    child.on('close', (code, signal) =>
      resolve(code === 0 ? '' : `${name} ended (${signal ?? code}) ${last}`),
    )
  })
  return { child, ended }
}

/**
 * The pipe takes half a second of sound even when nobody listens. So first a tenth of a second of silence is played to
 * its end: only a device that works lets the program end well.
 */
const tryOut = async (c: PipeCommand, args: readonly string[], owns: Deps['owns']): Promise<void> => {
  const { child, ended } = start(c, args, owns)
  child.stdin.end(Buffer.alloc(4 * framesOf(100)))
  const problem = await ended
  if (problem !== '') throw new Error(problem)
}

const openPipe =
  (c: PipeCommand): OpenOutput =>
  async deps => {
    const args = [...c.args(deps.depth.ms()), ...(deps.device === null ? [] : await c.to(deps.device))]
    await tryOut(c, args, deps.owns)
    const { child, ended } = start(c, args, deps.owns)
    const p = pace(
      deps,
      (block, taken) => child.stdin.write(Buffer.from(block.buffer), e => e ?? taken()),
      c.extraMs,
    )
    let stop = (): void => {}
    void ended.then(problem => {
      stop()
      deps.failed(problem || `${c.name} ended`)
    })
    await new Promise<void>(resolve => {
      child.stderr.on('data', (said: string) => {
        if (c.opened.test(said)) resolve()
        const played = c.played?.exec(said)?.[1]
        if (played) p.heard(Math.round(Number(played) * RATE), deps.now())
        if (/underrun/i.test(said)) p.ranDry()
      })
    })
    const pacing = keepPace(p)
    stop = pacing.stop
    await pacing.settled
    return {
      name: c.name,
      depthMs: p.depthMs,
      heardAt: p.line.at,
      lineFrom: p.line.from,
      close: () => {
        stop()
        child.kill('SIGKILL')
      },
    }
  }

/** PulseAudio's and PipeWire's own player. Of the latency it is given it keeps two thirds in the server. */
export const openPacat = openPipe({
  name: 'pacat',
  args: ahead => [
    '-v',
    '--raw',
    `--rate=${RATE}`,
    '--format=s16le',
    '--channels=2',
    `--latency-msec=${1.5 * ahead}`,
  ],
  to: async device => [`--device=${named(await sinks(), device, s => `${s.title} ${s.name}`).name}`],
  extraMs: 1,
  opened: /Stream successfully created/,
  played: /Time: ([\d.]+) sec/,
})

/** ALSA's own player. */
export const openAplay = openPipe({
  name: 'aplay',
  args: ahead => [
    '-v',
    '-t',
    'raw',
    '-f',
    'S16_LE',
    '-c',
    '2',
    '-r',
    `${RATE}`,
    `--buffer-time=${1000 * ahead}`,
  ],
  to: async device => ['-D', named(await alsaDevices(), device, name => name)],
  extraMs: 1,
  opened: /Its setup is/,
})
