/** What `answer.mjs` measures, bundled on the fly: the program in a pseudo-terminal, its sound recorded from a null sink. */
import { execFileSync, spawn as start } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { spawn } from '@lydell/node-pty'
import { DEVICES } from '../../src/sound/outputs/output.ts'
import { monotonic } from '../../src/sound/stream.ts'
import { startPulse } from '../sound/pulse.ts'

const RIGHT = '\x1b[6~'
const FLAGS = ['--max-semi-space-size=1', '--optimize-for-size']
const pause = (ms: number) => new Promise(done => setTimeout(done, ms))
const middle = (all: readonly number[]): number =>
  [...all].sort((a, b) => a - b)[all.length >> 1] ?? Number.NaN

/** Processor seconds and memory (MB) of a process; Linux only. */
const used = (pid: number): { cpu: number; mb: number } => {
  const stat = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')[1]?.split(' ') ?? []
  const rss = /VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1]
  return { cpu: (Number(stat[11]) + Number(stat[12])) / 100, mb: Math.round(Number(rss) / 1024) }
}

export const answers = async (main: string, times: number, seconds: number): Promise<void> => {
  const pulse = await startPulse()
  const home = mkdtempSync(join(tmpdir(), 'gradino-bench-'))
  /** When the latest sound began and ended, monotonic ms. */
  let [began, ended] = [Number.NaN, Number.NaN]
  const parec = start(
    'parec',
    ['--raw', '--rate=48000', '--format=s16le', '--channels=1', '--latency-msec=5', '-d', 'room.monitor'],
    { env: { ...process.env, ...pulse.env }, stdio: ['ignore', 'pipe', 'ignore'] },
  )
  parec.stdout.on('data', (b: Buffer) => {
    const at = monotonic()
    for (let i = 0; i + 1 < b.length; i += 2)
      if (Math.abs(b.readInt16LE(i)) > 10) {
        const t = at - (b.length - i) / 96
        if (Number.isNaN(began)) began = t
        ended = t
      }
  })
  const click = (args: readonly string[]) => {
    const env = { ...process.env, ...pulse.env, CI: 'true' } as Record<string, string>
    const pty = spawn(process.execPath, [...FLAGS, main, '--home', home, 'click', ...args], {
      cols: 80,
      rows: 24,
      env,
    })
    let said = ''
    pty.onData(d => {
      said += d
    })
    const ready = async (): Promise<void> => {
      for (let i = 0; i < 600 && !/click \w+ through [a-z]/.test(said); i++) await pause(50)
      await pause(500)
    }
    return { pty, ready }
  }
  const player = (pid: number): number =>
    Number(
      execFileSync('ps', ['--ppid', `${pid}`, '-o', 'pid=,args='], { encoding: 'utf8' })
        .split('\n')
        .find(r => r.includes('player.js'))
        ?.trim()
        .split(/\s+/)[0],
    )
  try {
    for (const output of DEVICES) {
      const { pty, ready } = click(['--tempo', '208', '--subdivide', '4', '--output', output])
      await ready()
      const [first, silent]: [number[], number[]] = [[], []]
      for (let i = 0; i < times; i++) {
        began = Number.NaN
        let at = monotonic()
        pty.write(RIGHT)
        await pause(1500)
        first.push(began - at)
        at = monotonic()
        pty.write(RIGHT)
        await pause(1500)
        silent.push(ended - at)
      }
      pty.kill('SIGKILL')
      const range = (all: number[]): string =>
        `${middle(all).toFixed(0)} ms (${Math.min(...all).toFixed(0)} to ${Math.max(...all).toFixed(0)})`
      console.log(`${output.padEnd(11)}press to first click ${range(first)}, to silence ${range(silent)}`)
      await pause(300)
    }
    for (const tempo of ['60', '120', '208'])
      for (const subdivide of ['1', '4']) {
        const { pty, ready } = click(['--tempo', tempo, '--subdivide', subdivide, '--output', 'pacat'])
        await ready()
        pty.write(RIGHT)
        await pause(2000)
        const pids = [pty.pid, player(pty.pid)]
        const before = pids.map(used)
        await pause(1000 * seconds)
        const after = pids.map(used)
        const share = (i: number): string =>
          `${((100 * ((after[i]?.cpu ?? 0) - (before[i]?.cpu ?? 0))) / seconds).toFixed(1)} %, ${after[i]?.mb} MB`
        console.log(`${tempo} x ${subdivide}: screen ${share(0)}; player ${share(1)}`)
        pty.kill('SIGKILL')
        await pause(300)
      }
  } finally {
    parec.kill('SIGKILL')
    pulse.close()
    rmSync(home, { recursive: true, force: true })
  }
}
