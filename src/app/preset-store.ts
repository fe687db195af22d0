import { DEFAULT_RULES, dayStartText, type Up, upText } from '../ladder/rules.ts'
import { type RungStep, stepText } from '../ladder/rungs.ts'
import { attemptLater, ok, printable, problem, type Result, sentence, wrong } from '../music/result.ts'
import { typed } from '../music/tempo.ts'
import { storePreset } from '../store/presets.ts'
import { lastTempo, marksBetween, movedBy, type Remembered, warmedUp } from '../warm-up/exercise.ts'
import { temposOf } from '../warm-up/exercises.ts'
import { checkPreset, type Preset } from '../warm-up/preset.ts'
import type { Context, Outcome } from './context.ts'
import type { Practiced } from './now.ts'
import { isBuiltIn, parsePreset, presetNamed, presetsOf } from './presets.ts'
import { readInput } from './read-input.ts'
import { isBuiltInText } from './words.ts'

const KIND = { 'warm-up': 'warm-up', ladder: 'ladder rules', rhythm: 'rhythm' } as const

/** Stores a preset that was checked; the file is also what is handed on. */
const keepPreset = async (ctx: Context, preset: Preset, replace: boolean): Promise<Result<Outcome>> => {
  if (isBuiltIn(preset.name)) return wrong(isBuiltInText(preset.name))
  const done = await storePreset(ctx.home, preset.name, `${JSON.stringify(preset, null, 2)}\n`, replace)
  if (!done.ok) return wrong(done.message)
  return ok({
    lines: [
      `${preset.name} (${KIND[preset.kind]}) is saved. To share it, send this file: ${printable(done.value)}`,
    ],
    json: { name: preset.name, kind: preset.kind, path: done.value },
  })
}

const MOST = 200_000

/** A preset that somebody shared. */
export const addPreset = async (ctx: Context, file: string, replace: boolean): Promise<Result<Outcome>> => {
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
  visits: Practiced['visits'],
  name: string,
  from: string,
  o: { readonly words?: string; readonly replace?: boolean } = {},
): Promise<Result<Outcome>> =>
  attemptLater(async need => {
    const preset = need(presetNamed(await presetsOf(ctx.home), from))
    const copy = asPlayed(preset, warmedUp(visits))
    const words = o.words === undefined ? {} : { [copy.kind === 'warm-up' ? 'title' : 'words']: o.words }
    const made = need(checkPreset({ ...copy, ...words, name }))
    return need(await keepPreset(ctx, made, o.replace === true))
  })

/** The rules of a ladder, under a name. */
export const saveRules = async (
  ctx: Context,
  name: string,
  o: {
    readonly step?: RungStep
    readonly up?: Up
    readonly slips?: number
    readonly dayStart?: number
    readonly words?: string
    readonly replace?: boolean
  },
): Promise<Result<Outcome>> => {
  const step = stepText(o.step ?? { kind: 'notch' })
  const clean = upText(o.up ?? DEFAULT_RULES.up)
  const slips = o.slips ?? DEFAULT_RULES.slips
  const words = o.words ?? `${step}, ${clean}, ${slips === 0 ? 'never down' : `down after ${slips} slips`}`
  if (words.trim() === '') return problem('words', '', 'a few words on these rules')
  const made = checkPreset({
    v: 1,
    kind: 'ladder',
    name,
    words,
    step,
    clean,
    slips,
    ...(o.dayStart === undefined ? {} : { dayStart: dayStartText(o.dayStart) }),
  })
  return made.ok ? keepPreset(ctx, made.value, o.replace === true) : made
}

/** A warm-up from its screen, as it was last played, under a new name; resolves with what to say, and where it is. */
export const saveAs = async (
  ctx: Context,
  visits: Practiced['visits'],
  name: string,
  from: string,
): Promise<string> => {
  const done = await copyPreset(ctx, visits, name, from)
  return done.ok ? (done.value.lines?.join(' ') ?? '') : sentence(done.problem)
}
