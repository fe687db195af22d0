import { existsSync, readdirSync, readFileSync } from 'node:fs'

/** Scores by others; what they are, and under which license, stands beside them. */
const SCORES = new URL('./scores/', import.meta.url)

const listed = (folder: string, which: RegExp): readonly string[] => {
  const at = new URL(`${folder}/`, SCORES)
  return existsSync(at) ? readdirSync(at).filter(n => which.test(n)) : []
}

export const openscore = listed('openscore', /\.mxl$/)
const scorePath = (folder: 'openscore' | 'musicxml-suite', name: string): string =>
  new URL(`${folder}/${name}`, SCORES).pathname
export const scoreBytes = (folder: 'openscore' | 'musicxml-suite', name: string): Uint8Array =>
  readFileSync(scorePath(folder, name))
