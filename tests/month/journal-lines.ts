import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Home } from '../../src/store/home.ts'
import type { Sitting } from './count.ts'

/** The journal read by eye: lines of JSON, and nothing of the program that wrote them. */

type Line = {
  readonly id: string
  readonly visit: string
  readonly time: string
  readonly k: string
  readonly key?: string
  readonly tempo?: { readonly bpm: { readonly n: number; readonly d: number } }
  readonly clean?: boolean
  readonly whole?: boolean
  readonly of?: string
}

const linesOf = (home: Home): readonly Line[] => {
  const folder = join(home.data, 'journal')
  const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter(f => f.endsWith('.jsonl'))
  const lines = files.flatMap(f => readFileSync(join(folder, f), 'utf8').split('\n'))
  return lines.filter(l => l.trim() !== '').map(l => JSON.parse(l) as Line)
}

const repetition = (tempo: number, clean: boolean, whole: boolean): string =>
  `${tempo} ${clean ? 'clean' : whole ? 'not clean' : 'stopped'}`

/** All verdicts that were not taken back, visit by visit in the order of time. */
export const inTheJournal = (home: Home): readonly string[] => {
  const all = linesOf(home)
  const taken = new Set(all.flatMap(l => (l.k === 'takeBack' && l.of ? [l.of] : [])))
  const visits = all.filter(l => l.k === 'visit').sort((a, b) => (a.time < b.time ? -1 : 1))
  return visits.flatMap(v => {
    const verdicts = all
      .filter(l => l.k === 'verdict' && l.visit === v.visit && !taken.has(l.id))
      .sort((a, b) => (a.id < b.id ? -1 : 1))
      .map(l => repetition((l.tempo?.bpm.n ?? 0) / (l.tempo?.bpm.d ?? 1), l.clean === true, l.whole === true))
    return verdicts.length > 0 ? [`${v.key}: ${verdicts.join(', ')}`] : []
  })
}

/** The same from what the player remembers. */
export const remembered = (sittings: readonly Sitting[]): readonly string[] =>
  sittings.map(s => `${s.key}: ${s.reps.map(r => repetition(r.tempo, r.clean, !r.stopped)).join(', ')}`)
