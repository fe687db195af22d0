// npm run bench: how fast onsets are compiled and sound is rendered, as a ratio to the music's own length, side by side
// with general audio tools making a click track of the same length in the same run, where they are installed: sox, csound,
// and the offline context of node-web-audio-api (npm install --prefix FOLDER node-web-audio-api@1.0.9, then
// GRADINO_WEB_AUDIO=FOLDER npm run bench). --click: without the journal.
import { spawnSync } from 'node:child_process'
import { writeFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'
import { withBundle } from './bundled.mjs'

// npm run bench -- plan: the days of a week, planned and not; outlook: what is said of the days to come.
if (['plan', 'outlook'].includes(process.argv[2])) {
  await import(`./${process.argv[2]}.mjs`)
  process.exit()
}

// npm run bench -- mutants: whether the tests of each room find small wrong changes.
if (process.argv[2] === 'mutants') {
  await import('./mutants.mjs')
  process.exit()
}

// npm run bench -- score: one part of a long score, beside a general reader; xml-readers: general readers of XML;
// scores: what is imported of a folder of scores; hard-places: the weights of the proposals.
if (['score', 'scores', 'xml-readers', 'hard-places'].includes(process.argv[2])) {
  await import(`./${process.argv[2]}.mjs`)
  process.exit()
}

const SECONDS = 600
const RUNS = 9

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

/** A short sine for each beat, without the work of an envelope. */
const csound = (period, channels, path) => {
  const orc = `sr = 48000\nksmps = 480\nnchnls = ${channels}\n0dbfs = 1\ninstr 1\na1 oscils 0.25, 1000, 0\n${
    channels === 2 ? 'outs a1, a1' : 'out a1'
  }\nendin`
  const beats = Math.round(SECONDS / period)
  const sco = Array.from({ length: beats }, (_, i) => `i1 ${i * period} 0.01`).join('\n')
  const csd = `<CsoundSynthesizer>\n<CsInstruments>\n${orc}\n</CsInstruments>\n<CsScore>\n${sco}\nf0 ${SECONDS}\ne\n</CsScore>\n</CsoundSynthesizer>\n`
  const score = join(dirname(path), 'click.csd')
  writeFileSync(score, csd)
  const { status, error, stderr } = spawnSync('csound', ['-d', '-m0', '-W', '-s', '-o', path, score], {
    encoding: 'utf8',
  })
  if (error) return false
  if (status !== 0) throw new Error(stderr)
  return true
}

/** One beat in a buffer that loops, its fastest way (a source for each beat is hundreds of times slower); null = not installed. */
const webAudio = async () => {
  const from = process.env.GRADINO_WEB_AUDIO
  if (!from) return null
  const { OfflineAudioContext } = createRequire(join(from, 'x.js'))('node-web-audio-api')
  return async (period, channels, path, wav) => {
    const context = new OfflineAudioContext(channels, SECONDS * 48_000, 48_000)
    const beat = context.createBuffer(1, Math.round(period * 48_000), 48_000)
    const wave = Float32Array.from(
      { length: 480 },
      (_, i) => 0.25 * Math.sin((2 * Math.PI * 1000 * i) / 48_000),
    )
    beat.copyToChannel(wave, 0)
    const source = context.createBufferSource()
    source.buffer = beat
    source.loop = true
    source.connect(context.destination)
    source.start(0)
    const done = await context.startRendering()
    const all = Array.from({ length: channels }, (_, c) => done.getChannelData(c))
    const out = new Int16Array(done.length * channels)
    for (const [c, data] of all.entries())
      for (let i = 0; i < data.length; i++) out[i * channels + c] = data[i] * 32767
    wav(out, channels, path)
  }
}
const inTurn = async run => {
  let best = Number.POSITIVE_INFINITY
  for (let i = 0; i < 3; i++) {
    const start = performance.now()
    await run()
    best = Math.min(best, performance.now() - start)
  }
  return best
}

await withBundle('click.ts', async ({ folder, load }) => {
  const { clicks, inBlocks, inMemory, toFile, samplesToFile, RATE } = await load()
  const path = join(folder, 'click.wav')
  const web = await webAudio()
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
      if (csound(period, channels, path))
        line(
          `${name}: ${side}, to a file, by csound`,
          await inTurn(() => csound(period, channels, path)),
          seconds,
        )
      else console.log(`${name}: ${side}, by csound: not installed`)
      if (web)
        line(
          `${name}: ${side}, to a file, by an offline audio context`,
          await inTurn(() => web(period, channels, path, samplesToFile)),
          seconds,
        )
      else console.log(`${name}: ${side}, by an offline audio context: not installed`)
    }
    console.log()
  }
})

if (!process.argv.includes('--click')) await import('./journal.mjs')
