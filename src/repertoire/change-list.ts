import { equal } from '../music/fraction.ts'
import { filedFrom, type Numbered, parsePlace, shownFrom } from '../music/place.ts'
import { attempt, given, problem, type Result } from '../music/result.ts'
import { feltIn } from './field.ts'
import { sameName } from './find-piece.ts'
import type { EntryKind, Sources } from './kinds.ts'
import { type Entry, KINDS, type ListKey, textOf } from './lists.ts'
import type { Passage } from './passage.ts'
import { lettersOfPassage, passageForm } from './passage-form.ts'

/** The fields of a section or of an entry of a list that hold a place. */
const PLACED = ['at', 'from', 'to', 'ends'] as const

/** The whole measures of a passage, which its places are read in; null while they are not right. */
const frames = new WeakMap<Passage, Numbered | null>()
const frameOf = (p: Passage): Numbered | null => {
  const known = frames.get(p)
  if (known !== undefined) return known
  const { tempos: _, breaths: __, sections: ___, ends: ____, ...rest } = p
  const read = passageForm(rest)
  const frame = read.ok ? read.value : null
  frames.set(p, frame)
  return frame
}

const placedBy =
  (read: (text: string, of: Numbered) => string) =>
  <E>(p: Passage, e: E): E => {
    if (typeof e !== 'object' || e === null) return e
    const texts = e as Record<string, unknown>
    const changed = PLACED.flatMap(key => {
      const text = texts[key]
      // Most places stand on a beat.
      const frame = typeof text === 'string' && text.includes('+') ? frameOf(p) : null
      return frame ? [[key, read(text as string, frame)] as const] : []
    })
    return changed.length > 0 ? { ...e, ...Object.fromEntries(changed) } : e
  }

/** A section or an entry of a list with its places as the player reads them: "43.2+eighth". */
export const withPlacesShown = placedBy(shownFrom)

/** And as the files have them: "43+3/8". */
export const withPlacesFiled = placedBy(filedFrom)

const entriesOf = <K extends ListKey>(key: K, p: Passage): readonly Entry<K>[] =>
  (p[key] as readonly Entry<K>[] | undefined) ?? []

/** An entry as typed; `of` is the place in the list before of the one that it was, where it was there. */
export type ListLine = { readonly text: string; readonly of?: number }

/** The same in words: "holds the note on m. 63". */
export const wordsOf = <K extends ListKey>(key: K, p: Passage): readonly string[] => {
  const letters = lettersOfPassage(p)
  return entriesOf(key, p).map(e => KINDS[key].says?.(withPlacesShown(p, e), letters) ?? lineOf(key, p, e))
}

const lineOf = <K extends ListKey>(key: K, p: Passage, e: Entry<K>): string =>
  textOf(key, withPlacesShown(p, e), feltIn(p))

/** A list as lines. */
export const linesOf = <K extends ListKey>(key: K, p: Passage): readonly ListLine[] =>
  entriesOf(key, p).map((e, of) => ({ text: lineOf(key, p, e), of }))

/** Several breaths in one line: "58.2, 60.2". What is said of a mark in words keeps its commas. */
const severalIn = (key: ListKey, l: ListLine): readonly ListLine[] => {
  if (key !== 'breaths' || /\sword=/.test(l.text) || !l.text.includes(',')) return [l]
  const [first = '', ...more] = l.text
    .split(',')
    .map(text => text.trim())
    .filter(Boolean)
  return [{ ...l, text: first }, ...more.map(text => ({ text }))]
}

/** A list from its lines; what was not touched stays as it was, with everything that it may hold besides. */
export const readLines = <K extends ListKey>(
  key: K,
  lines: readonly ListLine[],
  before: Passage,
  from: Sources,
): Result<readonly Entry<K>[]> =>
  attempt(need => {
    const kind: EntryKind<Entry<K>> = KINDS[key]
    const around = { ...from, felt: from.felt ?? feltIn(before) }
    return lines
      .flatMap(l => severalIn(key, l))
      .map(({ text, of }, i) => {
        const old: Entry<K> | undefined = of === undefined ? undefined : entriesOf(key, before)[of]
        return old !== undefined && lineOf(key, before, old) === text
          ? old
          : need(kind.read(text.trim(), `${kind.label} ${i + 1}`, around, old))
      })
  })

/** Whether two texts are the same place of a passage: "42.4" and "42+3/4". */
const samePlace = (p: Passage): ((a: string, b: string) => boolean) => {
  const whole = passageForm(p)
  return (a, b) => {
    if (a === b || !whole.ok) return a === b
    const [x, y] = [parsePlace(a, whole.value), parsePlace(b, whole.value)]
    return x.ok && y.ok && equal(x.value, y.value)
  }
}

const ALL = 'all'

/** What was typed for one list: entries to put in, and entries to take out. */
export type Ops = { readonly put: readonly string[]; readonly drop: readonly string[] }

type Remaining<K extends ListKey> = ListLine & { readonly entry: Entry<K> }

/** A ramp typed without a tempo keeps the one that is marked there. */
const withTempo = <E>(old: E, now: E): E =>
  typeof now === 'object' && now !== null && 'tempo' in now && now.tempo === ''
    ? { ...now, tempo: (old as { readonly tempo: string }).tempo }
    : now

/**
 * A list of a passage with some of its entries taken out ("all" = every one), and then some put in: in the place of the
 * one that stands there, or new. The problem names what could have been meant.
 */
export const changeList = <K extends ListKey>(
  key: K,
  p: Passage,
  ops: Ops,
  from: Sources,
): Result<readonly ListLine[]> =>
  attempt(need => {
    const kind: EntryKind<Entry<K>> = KINDS[key]
    const same = kind.by === 'place' ? samePlace(p) : sameName
    const around = { ...from, felt: feltIn(p) }
    let left: readonly Remaining<K>[] = entriesOf(key, p).map((entry, of) => ({
      entry,
      of,
      text: lineOf(key, p, entry),
    }))
    for (const text of ops.drop.map(t => t.trim())) {
      const stays = (l: Remaining<K>): boolean =>
        text !== ALL && l.text !== text && !same(kind.known(l.entry), text)
      const kept = left.filter(stays)
      if (kept.length === left.length && text !== ALL)
        need(
          problem(
            kind.label,
            text,
            left.length > 0 ? `one of ${left.map(l => l.text).join('; ')}` : 'leaving it out: there is none',
          ),
        )
      left = kept
    }
    for (const text of ops.put.flatMap(put => severalIn(key, { text: put }).map(l => l.text))) {
      const read = need(kind.read(text.trim(), kind.label, around, undefined))
      const at = left.findIndex(
        l => same(kind.known(l.entry), kind.known(read)) && kind.sort?.(l.entry) === kind.sort?.(read),
      )
      const there = left[at]
      const entry = there ? withTempo(there.entry, read) : read
      const line = { entry, text: lineOf(key, p, entry), ...given({ of: there?.of }) }
      left = there ? left.with(at, line) : [...left, line]
    }
    return left.map(({ entry: _, ...line }) => line)
  })
