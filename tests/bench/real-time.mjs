// How exact the click is in real time: each output plays into a null sink of its own, all at the same time; the sink is
// recorded and every interval between two clicks is compared with the one that was asked for. A plain timer beside them.
//   node tests/bench/real-time.mjs [--minutes 10] [--outputs naudiodon,audio-io,pacat,aplay,speaker,timer]
//                                  [--depth usual|deep] [--busy 2]
// --busy: so many busy loops beside it. Needs pulseaudio, pactl, parec; run after `npm run build`.
import { spawn } from 'node:child_process'
import { loadavg } from 'node:os'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { withBundle } from './bundled.mjs'

const ALL = 'naudiodon,audio-io,pacat,aplay,speaker,timer'
const text = def => ({ type: 'string', default: def })
const options = { minutes: text('10'), outputs: text(ALL), depth: text('usual'), busy: text('0') }
const o = parseArgs({ options }).values

const player = join(import.meta.dirname, '../../dist/player.js')
const loops = Array.from({ length: Number(o.busy) }, () => spawn(process.execPath, ['-e', 'for(;;);']))
const one = bundle => what =>
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
  await withBundle('real-time.ts', async ({ path }) => {
    for (const row of await Promise.all(o.outputs.split(',').map(one(path)))) console.log(row)
  })
} finally {
  for (const l of loops) l.kill('SIGKILL')
}
console.log(`load at the end ${loadavg()[0].toFixed(1)}`)
