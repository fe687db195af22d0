import { wholeNumber } from '../cli/options.ts'
import { DEFAULT_RULES, parseUp, upText } from '../ladder/rules.ts'
import { parseStep, stepText } from '../ladder/rungs.ts'
import { printable, problem } from '../music/result.ts'
import { typed } from '../music/tempo.ts'
import { storePreset } from '../store/presets.ts'
import { lastTempo, marksBetween, movedBy, type Remembered, warmedUp } from '../warm-up/exercise.ts'
import { temposOf } from '../warm-up/exercises.ts'
import { checkPreset, type Preset } from '../warm-up/preset.ts'
import { type Context, must, type Outcome, Stop } from './context.ts'
import { known } from './known.ts'
import { isBuiltIn, parsePreset, presetNamed, presetsOf } from './presets.ts'
import { readInput } from './read-input.ts'

const KIND = { 'warm-up': 'warm-up', ladder: 'rules of a ladder', rhythm: 'rhythm' } as const

/** Stores a preset that was checked; the file is also what is handed on. */
const keepPreset = async (ctx: Context, preset: Preset, replace: boolean): Promise<Outcome> => {
  if (isBuiltIn(preset.name))
    throw new Stop(2, `${preset.name} comes with Gradino; give the preset another name.`)
  const done = await storePreset(ctx.home, preset.name, `${JSON.stringify(preset, null, 2)}\n`, replace)
  if (!done.ok) throw new Stop(2, done.message)
  return {
    lines: [
      `${preset.name} (${KIND[preset.kind]}) is kept; this file can be shared: ${printable(done.value)}`,
    ],
    json: { name: preset.name, kind: preset.kind, path: done.value },
  }
}

const MOST = 200_000

/** A preset that somebody shared. */
export const presetAddCommand = async (
  ctx: Context,
  file: string,
  t: { readonly replace?: boolean },
): Promise<Outcome> => {
  const text = new TextDecoder().decode(await readInput(file, MOST))
  return keepPreset(ctx, must(parsePreset(text)), t.replace === true)
}

export type SaveTyped = {
  readonly from?: string
  readonly step?: string
  readonly clean?: string
  readonly slips?: string
  readonly words?: string
  readonly replace?: boolean
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

/** "Save this as a preset": a copy of another one as it is played now, or the rules of a ladder. */
export const presetSaveCommand = async (ctx: Context, name: string, t: SaveTyped): Promise<Outcome> => {
  const rules = t.step ?? t.clean ?? t.slips
  if ((t.from === undefined) === (rules === undefined))
    throw new Stop(2, 'Say what to save: --from PRESET, or rules of a ladder (--step, --clean, --slips).')
  if (t.from !== undefined) {
    const copy = asPlayed(presetNamed(await presetsOf(ctx.home), t.from), warmedUp((await known(ctx)).visits))
    const words = t.words === undefined ? {} : { [copy.kind === 'warm-up' ? 'title' : 'words']: t.words }
    return keepPreset(ctx, must(checkPreset({ ...copy, ...words, name })), t.replace === true)
  }
  const step = stepText(must(parseStep(t.step ?? 'notch')))
  const clean = upText(t.clean === undefined ? DEFAULT_RULES.up : must(parseUp(t.clean)))
  const slips = t.slips === undefined ? DEFAULT_RULES.slips : must(wholeNumber(t.slips, 'slips', 0, 9))
  const words = t.words ?? `${step}, ${clean}, ${slips === 0 ? 'never back' : `back after ${slips} slips`}`
  if (words.trim() === '') must(problem('words', '', 'a few words on these rules'))
  const preset = { v: 1, kind: 'ladder', name, words, step, clean, slips }
  return keepPreset(ctx, must(checkPreset(preset)), t.replace === true)
}

/** A warm-up from its screen, as it was last played, under a new name; resolves with what to say, and where it is. */
export const saveAs = async (ctx: Context, name: string, from: string): Promise<string> =>
  (await presetSaveCommand(ctx, name, { from })).lines?.join(' ') ?? ''
