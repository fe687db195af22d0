import type { Frac } from '../music/fraction.ts'
import { feltBeat, parseMeter } from '../music/meter.ts'
import { QUARTER } from '../music/note-value.ts'
import { ok, printable, problem, type Result } from '../music/result.ts'
import type { Field, Table } from './field.ts'
import type { Today } from './kinds.ts'

/** The beat that is felt in a passage; quarters where there is no meter. */
export const feltIn = (of: object): Frac => {
  const meter = parseMeter('meter' in of && typeof of.meter === 'string' ? of.meter : '4/4')
  return meter.ok ? feltBeat(meter.value) : QUARTER
}

/** What a field says as it is typed; empty where it is not there. */
export const textIn = (of: object, key: string, { kind }: Field<unknown>): string => {
  const value = (of as Record<string, unknown>)[key]
  return value === undefined || value === null ? '' : printable(kind.show(value, feltIn(of)))
}

/** What was typed for some fields, by their keys. */
export type Texts = { readonly [key: string]: string }

/** One field set from what was typed; an empty text or "none" takes it out. */
const setField = (
  of: object,
  key: string,
  field: Field<unknown>,
  typed: string,
  a: Today,
): Result<object> => {
  const plain = printable(typed).trim()
  const text = plain.toLowerCase() === 'none' ? '' : plain
  const { [key]: _, ...rest } = of as Record<string, unknown>
  if (text === '' && field.missing !== undefined) return problem(field.label, '', field.missing)
  if (text === '') return ok(field.always ? { ...of, [key]: null } : rest)
  const from = { ...a, felt: feltIn(of) }
  const value = field.kind.read(text, field.label, from)
  if (!value.ok) return value
  const all = { ...of, ...field.also?.(text, from), [key]: value.value }
  return ok(Object.fromEntries(Object.entries(all).filter(([, v]) => v !== undefined)))
}

/** All fields that were typed, set one after another; or the first that is wrong. */
export const setFields = <T extends object>(table: Table, of: T, texts: Texts, a: Today): Result<T> => {
  let now: object = of
  for (const [key, field] of Object.entries(table)) {
    const text = texts[key]
    if (text === undefined) continue
    const set = setField(now, key, field, text, a)
    if (!set.ok) return set
    now = set.value
  }
  return ok(now as T)
}
