import { spawnSync } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

export const MAIN = fileURLToPath(new URL('../../dist/main.js', import.meta.url))

type Said = { readonly status: number | null; readonly out: string; readonly err: string }

/** Runs the bundle in a folder, as a player without a terminal does, with a home inside that folder. */
export const gradino = (folder: string, args: readonly string[], env: NodeJS.ProcessEnv = {}): Said => {
  const { status, stdout, stderr } = spawnSync(process.execPath, [MAIN, ...args], {
    cwd: folder,
    env: { ...process.env, NODE_ENV: undefined, GRADINO_HOME: join(folder, 'home'), ...env },
    encoding: 'utf8',
    timeout: 30_000,
  })
  return { status, out: stdout, err: stderr }
}

/** One row of a table of onsets. */
export type Row = {
  readonly frame: number
  readonly seconds: number
  readonly role: string
  readonly measure: number
  readonly beat: number
}

const nodeWav = createRequire(import.meta.url)('node-wav') as {
  decode: (b: Buffer) => { sampleRate: number; channelData: readonly Float32Array[] }
}

/** First samples of the sounds in a WAV file, as npm node-wav reads it: louder than 10 in 32768 after 30 ms below that. */
export const soundsIn = (file: string): { rate: number; frames: number; starts: number[] } => {
  const { sampleRate, channelData } = nodeWav.decode(readFileSync(file))
  const samples = channelData[0] ?? new Float32Array()
  const silence = 0.03 * sampleRate
  const starts: number[] = []
  let quiet = silence
  samples.forEach((s, i) => {
    if (Math.abs(s) <= 10 / 32768) quiet++
    else {
      if (quiet >= silence) starts.push(i)
      quiet = 0
    }
  })
  return { rate: sampleRate, frames: samples.length, starts }
}
