/** What `run.mjs` measures, bundled on the fly: programs, samples and files of the click. */
import { closeSync, openSync, writeSync } from 'node:fs'
import { compile } from '../../src/click/compile.ts'
import type { Placed, Program } from '../../src/click/program.ts'
import { renderer } from '../../src/click/render.ts'
import { DEFAULT_LEVELS } from '../../src/click/voices.ts'
import { wavOf } from '../../src/files/wav.ts'
import { plainForm } from '../../src/music/form.ts'
import { frac } from '../../src/music/fraction.ts'
import { tempo } from '../../src/music/tempo.ts'

export const RATE = 48_000
const FOUR = { groups: [1, 1, 1, 1], unit: frac(1, 4) }

/** About so many seconds of 4/4, in whole measures. */
export const clicks = (bpm: number, subdivide: number, seconds: number): Program => {
  const t = tempo(bpm)
  const measures = Math.round((seconds * bpm) / 240)
  return compile(plainForm(FOUR, measures, t), t, { countIn: 0, subdivide, rate: RATE })
}

const alone = (program: Program): readonly Placed[] => [{ id: 1, at: 0, program }]

/** Renders all of it into one block that is used again and again, as the sound process does. */
export const inBlocks = (program: Program, channels: 1 | 2, block: number): void => {
  const render = renderer(RATE, DEFAULT_LEVELS, channels)
  const out = new Int16Array(block * channels)
  const timeline = alone(program)
  for (let from = 0; from < program.frames; from += block) render(timeline, from, out)
}

const fileOf = (program: Program, channels: 1 | 2) => {
  const r = wavOf(alone(program), { rate: RATE, channels, levels: DEFAULT_LEVELS })
  if (!r.ok) throw new RangeError(r.problem.got)
  return r.value
}

/** The bytes of a sound file, made and dropped. */
export const inMemory = (program: Program, channels: 1 | 2): number => {
  let bytes = 0
  for (const chunk of fileOf(program, channels).chunks()) bytes += chunk.length
  return bytes
}

/** A sound file, written. */
export const toFile = (program: Program, channels: 1 | 2, path: string): void => {
  const file = openSync(path, 'w')
  try {
    for (const chunk of fileOf(program, channels).chunks()) writeSync(file, chunk)
  } finally {
    closeSync(file)
  }
}

/** Samples that another tool has made, as they are, behind 44 bytes for a header. */
export const samplesToFile = (samples: Int16Array, _channels: 1 | 2, path: string): void => {
  const file = openSync(path, 'w')
  try {
    writeSync(file, Buffer.alloc(44))
    writeSync(file, Buffer.from(samples.buffer))
  } finally {
    closeSync(file)
  }
}
