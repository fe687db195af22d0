import { Stop } from '../app/context.ts'
import type { Remembered } from './exercise.ts'
import type { Preset, WarmUp } from './preset.ts'

/**
 * The warm-up whose turn it is: the one that was left out longest, new ones first, in the order of the list. One that
 * rests as long as it plays is for brass, and comes by itself only where it was played before.
 */
export const warmUpInTurn = (
  all: readonly { readonly preset: Preset }[],
  remembered: readonly Remembered[],
): WarmUp => {
  const last = (w: WarmUp): string => remembered.find(r => r.warmUp === w.name)?.time ?? ''
  const [first] = all
    .flatMap(({ preset }) => (preset.kind === 'warm-up' ? [preset] : []))
    .filter(w => w.rest !== 'as-long' || last(w) !== '')
    .sort((a, b) => (last(a) < last(b) ? -1 : last(a) > last(b) ? 1 : 0))
  if (!first) throw new Stop(1, 'There is no warm-up (gradino presets).')
  return first
}
