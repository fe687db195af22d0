import { ok, problem, type Result } from './result.ts'
import { compareTempo, parseTempo, sameTempo, type Tempo, typed } from './tempo.ts'

/** What changes with the tempo of the first note: the first value may hold before all tempos (`from` = null). */
export type Changing<T> = readonly { readonly from: Tempo | null; readonly value: T }[]

/** Where a ladder leads. */
export type Toward = 'up' | 'down'

/** The same at every tempo. */
export const always = <T>(value: T): Changing<T> => [{ from: null, value }]

const reached = (from: Tempo, at: Tempo, toward: Toward): boolean =>
  toward === 'up' ? compareTempo(at, from) >= 0 : compareTempo(at, from) <= 0

/**
 * What holds at a tempo: each value from its own tempo on, as the ladder leads. Undefined before the first one.
 * It depends on nothing but the tempo, and a value that was left does not come back further on.
 */
export const valueAt = <T>(c: Changing<T>, at: Tempo, toward: Toward = 'up'): T | undefined => {
  const here = c.flatMap(s =>
    s.from && reached(s.from, at, toward) ? [{ from: s.from, value: s.value }] : [],
  )
  const last = here.reduce<(typeof here)[number] | null>(
    (far, s) => (far === null || reached(far.from, s.from, toward) ? s : far),
    null,
  )
  return (last ?? c.find(s => s.from === null))?.value
}

/** The same values at other tempos. */
export const retuned = <T>(c: Changing<T>, to: (t: Tempo) => Tempo): Changing<T> =>
  c.map(s => ({ ...s, from: s.from && to(s.from) }))

/** "quarter; half from 100" */
export const changingText = <T>(c: Changing<T>, show: (value: T) => string): string =>
  c.map(s => (s.from ? `${show(s.value)} from ${typed(s.from)}` : show(s.value))).join('; ')

/** One value, or several with a semicolon between them, each but the first with "from" and the tempo from which it holds. */
export const parseChanging = <T>(
  s: string,
  field: string,
  parse: (text: string, field: string) => Result<T>,
): Result<Changing<T>> => {
  const out: { from: Tempo | null; value: T }[] = []
  for (const part of s.split(';')) {
    const [, before, after] = /^(.*?)\bfrom\s(.*)$/i.exec(part) ?? []
    const value = parse((before ?? part).trim(), field)
    if (!value.ok) return value
    const from = after === undefined ? ok(null) : parseTempo(after, `${field}, from`)
    if (!from.ok) return from
    const tempo = from.value
    if (tempo === null && out.length > 0)
      return problem(
        field,
        part.trim(),
        'after ";" a value and the tempo from which it holds, like half from 100',
      )
    if (tempo && out.some(o => o.from && sameTempo(o.from, tempo)))
      return problem(`${field}, from`, typed(tempo), 'each tempo only once')
    out.push({ from: tempo, value: value.value })
  }
  return ok(out)
}
