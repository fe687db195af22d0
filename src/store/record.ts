import { z } from 'zod'
import type { Body, Event } from '../ladder/event.ts'
import { type Frac, frac } from '../music/fraction.ts'
import { printable } from '../music/result.ts'

/** The version that this program writes. Lines with a higher one are left for a newer program. */
export const RECORD_VERSION = 1

const whole = z.int().min(0)
const text = z.string().transform(printable)

/** Exact and positive; the bounds leave every later product exact too. */
const positive = (most: number, finest: number) =>
  z
    .object({ n: z.int().min(1).max(most), d: z.int().min(1).max(finest) })
    .transform((f): Frac => frac(f.n, f.d))
const tempo = z.object({ unit: positive(1024, 1024), bpm: positive(1e8, 1e5) })

const up = z.union([
  z.object({ k: z.enum(['row', 'total']), n: whole.min(1) }),
  z.object({ k: z.literal('most'), n: whole.min(1), of: whole.min(1) }),
])
const rules = z.object({ up, slips: whole, top: whole.min(1), find: z.literal(true).exactOptional() })

/** What the journal accepts of each kind of event. */
const KINDS = {
  visit: z
    .object({ k: z.literal('visit'), key: text, rungs: z.array(tempo).min(1), at: whole, rules })
    .refine(v => v.at < v.rungs.length),
  verdict: z.object({
    k: z.literal('verdict'),
    rep: whole,
    tempo,
    whole: z.boolean(),
    clean: z.boolean(),
    place: text.exactOptional(),
  }),
  unjudged: z.object({
    k: z.literal('unjudged'),
    rep: whole,
    tempo,
    why: z.enum(['silent', 'unclear', 'interrupted']),
  }),
  move: z.object({ k: z.literal('move'), to: tempo }),
  undo: z.object({ k: z.literal('undo'), of: text }),
} satisfies { readonly [K in Body['k']]: z.ZodType<Extract<Body, { k: K }>> }

const ID = /^([a-z0-9]{4,40})-(\d{6,12})$/
const envelope = z.object({
  id: z.string().regex(ID),
  visit: z.string().regex(ID),
  time: z.iso.datetime(),
  offset: z.int().min(-1440).max(1440),
})

/** `<session>-<n>`; padded, so that the order of the texts is the order of the numbers (up to a million). */
export const eventId = (session: string, n: number): string => `${session}-${String(n).padStart(6, '0')}`

/** One line of the journal, without its ends. Session and number stand in the id. */
export const encode = ({ session, n, id, visit, time, offset, ...body }: Event): string =>
  JSON.stringify({ v: RECORD_VERSION, id, visit, time, offset, ...body })

/** An event; or `newer`: of a version or kind that this program does not know; or `damaged`. Never throws. */
export const decode = (line: string): Event | 'newer' | 'damaged' => {
  let found: unknown
  try {
    found = JSON.parse(line)
  } catch {
    return 'damaged'
  }
  if (typeof found !== 'object' || found === null) return 'damaged'
  const { v, k } = found as Readonly<Record<string, unknown>>
  if (typeof v !== 'number' || !Number.isInteger(v) || v < 1) return 'damaged'
  if (v > RECORD_VERSION) return 'newer'
  const head = envelope.safeParse(found)
  if (!head.success || typeof k !== 'string') return 'damaged'
  if (!Object.hasOwn(KINDS, k)) return 'newer'
  const body = KINDS[k as Body['k']].safeParse(found)
  const [, session = '', n = ''] = ID.exec(head.data.id) ?? []
  const [, home, first] = ID.exec(head.data.visit) ?? []
  // A visit lives in one session, and begins with its opening.
  const place = Number(n) - Number(first)
  if (!body.success || session !== home || place < 0 || (place === 0) !== (k === 'visit')) return 'damaged'
  // Not by spreading: measured, that alone took longer than all the rest.
  return Object.assign(body.data, head.data, { session, n: Number(n) })
}
