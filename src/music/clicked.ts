import { type Changing, changingText, parseChanging } from './changing.ts'
import type { Frac } from './fraction.ts'
import { noteValueName, parseNoteValue } from './note-value.ts'
import { ok, problem, type Result } from './result.ts'

/** "all": every beat, every measure. */
const ALL = 'all'

const number = (s: string, field: string, most: number, accepted: string): Result<number> =>
  /^\d{1,4}$/.test(s) && Number(s) >= 1 && Number(s) <= most ? ok(Number(s)) : problem(field, s, accepted)

const parseBeats = (s: string, field: string): Result<readonly number[] | null> => {
  if (s.toLowerCase() === ALL) return ok(null)
  const beats: number[] = []
  for (const b of s.split(',')) {
    const n = number(b.trim(), field, 32, 'all, or numbers of beats from 1 to 32, like 2,4')
    if (!n.ok) return n
    beats.push(n.value)
  }
  return ok(beats)
}

const parseOn = (s: string, field: string): Result<number | null> =>
  s.toLowerCase() === ALL ? ok(null) : number(s, field, 32, 'all, or a whole number from 1 to 32')

type Notation<T> = {
  readonly parse: (s: string, field: string) => Result<Changing<T>>
  readonly show: (c: Changing<T>) => string
}

const notation = <T>(
  parse: (s: string, field: string) => Result<T>,
  show: (value: T) => string,
): Notation<T> => ({
  parse: (s, field) => parseChanging(s, field, parse),
  show: c => changingText(c, show),
})

/** What may change with the tempo, as it is typed and kept: "quarter; half from 100", "all; 1 from 112". */
export const CLICKED = {
  /** The note value that is counted and clicked. */
  pulse: notation<Frac>(parseNoteValue, noteValueName),
  /** Clicks to a beat. */
  subdivide: notation<number>((s, f) => number(s, f, 8, 'a whole number from 1 to 8'), String),
  /** Numbers of the beats that click; null = all. */
  beats: notation<readonly number[] | null>(parseBeats, b => b?.join(',') ?? ALL),
  /** So many measures click, null = all; then so many do not. */
  on: notation<number | null>(parseOn, n => (n === null ? ALL : String(n))),
  off: notation<number>((s, f) => number(s, f, 32, 'a whole number from 1 to 32'), String),
} as const

/** How much clicks, and from which tempo on. */
export type Clicked = {
  readonly pulse?: Changing<Frac>
  readonly subdivide?: Changing<number>
  readonly beats?: Changing<readonly number[] | null>
  readonly on?: Changing<number | null>
  readonly off?: Changing<number>
}

const NAMES: Readonly<Record<keyof Clicked, string>> = {
  pulse: 'pulse',
  subdivide: 'subdivide',
  beats: 'beats',
  on: 'measures on',
  off: 'measures off',
}

/** Those of the texts that are there. */
export const parseClicked = (t: { readonly [K in keyof Clicked]?: string | undefined }): Result<Clicked> => {
  const all: { [key: string]: unknown } = {}
  for (const k of Object.keys(NAMES) as (keyof Clicked)[]) {
    const text = t[k]
    if (text === undefined) continue
    const read: Result<unknown> = CLICKED[k].parse(text, NAMES[k])
    if (!read.ok) return read
    all[k] = read.value
  }
  return ok(all)
}
