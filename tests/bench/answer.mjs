// From a pressed pedal to the first click and to silence, through the whole program and each output, and what screen and
// player cost while it clicks. node tests/bench/answer.mjs [--times 9] [--seconds 20]; run after `npm run build`.
// Needs pulseaudio, pactl, parec. The recording is exact to about 5 ms.
import { mkdirSync, rmSync } from 'node:fs'
import { loadavg } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { parseArgs } from 'node:util'
import { build } from 'esbuild'

const options = { times: { type: 'string', default: '9' }, seconds: { type: 'string', default: '20' } }
const o = parseArgs({ options }).values
// Beside the packages that it loads.
const folder = join(import.meta.dirname, '../../dist/bench')
mkdirSync(folder, { recursive: true })
const outfile = join(folder, 'answer.mjs')
try {
  await build({
    entryPoints: [join(import.meta.dirname, 'answer.ts')],
    bundle: true,
    platform: 'node',
    target: 'node20',
    format: 'esm',
    outfile,
    external: ['@lydell/node-pty'],
    logLevel: 'warning',
  })
  console.log(`Node ${process.version}, load ${loadavg()[0].toFixed(1)}`)
  const { answers } = await import(pathToFileURL(outfile))
  await answers(join(import.meta.dirname, '../../dist/main.js'), Number(o.times), Number(o.seconds))
  console.log(`load at the end ${loadavg()[0].toFixed(1)}`)
} finally {
  rmSync(folder, { recursive: true, force: true })
}
process.exit(0)
