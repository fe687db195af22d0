import type { Context, Outcome } from '../app/context.ts'
import { readPracticed } from '../app/now.ts'
import { addPreset, copyPreset, saveRules } from '../app/presets.ts'
import { parseDayStart, parseSlips, parseUp } from '../ladder/rules.ts'
import { parseStep } from '../ladder/rungs.ts'
import { ifSaid, must, Stop } from './command.ts'
import type { Typed } from './commands.ts'

export const presetAddCommand = async (
  ctx: Context,
  file: string,
  t: { readonly replace?: boolean },
): Promise<Outcome> => must(await addPreset(ctx, file, t.replace))

/** "Save this as a preset": a copy of another one as it is played now, or the rules of a ladder. */
export const presetSaveCommand = async (
  ctx: Context,
  name: string,
  t: Typed<'preset save'>,
): Promise<Outcome> => {
  const { from, step, clean, slips, dayStart, ...rest } = t
  if ((from === undefined) === ((step ?? clean ?? slips ?? dayStart) === undefined))
    throw new Stop(2, 'Say what to save: --from PRESET, or rules of a ladder (--step, --clean, --slips).')
  if (from !== undefined)
    return must(await copyPreset(ctx, (await readPracticed(ctx)).visits, name, from, rest))
  return must(
    await saveRules(ctx, name, {
      ...rest,
      step: ifSaid(step, parseStep),
      up: ifSaid(clean, parseUp),
      slips: ifSaid(slips === '0' ? 'never' : slips, parseSlips),
      dayStart: ifSaid(dayStart, parseDayStart),
    }),
  )
}
