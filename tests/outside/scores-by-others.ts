import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { readScore } from '../../src/score/read-score.ts'
import type { Score } from '../../src/score/score.ts'
import { must } from '../score/scores.ts'

/** Scores by others; what they are, and under which license, stands beside them. */
const SCORES = new URL('./scores/', import.meta.url)

const listed = (folder: string, which: RegExp): readonly string[] => {
  const at = new URL(`${folder}/`, SCORES)
  return existsSync(at) ? readdirSync(at).filter(n => which.test(n)) : []
}

export const openscore = listed('openscore', /\.mxl$/)
export const suite = listed('musicxml-suite', /\.(xml|musicxml|mxl)$/)
const scorePath = (folder: 'openscore' | 'musicxml-suite', name: string): string =>
  new URL(`${folder}/${name}`, SCORES).pathname
export const scoreBytes = (folder: 'openscore' | 'musicxml-suite', name: string): Uint8Array =>
  readFileSync(scorePath(folder, name))

const read = new Map<string, Score>()
/** A score of OpenScore as it is read here, once for all who ask: it takes a second. */
export const openScore = (name: string): Score => {
  const score = read.get(name) ?? must(readScore(scoreBytes('openscore', name), name))
  read.set(name, score)
  return score
}
