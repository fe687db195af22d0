import { ok, problem, type Result, wrong } from '../music/result.ts'
import type { Section } from './lists.ts'
import type { Passage, Piece } from './passage.ts'
import { sectionsAndRest } from './the-rest.ts'
import { noPiecesYet, noSuch } from './words.ts'

/** A piece, or a passage of it, or a section of that. */
export type Found<P> = { readonly in: P; readonly passage: Passage | null; readonly section: Section | null }

const plain = (s: string): string => s.normalize('NFC').trim().replace(/\s+/g, ' ')
/** As it comes from any keyboard: "Été" as "ete", curly quotes straight, dashes short. */
const folded = (s: string): string =>
  plain(s)
    .normalize('NFKD')
    .replace(/\p{M}+/gu, '')
    .replace(/[\u2018\u2019]/g, "'")
    .replace(/[\u201c\u201d\u201e]/g, '"')
    .replace(/[\u2010-\u2014]/g, '-')
    .toLowerCase()

/** A shorter text is not looked for inside of a name. */
const SHORTEST_PART = 2
/** More than the worst closeness: names in a row are compared by the first, then by the next. */
const RANKS = 5

/** How well a name was met: 0 exactly, 1 but for capitals, 2 its beginning, 3 any part of it, 4 all its words somewhere; null not at all. */
const closeness = (typed: string, name: string): number | null => {
  const [a, b] = [plain(typed), plain(name)]
  if (a === b) return 0
  if (a.toLowerCase() === b.toLowerCase()) return 1
  const [low, full] = [folded(a), folded(b)]
  if (full.startsWith(low)) return 2
  if (low.length < SHORTEST_PART) return null
  if (full.includes(low)) return 3
  const words = low.split(' ')
  return words.length > 1 && words.every(w => w.length >= SHORTEST_PART && full.includes(w)) ? 4 : null
}

/** Those whose name is nearest to what was typed: one where it is clear, several where it is not. */
export const nearest = <T>(all: readonly T[], typed: string, nameOf: (one: T) => string): readonly T[] => {
  const ranked = all.flatMap(one => {
    const rank = closeness(typed, nameOf(one))
    return rank === null ? [] : [{ one, rank }]
  })
  const best = Math.min(...ranked.map(r => r.rank))
  return ranked.filter(r => r.rank === best).map(r => r.one)
}

/** Whether two names are the same but for capitals and spaces. */
export const sameName = (a: string, b: string): boolean => (closeness(a, b) ?? 2) < 2

/** A whole name, and it cut in two ("PIECE", "PASSAGE/SECTION") at any stroke, since names may hold strokes too ("Study in 3/4"). */
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

type Meant<P> = {
  readonly hits: Hit<P>[]
  readonly near: { readonly what: 'passage' | 'section'; readonly label: string }[]
}

/**
 * All that a name can mean in one piece: itself, a passage or (when `deep`) a section, after the name of the piece or, where
 * no piece is called so, alone; and what it nearly means.
 */
const meantIn = <P extends Carrier>(entry: P, name: string, deep: boolean): Meant<P> => {
  const { hits, near }: Meant<P> = { hits: [], near: [] }
  const { id, title, passages } = entry.piece
  const hit = (rank: number, label: string, passage: Passage | null, section: Section | null) =>
    hits.push({ rank, label, found: { in: entry, passage, section } })
  const inside = (first: number, rest: string, told: boolean): void => {
    for (const passage of passages) {
      const label = `${title}/${passage.name}`
      if (told) near.push({ what: 'passage', label })
      for (const [called, last] of readings(rest)) {
        const second = closeness(called, passage.name)
        if (second === null) continue
        if (last === null) hit((first * RANKS + second) * RANKS, label, passage, null)
        for (const section of deep && last !== null ? sectionsAndRest(passage) : []) {
          const third = closeness(last ?? '', section.name)
          near.push({ what: 'section', label: `${label}/${section.name}` })
          if (third !== null)
            hit((first * RANKS + second) * RANKS + third, `${label}/${section.name}`, passage, section)
        }
      }
    }
  }
  for (const [typed, rest] of readings(name)) {
    const first = typed === id ? 0 : closeness(typed, title)
    if (first === null) continue
    if (rest === null) hit(first * RANKS ** 2, title, null, null)
    else inside(first, rest, true)
  }
  inside(RANKS, name, false)
  return { hits, near }
}

/**
 * A piece or passage by name, and with `deep` a section too: exact before capitals ignored before the beginning of the
 * name before any part of it. The problem lists what could have been meant. `pieces` may carry anything beside the piece; `left` = what was
 * said of files that are damaged or newer: the name may have been one of those.
 */
export const findPiece = <P extends Carrier>(
  pieces: readonly P[],
  name: string,
  deep = false,
  left: readonly string[] = [],
): Result<Found<P>> => {
  const meant = pieces.map(entry => meantIn(entry, name, deep))
  const hits = meant.flatMap(m => m.hits)
  const near = meant.flatMap(m => m.near)
  const best = hits.filter(h => h.rank === Math.min(...hits.map(other => other.rank)))
  if (best[0] && best.length === 1) return ok(best[0].found)
  if (best.length > 1) return problem('name', name, `one of ${listed(distinct(best))}, written out`)
  const what = near.some(n => n.what === 'section') ? 'section' : 'passage'
  const named = near.filter(n => n.what === what).map(n => n.label)
  if (named.length > 0) return wrong(noSuch(what, name, listed(named)))
  const titles = pieces.map(p => p.piece.title)
  const files = left.length === 1 ? 'one file was left out' : `${left.length} files were left out`
  const why = left.length > 0 ? ` (${files}: gradino pieces says why)` : ''
  if (titles.length === 0) return wrong(noPiecesYet(name, why))
  return wrong(noSuch('piece', name, `${listed(titles)}${why}`))
}
