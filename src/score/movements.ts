import { compare, zero } from '../music/fraction.ts'
import { mergeRoads } from './road.ts'
import type { Movement, Road, WrittenMeasure } from './score.ts'
import { tempoWord } from './tempo-marks.ts'

type Parts = readonly (readonly WrittenMeasure[])[]

/** What all parts together say at one measure. */
type Opening = {
  readonly number: number | null
  readonly words: readonly string[]
  /** A number in the words, "III." or "No. 3". */
  readonly counted: number | null
  readonly tempo: boolean
  readonly meter: boolean
  readonly key: boolean
  readonly final: boolean
  readonly road: Road
}

const ROMAN: readonly string[] = ['I', 'II', 'III', 'IV', 'V', 'VI', 'VII', 'VIII', 'IX', 'X', 'XI', 'XII']
const TITLES =
  /^(scherz|men[ueé]+t|minuet|finale?\b|rond|intermez|romanz|romance|adagietto|ballet|allemande|courante|sarabande|gigue|gavotte|bourr|polonaise|march|marsch|marche|fug|prelud|präludium|prélude|introdu[cz]|aria\b|recitativ|chor|variation|tema|theme)/i
/** They stand inside a movement however its numbers run. */
const INSIDE =
  /^(trio\b|alternativo|ma(ggiore|jeur|jore)\b|min(ore|eur)\b|var\b|var(iation|iazione)\b|coda\b|tempo\b|a tempo|d\.|da capo|fine\b)/i
/** How to play, not what begins. */
const PLAYING =
  /^(pizz|arco|con\b|senza|sul\b|dolce|cresc|dim|espress|legato|stacc|marc|ten\b|solo|tutti|div|unis|sempre|poco|molto cresc|[mpf]+\b|sf|col\b|mit\b|ohne\b)/i

const numbered = (text: string): number | null => {
  const roman = /^([IVX]{1,4})(?:\.|:|\s*$|\s+[-–—(]?\s*[A-ZÄÖÜÉ])/.exec(text)?.[1]
  const at = ROMAN.indexOf(roman ?? '')
  if (at >= 0) return at + 1
  const arabic =
    /^(?:(?:no|nr|n°|№)\.?\s*(\d{1,2})\b|(\d{1,2})\.\s*(?:satz|mov|mvt)|(?:movement|mvt\.?)\s*(\d{1,2}))/i.exec(
      text,
    )
  const number = arabic?.[1] ?? arabic?.[2] ?? arabic?.[3]
  return number === undefined ? null : Number(number)
}

const openingAt = (parts: Parts, i: number): Opening => {
  const here = parts.flatMap(p => p[i] ?? [])
  const words = [
    ...new Set(here.flatMap(m => m.words.filter(w => compare(w.at, zero) === 0).map(w => w.text))),
  ]
  const number = /^\d+$/.exec((here[0] as WrittenMeasure).number)?.[0]
  return {
    number: number === undefined ? null : Number(number),
    words,
    counted: words.map(numbered).find(n => n !== null) ?? null,
    tempo: here.some(m => m.marks.some(t => compare(t.at, zero) === 0 && t.printed)),
    meter: here.some(m => m.time !== null),
    key: here.some(m => m.key !== null),
    final: here.some(m => m.bar === 'final'),
    road: mergeRoads(here.map(m => m.road)),
  }
}

/** A heading without its number: a title or a tempo, not how to play. */
const headingOf = (o: Opening): string =>
  o.words.find(
    w => numbered(w) === null && /^\p{Lu}/u.test(w) && !PLAYING.test(w) && tempoWord(w) === null,
  ) ?? ''

const named = (o: Opening, index: number): string => {
  const printed = o.words.find(w => numbered(w) !== null)
  const heading = headingOf(o)
  if (printed !== undefined) return /^\S+$/.test(printed) ? `${printed} ${heading}`.trim() : printed
  return heading === '' ? `movement ${index + 1}` : `movement ${index + 1}, ${heading}`
}

/** Measures that a movement has at least. */
const SHORTEST = 2

/**
 * The movements of a score: where its numbers begin again, where a heading counts on ("III."), and where after a final
 * bar line a new heading or tempo comes with a new meter or key. A trio belongs to what it leads back to. The signs are
 * common practice, no source.
 */
export const findMovements = (parts: Parts): readonly Movement[] => {
  const length = Math.max(0, ...parts.map(p => p.length))
  const openings = Array.from({ length }, (_, i) => openingAt(parts, i))
  const starts = [0]
  let counted = openings[0]?.counted ?? null
  let last = 0
  for (const [i, o] of openings.entries()) {
    const before = openings[i - 1]
    const since = i - (starts.at(-1) as number)
    if (before && since >= SHORTEST && begins(o, before, counted, last)) starts.push(i)
    if (starts.at(-1) === i) counted = o.counted ?? (counted === null ? null : counted + 1)
    last = o.number ?? last
  }
  const whole = withTrios(starts, openings)
  if (whole.length < 2) return [{ name: '', from: 0, to: Math.max(0, length - 1) }]
  return whole.map((from, k) => ({
    name: named(openings[from] as Opening, k)
      .slice(0, 60)
      .trim(),
    from,
    to: (whole[k + 1] ?? length) - 1,
  }))
}

const begins = (o: Opening, before: Opening, counted: number | null, last: number): boolean => {
  const inside = o.words.some(w => INSIDE.test(w)) && o.counted === null
  if (o.number !== null && o.number <= 1 && last > o.number + 1) return true
  const closed = before.final || before.road.backward !== null || before.road.daCapo
  if (counted !== null && o.counted === counted + 1) return closed || o.tempo || o.meter || o.key
  if (inside || !before.final || before.road.fine) return false
  const title = o.words.some(w => TITLES.test(w))
  const heading = o.tempo || headingOf(o) !== ''
  return title || (heading && (o.meter || o.key))
}

/** A stretch that leads back to a beginning and an end that only the stretch before it has is one movement with it. */
const withTrios = (starts: readonly number[], openings: readonly Opening[]): readonly number[] =>
  starts.filter((from, k) => {
    const [before, after] = [starts[k - 1], starts[k + 1] ?? openings.length]
    const o = openings[from]
    if (before === undefined || !o || o.counted !== null) return true
    const has = (a: number, b: number, of: (r: Road) => boolean) => openings.slice(a, b).some(m => of(m.road))
    const back = has(from, after, r => r.daCapo) && !has(from, after, r => r.fine)
    const trio = o.words.some(w => INSIDE.test(w))
    return !(back && !has(before, from, r => r.daCapo) && (trio || has(before, from, r => r.fine)))
  })
