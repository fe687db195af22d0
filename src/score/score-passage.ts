import type { Form } from '../music/form.ts'
import { add, compare, equal, type Frac, fractionText, less, sub, zero } from '../music/fraction.ts'
import { type Numbered, placeAt } from '../music/place.ts'
import { ok, type Result } from '../music/result.ts'
import { beatAt } from '../music/sections.ts'
import { type Tempo, typed } from '../music/tempo.ts'
import { passageTexts } from '../repertoire/form-passage.ts'
import type { Passage } from '../repertoire/piece.ts'
import type { Measure, NoteFacts, Part, Place } from './score.ts'
import { between, formOf, inSpan, type PartForm, type Span } from './to-form.ts'

/** From one place of a part to another: as written, or by the indices of its measures as they are `played`. */
export type Stretch = { readonly from: Place; readonly to: Place; readonly played?: readonly number[] }

export type Wish = {
  readonly newId: () => string
  /** Else it is called by its measures. */
  readonly name?: string
  /** What is hard in it. */
  readonly hard?: string
  /** A whole part, no ladder until it is cut. */
  readonly whole?: true
  /** Tempo at its start, where it is not to be the printed one. */
  readonly goal?: Tempo | undefined
  /** Where neither that nor a printed one is known. */
  readonly fallback: Tempo
}

/** Names of measures from which places can be read again: in a file they may be anything. */
const NUMBER = /^[A-Za-z]{0,3}\d{1,5}[a-z]?$/

/** Caesuras and fermatas take a beat until the player says otherwise; of two tempos at one place the last holds. */
const withHolds = ({ form, holds }: PartForm): Form => ({
  ...form,
  marks: form.marks.filter((m, i) => !form.marks[i + 1] || !equal(m.at, (form.marks[i + 1] as typeof m).at)),
  breaths: [
    ...(form.breaths ?? []),
    ...holds
      .filter(h => h.kind === 'fermata' || less(h.at, form.length))
      .map(h => ({
        at: h.at,
        kind: h.kind,
        adds: beatAt(form, h.note ? sub(h.at, h.note) : h.at),
        ...(h.note ? { note: h.note } : {}),
      })),
  ].sort((a, b) => compare(a.at, b.at)),
})

const spanOf = (part: Part, { from, to, played }: Stretch): Span =>
  played ? { ...between(part, from, to), measures: played } : between(part, from, to)

const SIGNS: Readonly<Record<number, string>> = { [-2]: 'bb', [-1]: 'b', 0: '', 1: '#', 2: '##' }

/** "Bb4" as written; x where it has no pitch, or one that letters cannot say. */
const pitchText = ({ pitch }: NoteFacts): string => {
  const sign = pitch && SIGNS[pitch.alter]
  return pitch && sign !== undefined ? `${pitch.step}${sign}${pitch.octave}` : 'x'
}

const MOST_REHEARSALS = 500
/** What a passage holds of notes: so many, and no finer. */
const MOST_NOTES = 20_000
const FINEST = 4096

/** Notes that are played, those tied together as one, as a passage keeps them; none where they are too many. */
const notesOf = (part: Part, span: Span): readonly string[] => {
  const played: { at: Frac; length: Frac; pitch: string }[] = []
  const last = new Map<string, (typeof played)[number]>()
  const heard = part.notes.filter(n => n.kind !== 'rest' && !n.cue && !n.grace && less(zero, n.length))
  for (const n of [...inSpan(part, span, heard)].sort((a, b) => compare(a.at, b.at))) {
    const pitch = pitchText(n)
    const tied = n.continued ? last.get(pitch) : undefined
    if (tied && equal(add(tied.at, tied.length), n.at)) tied.length = add(tied.length, n.length)
    else {
      const note = { at: n.at, length: n.length, pitch }
      played.push(note)
      last.set(pitch, note)
    }
  }
  const kept = played.filter(n => n.at.d <= FINEST && n.length.d <= FINEST)
  return kept.length <= MOST_NOTES
    ? kept.map(n => `${fractionText(n.at)} ${fractionText(n.length)} ${n.pitch}`)
    : []
}

/** "12-20, as played": the first and last of the written measures, whatever the order. */
const playedRange = (part: Part, order: readonly number[]): string => {
  const number = (i: number): string => (part.measures[i] as Measure).number.slice(0, 12)
  const [first, last] = [Math.min(...order), Math.max(...order)].map(number)
  return `${[...new Set([first, last])].join('-')}, as played`
}

/** "C+4" at the start, where the last mark stands before it: so each measure is known by a mark. */
const markBefore = (
  part: Part,
  { from, played }: Stretch,
  inside: readonly { readonly at: Frac }[],
): readonly { readonly at: Frac; readonly text: string }[] => {
  const mark = played ? undefined : part.rehearsals.findLast(r => r.measure < from.measure)
  const there = inside.some(r => equal(r.at, zero))
  if (!mark || there) return []
  const after = from.measure - mark.measure
  return after < 1000 ? [{ at: zero, text: `${mark.text.slice(0, 50)}+${after}` }] : []
}

/** A stretch of a part as a passage of the repertoire; its goal is the tempo printed there unless one is wished. */
export const passageOf = (part: Part, stretch: Stretch, wish: Wish): Result<Passage> => {
  const span = spanOf(part, stretch)
  const laid = formOf(part, span, wish.goal ?? wish.fallback)
  if (!laid.ok) return laid
  const numbers = laid.value.numbers.map((n, i) => (NUMBER.test(n) ? n : `#${i + 1}`))
  const whole: Numbered = { form: withHolds(laid.value), numbers }
  const texts = passageTexts(whole)
  if (!texts.ok) return texts
  const inside = inSpan(part, span, part.rehearsals).filter(r => less(r.at, whole.form.length))
  const rehearsals = [...markBefore(part, stretch, inside), ...inside]
    .slice(0, MOST_REHEARSALS)
    .map(r => ({ at: placeAt(r.at, whole), text: r.text.slice(0, 60) }))
  const notes = notesOf(part, span)
  const measures = stretch.played ? playedRange(part, stretch.played) : texts.value.measures
  return ok({
    id: wish.newId(),
    name: wish.name ?? measures ?? '',
    ...texts.value,
    ...(measures === undefined ? {} : { measures }),
    ...(wish.goal ? { goal: typed(wish.goal) } : {}),
    ...(wish.hard ? { hard: wish.hard.slice(0, 400) } : {}),
    ...(wish.whole ? { whole: true as const } : {}),
    ...(rehearsals.length > 0 ? { rehearsals } : {}),
    ...(notes.length > 0 ? { notes } : {}),
  })
}
