/** One row of `real-time.mjs`, in a process of its own: plays into a null sink, records it, and counts every interval. */
import { execFileSync, spawn } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { pathToFileURL } from 'node:url'
import type { Levels } from '../../src/click/voices.ts'
import { openSound } from '../../src/sound/open-sound.ts'
import type { OutputName } from '../../src/sound/outputs/output.ts'
import { monotonic, RATE } from '../../src/sound/stream.ts'
import { startPulse } from '../sound/pulse.ts'
import { clicks } from '../sound/scene.ts'
import { intervals } from './intervals.ts'

const [what = 'auto', minutesText = '10', depth = 'usual', player = ''] = process.argv.slice(2)
const minutes = Number(minutesText)
/** Tempos that fall on no block boundary, and the fastest mark. */
const TEMPOS = [92, 126, 208, 69, 184, 138]
const wait = (ms: number) => new Promise(r => setTimeout(r, ms))

const pulse = await startPulse()
Object.assign(process.env, pulse.env)
/** The first click of each program is about 8 dB louder than the others. */
const LEVELS: Levels = { master: 'ff', character: 'wood', roles: { downbeat: 'ff', beat: 'mf' } }
const found = intervals(RATE, 9000)
const parec = spawn(
  'parec',
  ['--raw', '--rate=48000', '--format=s16le', '--channels=1', '--latency-msec=20', '-d', 'room.monitor'],
  { stdio: ['ignore', 'pipe', 'ignore'] },
)
let odd: Buffer = Buffer.alloc(0)
parec.stdout.on('data', (b: Buffer) => {
  const all = odd.length > 0 ? Buffer.concat([odd, b]) : b
  for (let i = 0; i + 1 < all.length; i += 2) found.sample(all.readInt16LE(i))
  odd = all.subarray(all.length & ~1)
})

/** Processor seconds and memory (MB) of a process so far; Linux only. */
const used = (pid: number): { cpu: number; mb: number } => {
  const stat = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')[1]?.split(' ') ?? []
  const rss = /VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1]
  return { cpu: (Number(stat[11]) + Number(stat[12])) / 100, mb: Math.round(Number(rss) / 1024) }
}
const playerPid = (): number | null => {
  const rows = execFileSync('ps', ['--ppid', `${process.pid}`, '-o', 'pid=,args='], { encoding: 'utf8' })
  const row = rows.split('\n').find(r => r.includes('player.js'))
  return row ? Number(row.trim().split(/\s+/)[0]) : null
}

/** The click as a plain timer gives it: a flag each 461.5 ms, heard in the next block of a stream that plays anyway. */
const plainTimer = async (): Promise<void> => {
  const pacat = spawn(
    'pacat',
    ['--raw', '--rate=48000', '--format=s16le', '--channels=2', '--latency-msec=50'],
    {
      stdio: ['pipe', 'ignore', 'ignore'],
    },
  )
  let click = false
  const began = monotonic()
  let handed = 0
  const pump = setInterval(() => {
    while (handed < ((monotonic() - began) * RATE) / 1000 + 4800) {
      const block = Buffer.alloc(4 * 480)
      if (click) for (let i = 0; i < 192; i++) block.writeInt16LE(12_000, 2 * i)
      click = false
      pacat.stdin.write(block)
      handed += 480
    }
  }, 5)
  const beat = 60_000 / 130
  const timer = setInterval(() => {
    click = true
    found.expect([(beat * RATE) / 1000])
  }, beat)
  await wait(minutes * 60_000)
  clearInterval(timer)
  clearInterval(pump)
  pacat.kill('SIGKILL')
}

const ours = async (): Promise<Record<string, unknown>> => {
  const sound = await openSound({
    output: what as OutputName,
    now: monotonic,
    player: pathToFileURL(player),
    levels: LEVELS,
    deep: depth === 'deep',
  })
  // On a busy machine an output may answer late: it is counted from when it is there.
  for (let tries = 0; tries < 120 && what !== 'auto' && sound.output() !== what; tries++) await wait(500)
  await wait(3000)
  const outputs = [sound.output()]
  const troubles: Record<string, number> = {}
  let turn = 0
  let over = false
  const program = () => {
    const bpm = TEMPOS[turn++ % TEMPOS.length] ?? 120
    const at = Array.from({ length: 17 }, (_, i) => Math.round((i * 60 * RATE) / bpm))
    found.expect(at.slice(1).map((f, i) => f - (at[i] ?? 0)))
    const p = clicks(at.at(-1) ?? 1, at.slice(0, -1))
    return { ...p, onsets: p.onsets.map((o, i) => (i === 0 ? { ...o, role: 'downbeat' as const } : o)) }
  }
  let last = 0
  sound.on(e => {
    if (e.kind === 'started' && e.id === last && !over) last = sound.play(program(), last)
    if (e.kind === 'trouble') {
      troubles[e.kind] = (troubles[e.kind] ?? 0) + 1
      process.stderr.write(`${new Date().toISOString()} ${what}: ${e.kind} ${e.output}\n`)
    }
    if (e.kind === 'output') {
      process.stderr.write(`${new Date().toISOString()} ${what}: now ${e.name}\n`)
      outputs.push(e.name)
    }
  })
  const pid = playerPid()
  const before = pid ? used(pid) : null
  const at = monotonic()
  last = sound.play(program(), 'now')
  for (let left = minutes; left > 0; left -= 10) {
    await wait(60_000 * Math.min(10, left))
    if (left > 10) process.stderr.write(`${what}: ${left - 10} min left ${JSON.stringify(found.count())}\n`)
  }
  over = true
  const now = playerPid()
  const after = now !== null && now === pid ? used(now) : null
  const share = before && after ? (after.cpu - before.cpu) / ((monotonic() - at) / 1000) : null
  sound.stop()
  await wait(500)
  await sound.close()
  return {
    outputs,
    troubles,
    cpuPercent: share === null ? null : +(100 * share).toFixed(1),
    mb: after?.mb,
  }
}

for (const signal of ['SIGINT', 'SIGTERM'] as const)
  process.on(signal, () => {
    parec.kill('SIGKILL')
    pulse.close()
    process.exit(1)
  })
const began = new Date().toISOString()
try {
  const rest = what === 'timer' ? await plainTimer() : await ours()
  await wait(300)
  console.log(JSON.stringify({ what, depth, minutes, began, ...rest, ...found.count() }))
} finally {
  parec.kill('SIGKILL')
  pulse.close()
}
