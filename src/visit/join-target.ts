import type { Presets } from '../app/presets.ts'
import type { Typed } from '../cli/options.ts'
import { seamKey } from '../ladder/key.ts'
import { JOIN_RULES } from '../ladder/start.ts'
import { joined, type Span, seam } from '../music/sections.ts'
import { ladderOf, musicOf, spanOf } from '../repertoire/ladder-of.ts'
import type { Passage, Piece, Section } from '../repertoire/piece.ts'
import { fromPassage, type Target } from './subject.ts'

/** Sections as one, or (`by`) only where the last one meets those before. */
export const joinTarget = (
  piece: Piece,
  passage: Passage,
  own: readonly Section[],
  by: 'beat' | 'measure' | null,
  t: Typed,
  presets: Presets,
): Target => {
  const whole = musicOf(passage)
  const spans: readonly Span[] = own.map(s => spanOf(passage, [s]))
  const [last, before] = [spans.at(-1), spans.slice(0, -1)]
  const span =
    by && last && before.length > 0 ? seam(whole.form, before.reduce(joined), last, by) : spans.reduce(joined)
  const ladder = ladderOf(passage, own)
  const joins = own.map(s => ({ id: s.id, goal: musicOf(passage, [s]).goal }))
  return fromPassage(
    piece,
    passage,
    span,
    {
      ladder: by ? { ...ladder, key: seamKey(own.map(s => s.id)), rules: JOIN_RULES, joins } : ladder,
      name: `, ${by ? 'seam of ' : 'sections '}${own.map(s => s.name).join('+')}`,
      sections: own,
    },
    t,
    presets,
  )
}
