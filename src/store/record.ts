import * as z from 'zod'
import type { Body, Event } from '../ladder/event.ts'
import { LEAST_AIR, MOST_AIR } from '../ladder/history.ts'
import { isUp, type Rules, UP_KINDS } from '../ladder/rules.ts'
import { type Frac, frac } from '../music/fraction.ts'
import { printable } from '../music/result.ts'
import type { Tempo } from '../music/tempo.ts'
import { type Decoded, ID, LABELS, RECORD_VERSION, readRecord } from './log.ts'

const whole = z.int().min(0)
const text = z.string().transform(printable)
const isAir = (seconds: number): boolean => seconds >= LEAST_AIR && seconds <= MOST_AIR

/** Exact and positive; the bounds leave every later product exact too. */
const positive = (most: number, finest: number) =>
  z
    .object({ n: z.int().min(1).max(most), d: z.int().min(1).max(finest) })
    .transform((f): Frac => frac(f.n, f.d))
const tempo = z.object({ unit: positive(1024, 1024), bpm: positive(1e8, 1e5) })

const up = z
  .object({ k: z.enum(UP_KINDS), n: whole.min(1), of: whole.min(1).exactOptional() })
  .transform(({ k, ...numbers }) => ({ kind: k, ...numbers }))
  .refine(isUp)
const rules = z.object({
  up,
  slips: whole,
  top: whole.min(1),
  find: z.literal(true).exactOptional(),
  capped: z.literal(true).exactOptional(),
})

/** What older journals call taking back. */
const FORMERLY = 'undo'

/** What a line of each kind says. */
const KINDS = {
  visit: z
    .object({
      kind: z.literal('visit'),
      key: text,
      rungs: z.array(tempo).min(1),
      at: whole,
      rules,
      heard: whole.exactOptional(),
    })
    .refine(v => v.at < v.rungs.length),
  verdict: z.object({
    kind: z.literal('verdict'),
    rep: whole,
    tempo,
    whole: z.boolean(),
    clean: z.boolean(),
    place: text.exactOptional(),
    air: z.number().refine(isAir).exactOptional(),
  }),
  unjudged: z.object({
    kind: z.literal('unjudged'),
    rep: whole,
    tempo,
    why: z.enum(['silent', 'unclear', 'interrupted']),
  }),
  move: z.object({ kind: z.literal('move'), to: tempo }),
  takeBack: z.object({ kind: z.enum(['takeBack', FORMERLY]).transform(() => 'takeBack' as const), of: text }),
} satisfies { readonly [K in Body['kind']]: z.ZodType<Extract<Body, { kind: K }>> }

const READ = { ...KINDS, [FORMERLY]: KINDS.takeBack }

/** The kinds of line that are written. */
export const KIND_NAMES = Object.keys(KINDS)

const { id, ...when } = LABELS.shape
const labels = z.object({ id, visit: id, ...when })

/** Session and number of a line, even of one that only a newer program understands; null where it has none. */
export const numberOf = (line: string): { readonly session: string; readonly n: number } | null => {
  const m = /"id":"([a-z0-9]{4,40})-(\d{6,12})"/.exec(line)
  return m?.[1] === undefined ? null : { session: m[1], n: Number(m[2]) }
}

const rulesLine = ({ up: { kind: k, ...numbers }, ...rules }: Rules) => ({ up: { k, ...numbers }, ...rules })

/** One line of the journal, without its ends. Session and number stand in the id, a kind under one letter. */
export const encode = ({ session, n, id, visit, time, offset, kind: k, ...body }: Event): string =>
  JSON.stringify({
    ...{ v: RECORD_VERSION, id, visit, time, offset, k, ...body },
    ...('rules' in body ? { rules: rulesLine(body.rules) } : {}),
  })

/** Any line, checked by the schemas. Never throws. */
export const decodeAny = (line: string): Decoded<Event> => {
  const found = readRecord(line, labels, READ)
  if (typeof found === 'string') return found
  const { head, body } = found
  const [, session = '', n = ''] = ID.exec(head.id) ?? []
  const [, home, first] = ID.exec(head.visit) ?? []
  // A visit lives in one session, and begins with its opening.
  const place = Number(n) - Number(first)
  if (session !== home || place < 0 || (place === 0) !== (body.kind === 'visit')) return 'damaged'
  // Not by spreading: measured, that alone took longer than all the rest.
  return Object.assign(body, head, { session, n: Number(n) })
}

const DAY = [
  '(?:0[1-9]|1[0-2])-(?:0[1-9]|1\\d|2[0-8])',
  '(?:0[13-9]|1[0-2])-(?:29|30)',
  '(?:0[13578]|1[02])-31',
].join('|')
const CLOCK = '(?:[01]\\d|2[0-3]):[0-5]\\d:[0-5]\\d\\.\\d{3}Z'
const FRACTION = '\\{"n":\\d{1,9},"d":\\d{1,9}\\}'
/** A verdict, letter for letter as `encode` writes it; nearly all lines of a journal are that. */
const VERDICT = new RegExp(
  [
    `^\\{"v":${RECORD_VERSION},"id":"(([a-z0-9]{4,40})-(\\d{6,12}))","visit":"(\\2-(\\d{6,12}))"`,
    `"time":"(\\d{4}-(?:${DAY})T${CLOCK})","offset":(0|-?[1-9]\\d{0,3}),"k":"verdict"`,
    `"rep":(0|[1-9]\\d{0,8}),"tempo":(\\{"unit":${FRACTION},"bpm":${FRACTION}\\})`,
    '"whole":(true|false),"clean":(true|false)(?:,"place":"([ !#-[\\]-~]*)")?(?:,"air":(\\d{1,3}(?:\\.\\d{1,2})?))?\\}$',
  ].join(','),
)

/** Tempos by their text: a journal has few. Kept small, whatever a file holds. */
const tempos = new Map<string, Tempo | null>()
const knownTempo = (text: string): Tempo | null => {
  const known = tempos.get(text)
  if (known !== undefined) return known
  const found = /:0\d/.test(text) ? null : (tempo.safeParse(JSON.parse(text)).data ?? null)
  if (tempos.size >= 5000) tempos.clear()
  tempos.set(text, found)
  return found
}

/**
 * The same as `decodeAny` for a verdict that this program wrote, several times as fast; null for every other line,
 * good or bad.
 */
export const decodeOwn = (line: string): Event | null => {
  const m = VERDICT.exec(line)
  if (!m) return null
  const [
    ,
    id = '',
    session = '',
    number,
    visit = '',
    first,
    time = '',
    minutes,
    rep,
    music = '',
    whole,
    clean,
    place,
    air,
  ] = m
  const [n, offset, tempo] = [Number(number), Number(minutes), knownTempo(music)]
  // Only as a number is written: not 07 or 7.50.
  if (air !== undefined && (`${Number(air)}` !== air || !isAir(Number(air)))) return null
  if (!tempo || n <= Number(first) || Math.abs(offset) > 1440) return null
  return {
    kind: 'verdict',
    rep: Number(rep),
    tempo,
    whole: whole === 'true',
    clean: clean === 'true',
    ...(place === undefined ? {} : { place }),
    ...(air === undefined ? {} : { air: Number(air) }),
    id,
    visit,
    time,
    offset,
    session,
    n,
  }
}

/** An event, or what else the line is. Never throws. */
export const decode = (line: string): Decoded<Event> => decodeOwn(line) ?? decodeAny(line)
