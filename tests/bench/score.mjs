// npm run bench -- score [measures] [parts]: processor time and memory of reading one part of a long score, beside a
// general reader of MusicXML (npm musicxml-io). Each runs in a process of its own, three times; the median counts.
import { spawnSync } from 'node:child_process'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { withBundle } from './bundled.mjs'

const TIMES = Number(process.env.TIMES ?? 3)
const [, , first = '', ...more] = process.argv

const measured = async (bundle, what, measures, parts) => {
  const { importFrom, longScore, must, parseAuto, readScore } = await import(pathToFileURL(bundle))
  const bytes = new TextEncoder().encode(longScore(measures, parts))
  const before = process.cpuUsage()
  let n = 0
  if (what === 'general') parseAuto(bytes)
  else if (what === 'ours') {
    const score = must(readScore(bytes, 'weir.musicxml'))
    must(importFrom(score, 'weir.musicxml', { part: 'P2', hard: true }, () => `id${1000 + n++}`))
  }
  const { user, system } = process.cpuUsage(before)
  // Peak of the whole process, in kilobytes.
  console.log(
    JSON.stringify({
      seconds: (user + system) / 1e6,
      mb: process.resourceUsage().maxRSS / 1024,
      bytes: bytes.length,
    }),
  )
}

if (first === 'one') await measured(more[0], more[1], Number(more[2]), Number(more[3]))
else {
  const [measures = 3000, parts = 4] = more.map(Number)
  await withBundle('score.ts', async ({ path }) => {
    for (const what of ['nothing', 'ours', 'general']) {
      const runs = Array.from({ length: TIMES }, () => {
        const args = [fileURLToPath(import.meta.url), 'one', path, what, measures, parts].map(String)
        return JSON.parse(
          spawnSync(process.execPath, args, { encoding: 'utf8', stdio: ['ignore', 'pipe', 'inherit'] })
            .stdout,
        )
      }).sort((a, b) => a.seconds - b.seconds)
      const { seconds, mb, bytes } = runs[TIMES >> 1]
      console.log(
        `${what.padEnd(8)} ${measures} measures, ${parts} parts, ${(bytes / 1e6).toFixed(1)} MB: ${seconds.toFixed(2)} s of processor time, ${Math.round(mb)} MB at most`,
      )
    }
  })
}
