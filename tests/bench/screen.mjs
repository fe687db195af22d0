// How quickly the program answers: starts, the first screen, and a pressed pedal, in a pseudo-terminal, on the silent
// clock; beside a bare `node -e 0` in the same run. Run after `npm run build`; with the main.js of another build as its
// argument, of that. What a key takes of the processor is true on a busy machine too.
import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { spawn } from '@lydell/node-pty'

const RUNS = 12
const FLAGS = ['--max-semi-space-size=1', '--optimize-for-size']
const MAIN = resolve(process.argv[2] ?? join(import.meta.dirname, '../../dist/main.js'))
const RIGHT = '\x1b[6~'
const pause = ms => new Promise(done => setTimeout(done, ms))
const middle = all => [...all].sort((a, b) => a - b)[Math.floor(all.length / 2)]
const line = (what, ms, bare) =>
  console.log(
    `${what.padEnd(48)}${ms.toFixed(1).padStart(8)} ms${bare ? `${(ms / bare).toFixed(1).padStart(7)} x bare node` : ''}`,
  )

const timed = args => {
  const start = performance.now()
  spawnSync(process.execPath, args, { stdio: 'ignore' })
  return performance.now() - start
}
const times = f => middle(Array.from({ length: RUNS }, f))

const home = mkdtempSync(join(tmpdir(), 'gradino-bench-'))
const bare = times(() => timed(['-e', '0']))
line('bare node', bare)
line(
  'gradino --help',
  times(() => timed([...FLAGS, MAIN, '--help'])),
  bare,
)
line(
  'gradino ladder',
  times(() => timed([...FLAGS, MAIN, 'ladder', '--goal', '120'])),
  bare,
)

/** A practice screen, the milliseconds to its first frame, and a function that waits for output. */
const sit = async (rows, cols, start = '60', goal = '63') => {
  const began = performance.now()
  const args = [...FLAGS, MAIN, '--home', home, 'practice', '--start', start, '--goal', goal]
  const pty = spawn(process.execPath, [...args, '--measures', '8', '--output', 'silent'], { cols, rows })
  let wanted = null
  pty.onData(data => {
    if (wanted?.test(data)) wanted.done(performance.now())
  })
  const until = test => new Promise(done => (wanted = { test, done }))
  const shown = (await until(d => /either pedal|start/.test(d))) - began
  return { pty, shown, until }
}
/** Milliseconds of processor time that a process has had (100 ticks a second on Linux). */
const used = pid => {
  const fields = readFileSync(`/proc/${pid}/stat`, 'utf8')
    .replace(/^.*\) /, '')
    .split(' ')
  return 10 * (Number(fields[11]) + Number(fields[12]))
}
const share = async (pid, ms) => {
  const before = used(pid)
  await pause(ms)
  return (100 * (used(pid) - before)) / ms
}
const percent = (what, p) => console.log(`${what.padEnd(48)}${p.toFixed(1).padStart(8)} %`)

const first = []
let rss = 0
for (let i = 0; i < RUNS; i++) {
  const { pty, shown } = await sit(24, 80)
  first.push(shown)
  rss = Math.max(
    rss,
    Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pty.pid}/status`, 'utf8'))?.[1] ?? 0),
  )
  pty.kill('SIGKILL')
}
line('practice, first screen', middle(first), bare)

const KEYS = 400
const compared = {}
for (const [rows, cols] of [
  [24, 80],
  [48, 160],
]) {
  const at = `${cols}x${rows}`
  const { pty, until } = await sit(rows, cols)
  await pause(1500)
  const key = []
  const before = used(pty.pid)
  for (let i = 0; i < KEYS; i++) {
    const changed = until(d => d.length > 0)
    const pressed = performance.now()
    pty.write(i % 2 === 0 ? '1' : '\x7f')
    key.push((await changed) - pressed)
    await pause(20)
  }
  const took = (used(pty.pid) - before) / KEYS
  key.sort((a, b) => a - b)
  compared[at] = middle(key)
  line(`a key, to the changed screen, ${at}: median`, middle(key))
  line(`a key, to the changed screen, ${at}: 99 of 100 within`, key[Math.floor(KEYS * 0.99)])
  line(`a key, of the processor, ${at}: mean`, took)
  percent(`nothing to do, ${at}: of one core`, await share(pty.pid, 5000))
  pty.kill('SIGKILL')

  // Without a device the mark travels between the beats, which costs more than beats alone.
  const playing = await sit(rows, cols, '200', '208')
  await pause(1000)
  playing.pty.write(RIGHT)
  await pause(2500)
  percent(`playing from 200 up, the mark traveling, ${at}: of one core`, await share(playing.pty.pid, 6000))
  playing.pty.kill('SIGKILL')
}
console.log(`160x48 against 80x24: ${(compared['160x48'] / compared['80x24']).toFixed(2)}`)
rmSync(home, { recursive: true, force: true })
console.log(`memory of the screen process, most seen: ${Math.round(rss / 1024)} MB`)
