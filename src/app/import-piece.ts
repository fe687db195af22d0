import { basename } from 'node:path'
import { attemptLater, given, type Need, ok, printable, problem, type Result } from '../music/result.ts'
import { goalText, parseTempo } from '../music/tempo.ts'
import { setFields } from '../repertoire/field.ts'
import { PIECE } from '../repertoire/fields.ts'
import { piecesCalled } from '../repertoire/new-passage.ts'
import { musicMark } from '../repertoire/passage-form.ts'
import {
  checkPiece,
  isOpen,
  type Passage,
  PIECE_VERSION,
  type Piece,
  parsePiece,
  pieceText,
  shortId,
} from '../repertoire/piece.ts'
import { freeName, importFrom } from '../score/import-score.ts'
import { readScore } from '../score/read-score.ts'
import type { Score } from '../score/score.ts'
import { type Kept, repertoire } from '../store/repertoire.ts'
import { asResult } from '../store/trouble.ts'
import type { Context, Outcome } from './context.ts'
import { droppedPath, endingOf, PIECE_ENDING, readInput, SCORES, scoreNear } from './input-file.ts'
import { todayOf } from './now.ts'
import { pieceJson, type Repertoire, repertoireNow } from './repertoire-rows.ts'
import { alreadyHad, noTempoYet } from './words.ts'

/** What is wanted of a file, as typed or chosen. */
export type ImportTyped = {
  readonly part?: string
  readonly movement?: string
  readonly passages?: boolean
  readonly whole?: boolean
  readonly from?: string
  readonly to?: string
  readonly asPlayed?: boolean
  readonly ownHolds?: boolean
  /** Each movement becomes a piece of its own. */
  readonly pieces?: boolean
  readonly title?: string
  /** A tempo, or `open`. */
  readonly goal?: string
  readonly readyBy?: string
  readonly again?: boolean
}

/** A file that was read: a score, or a piece that someone exported. */
export type ReadFile = { readonly name: string } & (
  | { readonly kind: 'score'; readonly score: Score }
  | { readonly kind: 'piece'; readonly piece: Piece }
)

/** What a file holds: a piece that may go into the repertoire, and what is to be said about it. */
type Incoming = { readonly piece: Piece; readonly part: string | null; readonly remarks: readonly string[] }

/** Which options speak of a score only, as they are typed. */
const SCORE_ONLY: readonly (readonly [keyof ImportTyped, string])[] = [
  ['part', '--part'],
  ['movement', '--movement'],
  ['pieces', '--pieces'],
  ['passages', '--passages'],
  ['whole', '--whole'],
  ['from', '--from'],
  ['to', '--to'],
  ['goal', '--goal'],
  ['asPlayed', '--as-played'],
  ['ownHolds', '--own-holds'],
]

/** The file at a path, as typed or dropped into the terminal; or a score in the folder by any part of its name or title. */
export const readFile = (typed: string): Promise<Result<ReadFile>> =>
  attemptLater<ReadFile>(async need => {
    const path = need(await scoreNear(droppedPath(typed)))
    const name = printable(basename(path)).slice(0, 200)
    const ending = endingOf(name)
    if (ending !== PIECE_ENDING && !SCORES.includes(ending))
      return need(problem('file', path, 'a name ending in .musicxml, .xml, .mxl or .json'))
    const bytes = need(await readInput(path))
    if (ending !== PIECE_ENDING) return { name, kind: 'score', score: need(readScore(bytes, name)) }
    const read = parsePiece(new TextDecoder().decode(bytes))
    if (!read.ok) need(problem(`${name}, ${read.problem.field}`, read.problem.got, read.problem.accepted))
    return { name, kind: 'piece', piece: need(read) }
  })

const fromScore = (ctx: Context, name: string, score: Score, t: ImportTyped, need: Need): Incoming => {
  const { part: named, movement, passages: hard, whole, from, to, asPlayed, ownHolds, pieces: apart } = t
  const ways = [whole && '--whole', hard && '--passages', (from ?? to) !== undefined && '--from and --to']
  const said = ways.filter(Boolean).join(' with ')
  if (said.includes(' with '))
    need(problem('measures', said, 'one of --whole, --passages, or --from with --to'))
  const open = t.goal?.trim().toLowerCase() === 'open'
  const goal = open || t.goal === undefined ? undefined : need(parseTempo(t.goal, 'goal tempo'))
  const wanted = { part: named, movement, hard, whole, from, to, asPlayed, ownHolds, apart }
  const newId = () => shortId(ctx.chance)
  const read = need(importFrom(score, name, { ...wanted, goal: open ? 'open' : goal }, newId))
  const { title, part, passages, sure, remarks } = read
  return {
    piece: { v: PIECE_VERSION, id: newId(), title, ...given({ sure }), source: name, passages },
    part,
    remarks,
  }
}

/** Each movement as a piece of its own, called by the work and the movement. */
const apart = (ctx: Context, name: string, score: Score, t: ImportTyped, need: Need): readonly Incoming[] => {
  const { movements, warnings } = score
  const no = (got: string, accepted: string) => need(problem('--pieces', got, accepted))
  if (movements.length < 2) no(name, 'a score in which movements are found')
  if (t.movement !== undefined)
    no(`--movement ${t.movement}`, 'one of them: all movements apart, or one movement')
  return movements.map((m, i) => {
    const one = fromScore(ctx, name, score, { ...t, movement: String(i + 1) }, need)
    const title = `${t.title ?? one.piece.title}: ${m.name}`
    // The remarks of the file stand with the first.
    const remarks = i === 0 ? one.remarks : one.remarks.filter(r => !warnings.includes(r))
    return { ...one, piece: { ...one.piece, title }, remarks }
  })
}

const incomingFrom = (ctx: Context, file: ReadFile, t: ImportTyped, need: Need): readonly Incoming[] => {
  if (file.kind === 'score')
    return t.pieces
      ? apart(ctx, file.name, file.score, t, need)
      : [fromScore(ctx, file.name, file.score, t, need)]
  const odd = SCORE_ONLY.find(([option]) => t[option] !== undefined)
  if (odd) need(problem(odd[1], file.name, 'a score: .musicxml, .xml or .mxl'))
  return [{ piece: file.piece, part: null, remarks: [] }]
}

/** What was typed goes before what stands in the file. */
const asTyped = (ctx: Context, piece: Piece, t: ImportTyped, need: Need): Piece => {
  const texts = given({ title: t.pieces ? undefined : t.title, readyBy: t.readyBy })
  return need(checkPiece(need(setFields(PIECE, piece, texts, { today: todayOf(ctx) }))))
}

const idsOf = (p: Piece): readonly string[] => [
  p.id,
  ...p.passages.flatMap(passage => [passage.id, ...(passage.sections ?? []).map(s => s.id)]),
]

/** With ids of its own where one is taken: a ceiling belongs to an id. */
const ownIds = (piece: Piece, taken: ReadonlySet<string>, newId: () => string): Piece => {
  if (!idsOf(piece).some(id => taken.has(id))) return piece
  const passages = piece.passages.map(({ was: _, ...p }) => ({
    ...p,
    id: newId(),
    ...(p.sections && { sections: p.sections.map(({ was: __, ...s }) => ({ ...s, id: newId() })) }),
  }))
  return { ...piece, id: newId(), passages }
}

/** Passages whose music is not there yet, under names that are free. */
const freshIn = (kept: Piece, incoming: Piece): readonly Passage[] => {
  const markOf = (p: Passage): string => {
    const mark = musicMark(p)
    return mark.ok ? mark.value : p.id
  }
  const there = new Set(kept.passages.map(markOf))
  const fresh: Passage[] = []
  for (const p of incoming.passages)
    if (!there.has(markOf(p)))
      fresh.push({
        ...p,
        name: freeName(p.name, [...kept.passages, ...fresh]),
        ...given({ readyBy: incoming.readyBy }),
      })
  return fresh
}

/** `stays`: nothing is to be written. */
type Change = {
  readonly piece: Piece
  readonly seen: string | null
  readonly stays: boolean
  readonly added: readonly Passage[]
  readonly said: readonly string[]
}

/** What becomes of the repertoire. */
const changeBy = (ctx: Context, kept: readonly Kept[], incoming: Piece, again: boolean): Result<Change> => {
  const pieces = kept.map(k => k.piece)
  const same = kept.find(k => pieceText(k.piece) === pieceText(incoming))
  const called = piecesCalled(incoming.title, pieces)
  const [one] = called
  const there = same ?? kept.find(k => k.piece === one)
  if (there && (same || !again)) {
    const { title } = there.piece
    const more = same ? '' : ' --again adds what is missing; --title makes it another piece.'
    const said = [`You already have ${title}. Nothing was added; your history stays.${more}`]
    return ok({ piece: there.piece, seen: there.seen, stays: true, added: [], said })
  }
  if (called.length > 1)
    return problem('title', incoming.title, 'a title that one piece has, or another one with --title')
  const taken = new Set(pieces.flatMap(idsOf))
  const own = ownIds(incoming, taken, () => shortId(ctx.chance))
  if (!there) return ok({ piece: own, seen: null, stays: false, added: own.passages, said: [] })
  const added = freshIn(there.piece, own)
  const left = own.passages.length - added.length
  const said = [
    ...(left > 0 ? [alreadyHad(left)] : []),
    ...(added.length === 0 ? ['Nothing was added.'] : []),
  ]
  return ok({
    piece: { ...there.piece, passages: [...there.piece.passages, ...added] },
    seen: there.seen,
    stays: added.length === 0,
    added,
    said,
  })
}

/** Puts what is wanted of a file into the repertoire: nothing is written before all of it is known to be right. */
export const importFile = (ctx: Context, file: ReadFile, t: ImportTyped): Promise<Result<Outcome>> =>
  attemptLater(async need => {
    const store = repertoire(ctx.home)
    const { pieces } = await store.list()
    const changes = incomingFrom(ctx, file, t, need).map(({ piece, part, remarks }) => {
      const incoming = asTyped(ctx, piece, t, need)
      return { ...need(changeBy(ctx, pieces, incoming, t.again === true)), part, remarks }
    })
    for (const { piece, seen, stays } of changes) if (!stays) need(asResult(await store.save(piece, seen)))
    const now = await repertoireNow(ctx)
    const told = changes.map(change => toldOf(now, file.name, change))
    const next = changes.flatMap(({ piece, added }) => {
      const first = added.find(p => !p.whole) ?? added[0]
      return first ? [{ title: piece.title, first }] : []
    })[0]
    const [one] = told
    return {
      lines: [
        ...told.flatMap(o => o.lines),
        ...(next
          ? [
              `To ${next.first.whole ? 'cut it: gradino piece split' : 'practice: gradino practice'} "${next.title}/${next.first.name}"`,
            ]
          : []),
        ...now.notes,
      ],
      json: one && told.length === 1 ? one.json : { pieces: told.map(o => o.json) },
    }
  })

/** What is said of a piece that was imported. */
const toldOf = (
  now: Repertoire,
  name: string,
  change: Change & Pick<Incoming, 'part' | 'remarks'>,
): { readonly lines: readonly string[]; readonly json: object } => {
  const { piece, stays, added, said, part, remarks } = change
  const rows = added.flatMap(p => now.rows.filter(r => r.id === p.id))
  const hard = new Map(added.map(p => [p.id, p.hard]))
  const lineOf = (r: (typeof rows)[number]): string => {
    const more = [hard.get(r.id), r.note].filter(text => text)
    return `  ${r.place}: ${r.music}, ${goalText(r.goal, r.top, r.open)}${more.map(text => `; ${text}`).join('')}`
  }
  return {
    lines: [
      ...(stays ? [] : [`${piece.title}${part === null ? '' : `, ${part}`}`]),
      ...rows.map(lineOf),
      ...said,
      ...(isOpen(piece) && !stays ? [noTempoYet(piece.title)] : []),
      ...remarks.map(r => `  ${name}: ${r}`),
    ],
    json: { ...pieceJson(now, piece, added), part, added: added.length, said, remarks },
  }
}
