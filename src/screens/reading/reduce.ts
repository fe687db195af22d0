import type { Program } from '../../click/program.ts'
import { measures } from '../../music/form.ts'
import type { Frac } from '../../music/fraction.ts'
import type { Numbered } from '../../music/place.ts'
import type { Tempo } from '../../music/tempo.ts'
import { listed, type Mark, markAt, markText, type Stretch, stretches, withMark } from './marks.ts'
import * as say from './words.ts'

/** One passage to be read, ready to sound. */
export type Pass = {
  /** What stores its sections, and the id of its piece. */
  readonly id: string
  readonly piece: string
  /** "Weir Street Overture   m. 41-44" */
  readonly title: string
  /** How it is named on the command line: "Weir Street Overture/41-44". */
  readonly name: string
  readonly music: Numbered
  readonly tempo: Tempo
  /** The note value that is counted, where it is not that of the tempo. */
  readonly counted: Frac | null
  readonly program: Program
}

/** ready: a press starts. offer: what was marked is offered as sections. */
type Phase = 'ready' | 'going' | 'offer' | 'storing' | 'done'

/** What came of a passage that was read; `stored` = names of the sections that are in the repertoire now. */
type Read = {
  readonly pass: Pass
  readonly marks: readonly Mark[]
  readonly stored: readonly string[] | null
}

export type State = {
  readonly passes: readonly Pass[]
  readonly at: number
  readonly phase: Phase
  /** Of the present passage. */
  readonly marks: readonly Mark[]
  /** The one that was marked last, to be taken back. */
  readonly latest: Mark | null
  readonly read: readonly Read[]
  readonly note: string
}

export type Action =
  /** `frame` of the program that is heard; null = nothing. */
  | { readonly kind: 'press'; readonly frame: number | null }
  /** The passage was heard to its end. */
  | { readonly kind: 'over' }
  /** stop: no further in this passage; what was marked stays. */
  | { readonly kind: 'stop' | 'takeBack' | 'store' | 'leave' | 'quit' | 'lost' | 'slept' | 'noted' }
  | { readonly kind: 'stored'; readonly names: readonly string[] }
  | { readonly kind: 'refused'; readonly text: string }

export type Effect =
  | { readonly kind: 'play'; readonly program: Program }
  | { readonly kind: 'store'; readonly pass: Pass; readonly stretches: readonly Stretch[] }
  | { readonly kind: 'silence' | 'end' }

export type Step = { readonly state: State; readonly effects: readonly Effect[] }

export const newReading = (passes: readonly Pass[]): State => ({
  passes,
  at: 0,
  phase: 'ready',
  marks: [],
  latest: null,
  read: [],
  note: '',
})

/** The passage that is read now. Throws RangeError without passages. */
export const passOf = (s: State): Pass => {
  const pass = s.passes[s.at]
  if (!pass) throw new RangeError('a reading needs a passage')
  return pass
}

/** The sections that would be stored. */
export const offered = (s: State): readonly Stretch[] => stretches(passOf(s).music, s.marks)

const only = (state: State, ...effects: Effect[]): Step => ({ state, effects })

/** On to the next passage, or to the end. */
const next = (s: State, stored: readonly string[] | null, note: string): Step => {
  const read = [...s.read, { pass: passOf(s), marks: s.marks, stored }]
  const rest: State = { ...s, read, marks: [], latest: null, note }
  return s.at + 1 < s.passes.length
    ? only({ ...rest, at: s.at + 1, phase: 'ready' })
    : only({ ...rest, phase: 'done' }, { kind: 'end' })
}

const finished = (s: State): Step => {
  if (s.marks.length === 0) return next(s, null, say.NONE_MARKED)
  return offered(s).length > 0 ? only({ ...s, phase: 'offer', note: '' }) : next(s, null, say.ALL_MARKED)
}

const silenced = ({ state, effects }: Step): Step => ({ state, effects: [{ kind: 'silence' }, ...effects] })

const pressed = (s: State, frame: number | null): Step => {
  const pass = passOf(s)
  if (s.phase === 'ready')
    return only({ ...s, phase: 'going', note: '' }, { kind: 'play', program: pass.program })
  if (s.phase !== 'going') return only(s)
  const mark = frame === null ? null : markAt(pass.program, measures(pass.music.form), frame)
  if (!mark) return only({ ...s, note: say.NOT_YET })
  const note = say.hardSpot(markText(mark, pass.music))
  return only({ ...s, marks: withMark(s.marks, mark), latest: mark, note })
}

const takenBack = (s: State): Step => {
  const last = s.latest ?? s.marks.at(-1)
  if (!last || (s.phase !== 'going' && s.phase !== 'offer')) return only(s)
  const marks = s.marks.filter(m => m !== last && (m.measure !== last.measure || m.beat !== last.beat))
  const state = { ...s, marks, latest: null, note: say.spotTakenBack(markText(last, passOf(s).music)) }
  return s.phase === 'offer' ? finished(state) : only(state)
}

export const reduce = (s: State, a: Action): Step => {
  switch (a.kind) {
    case 'press':
      return pressed(s, a.frame)
    case 'over':
      return s.phase === 'going' ? finished(s) : only(s)
    case 'stop':
      if (s.phase === 'going') return silenced(finished(s))
      return s.phase === 'ready' ? only({ ...s, phase: 'done' }, { kind: 'end' }) : only(s)
    case 'takeBack':
      return takenBack(s)
    case 'store':
      if (s.phase !== 'offer') return only(s)
      return only(
        { ...s, phase: 'storing', note: '' },
        { kind: 'store', pass: passOf(s), stretches: offered(s) },
      )
    case 'leave':
      return s.phase === 'offer' ? next(s, null, 'Not stored.') : only(s)
    case 'stored':
      return s.phase === 'storing'
        ? next(s, a.names, a.names.length > 0 ? `Stored: ${listed(a.names)}.` : say.SECTIONS_THERE)
        : only(s)
    case 'refused':
      return s.phase === 'storing' ? only({ ...s, phase: 'offer', note: a.text }) : only(s)
    case 'lost':
    case 'slept':
    case 'noted':
      if (s.phase !== 'going') return only(s)
      return silenced(only({ ...s, phase: 'ready', note: say.interruptedText(a.kind) }))
    case 'quit': {
      if (s.phase === 'done' || s.phase === 'storing') return only(s)
      const begun = s.phase !== 'ready' || s.marks.length > 0
      const read = begun ? [...s.read, { pass: passOf(s), marks: s.marks, stored: null }] : s.read
      return silenced(only({ ...s, phase: 'done', read }, { kind: 'end' }))
    }
  }
}

/** What is said when the player has left: nothing that was marked is forgotten without a word. */
export const closing = (s: State): readonly string[] =>
  s.read.map(({ pass, marks, stored }) => {
    if (stored !== null) {
      const [first] = stored
      const hint = first === undefined ? '' : ` To practice: gradino practice "${pass.name}/${first}"`
      return first === undefined
        ? say.sectionsThere(pass.name)
        : `${pass.name}: stored ${listed(stored)}.${hint}`
    }
    return marks.length === 0
      ? say.noneMarked(pass.name)
      : say.onlyMarked(pass.name, listed(marks.map(m => markText(m, pass.music))))
  })
