import { z } from 'zod'
import { parseUp } from '../ladder/rules.ts'
import { parseStep } from '../ladder/rungs.ts'
import { parseMeter } from '../music/meter.ts'
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
const name = z.string().regex(/^[a-z0-9][a-z0-9-]{0,39}$/, 'a name of small letters, digits and hyphens')

const item = z.looseObject({
  name: words(60),
  words: words(300),
  meter: musical(parseMeter),
  measures: count(64),
  /** One after the other, each `times` times. */
  tempos: z.array(musical(parseTempo), 'a list of tempos').min(1).max(40),
  times: count(100),
})

const warmUp = z.looseObject({
  v: z.literal(1, '1 (a newer Gradino wrote this)'),
  kind: z.literal('warm-up'),
  name,
  title: words(80),
  items: z.array(item, 'a list of exercises').min(1).max(40),
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

/** One exercise of a warm-up: so many measures at each of some tempos, each so many times. */
export type WarmUpItem = Pick<
  z.infer<typeof item>,
  'name' | 'words' | 'meter' | 'measures' | 'tempos' | 'times'
>
export type WarmUp = { readonly name: string; readonly title: string; readonly items: readonly WarmUpItem[] }
export type LadderPreset = Pick<z.infer<typeof ladder>, 'name' | 'words' | 'step' | 'clean' | 'slips'>
export type RhythmPreset = Pick<z.infer<typeof rhythm>, 'name' | 'words' | 'ratios' | 'usual'>
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
