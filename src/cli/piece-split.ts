import { type Context, must, type Outcome, Stop } from '../app/context.ts'
import { repertoireNow } from '../app/repertoire-rows.ts'
import { add, compare, type Frac, less, min } from '../music/fraction.ts'
import { parsePlace, placeAt } from '../music/place.ts'
import { ok, problem, type Result } from '../music/result.ts'
import { type By, type Span, sections } from '../music/sections.ts'
import { musicMark, type PassageForm, passageForm, passageNotes } from '../repertoire/passage-form.ts'
import { checkPiece, type Passage, type Section, shortId } from '../repertoire/piece.ts'
import { repertoire } from '../store/repertoire.ts'
import { pieceShown } from './piece-show.ts'

/** `gradino piece split`, as typed. */
export type SplitTyped = { readonly by?: string; readonly at?: string; readonly again?: boolean }

/** As many as a piece's file takes. */
const MOST = 500

const BY = ['measure', 'half', 'beat'] as const

/** Where to cut: by measures, halves or beats, or at places. */
const parseBy = (t: SplitTyped, whole: PassageForm): Result<By> => {
  if ((t.by === undefined) === (t.at === undefined))
    return problem(
      'split',
      t.by === undefined ? '' : `--by ${t.by} --at ${t.at}`,
      `--by ${BY.join(', ')}; or --at with places, as --at 42,43.3`,
    )
  if (t.at === undefined) {
    const k = BY.find(b => b === t.by)
    return k ? ok({ k }) : problem('--by', t.by ?? '', BY.join(', '))
  }
  const at: Frac[] = []
  for (const text of t.at.split(',')) {
    const place = parsePlace(text, whole, '--at')
    if (!place.ok) return place
    at.push(place.value)
  }
  return ok({ k: 'points', at })
}

/** The sections of a passage; each goes on over the first note of the next one, which a part that was read knows. */
const spansOf = (p: Passage, whole: PassageForm, by: By): readonly Span[] => {
  const notes = passageNotes(p)
  const spans = sections(whole.form, by)
  return spans.map((span, i) => {
    const next = spans[i + 1]
    const first = next && notes.find(n => compare(n.at, next.from) >= 0 && less(n.at, next.to))
    return first ? { ...span, to: min(whole.form.length, add(first.at, first.length)) } : span
  })
}

/** A section that holds the same music as one that was there has its id, and with it its history. */
const withOldIds = (p: Passage, fresh: readonly Section[]): readonly Section[] => {
  const old = (p.sections ?? []).map(s => ({ s, mark: must(musicMark(p, s)) }))
  return fresh.map(s => {
    const mark = must(musicMark(p, s))
    const at = old.findIndex(o => o.mark === mark)
    // Played out, two sections may hold the same music: each history goes to one of them.
    const same = at < 0 ? undefined : old.splice(at, 1)[0]?.s
    return same ? { ...same, name: s.name, from: s.from, to: s.to } : s
  })
}

/** Cuts a passage into sections 1, 2, 3 ... Throws Stop with one sentence. */
export const pieceSplitCommand = async (
  ctx: Context,
  name: string,
  t: SplitTyped,
): Promise<Outcome & { readonly made: number }> => {
  const store = repertoire(ctx.home)
  const { in: kept, passage: named } = must(await store.find(name))
  const { piece, seen } = kept
  const passage = named ?? (piece.passages.length === 1 ? piece.passages[0] : undefined)
  if (!passage) {
    const names = piece.passages.map(p => `"${piece.title}/${p.name}"`).join(', ')
    return must(
      problem(
        'passage',
        name,
        names === '' ? 'a piece with a passage (gradino piece add)' : `one of ${names}`,
      ),
    )
  }
  const whole = must(passageForm(passage))
  const spans = spansOf(passage, whole, must(parseBy(t, whole)))
  const label = `"${piece.title}/${passage.name}"`
  if (spans.length < 2 || spans.length > MOST)
    throw new Stop(
      2,
      `${label} would be ${spans.length === 1 ? 'one section' : `${spans.length} sections`} so. Try a way of cutting that makes 2 to ${MOST}.`,
    )
  const before = passage.sections ?? []
  if (before.length > 0 && !t.again)
    throw new Stop(
      2,
      `${label} has ${before.length === 1 ? 'a section' : `${before.length} sections`} already. Add --again to cut it anew (a section with the same music keeps its history).`,
    )
  const fresh = spans.map((s, i) => ({
    id: shortId(ctx.chance),
    name: `${i + 1}`,
    from: placeAt(s.from, whole),
    to: placeAt(s.to, whole),
  }))
  const cut = withOldIds(passage, fresh)
  const edited = must(
    checkPiece({
      ...piece,
      passages: piece.passages.map(p => (p === passage ? { ...p, sections: cut } : p)),
    }),
  )
  const stored = await store.save(edited, seen)
  if (!stored.ok) throw new Stop(1, stored.message)
  const gone = before.filter(s => !cut.some(c => c.id === s.id))
  const shown = await pieceShown(ctx, await repertoireNow(ctx), edited, [passage.id], null)
  return {
    made: cut.length,
    lines: [
      ...shown.lines,
      ...(gone.length === 0
        ? []
        : [`No longer there: ${gone.map(s => s.name).join(', ')}. What was practiced stays in the journal.`]),
    ],
    json: { ...shown.json, gone: gone.map(s => ({ id: s.id, name: s.name })) },
  }
}
