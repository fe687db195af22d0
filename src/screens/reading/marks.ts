import type { Program } from '../../click/program.ts'
import { beatsOf } from '../../click/program.ts'
import { type Measure, measures } from '../../music/form.ts'
import { equal, zero } from '../../music/fraction.ts'
import { letterBehind, lettersBeside, measureName, type Numbered, placeAt } from '../../music/place.ts'
import { type Span, sections } from '../../music/sections.ts'
import type { Passage, Section } from '../../repertoire/piece.ts'

/** A hard spot: the index of its measure in the form (a pick-up is one) and its beat, from 1. */
export type Mark = { readonly measure: number; readonly beat: number }

/** A stretch that is offered as a section: places as `parsePlace` reads them, and what it is called. */
export type Stretch = { readonly name: string; readonly from: string; readonly to: string }

/**
 * The hard spot that a press at a frame means: one beat before the beat that is heard, since the foot comes later than
 * the ear. Null in the count-in. After the end it is the last beat.
 */
export const markAt = (program: Program, bars: readonly Measure[], frame: number): Mark | null => {
  const beats = beatsOf(program).filter(b => b.frame >= program.firstNote)
  const heard = frame >= program.end ? beats.length : beats.findLastIndex(b => b.frame <= frame)
  const meant = heard < 0 ? undefined : beats[Math.max(0, heard - 1)]
  const measure = bars.findIndex(m => m.number === meant?.measure)
  return meant && measure >= 0 ? { measure, beat: meant.beat } : null
}

/** The marks with one more, in the order of the music; a second one on the same beat changes nothing. */
export const withMark = (marks: readonly Mark[], m: Mark): readonly Mark[] =>
  marks.some(x => x.measure === m.measure && x.beat === m.beat)
    ? marks
    : [...marks, m].sort((a, b) => a.measure - b.measure || a.beat - b.beat)

/** Measures next to each other as one run. */
const runs = (marked: readonly number[]): readonly (readonly number[])[] => {
  const out: number[][] = []
  for (const m of [...new Set(marked)].sort((a, b) => a - b)) {
    const last = out.at(-1)
    if (last && m - (last.at(-1) as number) === 1) last.push(m)
    else out.push([m])
  }
  return out
}

/**
 * The marked measures as stretches to practice: neighbors together, each from one measure before, as far as a beat into
 * what follows. The whole of the music is none.
 */
export const stretches = (music: Numbered, marks: readonly Mark[]): readonly Stretch[] => {
  const { form, numbers } = music
  const bars = measures(form)
  return runs(marks.map(m => m.measure)).flatMap(run => {
    const first = Math.max(0, (run[0] as number) - 1)
    const last = run.at(-1) as number
    const begin = bars[first]?.from ?? zero
    const next = bars[last + 1]?.from
    const span = sections(form, { kind: 'points', at: next ? [begin, next] : [begin] }).find((s: Span) =>
      equal(s.from, begin),
    )
    if (!span || (equal(span.from, zero) && equal(span.to, form.length))) return []
    const names = [...new Set([first, last])].map(i => measureName(numbers, i))
    return [{ name: `m. ${names.join('-')}`, from: placeAt(span.from, music), to: placeAt(span.to, music) }]
  })
}

/** "m. 43, beat 2"; beside a rehearsal mark "m. 47 (C+4), beat 2". */
export const markText = (m: Mark, music: Omit<Numbered, 'form'>): string => {
  const name = measureName(music.numbers, m.measure)
  return `m. ${name}${letterBehind(lettersBeside(music), name)}, beat ${m.beat}`
}

/** "a, b and c" */
export const listed = (all: readonly string[]): string =>
  all.length < 2 ? all.join('') : `${all.slice(0, -1).join(', ')} and ${all.at(-1)}`

/** A name that no other section of the passage has, by a number behind it. */
const freeName = (name: string, taken: readonly string[]): string => {
  const same = (a: string): boolean => taken.some(t => t.toLowerCase() === a.toLowerCase())
  if (!same(name)) return name
  for (let n = 2; ; n++) if (!same(`${name} (${n})`)) return `${name} (${n})`
}

/**
 * A passage with stretches as further sections; one that is there already, from and to the same places, is not stored
 * twice. `id` gives a new id at each call.
 */
export const withSections = (
  p: Passage,
  all: readonly Stretch[],
  id: () => string,
): { readonly passage: Passage; readonly added: readonly Section[] } => {
  const added: Section[] = []
  for (const { name, from, to } of all) {
    const there = [...(p.sections ?? []), ...added]
    if (there.some(s => s.from === from && s.to === to)) continue
    added.push({
      id: id(),
      name: freeName(
        name,
        there.map(s => s.name),
      ),
      from,
      to,
    })
  }
  return { passage: added.length > 0 ? { ...p, sections: [...(p.sections ?? []), ...added] } : p, added }
}
