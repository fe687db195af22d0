import {
  add,
  compare,
  div,
  equal,
  type Frac,
  frac,
  mul,
  parseDecimal,
  sum,
  toNumber,
  zero,
} from '../music/fraction.ts'
import { noteValueName, PLAIN_VALUES } from '../music/note-value.ts'
import { FASTEST, quarters, related, SLOWEST, type Tempo, tidy } from '../music/tempo.ts'
import type { MarkShape } from './score.ts'
import { clean } from './text.ts'
import { attr, child, childrenOf, type Element, textOf } from './xml.ts'

/** Source: MusicXML 4.0, data type note-type-value. */
const UNITS: ReadonlyMap<string, Frac> = new Map([
  ['maxima', frac(8)],
  ['long', frac(4)],
  ...PLAIN_VALUES,
  ['128th', frac(1, 128)],
  ['256th', frac(1, 256)],
  ['512th', frac(1, 512)],
  ['1024th', frac(1, 1024)],
])
const MOST_DOTS = 4

const value = (name: string, dots: number): Frac | null => {
  const plain = UNITS.get(name)
  if (!plain || dots > MOST_DOTS) return null
  return mul(plain, frac(2 ** (dots + 1) - 1, 2 ** dots))
}

/** A number of beats a minute inside a text: "108", "c. 108", "92,5"; of a range ("40 - 46") the lower end. */
export const numberIn = (text: string): Frac | null => {
  const found = /\d{1,6}(?:[.,]\d{1,3})?/.exec(text)?.[0].replace(',', '.')
  const bpm = found === undefined ? null : parseDecimal(found)
  return bpm && inRange(bpm) ? bpm : null
}

/** From the slowest to the fastest number of beats a minute that is taken. */
export const inRange = (bpm: Frac): boolean =>
  compare(bpm, frac(SLOWEST)) >= 0 && compare(bpm, frac(FASTEST)) <= 0

/** Quarters a minute of a `tempo` attribute, to a thousandth; null for 0, text and what no one plays. */
export const playingTempo = (text: string): Frac | null => {
  const n = Number(text.trim() === '' ? Number.NaN : text)
  const bpm = Number.isFinite(n) && n > 0 && n <= FASTEST ? parseDecimal(n.toFixed(3)) : null
  return bpm && inRange(bpm) ? bpm : null
}

/** A `metronome` element in one of its three shapes, null where it is none of them. */
export const readMetronome = (el: Element): MarkShape | null => {
  const notes = el.children.filter(c => c.name === 'metronome-note')
  return notes.length > 0 ? groupsOfNotes(el) : beatUnits(el)
}

const beatUnits = (el: Element): MarkShape | null => {
  const sides: { unit: string; dots: number; tied: Frac }[] = []
  for (const c of el.children) {
    const side = sides.at(-1)
    if (c.name === 'beat-unit') sides.push({ unit: c.text.trim(), dots: 0, tied: zero })
    else if (c.name === 'beat-unit-dot' && side) side.dots++
    else if (c.name === 'beat-unit-tied' && side) {
      const more = value(textOf(c, 'beat-unit'), childrenOf(c, 'beat-unit-dot').length)
      if (more) side.tied = add(side.tied, more)
    }
  }
  const [before, after] = sides.map(s => {
    const v = value(s.unit, s.dots)
    return v && add(v, s.tied)
  })
  if (!before) return null
  if (after) return { kind: 'relation', before, after }
  const number = child(el, 'per-minute')
  const text = clean(number?.text ?? '')
  return number && sides.length === 1 ? { kind: 'number', unit: before, text, bpm: numberIn(text) } : null
}

/** Notes on both sides of an equals sign; a tuplet shortens each of its notes. */
const groupsOfNotes = (el: Element): MarkShape | null => {
  const split = el.children.findIndex(c => c.name === 'metronome-relation')
  if (split < 0) return null
  const lengthOf = (notes: readonly Element[]): Frac | null => {
    let ratio = frac(1)
    const values: Frac[] = []
    for (const note of notes) {
      const v = value(textOf(note, 'metronome-type'), childrenOf(note, 'metronome-dot').length)
      if (!v) return null
      const tuplet = child(note, 'metronome-tuplet')
      if (tuplet && attr(tuplet, 'type') !== 'stop') ratio = tupletRatio(tuplet)
      values.push(mul(v, ratio))
      if (tuplet && attr(tuplet, 'type') === 'stop') ratio = frac(1)
    }
    return values.length > 0 ? sum(values) : null
  }
  const notes = (from: number, to?: number) =>
    el.children.slice(from, to).filter(c => c.name === 'metronome-note')
  const before = lengthOf(notes(0, split))
  const after = lengthOf(notes(split))
  return before && after ? { kind: 'relation', before, after } : null
}

const tupletRatio = (el: Element): Frac => {
  const [actual, normal] = ['actual-notes', 'normal-notes'].map(name => Number(textOf(el, name)))
  const usable = (n: number | undefined): n is number =>
    n !== undefined && Number.isInteger(n) && n > 0 && n < 1000
  return usable(actual) && usable(normal) ? frac(normal, actual) : frac(1)
}

/**
 * The tempo after a relation: `before` of the old tempo lasts as long as `after` of the new one. Written "old = new"
 * by custom (common practice, no source); where the playing tempo of the same place fits only the other way round,
 * that is taken. A group of notes that lasts the same on both sides (a swing mark) changes nothing.
 */
export const afterRelation = (running: Tempo, before: Frac, after: Frac, sound: Frac | null): Tempo => {
  if (equal(before, after)) return running
  const forth = tidy(related(running, before, after))
  const back = tidy(related(running, after, before))
  const fits = (t: Tempo) => sound !== null && agree(quarters(t), sound)
  return !fits(forth) && fits(back) ? back : forth
}

/** Two tempos in quarters a minute are the same within half a percent: files round. */
export const agree = (a: Frac, b: Frac): boolean => Math.abs(toNumber(div(a, b)) - 1) <= 0.005

/** A mark as it is printed: "dotted quarter = c. 108", "quarter = dotted quarter". */
export const printedMark = (shape: MarkShape): string => {
  const name = (v: Frac) => noteValueName(v).replaceAll('-', ' ')
  if (shape.kind === 'number') return `${name(shape.unit)} = ${shape.text}`
  return shape.kind === 'relation' ? `${name(shape.before)} = ${name(shape.after)}` : ''
}

/**
 * "slower" and "faster" go on bit by bit; "other" is another tempo at once, whose number only the conductor knows; "back"
 * is a tempo, "first" Tempo I.
 */
export type TempoWord = 'slower' | 'faster' | 'other' | 'back' | 'first'

/** In the order in which they are tried. Common practice, no source. */
const WORDS: readonly (readonly [RegExp, TempoWord])[] = [
  [/\ba\s*tempo\b|\bau mouv(ement|t)?\b|\bim zeitma(ss|ß)e?\b|\bin tempo\b/i, 'back'],
  [/\btempo\s*(i\b|1\b|primo)|\b(1|i)(o|er|°)?\s*\.?\s*(tempo|mouv)\b|\berstes zeitma/i, 'first'],
  [
    /\b(più|piu|meno|poco meno|un poco più|doppio|moins|plus|un peu (plus|moins))\s+(mosso|moto|lento|largo|adagio|allegro|vivo|presto|andante|moderato|tranquillo|animato|stretto|movimento|vite|lent|vif|animé|modéré)\b/i,
    'other',
  ],
  [
    /\b(l'istesso|lo stesso|même) (tempo|mouv)|\b(langsamer|schneller|bewegter|ruhiger|lebhafter|breiter|slower|faster|broader)\b/i,
    'other',
  ],
  [
    /\b(rit(ard)?(\.|ando)?|riten(\.|uto)?|rall(ent)?(\.|ando)?|slentando|allarg(\.|ando)?|calando|smorz(\.|ando)?|morendo|perdendosi|ralentir|cédez|en retenant|retenu|ralenti|zurückhalten|verlangsamen|nachlassen|slowing|holding back)(?![a-zà-ÿ])/i,
    'slower',
  ],
  [
    /\b(accel(\.|erando)?|stringendo|affrett(\.|ando)?|incalzando|en (animant|serrant|pressant)|pressez|serrez|animez|eilen|drängen|beschleunigen|hurrying|pressing on)(?![a-zà-ÿ])|\bstring\./i,
    'faster',
  ],
]

/** What a written word does to the tempo, as musicians write it in Italian, French, German and English; else null. */
export const tempoWord = (text: string): TempoWord | null => WORDS.find(([re]) => re.test(text))?.[1] ?? null
