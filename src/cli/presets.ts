import type { Context, Outcome } from '../app/context.ts'
import { presetsOf } from '../app/presets.ts'
import type { Preset } from '../warm-up/preset.ts'

const HEADINGS = {
  'warm-up': 'Warm-ups (gradino warmup NAME)',
  ladder: 'Ladder rules',
  rhythm: 'Rhythms (--rhythm NAME)',
} as const

const wordsOf = (p: Preset): string => {
  if (p.kind === 'warm-up') return `${p.title}: ${p.items.map(i => i.name).join(', ')}`
  return p.kind === 'ladder' ? p.words : `${p.words} (${p.ratios})`
}

/** All presets by kind, with their words. */
export const presetsCommand = async (ctx: Context): Promise<Outcome> => {
  const { all, notes } = await presetsOf(ctx.home)
  const width = Math.max(...all.map(p => p.preset.name.length))
  const lines = Object.entries(HEADINGS).flatMap(([kind, heading]) => [
    heading,
    ...all
      .filter(p => p.preset.kind === kind)
      .map(p => `  ${p.preset.name.padEnd(width)}  ${wordsOf(p.preset)}${p.own ? ' (your own)' : ''}`),
    '',
  ])
  return {
    lines: [...lines.slice(0, -1), ...notes],
    json: all.map(p => ({ ...p.preset, own: p.own })),
  }
}
