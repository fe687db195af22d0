import { attempt, printable, problem, type Result } from '../music/result.ts'
import { type EditAround, type Edits, editPiece } from './edit.ts'
import { setFields } from './field.ts'
import { PASSAGE, PIECE, range } from './fields.ts'
import { sameName } from './find-piece.ts'
import { type Passage, PIECE_VERSION, type Piece } from './passage.ts'
import { passageTaken } from './words.ts'

/** What a new passage is read against: an edit's surroundings, and the pieces that are there. */
export type AddAround = EditAround & { readonly pieces: readonly Piece[] }

/** The pieces that a title or an id speaks of. */
export const piecesCalled = (title: string, pieces: readonly Piece[]): readonly Piece[] =>
  pieces.filter(p => p.id === title || sameName(p.title, title))

/** What stands for a field as long as nothing was typed for it. */
const blank = (id: string): Passage => ({
  id,
  name: `new ${id}`,
  meter: '4/4',
  count: 1,
  pickup: null,
  goal: '999',
})

/**
 * The passage that was typed, under this id, and its piece's title; or the first field that is wrong: it is read as an
 * edit of an empty passage, `title` among its fields. Where it is not `whole` yet, nothing is missed but what was left
 * empty.
 */
export const newPassage = (
  { fields, lists }: Edits,
  a: AddAround,
  id: string,
  whole = true,
): Result<{ readonly title: string; readonly passage: Passage }> =>
  attempt(need => {
    const said = Object.entries(fields).map(([key, text]) => [key, printable(text).trim()] as const)
    const { title: called = '', ...typed }: { [key: string]: string } = Object.fromEntries(
      said.filter(([, text]) => text !== '' && text.toLowerCase() !== 'none'),
    )
    const asked = (key: string): boolean => whole || key in fields
    const { title } = need(setFields(PIECE, { title: '' }, asked('title') ? { title: called } : {}, a))
    const { measures: place = '', count, goal } = typed
    const { measures, name, goal: tempo } = PASSAGE
    const placed = need(measures.kind.read(place, measures.label, a))
    if ((asked('measures') || asked('count')) && count === undefined && !range(place))
      need(problem(measures.label, place, PASSAGE.count.missing ?? ''))
    if (typed.name === undefined && placed !== '') typed.name = placed
    if (asked('name') && typed.name === undefined) need(problem(name.label, '', name.missing ?? ''))
    const [there] = piecesCalled(title, a.pieces)
    const piece: Piece = there ?? { v: PIECE_VERSION, id: 'none', title: title || 'new', passages: [] }
    const got = typed.name ?? ''
    const says = passageTaken(piece.title, got)
    if (piece.passages.some(p => sameName(p.name, got)))
      need({ ok: false, problem: { field: name.label, got, accepted: '', says } })
    const begun = { ...piece, passages: [...piece.passages, blank(id)] }
    const edited = need(editPiece(begun, { passage: id }, { fields: typed, lists }, a))
    if (asked('goal') && goal === undefined) need(problem(tempo.label, '', tempo.missing ?? ''))
    return { title, passage: edited.passages.at(-1) as Passage }
  })
