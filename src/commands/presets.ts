import ladders from '../../presets/ladders.json'
import rhythms from '../../presets/rhythms.json'
import warmUps from '../../presets/warm-ups.json'
import { checkPreset, type LadderPreset, type Preset, rhythmOf, type WarmUp } from '../exchange/preset.ts'
import { ok, printable, problem, type Result, sentence } from '../music/result.ts'
import { parseRhythm, type Rhythm } from '../music/rhythm.ts'
import type { Home } from '../store/home.ts'
import { readPresets } from '../store/presets.ts'
import { must } from './context.ts'

/** The presets that come with the program, checked like any other. */
const builtIn = (): readonly Preset[] => [...warmUps, ...ladders, ...rhythms].map(p => must(checkPreset(p)))

/** The player's own, once they were loaded. */
let own: readonly Preset[] = []

/** A preset from the text of a file. */
export const parsePreset = (text: string): Result<Preset> => {
  try {
    return checkPreset(JSON.parse(text))
  } catch {
    return problem('preset', text.slice(0, 40), 'a preset written as JSON')
  }
}

/**
 * From now on the player's own presets are found by name too. Returns a sentence for each file that is none. Throws
 * StoreError when their folder cannot be read.
 */
export const loadPresets = async (home: Home): Promise<readonly string[]> => {
  const read = (await readPresets(home)).map(({ path, text }) => ({ path, preset: parsePreset(text) }))
  own = read.flatMap(r => (r.preset.ok ? [r.preset.value] : []))
  return read.flatMap(r =>
    r.preset.ok ? [] : [`${printable(r.path)} is not used; ${sentence(r.preset.problem)}`],
  )
}

export const isBuiltIn = (name: string): boolean => builtIn().some(p => p.name === name)

/** All presets with their words; the player's own last. */
export const allPresets = (): readonly { readonly preset: Preset; readonly own: boolean }[] => [
  ...builtIn().map(preset => ({ preset, own: false })),
  ...own.map(preset => ({ preset, own: true })),
]

const all = (): readonly Preset[] => allPresets().map(p => p.preset)

const byName = <P extends { readonly name: string }>(
  of: readonly P[],
  name: string | undefined,
  field: string,
): Result<P> => {
  const found = name === undefined ? of[0] : of.find(p => p.name === name)
  return found ? ok(found) : problem(field, name ?? '', of.map(p => p.name).join(', '))
}

/** Any preset by its name. */
export const presetNamed = (name: string): Preset => must(byName(all(), name, 'preset'))

/** By name; the first one where none is named. Throws Stop with the names that exist. */
export const warmUpNamed = (name: string | undefined): WarmUp =>
  must(
    byName(
      all().filter(p => p.kind === 'warm-up'),
      name,
      'warm-up',
    ),
  )

export const ladderNamed = (name: string): LadderPreset =>
  must(
    byName(
      all().filter(p => p.kind === 'ladder'),
      name,
      'rules',
    ),
  )

const rhythmPresets = () => all().filter(p => p.kind === 'rhythm')

/** By name, or by its ratios ("3:1"). Throws Stop with the names that exist. */
export const rhythmNamed = (name: string): Rhythm =>
  /^\d/.test(name) ? must(parseRhythm(name)) : rhythmOf(must(byName(rhythmPresets(), name, 'rhythm')))

/** The minimum sets: each link between two notes is quick in at least one of them. */
export const usualRhythms = (): readonly Rhythm[] =>
  rhythmPresets()
    .filter(p => p.usual)
    .map(rhythmOf)
