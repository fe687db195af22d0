import { ok, problem, type Result } from './result.ts'

/**
 * Exact fractions: positions and lengths in whole notes, tempos in beats a minute.
 * Always reduced, denominator positive, both parts safe integers.
 */
export type Frac = { readonly n: number; readonly d: number }

const gcd = (a: bigint, b: bigint): bigint => (b === 0n ? a : gcd(b, a % b))

/** Null where the parts are too large for safe integers. */
const reduced = (n: bigint, d: bigint): Frac | null => {
  if (d === 0n) throw new RangeError('a fraction needs a denominator other than 0')
  const g = gcd(n < 0n ? -n : n, d < 0n ? -d : d) * (d < 0n ? -1n : 1n)
  const [rn, rd] = [Number(n / g), Number(d / g)]
  return Number.isSafeInteger(rn) && Number.isSafeInteger(rd) ? { n: rn, d: rd } : null
}

const reduce = (n: bigint, d: bigint): Frac => {
  const exact = reduced(n, d)
  if (!exact) throw new RangeError('fraction too fine to be exact')
  return exact
}

/** The same in plain numbers, where both parts are safe integers: a score adds lengths by the hundred thousand. */
const quick = (n: number, d: number): Frac | null => {
  if (d <= 0 || !Number.isSafeInteger(n) || !Number.isSafeInteger(d)) return null
  let [a, b] = [Math.abs(n), d]
  while (b !== 0) [a, b] = [b, a % b]
  return { n: n / a || 0, d: d / a }
}

/** n/d, reduced. Throws RangeError for d = 0 or parts that are not safe integers. */
export const frac = (n: number, d = 1): Frac => quick(n, d) ?? reduce(BigInt(n), BigInt(d))

export const zero: Frac = { n: 0, d: 1 }
export const one: Frac = { n: 1, d: 1 }

export const add = (a: Frac, b: Frac): Frac =>
  quick(a.n * b.d + b.n * a.d, a.d * b.d) ??
  reduce(BigInt(a.n) * BigInt(b.d) + BigInt(b.n) * BigInt(a.d), BigInt(a.d) * BigInt(b.d))
export const neg = (a: Frac): Frac => ({ n: a.n === 0 ? 0 : -a.n, d: a.d })
export const sub = (a: Frac, b: Frac): Frac => add(a, neg(b))
export const mul = (a: Frac, b: Frac): Frac =>
  quick(a.n * b.n, a.d * b.d) ?? reduce(BigInt(a.n) * BigInt(b.n), BigInt(a.d) * BigInt(b.d))
/** a/b. Throws RangeError when b is 0. */
export const div = (a: Frac, b: Frac): Frac =>
  quick(a.n * b.d, a.d * b.n) ?? reduce(BigInt(a.n) * BigInt(b.d), BigInt(a.d) * BigInt(b.n))
export const times = (a: Frac, k: number): Frac => mul(a, frac(k))

/** Below 0, 0 or above 0, as a is less than, equal to or greater than b. */
export const compare = (a: Frac, b: Frac): number => {
  const [left, right] = [a.n * b.d, b.n * a.d]
  if (Number.isSafeInteger(left) && Number.isSafeInteger(right)) return Math.sign(left - right)
  const diff = BigInt(a.n) * BigInt(b.d) - BigInt(b.n) * BigInt(a.d)
  return diff < 0n ? -1 : diff > 0n ? 1 : 0
}
export const equal = (a: Frac, b: Frac): boolean => a.n === b.n && a.d === b.d
export const less = (a: Frac, b: Frac): boolean => compare(a, b) < 0
export const sum = (all: readonly Frac[]): Frac => all.reduce(add, zero)
export const min = (a: Frac, b: Frac): Frac => (less(b, a) ? b : a)
export const max = (a: Frac, b: Frac): Frac => (less(a, b) ? b : a)

/** Parts no larger than this leave room for the next products. */
const ROOMY = 1e12

/** Exact while its parts are not too large, else to the nearest millionth. */
const nearest = (n: bigint, d: bigint): Frac => {
  const exact = reduced(n, d)
  const roomy = exact && Math.abs(exact.n) <= ROOMY && exact.d <= ROOMY
  return roomy ? exact : frac(roundDiv(n * 1_000_000n, d), 1_000_000)
}

/** The nearest whole number to n/d (d above 0); a half goes up. */
const roundDiv = (n: bigint, d: bigint): number => {
  const q = (2n * n + d) / (2n * d)
  return Number((2n * n + d) % (2n * d) < 0n ? q - 1n : q)
}

/** a x b, to the nearest millionth where the product is too fine to be exact. */
export const mulNear = (a: Frac, b: Frac): Frac =>
  nearest(BigInt(a.n) * BigInt(b.n), BigInt(a.d) * BigInt(b.d))

/** The way from a to b, `part` of it gone: a + (b - a) x part; as exact as `mulNear`. */
export const mix = (a: Frac, b: Frac, part: Frac): Frac => {
  const [an, ad, bn, bd] = [BigInt(a.n), BigInt(a.d), BigInt(b.n), BigInt(b.d)]
  const [pn, pd] = [BigInt(part.n), BigInt(part.d)]
  return nearest(an * bd * pd + (bn * ad - an * bd) * pn, ad * bd * pd)
}

/** a/b as a whole number when b fits into a without remainder, else null. */
export const wholeTimes = (a: Frac, b: Frac): number | null => {
  const q = div(a, b)
  return q.d === 1 ? q.n : null
}

export const toNumber = (a: Frac): number => a.n / a.d

/** The nearest whole number to a x k (k a whole number), exact; a half goes up. */
export const roundTimes = (a: Frac, k: number): number => roundDiv(BigInt(a.n) * BigInt(k), BigInt(a.d))

/** The greatest whole number not above a. */
export const floor = (a: Frac): number => {
  const q = BigInt(a.n) / BigInt(a.d)
  return Number(a.n < 0 && a.d > 1 ? q - 1n : q)
}

/** Tuplets are coarser than this; and sums of some that differ stay exact. */
const FINEST = 4096

/** "3/16", "5" or "-1/4": at most six digits over a whole number up to 4096; else null. */
export const parseFraction = (s: string): Frac | null => {
  const m = /^(-?\d{1,6})(?:\/(\d{1,4}))?$/.exec(s.trim())
  const under = Number(m?.[2] ?? 1)
  return m && under > 0 && under <= FINEST ? frac(Number(m[1]), under) : null
}

/** What `parseFraction` reads: "3/16", a whole number alone. */
export const fractionText = (a: Frac): string => (a.d === 1 ? `${a.n}` : `${a.n}/${a.d}`)

/** A positive decimal ("112", "63.5") with at most three decimals as an exact fraction, else null. */
export const parseDecimal = (s: string): Frac | null => {
  const m = /^(\d{1,6})(?:\.(\d{1,3}))?$/.exec(s.trim())
  if (!m) return null
  const decimals = m[2] ?? ''
  return frac(Number(m[1] + decimals), 10 ** decimals.length)
}

/** A fraction as a decimal for people: "112", "63.5", "79.2", at most three decimals. */
export const decimal = (a: Frac): string => String(Math.round((a.n / a.d) * 1000) / 1000)

/** A whole number in a range, from what was typed. */
export const wholeNumber = (s: string, field: string, least: number, most: number): Result<number> => {
  const n = /^\d{1,6}$/.test(s.trim()) ? Number(s) : Number.NaN
  return n >= least && n <= most ? ok(n) : problem(field, s, `a whole number from ${least} to ${most}`)
}
