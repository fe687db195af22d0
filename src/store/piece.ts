import { z } from 'zod'
import { compare } from '../music/fraction.ts'
import { measureLength, parseMeter } from '../music/meter.ts'
import { parseNoteValue } from '../music/note-value.ts'
import { ok, printable, problem, type Result } from '../music/result.ts'
import { compareTempo, parseTempo } from '../music/tempo.ts'
import { type Chance, newName, RANDOM_NAME } from './sources.ts'

/** A stretch of a piece as it is practiced. Meter, tempos and pick-up are texts that the parsers of music read. */
export type Passage = {
  readonly id: string
  readonly name: string
  /** Its place, as the player says it: "41-44". */
  readonly measures?: string
  readonly meter: string
  /** Number of whole measures. */
  readonly count: number
  /** Note value of the pick-up, shorter than a measure; null = none. */
  readonly pickup: string | null
  /** At or below the goal. */
  readonly start?: string
  readonly goal: string
  /** "2026-03-14" */
  readonly readyBy?: string
  readonly note?: string
}

export type Piece = {
  readonly v: 1
  readonly id: string
  readonly title: string
  readonly readyBy?: string
  readonly passages: readonly Passage[]
}

const words = (most: number) => {
  const accepted = `text of 1 to ${most} characters`
  return z
    .string(accepted)
    .transform(s => printable(s).trim())
    .pipe(z.string().min(1, accepted).max(most, accepted))
}

/** A text that one of music's parsers takes. */
const musical = (parse: (s: string) => Result<unknown>) =>
  z.string('text').superRefine((s, ctx) => {
    const read = parse(s)
    if (!read.ok) ctx.addIssue({ code: 'custom', message: read.problem.accepted })
  })

const id = z.string().regex(RANDOM_NAME, '4 to 40 lower-case letters and digits')
const date = z.iso.date('a date as 2026-03-14')
const wholeNumber = 'a whole number of measures from 1 to 999'

// Unknown keys stay, here and in the piece: a newer Gradino or another program may have put them there.
const passage = z
  .looseObject({
    id,
    name: words(80),
    measures: words(40).exactOptional(),
    meter: musical(parseMeter),
    count: z.int(wholeNumber).min(1, wholeNumber).max(999, wholeNumber),
    pickup: musical(parseNoteValue).nullable(),
    start: musical(parseTempo).exactOptional(),
    goal: musical(parseTempo),
    readyBy: date.exactOptional(),
    note: words(400).exactOptional(),
  })
  .superRefine((p, ctx) => {
    const [meter, start, goal] = [parseMeter(p.meter), parseTempo(p.start ?? p.goal), parseTempo(p.goal)]
    const pickup = p.pickup === null ? null : parseNoteValue(p.pickup)
    if (meter.ok && pickup?.ok && compare(pickup.value, measureLength(meter.value)) >= 0)
      ctx.addIssue({ code: 'custom', path: ['pickup'], message: `a note value shorter than ${p.meter}` })
    if (start.ok && goal.ok && compareTempo(start.value, goal.value) > 0)
      ctx.addIssue({ code: 'custom', path: ['start'], message: `a tempo at or below the goal ${p.goal}` })
  })

const passages = z.array(passage, 'a list of passages').superRefine((all, ctx) => {
  for (const [i, p] of all.entries())
    for (const key of ['id', 'name'] as const)
      if (all.slice(0, i).some(q => q[key].toLowerCase() === p[key].toLowerCase()))
        ctx.addIssue({ code: 'custom', path: [i, key], message: `a ${key} that no other passage here has` })
})

const piece: z.ZodType<Piece> = z.looseObject({
  v: z.literal(1, '1 (a newer Gradino wrote this)'),
  id,
  title: words(120),
  readyBy: date.exactOptional(),
  passages,
})

const shown = (value: unknown): string =>
  (typeof value === 'string' ? value : (JSON.stringify(value) ?? '')).slice(0, 60)

/** A piece from anything, or the first field that is wrong: "passage 2, goal". Never throws. */
export const checkPiece = (found: unknown): Result<Piece> => {
  const read = piece.safeParse(found)
  if (read.success) return ok(read.data)
  const issue = read.error.issues[0]
  const path = issue?.path ?? []
  const got = path.reduce<unknown>(
    (at, key) =>
      typeof at === 'object' && at !== null ? (at as Record<PropertyKey, unknown>)[key] : undefined,
    found,
  )
  const names = path.map((key, i) =>
    typeof key === 'number' ? `passage ${key + 1}` : i === 0 && path.length > 1 ? '' : String(key),
  )
  return problem(names.filter(Boolean).join(', ') || 'piece', shown(got), issue?.message ?? 'a piece')
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

/** Short, random, for a piece or a passage: what it is known by whatever it is called. */
export const shortId = (chance: Chance): string => newName(chance).slice(0, 8)

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
