import ladders from '../../presets/ladders.json'
import rhythms from '../../presets/rhythms.json'
import warmUps from '../../presets/warm-ups.json'
import { checkPreset, type LadderPreset, type Preset, rhythmOf, type WarmUp } from '../exchange/preset.ts'
import { problem } from '../music/result.ts'
import { parseRhythm, type Rhythm } from '../music/rhythm.ts'
import { must } from './context.ts'

/** The presets that come with the program, checked like any other. */
const all = (): readonly Preset[] => [...warmUps, ...ladders, ...rhythms].map(p => must(checkPreset(p)))

const byName = <P extends { readonly name: string }>(
  of: readonly P[],
  name: string | undefined,
  field: string,
): P => {
  const found = name === undefined ? of[0] : of.find(p => p.name === name)
  return found ?? must(problem(field, name ?? '', of.map(p => p.name).join(', ')))
}

/** By name; the first one where none is named. Throws Stop with the names that exist. */
export const warmUpNamed = (name: string | undefined): WarmUp =>
  byName(
    all().filter(p => p.kind === 'warm-up'),
    name,
    'warm-up',
  )

export const ladderNamed = (name: string): LadderPreset =>
  byName(
    all().filter(p => p.kind === 'ladder'),
    name,
    'rules',
  )

const rhythmPresets = () => all().filter(p => p.kind === 'rhythm')

/** By name, or by its ratios ("3:1"). Throws Stop with the names that exist. */
export const rhythmNamed = (name: string): Rhythm =>
  /^\d/.test(name) ? must(parseRhythm(name)) : rhythmOf(byName(rhythmPresets(), name, 'rhythm'))

/** The minimum sets: each link between two notes is quick in at least one of them. */
export const usualRhythms = (): readonly Rhythm[] =>
  rhythmPresets()
    .filter(p => p.usual)
    .map(rhythmOf)
