// From a pressed pedal to the first click and to silence, through the whole program and each output, and what screen and
// player cost while it clicks. node tests/bench/answer.mjs [--times 9] [--seconds 20]; run after `npm run build`.
// Needs pulseaudio, pactl, parec. The recording is exact to about 5 ms.
import { loadavg } from 'node:os'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { withBundle } from './bundled.mjs'

const options = { times: { type: 'string', default: '9' }, seconds: { type: 'string', default: '20' } }
const o = parseArgs({ options }).values
await withBundle(
  'answer.ts',
  async ({ load }) => {
    console.log(`Node ${process.version}, load ${loadavg()[0].toFixed(1)}`)
    const { answers } = await load()
    await answers(join(import.meta.dirname, '../../dist/main.js'), Number(o.times), Number(o.seconds))
    console.log(`load at the end ${loadavg()[0].toFixed(1)}`)
  },
  { near: true, external: ['@lydell/node-pty'] },
)
process.exit(0)
