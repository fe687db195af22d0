import ladders from '../../presets/ladders.json'
import rhythms from '../../presets/rhythms.json'
import warmUps from '../../presets/warm-ups.json'
import type { Visit } from '../ladder/history.ts'
import { type Climb, DEFAULT_RULES, dayStartText, slipsText, type Up, upText } from '../ladder/rules.ts'
import { type RungStep, stepText } from '../ladder/rungs.ts'
import {
  attemptLater,
  checked,
  given,
  ok,
  printable,
  problem,
  type Result,
  sentence,
  wrong,
} from '../music/result.ts'
import { parseRhythm, type Rhythm } from '../music/rhythm.ts'
import { typed } from '../music/tempo.ts'
import type { Home } from '../store/home.ts'
import { readPresets, storePreset } from '../store/presets.ts'
import {
  lastTempo,
  marksBetween,
  movedBy,
  type Remembered,
  temposOf,
  warmedUp,
} from '../warm-up/exercises.ts'
import { checkPreset, type LadderPreset, type Preset, rhythmOf, type WarmUp } from '../warm-up/preset.ts'
import type { Context, Outcome } from './context.ts'
import { readInput } from './input-file.ts'
import { isBuiltInText, presetUnread, presetUnused } from './words.ts'

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
const parsePreset = (text: string): Result<Preset> => {
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

const isBuiltIn = (name: string): boolean => builtIn().all.some(p => p.preset.name === name)

const plain = (from: Presets): readonly Preset[] => from.all.map(p => p.preset)

const byName = <P extends { readonly name: string }>(
  of: readonly P[],
  name: string | undefined,
  field: string,
): Result<P> => {
  const found = name === undefined ? of[0] : of.find(p => p.name === name)
  return found ? ok(found) : problem(field, name ?? '', of.map(p => p.name).join(', '))
}

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
  ...given({ dayStart: p.dayStart }),
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

const KIND = { 'warm-up': 'warm-up', ladder: 'ladder rules', rhythm: 'rhythm' } as const

/** Stores a preset that was checked; the file is also what is handed on. */
const keepPreset = async (ctx: Context, preset: Preset, replace = false): Promise<Result<Outcome>> => {
  const { name, kind } = preset
  if (isBuiltIn(name)) return wrong(isBuiltInText(name))
  const done = await storePreset(ctx.home, name, `${JSON.stringify(preset, null, 2)}\n`, replace)
  if (!done.ok) return wrong(done.message)
  const path = done.value
  return ok({
    lines: [`${name} (${KIND[kind]}) is saved. To share it, send this file: ${printable(path)}`],
    json: { name, kind, path },
  })
}

const MOST = 200_000

/** A preset that somebody shared. */
export const addPreset = async (ctx: Context, file: string, replace?: boolean): Promise<Result<Outcome>> => {
  const bytes = await readInput(file, MOST)
  const preset = bytes.ok ? parsePreset(new TextDecoder().decode(bytes.value)) : bytes
  return preset.ok ? keepPreset(ctx, preset.value, replace) : preset
}

/** A warm-up with the tempos at which it was last played. */
const asPlayed = (preset: Preset, all: readonly Remembered[]): Preset =>
  preset.kind !== 'warm-up'
    ? preset
    : {
        ...preset,
        items: preset.items.map(i => {
          const tempos = temposOf(i)
          const last = lastTempo(all, { warmUp: preset.name, item: i.name, key: null })
          const by = last && tempos[0] ? marksBetween(tempos[0], last) : 0
          return { ...i, tempos: tempos.map(x => typed(movedBy(x, by))) }
        }),
      }

/** A copy of a preset as it is played now, under a new name. */
export const copyPreset = (
  ctx: Context,
  visits: readonly Visit[],
  name: string,
  from: string,
  o: { readonly words?: string; readonly replace?: boolean } = {},
): Promise<Result<Outcome>> =>
  attemptLater(async need => {
    const preset = need(byName(plain(await presetsOf(ctx.home)), from, 'preset'))
    const copy = asPlayed(preset, warmedUp(visits))
    const words = o.words === undefined ? {} : { [copy.kind === 'warm-up' ? 'title' : 'words']: o.words }
    const made = need(checkPreset({ ...copy, ...words, name }))
    return need(await keepPreset(ctx, made, o.replace))
  })

/** The rules of a ladder, under a name. */
export const saveRules = async (
  ctx: Context,
  name: string,
  o: {
    readonly step: RungStep | undefined
    readonly up: Up | undefined
    readonly slips: number | undefined
    readonly dayStart: number | undefined
    readonly words?: string
    readonly replace?: boolean
  },
): Promise<Result<Outcome>> => {
  const step = stepText(o.step ?? { kind: 'notch' })
  const clean = upText(o.up ?? DEFAULT_RULES.up)
  const slips = o.slips ?? DEFAULT_RULES.slips
  const words = o.words ?? `${step}, ${clean}, ${slips === 0 ? 'never down' : `down after ${slips} slips`}`
  if (words.trim() === '') return problem('words', '', 'a few words on these rules')
  const dayStart = o.dayStart === undefined ? undefined : dayStartText(o.dayStart)
  const made = checkPreset({ v: 1, kind: 'ladder', name, words, step, clean, slips, ...given({ dayStart }) })
  return made.ok ? keepPreset(ctx, made.value, o.replace) : made
}

/** A warm-up from its screen, as it was last played, under a new name; resolves with what to say, and where it is. */
export const saveAs = async (
  ctx: Context,
  visits: readonly Visit[],
  name: string,
  from: string,
): Promise<string> => {
  const done = await copyPreset(ctx, visits, name, from)
  return done.ok ? (done.value.lines?.join(' ') ?? '') : sentence(done.problem)
}
