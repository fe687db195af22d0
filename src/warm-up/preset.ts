import * as z from 'zod'
import { parseDayStart, parseUp } from '../ladder/rules.ts'
import { parseStep } from '../ladder/rungs.ts'
import { MODES, parseKey } from '../music/keys.ts'
import { parseMeter } from '../music/meter.ts'
import { parsePitch } from '../music/pitch.ts'
import { ok, printable, problem, type Result } from '../music/result.ts'
import { parseRhythm, type Rhythm } from '../music/rhythm.ts'
import { parseTempo } from '../music/tempo.ts'

const musical = (parse: (s: string) => Result<unknown>) =>
  z.string('text').superRefine((s, ctx) => {
    const read = parse(s)
    if (!read.ok) ctx.addIssue({ code: 'custom', message: read.problem.accepted })
  })

const words = (most: number) =>
  z.string(`text of 1 to ${most} characters`).min(1).max(most).transform(printable)
const count = (most: number) => z.int(`a whole number from 1 to ${most}`).min(1).max(most)
const MINUTES = 'minutes from 0.5 to 60'
const TONE = 'a pitch, like C5 or Bb3, or tonic'
const name = z.string().regex(/^[a-z0-9][a-z0-9-]{0,39}$/, 'a name of small letters, digits and hyphens')

const EXERCISES = ['long-tones', 'scale', 'thirds', 'sixths', 'arpeggio', 'articulation', 'study'] as const

const item = z
  .looseObject({
    name: words(60),
    words: words(300),
    meter: musical(parseMeter),
    measures: count(64).exactOptional(),
    /** One after the other, each `times` times. */
    tempos: z.array(musical(parseTempo), 'a list of tempos').min(1).max(40),
    times: count(100).default(1),
    exercise: z.enum(EXERCISES, EXERCISES.join(', ')).exactOptional(),
    /** All twelve keys of `mode`, or these, so that none is untouched for 14 days. As written in the part. */
    keys: z
      .union([z.literal('rotate'), z.array(musical(parseKey)).min(1).max(40)], 'rotate, or a list of keys')
      .exactOptional(),
    mode: z.enum(MODES, MODES.join(', ')).exactOptional(),
    /** Instead of measures: so many beats (of the tempo's note value) one after the other, at each tempo. */
    lengths: z.array(count(64), 'a list of beats').min(1).max(40).exactOptional(),
    /** It moves on by the clock, when the turn in which they are over has ended; `times` are then no end. */
    minutes: z.number(MINUTES).min(0.5, MINUTES).max(60, MINUTES).exactOptional(),
    /** A pitch to tune to, as written in the part, or the tonic of the key. */
    tone: z
      .string(TONE)
      .refine(s => s === 'tonic' || parsePitch(s).ok, TONE)
      .exactOptional(),
  })
  .superRefine((i, ctx) => {
    if ((i.measures === undefined) === (i.lengths === undefined))
      ctx.addIssue({ code: 'custom', path: ['measures'], message: 'a number of measures, or else lengths' })
    if (i.tone === 'tonic' && i.keys === undefined)
      ctx.addIssue({ code: 'custom', path: ['tone'], message: 'a pitch, where the exercise has no keys' })
  })

const warmUp = z.looseObject({
  v: z.literal(1, '1 (a newer Gradino wrote this)'),
  kind: z.literal('warm-up'),
  name,
  title: words(80),
  /** Between two turns as long a rest as was played: for brass. */
  rest: z.literal('as-long', 'as-long').exactOptional(),
  items: z
    .array(item, 'a list of exercises')
    .min(1)
    .max(40)
    .refine(all => new Set(all.map(i => i.name)).size === all.length, 'exercises of different names'),
})

const ladder = z.looseObject({
  v: z.literal(1, '1 (a newer Gradino wrote this)'),
  kind: z.literal('ladder'),
  name,
  words: words(300),
  step: musical(parseStep),
  clean: musical(parseUp),
  /** Slips in a row that lower the rung; 0 = never. */
  slips: z.int('a whole number from 0 to 9').min(0).max(9),
  /** At which share of the ceiling a day begins. */
  dayStart: musical(parseDayStart).exactOptional(),
  /** After every ten repetitions one at the goal: of one beat, or of the whole section. */
  fast: z.enum(['beat', 'section'], 'beat or section').exactOptional(),
})

const rhythm = z.looseObject({
  v: z.literal(1, '1 (a newer Gradino wrote this)'),
  kind: z.literal('rhythm'),
  name,
  words: words(80),
  ratios: musical(parseRhythm),
  /** Among the few that make every step between two notes of the group a quick one. */
  usual: z.boolean('true or false').exactOptional(),
})

/** The schema of each kind of preset. */
const KINDS = { 'warm-up': warmUp, ladder, rhythm }

/** What a schema names, without what it lets pass beside that. */
type Named<S extends z.ZodType> = {
  [K in keyof z.infer<S> as string extends K ? never : K extends 'v' | 'kind' ? never : K]: z.infer<S>[K]
}

/** One exercise of a warm-up: measures or lengths at each of some tempos, each so many times, or for some minutes. */
export type WarmUpItem = Named<typeof item>
export type WarmUp = Omit<Named<typeof warmUp>, 'items'> & { readonly items: readonly WarmUpItem[] }
export type LadderPreset = Named<typeof ladder>
export type RhythmPreset = Named<typeof rhythm>
export type Preset = z.infer<(typeof KINDS)[keyof typeof KINDS]>

/** The rhythm of a preset, under its own name and words. Throws RangeError for one that was not checked. */
export const rhythmOf = (p: RhythmPreset): Rhythm => {
  const read = parseRhythm(p.ratios)
  if (!read.ok) throw new RangeError(p.ratios)
  return { ...read.value, name: p.name, words: p.words }
}

/** A preset from anything, or the first field that is wrong ("items, 2, meter"). Never throws. */
export const checkPreset = (found: unknown): Result<Preset> => {
  const kind = typeof found === 'object' && found !== null ? (found as { kind?: unknown }).kind : undefined
  if (typeof kind !== 'string' || !Object.hasOwn(KINDS, kind))
    return problem('preset, kind', String(kind ?? ''), Object.keys(KINDS).join(', '))
  const read = KINDS[kind as keyof typeof KINDS].safeParse(found)
  if (read.success) return ok(read.data)
  const issue = read.error.issues[0]
  const path = issue?.path ?? []
  const got = path.reduce<unknown>((at, k) => (at as Record<PropertyKey, unknown> | undefined)?.[k], found)
  const field = path.map(k => (typeof k === 'number' ? String(k + 1) : String(k))).join(', ')
  return problem(
    field || 'preset',
    typeof got === 'string' ? got : (JSON.stringify(got) ?? ''),
    issue?.message ?? 'a preset',
  )
}
