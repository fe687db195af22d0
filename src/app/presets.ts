import ladders from '../../presets/ladders.json'
import rhythms from '../../presets/rhythms.json'
import warmUps from '../../presets/warm-ups.json'
import { type Climb, slipsText } from '../ladder/rules.ts'
import { checked, ok, problem, type Result, sentence } from '../music/result.ts'
import { parseRhythm, type Rhythm } from '../music/rhythm.ts'
import type { Home } from '../store/home.ts'
import { readPresets } from '../store/presets.ts'
import { checkPreset, type LadderPreset, type Preset, rhythmOf, type WarmUp } from '../warm-up/preset.ts'
import { presetUnread, presetUnused } from './words.ts'

/** Presets with their words, the player's own last, and a sentence for each file of theirs that is none. */
export type Presets = {
  readonly all: readonly { readonly preset: Preset; readonly own: boolean }[]
  readonly notes: readonly string[]
}

/** The presets that come with the program, checked like any other. */
export const builtIn = (): Presets => ({
  all: [...warmUps, ...ladders, ...rhythms].map(p => ({ preset: checked(checkPreset(p)), own: false })),
  notes: [],
})

/** A preset from the text of a file. */
export const parsePreset = (text: string): Result<Preset> => {
  try {
    return checkPreset(JSON.parse(text))
  } catch {
    return problem('preset', text.slice(0, 40), 'a preset written as JSON')
  }
}

/** Those of the program and the player's own. Throws StoreError when their folder cannot be read. */
export const presetsOf = async (home: Home): Promise<Presets> => {
  const read = (await readPresets(home)).map(p => ({ ...p, preset: parsePreset(p.text) }))
  const own = read.flatMap(r => (r.preset.ok ? [{ preset: r.preset.value, own: true }] : []))
  return {
    all: [...builtIn().all, ...own],
    notes: read.flatMap(r =>
      r.preset.ok ? [] : [r.why ? presetUnread(r.why) : presetUnused(r.path, sentence(r.preset.problem))],
    ),
  }
}

export const isBuiltIn = (name: string): boolean => builtIn().all.some(p => p.preset.name === name)

const plain = (from: Presets): readonly Preset[] => from.all.map(p => p.preset)

const byName = <P extends { readonly name: string }>(
  of: readonly P[],
  name: string | undefined,
  field: string,
): Result<P> => {
  const found = name === undefined ? of[0] : of.find(p => p.name === name)
  return found ? ok(found) : problem(field, name ?? '', of.map(p => p.name).join(', '))
}

/** Any preset by its name. */
export const presetNamed = (from: Presets, name: string): Result<Preset> =>
  byName(plain(from), name, 'preset')

/** By name; the first one where none is named. */
export const warmUpNamed = (from: Presets, name: string | undefined): Result<WarmUp> =>
  byName(
    plain(from).filter(p => p.kind === 'warm-up'),
    name,
    'warm-up',
  )

export const ladderNamed = (from: Presets, name: string): Result<LadderPreset> =>
  byName(
    plain(from).filter(p => p.kind === 'ladder'),
    name,
    'rules',
  )

/** The rules of a ladder's preset as texts. */
export const climbIn = (p: LadderPreset): Climb => ({
  clean: p.clean,
  step: p.step,
  slips: slipsText(p.slips),
  ...(p.dayStart === undefined ? {} : { dayStart: p.dayStart }),
})

const rhythmPresets = (from: Presets) => plain(from).filter(p => p.kind === 'rhythm')

/** By name, or by its ratios ("3:1"). */
export const rhythmNamed =
  (from: Presets) =>
  (name: string): Result<Rhythm> => {
    if (/^\d/.test(name)) return parseRhythm(name)
    const found = byName(rhythmPresets(from), name, 'rhythm')
    return found.ok ? ok(rhythmOf(found.value)) : found
  }

/** The minimum sets: each link between two notes is quick in at least one of them. */
export const usualRhythms = (from: Presets): readonly Rhythm[] =>
  rhythmPresets(from)
    .filter(p => p.usual)
    .map(rhythmOf)
