// How quickly the program answers: starts, the first screen, and a pressed pedal, in a pseudo-terminal, on the silent
// clock; beside a bare `node -e 0` in the same run. Run after `npm run build`.
import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { spawn } from '@lydell/node-pty'

const RUNS = 12
const FLAGS = ['--max-semi-space-size=1', '--optimize-for-size']
const MAIN = join(import.meta.dirname, '../../dist/main.js')
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

/** A practice screen, the milliseconds to its first frame, and a function that presses and times the answer. */
const sit = async () => {
  const start = performance.now()
  const args = [
    ...FLAGS,
    MAIN,
    '--home',
    home,
    'practice',
    '--start',
    '60',
    '--goal',
    '63',
    '--output',
    'silent',
  ]
  const pty = spawn(process.execPath, args, { cols: 80, rows: 24 })
  let wanted = null
  pty.onData(data => {
    if (wanted?.test(data)) wanted.done(performance.now())
  })
  const until = test => new Promise(done => (wanted = { test, done }))
  const shown = (await until(d => d.includes('either pedal'))) - start
  return { pty, shown, until }
}
const first = []
const press = []
let rss = 0
for (let i = 0; i < RUNS; i++) {
  const { pty, shown, until } = await sit()
  first.push(shown)
  await pause(300)
  const at = performance.now()
  const answered = until(d => d.length > 0)
  pty.write(RIGHT)
  press.push((await answered) - at)
  rss = Math.max(
    rss,
    Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pty.pid}/status`, 'utf8'))?.[1] ?? 0),
  )
  pty.kill('SIGKILL')
  await pause(100)
}
rmSync(home, { recursive: true, force: true })
line('practice, first screen', middle(first), bare)
line('a press, to the changed screen', middle(press))
console.log(`memory of the screen process, most seen: ${Math.round(rss / 1024)} MB`)
