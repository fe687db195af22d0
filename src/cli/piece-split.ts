import { splitPassage } from '../app/change-passage.ts'
import type { Context, Outcome } from '../app/context.ts'
import { repertoireNow } from '../app/repertoire-rows.ts'
import type { Frac } from '../music/fraction.ts'
import { parsePlace } from '../music/place.ts'
import { ok, problem, type Result } from '../music/result.ts'
import type { By } from '../music/sections.ts'
import type { PassageForm } from '../repertoire/passage-form.ts'
import { must } from './command.ts'
import type { Typed } from './commands.ts'
import { pieceShown } from './piece-show.ts'

const BY = ['measure', 'half', 'beat'] as const

/** Where to cut: by measures, halves or beats, or at places. */
const parseBy = (t: Typed<'piece split'>, whole: PassageForm): Result<By> => {
  if ((t.by === undefined) === (t.at === undefined))
    return problem(
      'split',
      t.by === undefined ? '' : `--by ${t.by} --at ${t.at}`,
      `--by ${BY.join(', ')}; or --at with places, as --at 42,43.3`,
    )
  if (t.at === undefined) {
    const k = BY.find(b => b === t.by)
    return k ? ok({ kind: k }) : problem('--by', t.by ?? '', BY.join(', '))
  }
  const at: Frac[] = []
  for (const text of t.at.split(',')) {
    const place = parsePlace(text, whole, '--at')
    if (!place.ok) return place
    at.push(place.value)
  }
  return ok({ kind: 'points', at })
}

/** Cuts a passage into sections 1, 2, 3 ... */
export const pieceSplitCommand = async (
  ctx: Context,
  name: string,
  t: Typed<'piece split'>,
): Promise<Outcome> => {
  const { piece, passage, gone } = must(
    await splitPassage(ctx, name, whole => parseBy(t, whole), t.again === true),
  )
  const shown = await pieceShown(ctx, await repertoireNow(ctx), piece, [passage.id], null)
  return {
    lines: [
      ...shown.lines,
      ...(gone.length === 0
        ? []
        : [`No longer there: ${gone.map(s => s.name).join(', ')}. What you practiced stays in the journal.`]),
    ],
    json: { ...shown.json, gone: gone.map(s => ({ id: s.id, name: s.name })) },
  }
}
