import { type Form, type Measure, measures } from './form.ts'
import { add, compare, equal, type Frac, fractionText, less, parseFraction, sub, zero } from './fraction.ts'
import { groupStarts } from './meter.ts'
import { noteValueName, parseLength } from './note-value.ts'
import { ok, problem, type Result } from './result.ts'

/**
 * A form and what its measures are called in the part, pick-up included: "40", "41", ... "X1". Where a repeat brings a
 * number back, "41(2)" is its second time.
 */
export type Numbered = {
  readonly form: Form
  readonly numbers: readonly string[]
  /** Rehearsal marks, and the index of the measure at which each stands. */
  readonly letters?: readonly Letter[]
}

/** Below 0 where it stands before the music that is here. */
type Letter = { readonly text: string; readonly index: number }

/** "C", or "C+4" for the fourth measure after C, by the name of the measure that it stands beside. */
export type Letters = ReadonlyMap<string, string>

export const lettersBeside = ({ numbers, letters = [] }: Omit<Numbered, 'form'>): Letters => {
  const marks = [...letters].sort((a, b) => a.index - b.index)
  const out = new Map<string, string>()
  if (marks.length > 0)
    for (const i of numbers.keys()) {
      const mark = marks.findLast(l => l.index <= i)
      const after = i - (mark?.index ?? i)
      if (mark) out.set(measureName(numbers, i), after === 0 ? mark.text : `${mark.text}+${after}`)
    }
  return out
}

/** What stands beside the measure of a place, "" where nothing does. */
export const letterAt = (letters: Letters, place: string): string =>
  letters.get(/^[^.+]*/.exec(place)?.[0] ?? '') ?? ''

/** The same behind its name: " (C+4)". */
export const letterBehind = (letters: Letters | null | undefined, place: string): string => {
  const letter = letters ? letterAt(letters, place) : ''
  return letter === '' ? '' : ` (${letter})`
}

export const END = 'end'

const ACCEPTED = (numbers: readonly string[], letters: readonly Letter[] = []): string => {
  const [first, last] = [numbers[0] ?? '1', numbers.at(-1) ?? '1']
  const range = first === last ? `measure ${first}` : `a measure from ${first} to ${last}`
  const [letter] = letters
  const marks = letter
    ? `, or a rehearsal mark: ${letter.text}, ${letter.text}+4 (four measures after it)`
    : ''
  return `${range}, like ${last}, ${last}.2 (its second beat) or ${last}.2+eighth (an eighth after it), or ${END}${marks}`
}

/** Lists of numbers never change, so each is indexed once: files hold places by the hundred. */
const indexed = new WeakMap<readonly string[], ReadonlyMap<string, readonly number[]>>()

/** Where each number stands. */
const indexOf = (numbers: readonly string[]): ReadonlyMap<string, readonly number[]> => {
  const known = indexed.get(numbers)
  if (known) return known
  const made = new Map<string, number[]>()
  numbers.forEach((n, i) => {
    made.set(n, [...(made.get(n) ?? []), i])
  })
  indexed.set(numbers, made)
  return made
}

/** Index of a measure by its number, "43" or "43(2)", and what follows the number; -1 where there is none. */
const measureIn = (
  s: string,
  numbers: readonly string[],
): { readonly index: number; readonly rest: string } => {
  // The longest number that the text begins with: "12a" before "12".
  for (let length = s.length; length > 0; length--) {
    const all = indexOf(numbers).get(s.slice(0, length))
    const m = all && /^(?:\((\d{1,3})\))?((?:[.+].*)?)$/.exec(s.slice(length))
    const index = m ? all[Number(m[1] ?? 1) - 1] : undefined
    if (m && index !== undefined) return { index, rest: m[2] ?? '' }
  }
  return { index: -1, rest: '' }
}

/** "C", "letter C", "C+4" (four measures after C), and what follows as behind a number. */
const MARKED = /^(?:letter\s+)?(.+?)(?:\+(\d{1,3}))?((?:\.\d{1,2})?(?:\+(?:\d+\/\d+|[a-z\d-]*[a-z]))?)$/i

const letterIn = (
  s: string,
  letters: readonly Letter[],
): { readonly index: number; readonly rest: string } => {
  const [, mark = '', after = '0', rest = ''] = MARKED.exec(s) ?? []
  const same = (text: string) => text.toLowerCase() === mark.trim().toLowerCase()
  const found = letters.find(l => same(l.text))
  return { index: found ? found.index + Number(after) : -1, rest }
}

/** The index of a measure in its numbers: "43", or "43(2)" for its second time. */
export const parseMeasure = (s: string, numbers: readonly string[], field = 'measure'): Result<number> => {
  const { index, rest } = measureIn(s.trim(), numbers)
  return index >= 0 && rest === '' ? ok(index) : problem(field, s, ACCEPTED(numbers))
}

/**
 * How far into a whole measure: ".2" is its second beat (a group of the meter is a beat), "+3/16" a length, ".2+eighth" that
 * much after the beat.
 */
const into = (rest: string, m: Measure): Frac | null => {
  const [, beat, length] = /^(?:\.(\d{1,2}))?(?:\+(.+))?$/.exec(rest) ?? []
  if (rest !== '' && beat === undefined && length === undefined) return null
  const from = beat === undefined ? zero : groupStarts(m.meter)[Number(beat) - 1]
  if (length === undefined) return from ?? null
  const named = parseLength(length)
  const after = named.ok ? named.value : parseFraction(length)
  return from && after ? add(from, after) : null
}

/**
 * A place as text to whole notes from the form's first note: "43" (its bar line), "43.2" (its second beat, as the meter
 * is grouped), "43+3/16" (so much of a whole note into it), "43.2+eighth" (so much after that beat), "end"; where there are rehearsal marks also "C", "C.2", "C+4".
 * A pick-up's number alone is its first note.
 */
export const parsePlace = (
  s: string,
  { form, numbers, letters = [] }: Numbered,
  field = 'place',
): Result<Frac> => {
  const text = s.trim()
  const numbered = measureIn(text, numbers)
  const { index, rest } = numbered.index < 0 && text !== END ? letterIn(text, letters) : numbered
  if (text === END && index < 0) return ok(form.length)
  const m = measures(form)[index]
  if (!m) return problem(field, s, ACCEPTED(numbers, letters))
  const offset = into(rest, m)
  const at = offset && add(m.barline, offset)
  const number = numbers[index] ?? ''
  if (!offset || !at || less(offset, zero))
    return problem(
      field,
      s,
      `in measure ${number} a beat from 1 to ${m.meter.groups.length}, or + and a fraction`,
    )
  if (rest === '') return ok(m.from)
  const inside = compare(m.from, at) <= 0 && (less(at, m.to) || (equal(m.to, form.length) && equal(at, m.to)))
  return inside
    ? ok(at)
    : problem(field, s, `a place in the part of measure ${number} that belongs to the music here`)
}

/** The shortest text that `parsePlace` reads as this position (whole notes from the first note, within the form). */
export const placeAt = (at: Frac, { form, numbers }: Numbered): string => {
  const all = measures(form)
  const index = all.findLastIndex(m => compare(m.from, at) <= 0)
  const m = all[index]
  if (!m || (equal(at, form.length) && !numbers.includes(END))) return END
  const name = measureName(numbers, index)
  const offset = sub(at, m.barline)
  if (equal(offset, zero)) return name
  const beat = groupStarts(m.meter).findIndex(g => equal(g, offset))
  const texts = [...(beat > 0 ? [`${name}.${beat + 1}`] : []), `${name}+${fractionText(offset)}`]
  const read = (text: string) => parsePlace(text, { form, numbers })
  return texts.find(text => sameAt(read(text), at)) ?? (texts.at(-1) as string)
}

/**
 * The same as the player reads it: between two beats by the beat before it and a note value, "43.2+eighth"; a fraction only
 * where no note has that length. `parsePlace` reads it too.
 */
export const placeShown = (at: Frac, of: Numbered): string => {
  const filed = placeAt(at, of)
  if (!BETWEEN.test(filed)) return filed
  const all = measures(of.form)
  const index = all.findLastIndex(m => compare(m.from, at) <= 0)
  const m = all[index] as Measure
  const starts = groupStarts(m.meter)
  const offset = sub(at, m.barline)
  const beat = starts.findLastIndex(g => compare(g, offset) <= 0)
  const start = starts[beat] ?? zero
  const text = `${measureName(of.numbers, index)}${beat > 0 ? `.${beat + 1}` : ''}+${noteValueName(sub(offset, start))}`
  return sameAt(parsePlace(text, of), at) ? text : filed
}

/** A place between beats, as the files have it. */
const BETWEEN = /\+\d+\/\d+$/
/** The same as `placeShown` writes it, or as somebody types it. */
const AS_SHOWN = /\.\d{1,2}\+|\+[a-z\d-]*[a-z]$/i

/** A place of the files in the text that the player reads; what is none stays as it stands. */
export const shownFrom = (text: string, of: Numbered): string => {
  const at = BETWEEN.test(text) ? parsePlace(text, of) : null
  return at?.ok ? placeShown(at.value, of) : text
}

/** And back, so that files keep their one form. */
export const filedFrom = (text: string, of: Numbered): string => {
  const at = AS_SHOWN.test(text) ? parsePlace(text, of) : null
  return at?.ok ? placeAt(at.value, of) : text
}

/** The same for something that happens on a beat: at a bar line "43.1", since "43" is the whole measure to a player. */
export const beatPlaceAt = (at: Frac, of: Numbered): string =>
  measures(of.form).some(m => equal(m.from, at) && equal(m.barline, at))
    ? `${placeAt(at, of)}.1`
    : placeAt(at, of)

/** What a measure is called: "43", and where a repeat brings it back "43(2)". */
export const measureName = (numbers: readonly string[], index: number): string => {
  const number = numbers[index] ?? ''
  const time = numbers.slice(0, index + 1).filter(n => n === number).length
  return time > 1 ? `${number}(${time})` : number
}

/** The same in words: "43, 2nd time". */
export const measureWords = (numbers: readonly string[], index: number): string => {
  const name = measureName(numbers, index)
  const [, number, time] = /^(.+)\((\d+)\)$/.exec(name) ?? []
  if (time === undefined) return name
  const end = /1\d$/.test(time) ? 'th' : ({ 1: 'st', 2: 'nd', 3: 'rd' }[time.at(-1) as string] ?? 'th')
  return `${number}, ${time}${end} time`
}

const LENGTHS: Readonly<Record<string, string>> = {
  2: 'half',
  4: 'quarter',
  8: 'eighth',
  16: 'sixteenth',
  32: 'thirty-second',
}

/** "a half", "3 sixteenths"; what has no name of its own as a part of a whole note. */
const lengthText = (n: string, d: string): string => {
  const name = LENGTHS[d]
  if (name === undefined) return `${n}/${d} of a whole note`
  return n === '1' ? `${d === '8' ? 'an' : 'a'} ${name}` : `${n} ${name}s`
}

/**
 * "43.2" as "m. 43, beat 2", beside a rehearsal mark as "m. 43 (C+4), beat 2", "43.2+eighth" as "m. 43, an eighth after beat
 * 2", "43(2)+3/16" as "m. 43, second time, 3 sixteenths after the bar line"; others as they stand.
 */
export const placeWords = (place: string, letters?: Letters | null): string => {
  if (place === END) return 'the end'
  const m = /^(X?\d+[a-z]?)(?:\((\d+)\))?(?:\.(\d+))?(?:\+(.+))?$/.exec(place)
  if (!m) return place
  const [, number, time, beat, length] = m
  const after = length === undefined ? null : parseLength(length)
  if (after && !after.ok) return place
  return [
    `m. ${number}${letterBehind(letters, place)}`,
    time === undefined ? '' : time === '2' ? 'second time' : `time ${time}`,
    after?.ok
      ? `${lengthText(`${after.value.n}`, `${after.value.d}`)} after ${beat === undefined ? 'the bar line' : `beat ${beat}`}`
      : beat === undefined
        ? ''
        : `beat ${beat}`,
  ]
    .filter(Boolean)
    .join(', ')
}

/** "m. 43 to m. 44, beat 2" */
export const stretchWords = (
  s: { readonly from: string; readonly to: string },
  letters?: Letters | null,
): string => `${placeWords(s.from, letters)} to ${placeWords(s.to, letters)}`

/** What some measures in a row are called alone: one that is there for the second time says so, "43(2)". */
export const numbersBetween = (numbers: readonly string[], from: number, to: number): readonly string[] => {
  const cut = numbers.slice(from, to)
  if (new Set(numbers).size === numbers.length) return cut
  return cut.map((n, i) => {
    const whole = measureName(numbers, from + i)
    return measureName(cut, i) === whole ? n : whole
  })
}

/** "43, 45-47": some measures by their indices, in order; those next to each other as one range. */
export const measureRanges = (indices: readonly number[], numbers: readonly string[]): string => {
  const ranges: [number, number][] = []
  for (const i of indices) {
    const last = ranges.at(-1)
    if (last?.[1] === i - 1) last[1] = i
    else ranges.push([i, i])
  }
  return ranges.map(range => [...new Set(range)].map(i => measureName(numbers, i)).join('-')).join(', ')
}

const sameAt = (read: Result<Frac>, at: Frac): boolean => read.ok && equal(read.value, at)
