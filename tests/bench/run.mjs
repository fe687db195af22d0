// npm run bench: how fast onsets are compiled and sound is rendered, as a ratio to the music's own length, side by side
// with a general audio tool (sox) making a click track of the same length in the same run, where that is installed.
import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { build } from 'esbuild'

const SECONDS = 600
const RUNS = 9
const folder = mkdtempSync(join(tmpdir(), 'gradino-bench-'))

/** Fastest of some runs, in milliseconds: what the machine does when nothing else takes its time. */
const fastest = run => {
  const times = Array.from({ length: RUNS }, () => {
    const start = performance.now()
    run()
    return performance.now() - start
  })
  return Math.min(...times)
}
const line = (what, ms, seconds) =>
  console.log(
    `${what.padEnd(74)}${ms.toFixed(1).padStart(9)} ms${Math.round(seconds / (ms / 1000))
      .toLocaleString('en-US')
      .padStart(11)} x`,
  )

/** One beat of a short sine and silence, repeated: the fastest way in which sox makes a click track. */
const sox = (period, channels, path) => {
  const times = Math.round(SECONDS / period) - 1
  const effects = `synth 0.01 sine 1000 vol 0.25 pad 0 ${period - 0.01} repeat ${times}`
  const { status, error, stderr } = spawnSync(
    'sox',
    ['-D', '-n', '-r', '48000', '-b', '16', '-c', String(channels), path, ...effects.split(' ')],
    { encoding: 'utf8' },
  )
  if (error) return false
  if (status !== 0) throw new Error(stderr)
  return true
}

try {
  const bundle = join(folder, 'click.mjs')
  await build({
    entryPoints: [new URL('click.ts', import.meta.url).pathname],
    bundle: true,
    platform: 'node',
    target: 'node20',
    format: 'esm',
    outfile: bundle,
    logLevel: 'warning',
  })
  const { clicks, inBlocks, inMemory, toFile, RATE } = await import(pathToFileURL(bundle))
  const path = join(folder, 'click.wav')
  const tracks = [
    { name: '120', bpm: 120, subdivide: 1 },
    { name: '208 with 4 subdivisions', bpm: 208, subdivide: 4 },
  ]

  console.log(`Node ${process.version}, ${SECONDS / 60} minutes of 4/4, fastest of ${RUNS} runs\n`)
  for (const { name, bpm, subdivide } of tracks) {
    const program = clicks(bpm, subdivide, SECONDS)
    const seconds = program.frames / RATE
    line(
      `${name}: onsets compiled (${program.onsets.length})`,
      fastest(() => clicks(bpm, subdivide, SECONDS)),
      seconds,
    )
    line(
      `${name}: stereo, blocks of 480 frames (the sound process)`,
      fastest(() => inBlocks(program, 2, 480)),
      seconds,
    )
    for (const channels of [1, 2]) {
      const side = channels === 1 ? 'mono' : 'stereo'
      line(
        `${name}: ${side}, in memory`,
        fastest(() => inMemory(program, channels)),
        seconds,
      )
      line(
        `${name}: ${side}, to a file`,
        fastest(() => toFile(program, channels, path)),
        seconds,
      )
      const period = 60 / bpm / subdivide
      if (sox(period, channels, path))
        line(
          `${name}: ${side}, to a file, by sox`,
          fastest(() => sox(period, channels, path)),
          seconds,
        )
      else console.log(`${name}: ${side}, by sox: not installed`)
    }
    console.log()
  }
} finally {
  rmSync(folder, { recursive: true })
}

await import('./journal.mjs')
