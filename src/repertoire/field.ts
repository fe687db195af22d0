import type { z } from 'zod'
import type { Frac } from '../music/fraction.ts'
import { feltBeat, parseMeter } from '../music/meter.ts'
import { QUARTER } from '../music/note-value.ts'
import { ok, printable, problem, type Result } from '../music/result.ts'
import type { Today, ValueKind } from './kinds.ts'

/**
 * One plain field of a piece, a passage or a section. From this table come the type, the schema of the file, the lines
 * of the forms and the options of `piece add` and `piece edit`: a field more is a row here, and where it is used.
 */
export type Field<V = never, Always extends boolean = boolean> = {
  readonly kind: ValueKind<V>
  /** What it is called on screen and in sentences. */
  readonly label: string
  readonly hint: string
  /** As an option: "--ready-by <date>", and what it says of itself. */
  readonly option: readonly [flags: string, says: string]
  /** It always stands in the file: with `missing` = what to type, or with null where nothing is typed. */
  readonly always: Always
  readonly missing?: string
  /** What else follows from the text, by keys; undefined takes a field out. */
  readonly also?: (text: string, a: Today) => { readonly [key: string]: unknown }
  /** What is said of an empty line in the form of a new passage. */
  readonly empty?: string
}

type FieldRow<V> = Omit<Field<V>, 'kind' | 'always' | 'missing'>
export const may = <V>(kind: ValueKind<V>, row: FieldRow<V>): Field<V, false> => ({
  ...row,
  kind,
  always: false,
})
export const needs = <V>(kind: ValueKind<V>, missing: string, row: FieldRow<V>): Field<V, true> => ({
  ...row,
  kind,
  missing,
  always: true,
})
export const orNull = <V>(kind: ValueKind<V>, row: FieldRow<V>): Field<V | null, true> => ({
  ...row,
  always: true,
  kind: {
    ...kind,
    schema: kind.schema.nullable(),
    show: (v, felt) => (v === null ? '' : kind.show(v, felt)),
    says: (v, a) => (v === null ? '' : (kind.says?.(v, a) ?? '')),
  },
})

// biome-ignore lint/suspicious/noExplicitAny: a table holds fields of any kind
export type Table = { readonly [key: string]: Field<any> }
type Value<F> = F extends { readonly kind: ValueKind<infer V> } ? V : never
type Needed<T> = { [K in keyof T]: T[K] extends { readonly always: true } ? K : never }[keyof T]
/** What a table keeps in a file. */
export type Stored<T> = { readonly [K in Needed<T>]: Value<T[K]> } & {
  readonly [K in Exclude<keyof T, Needed<T>>]?: Value<T[K]>
}

/** A table as the schema of what stands in the file. */
export const schemas = (table: Table): { [key: string]: z.ZodType } =>
  Object.fromEntries(
    Object.entries(table).map(([key, f]) => [key, f.always ? f.kind.schema : f.kind.schema.exactOptional()]),
  )

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
