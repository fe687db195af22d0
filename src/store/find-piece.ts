import { ok, problem, type Result } from '../music/result.ts'
import type { Passage, Piece } from './piece.ts'

/** A passage of a piece, or the whole piece. */
export type Found<P> = { readonly in: P; readonly passage: Passage | null }

const plain = (s: string): string => s.normalize('NFC').trim().replace(/\s+/g, ' ')

/** How well a name was met: 0 exactly, 1 but for capitals, 2 its beginning; null not at all. */
const closeness = (typed: string, name: string): number | null => {
  const [a, b] = [plain(typed), plain(name)]
  if (a === b) return 0
  const [low, full] = [a.toLowerCase(), b.toLowerCase()]
  return low === full ? 1 : full.startsWith(low) ? 2 : null
}

/** Whether two names are the same but for capitals and spaces. */
export const sameName = (a: string, b: string): boolean => (closeness(a, b) ?? 2) < 2

/** "PIECE" and "PIECE/PASSAGE", cut at any stroke, since names may hold strokes too ("Study in 3/4"). */
const readings = (name: string): readonly (readonly [string, string | null])[] => [
  [name, null],
  ...[...name.matchAll(/\//g)].map(m => [name.slice(0, m.index), name.slice(m.index + 1)] as const),
]

const listed = (names: readonly string[]): string => {
  const more = names.length - 8
  return names.slice(0, 8).join(', ') + (more > 0 ? ` and ${more} more` : '')
}

type Carrier = { readonly piece: Piece }
type Hit<P> = { readonly rank: number; readonly label: string; readonly found: Found<P> }

/** Pieces of the same title are told apart by their ids, which may be typed instead. */
const distinct = (hits: readonly Hit<Carrier>[]): readonly string[] =>
  hits.map(h => {
    const same = hits.filter(other => other.label === h.label).length > 1
    const { id, title } = h.found.in.piece
    return same ? h.label.replace(title, () => id) : h.label
  })

/**
 * A piece or passage by name: exact before capitals ignored before the beginning of the name. The problem lists what
 * could have been meant. `pieces` may carry anything beside the piece.
 */
export const findPiece = <P extends Carrier>(pieces: readonly P[], name: string): Result<Found<P>> => {
  const hits: Hit<P>[] = []
  const near: string[] = []
  for (const entry of pieces)
    for (const [typed, rest] of readings(name)) {
      const { id, title, passages } = entry.piece
      const rank = typed === id ? 0 : closeness(typed, title)
      if (rank === null) continue
      if (rest === null) hits.push({ rank: rank * 3, label: title, found: { in: entry, passage: null } })
      else near.push(...passages.map(p => `${title}/${p.name}`))
      for (const passage of rest === null ? [] : passages) {
        const second = closeness(rest ?? '', passage.name)
        if (second === null) continue
        const label = `${title}/${passage.name}`
        hits.push({ rank: rank * 3 + second, label, found: { in: entry, passage } })
      }
    }
  const best = hits.filter(h => h.rank === Math.min(...hits.map(other => other.rank)))
  if (best[0] && best.length === 1) return ok(best[0].found)
  if (best.length > 1) return problem('name', name, `one of ${listed(distinct(best))}, written out`)
  if (near.length > 0) return problem('passage', name, listed(near))
  const titles = pieces.map(p => p.piece.title)
  return problem('piece', name, titles.length > 0 ? listed(titles) : 'nothing yet, the repertoire is empty')
}
