import * as z from 'zod'
import { compare } from '../music/fraction.ts'
import { measureLength, parseMeter } from '../music/meter.ts'
import { parseLength } from '../music/note-value.ts'
import { ok, type Problem, problem, type Result } from '../music/result.ts'
import { compareTempo, parseTempo } from '../music/tempo.ts'
import { schemas } from './field.ts'
import { PIECE } from './fields.ts'
import { textUpTo } from './kinds.ts'
import { id } from './lists.ts'
import { PIECE_VERSION, type Piece, passageSchema } from './passage.ts'
import { checkMusic } from './passage-form.ts'

export type { Section } from './lists.ts'
export { shortId } from './names.ts'
export { type Passage, PIECE_VERSION, type Piece } from './passage.ts'

const passage = passageSchema
  .superRefine((p, ctx) => {
    const [meter, goal] = [parseMeter(p.meter), parseTempo(p.goal)]
    const pickup = p.pickup === null ? null : parseLength(p.pickup)
    if (meter.ok && pickup?.ok && compare(pickup.value, measureLength(meter.value)) >= 0)
      ctx.addIssue({ code: 'custom', path: ['pickup'], message: `a note value shorter than ${p.meter}` })
    const top = p.goalTop === undefined ? null : parseTempo(p.goalTop)
    if (top?.ok && goal.ok && compareTempo(top.value, goal.value) < 0)
      ctx.addIssue({ code: 'custom', path: ['goalTop'], message: `a tempo at or above the goal ${p.goal}` })
    if ((p.on === undefined) !== (p.off === undefined))
      ctx.addIssue({ code: 'custom', path: [p.on ? 'off' : 'on'], message: 'both or neither of on and off' })
  })
  .superRefine((p, ctx) => {
    // Only what can be read can be put together.
    const found = ctx.issues.length > 0 ? null : checkMusic(p)
    if (found) ctx.addIssue({ code: 'custom', message: found.accepted, params: { problem: found } })
  })

type NamedPart = { readonly id: string; readonly name: string }

/** The first of two that are called the same, by index. */
const twin = (all: readonly NamedPart[]): { readonly at: number; readonly key: keyof NamedPart } | null => {
  for (const [at, one] of all.entries())
    for (const key of ['id', 'name'] as const)
      if (all.slice(0, at).some(other => other[key].toLowerCase() === one[key].toLowerCase()))
        return { at, key }
  return null
}

const passages = z.array(passage, 'a list of passages').superRefine((all, ctx) => {
  const alike = (found: ReturnType<typeof twin>, path: readonly PropertyKey[], what: string) => {
    if (!found) return
    const message = `${found.key === 'id' ? 'an' : 'a'} ${found.key} that no other ${what} here has`
    ctx.addIssue({ code: 'custom', path: [...path, found.at, found.key], message })
  }
  alike(twin(all), [], 'passage')
  for (const [i, p] of all.entries()) alike(twin(p.sections ?? []), [i, 'sections'], 'section')
  // A ceiling belongs to an id, whatever it is the id of.
  const ids = all.flatMap(p => [p, ...(p.sections ?? [])]).map(s => s.id)
  for (const [i, p] of all.entries())
    for (const [k, s] of (p.sections ?? []).entries())
      if (ids.filter(other => other === s.id).length > 1)
        ctx.addIssue({ code: 'custom', path: [i, 'sections', k, 'id'], message: 'an id of its own' })
})

const piece = z.looseObject({
  v: z.literal(PIECE_VERSION, `${PIECE_VERSION} (a newer Gradino wrote this)`),
  id,
  ...schemas(PIECE),
  source: textUpTo(200).exactOptional(),
  passages,
}) as unknown as z.ZodType<Piece>

const shown = (value: unknown): string =>
  (typeof value === 'string' ? value : (JSON.stringify(value) ?? '')).slice(0, 60)

/** "passage 2, breath 1, at": numbers count from 1 and belong to the list before them. */
const fieldOf = (path: readonly PropertyKey[]): string =>
  path
    .flatMap((key, i) => {
      const list = typeof path[i + 1] === 'number'
      if (typeof key === 'number') return [`${String(path[i - 1] ?? 'item').replace(/s$/, '')} ${key + 1}`]
      return list ? [] : [String(key)]
    })
    .join(', ')

const isObject = (x: unknown): x is { readonly [key: string]: unknown } => typeof x === 'object' && x !== null
const each = (list: unknown, f: (o: { readonly [key: string]: unknown }) => object): unknown =>
  Array.isArray(list) ? list.map(x => (isObject(x) ? f(x) : x)) : list

/** A file of version 1 sounds as it did: its fermatas stand where the note ends that they hold, and now say so. */
const fromOne = (found: unknown): unknown =>
  !isObject(found) || found.v !== 1
    ? found
    : {
        ...found,
        v: PIECE_VERSION,
        passages: each(found.passages, p =>
          p.breaths === undefined
            ? p
            : { ...p, breaths: each(p.breaths, b => (b.kind === 'fermata' ? { ...b, before: true } : b)) },
        ),
      }

/** A piece from anything, or the first field that is wrong: "passage 2, goal". Never throws. */
export const checkPiece = (found: unknown): Result<Piece> => {
  const now = fromOne(found)
  const checked = piece.safeParse(now)
  if (checked.success) return ok(checked.data)
  const issue = checked.error.issues[0]
  const path = issue?.path ?? []
  const within = issue?.code === 'custom' ? (issue.params?.problem as Problem | undefined) : undefined
  if (within) return problem(`${fieldOf(path)}, ${within.field}`, within.got, within.accepted, within.isnt)
  const got = path.reduce<unknown>(
    (at, key) =>
      typeof at === 'object' && at !== null ? (at as Record<PropertyKey, unknown>)[key] : undefined,
    now,
  )
  const read = issue?.code === 'custom' ? (issue.params?.read as Problem | undefined) : undefined
  if (read) return problem(fieldOf(path), shown(got), read.accepted, read.isnt)
  return problem(fieldOf(path) || 'piece', shown(got), issue?.message ?? 'a piece')
}

/** The text of a piece file. Never throws. */
export const parsePiece = (text: string): Result<Piece> => {
  try {
    return checkPiece(JSON.parse(text.replace(/^\uFEFF/, '')))
  } catch {
    return problem('file', shown(text), 'a piece written as JSON')
  }
}

/** What stands in the piece's file: for people too. */
export const pieceText = (p: Piece): string => `${JSON.stringify(p, null, 2)}\n`

/** Whether nobody knows its tempo yet: the rehearsal will say. */
export const isOpen = (p: Pick<Piece, 'sure'>): boolean => p.sure === 'open'

/** A title becomes part of a file name only by its letters a to z and digits; the id tells files apart. */
export const pieceFile = (p: Piece): string => {
  const slug = p.title
    .normalize('NFKD')
    .toLowerCase()
    .replace(/\p{M}+/gu, '')
    .replace(/[^a-z0-9]+/g, '-')
    .slice(0, 40)
    .replace(/^-+|-+$/g, '')
  return `${slug || 'piece'}-${p.id}.json`
}
