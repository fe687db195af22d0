// How exact the click is in real time: each output plays into a null sink of its own, all at the same time; the sink is
// recorded and every interval between two clicks is compared with the one that was asked for. A plain timer beside them.
//   node tests/bench/real-time.mjs [--minutes 10] [--outputs naudiodon,audio-io,pacat,aplay,speaker,timer]
//                                  [--depth usual|deep] [--busy 2]
// --busy: so many busy loops beside it. Needs pulseaudio, pactl, parec; run after `npm run build`.
import { spawn } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { loadavg, tmpdir } from 'node:os'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { build } from 'esbuild'

const ALL = 'naudiodon,audio-io,pacat,aplay,speaker,timer'
const text = def => ({ type: 'string', default: def })
const options = { minutes: text('10'), outputs: text(ALL), depth: text('usual'), busy: text('0') }
const o = parseArgs({ options }).values

const folder = mkdtempSync(join(tmpdir(), 'gradino-bench-'))
const bundle = join(folder, 'real-time.mjs')
await build({
  entryPoints: [join(import.meta.dirname, 'real-time.ts')],
  bundle: true,
  platform: 'node',
  target: 'node20',
  format: 'esm',
  outfile: bundle,
  logLevel: 'warning',
})
const player = join(import.meta.dirname, '../../dist/player.js')
const loops = Array.from({ length: Number(o.busy) }, () => spawn(process.execPath, ['-e', 'for(;;);']))
const one = what =>
  new Promise(done => {
    const child = spawn(process.execPath, [bundle, what, o.minutes, o.depth, player], {
      stdio: ['ignore', 'pipe', 'inherit'],
    })
    let said = ''
    child.stdout.on('data', d => (said += d))
    child.on('close', () => done(said.trim()))
  })

console.log(
  `Node ${process.version}, ${o.minutes} minutes, ${o.busy} busy loops, load ${loadavg()[0].toFixed(1)}`,
)
try {
  for (const row of await Promise.all(o.outputs.split(',').map(one))) console.log(row)
} finally {
  for (const l of loops) l.kill('SIGKILL')
  rmSync(folder, { recursive: true, force: true })
}
console.log(`load at the end ${loadavg()[0].toFixed(1)}`)
