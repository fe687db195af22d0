import { z } from 'zod'
import { BREATH_KINDS, type BreathKind, MAY_WAIT, ONLY_THESE_WAIT } from '../music/form.ts'
import { compare } from '../music/fraction.ts'
import { measureLength, parseMeter } from '../music/meter.ts'
import { parseLength } from '../music/note-value.ts'
import { ok, type Problem, printable, problem, type Result } from '../music/result.ts'
import { compareTempo, parseTempo } from '../music/tempo.ts'
import { type Chance, newName, RANDOM_NAME } from '../store/sources.ts'
import { clickFields, musical } from './click-fields.ts'
import { checkMusic, NOTE } from './passage-form.ts'

/** A small unit with its own ladder. It ends after the first note of the next one, as a rule. */
export type Section = {
  readonly id: string
  readonly name: string
  readonly from: string
  readonly to: string
  readonly was?: Earlier
}

/** Ids under which it was practiced before its music changed and began anew, oldest first: their ceilings stay readable. */
export type Earlier = readonly string[]

export const EXPOSURES = ['solo', 'exposed', 'tutti'] as const
export const SURENESS = ['guess', 'printed', 'conductor'] as const

/**
 * A stretch of a piece as it is practiced. Meters, tempos, lengths and places are texts that the parsers of music read;
 * a place is a measure's number, "43", "43.2" or "43+3/16" (see music/place.ts).
 */
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
  /** What the measures are called, pick-up included, where they are not counted on from `measures`. */
  readonly numbers?: readonly string[]
  /** Where it ends inside its last measure. */
  readonly ends?: string
  readonly changes?: readonly { readonly at: string; readonly meter: string }[]
  /** Written tempos, from the first note on; the ladder scales them all by one ratio. */
  readonly tempos?: readonly { readonly at: string; readonly tempo: string; readonly ramp?: boolean }[]
  readonly breaths?: readonly {
    readonly at: string
    readonly kind: BreathKind
    /** Length; a beat where it is not said. */
    readonly adds?: string
    readonly below?: string
    /** A caesura or fermata that waits for the pedal. */
    readonly waits?: boolean
    readonly word?: string
  }[]
  /** Upper end of a goal that is a range. */
  readonly goalTop?: string
  /** Length of the running notes. */
  readonly run?: string
  readonly exposure?: (typeof EXPOSURES)[number]
  /** How it is clicked, each as music/clicked.ts reads it: "quarter; half from 100", "all; 1 from 112", "2". */
  readonly pulse?: string
  readonly subdivide?: string
  readonly beats?: string
  readonly on?: string
  readonly off?: string
  /** From which share of the goal its tempo changes are played: "always", "60%". */
  readonly tempoChanges?: string
  /** Measures of rest that are counted before its entry. */
  readonly rests?: number
  /** The guide voice taps its notes while it is practiced as written. */
  readonly guide?: 'notes'
  /** Rhythms in use, by preset or by ratios. */
  readonly rhythms?: readonly string[]
  readonly sections?: readonly Section[]
  /** Rehearsal marks as printed: "C". */
  readonly rehearsals?: readonly { readonly at: string; readonly text: string }[]
  /** Onsets from an imported part: "1/4 1/16 Bb4" = place from the first note, length, written pitch or x. */
  readonly notes?: readonly string[]
  readonly was?: Earlier
}

export type Piece = {
  readonly v: 1
  readonly id: string
  readonly title: string
  readonly readyBy?: string
  readonly concert?: string
  /** How sure the goal tempos are. */
  readonly sure?: (typeof SURENESS)[number]
  /** File name of the part that was read. */
  readonly source?: string
  readonly passages: readonly Passage[]
}

const words = (most: number) => {
  const accepted = `text of 1 to ${most} characters`
  return z
    .string(accepted)
    .transform(s => printable(s).trim())
    .pipe(z.string().min(1, accepted).max(most, accepted))
}

const id = z.string().regex(RANDOM_NAME, '4 to 40 lower-case letters and digits')
const date = z.iso.date('a date as 2026-03-14')
const wholeNumber = 'a whole number of measures from 1 to 999'

const list = <T extends z.ZodType>(of: T, most: number, accepted: string) =>
  z.array(of, accepted).max(most, `at most ${most} of them`)

const was = list(id, 200, 'a list of ids').exactOptional()

/** What only some passages have. Places, and lengths with them, are read against the whole passage afterwards. */
const extras = {
  numbers: list(words(12), 1000, 'a list of measure numbers').exactOptional(),
  ends: words(24).exactOptional(),
  changes: list(
    z.looseObject({ at: words(24), meter: musical(parseMeter) }),
    1000,
    'a list of meter changes',
  ).exactOptional(),
  tempos: list(
    z.looseObject({
      at: words(24),
      tempo: musical(parseTempo),
      ramp: z.boolean('true or false').exactOptional(),
    }),
    1000,
    'a list of tempos',
  ).exactOptional(),
  breaths: list(
    z
      .looseObject({
        at: words(24),
        kind: z.enum(BREATH_KINDS, BREATH_KINDS.join(', ')),
        adds: musical(parseLength).exactOptional(),
        below: musical(parseTempo).exactOptional(),
        waits: z.boolean('true or false').exactOptional(),
        word: words(60).exactOptional(),
      })
      .superRefine((b, ctx) => {
        if (b.kind === 'slow-breath' && b.below === undefined)
          ctx.addIssue({ code: 'custom', path: ['below'], message: 'the tempo below which it is taken' })
        if (b.waits && !MAY_WAIT.includes(b.kind))
          ctx.addIssue({ code: 'custom', path: ['waits'], message: ONLY_THESE_WAIT })
      }),
    2000,
    'a list of breaths',
  ).exactOptional(),
  goalTop: musical(parseTempo).exactOptional(),
  run: musical(parseLength).exactOptional(),
  exposure: z.enum(EXPOSURES, EXPOSURES.join(', ')).exactOptional(),
  guide: z.literal('notes', 'notes').exactOptional(),
  ...clickFields,
  rhythms: list(
    z.string('text').regex(/^[a-z0-9][a-z0-9:/-]{0,59}$/, 'the name of a rhythm, or ratios as 3:1'),
    40,
    'a list of rhythms',
  ).exactOptional(),
  sections: list(
    z.looseObject({ id, name: words(80), from: words(24), to: words(24), was }),
    500,
    'a list of sections',
  ).exactOptional(),
  rehearsals: list(
    z.looseObject({ at: words(24), text: words(60) }),
    500,
    'a list of rehearsal marks',
  ).exactOptional(),
  notes: list(
    z.string('text').regex(NOTE, 'place, length and pitch, as 1/4 1/16 Bb4'),
    20_000,
    'a list of notes',
  ).exactOptional(),
  was,
}

// Unknown keys stay, here and in the piece: a newer Gradino or another program may have put them there.
const passage = z
  .looseObject({
    id,
    name: words(80),
    measures: words(40).exactOptional(),
    meter: musical(parseMeter),
    count: z.int(wholeNumber).min(1, wholeNumber).max(999, wholeNumber),
    pickup: musical(parseLength).nullable(),
    start: musical(parseTempo).exactOptional(),
    goal: musical(parseTempo),
    readyBy: date.exactOptional(),
    note: words(400).exactOptional(),
    ...extras,
  })
  .superRefine((p, ctx) => {
    const [meter, start, goal] = [parseMeter(p.meter), parseTempo(p.start ?? p.goal), parseTempo(p.goal)]
    const pickup = p.pickup === null ? null : parseLength(p.pickup)
    if (meter.ok && pickup?.ok && compare(pickup.value, measureLength(meter.value)) >= 0)
      ctx.addIssue({ code: 'custom', path: ['pickup'], message: `a note value shorter than ${p.meter}` })
    if (start.ok && goal.ok && compareTempo(start.value, goal.value) > 0)
      ctx.addIssue({ code: 'custom', path: ['start'], message: `a tempo at or below the goal ${p.goal}` })
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

type Named = { readonly id: string; readonly name: string }

/** The first of two that are called the same, by index. */
const twin = (all: readonly Named[]): { readonly at: number; readonly key: keyof Named } | null => {
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

const piece: z.ZodType<Piece> = z.looseObject({
  v: z.literal(1, '1 (a newer Gradino wrote this)'),
  id,
  title: words(120),
  readyBy: date.exactOptional(),
  concert: date.exactOptional(),
  sure: z.enum(SURENESS, SURENESS.join(', ')).exactOptional(),
  source: words(200).exactOptional(),
  passages,
})

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

/** A piece from anything, or the first field that is wrong: "passage 2, goal". Never throws. */
export const checkPiece = (found: unknown): Result<Piece> => {
  const read = piece.safeParse(found)
  if (read.success) return ok(read.data)
  const issue = read.error.issues[0]
  const path = issue?.path ?? []
  const within = issue?.code === 'custom' ? (issue.params?.problem as Problem | undefined) : undefined
  if (within) return problem(`${fieldOf(path)}, ${within.field}`, within.got, within.accepted)
  const got = path.reduce<unknown>(
    (at, key) =>
      typeof at === 'object' && at !== null ? (at as Record<PropertyKey, unknown>)[key] : undefined,
    found,
  )
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
