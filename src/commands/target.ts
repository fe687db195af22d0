import type { Rules } from '../ladder/event.ts'
import { quickKey, sectionKey } from '../ladder/key.ts'
import { DEFAULT_RULES } from '../ladder/rules.ts'
import type { Step } from '../ladder/rungs.ts'
import { type Form, measures, plainForm } from '../music/form.ts'
import { zero } from '../music/fraction.ts'
import { meterText } from '../music/meter.ts'
import { noteValueName } from '../music/note-value.ts'
import { problem } from '../music/result.ts'
import { spoken, type Tempo, typed } from '../music/tempo.ts'
import { findPiece } from '../store/find-piece.ts'
import { type PassageForm, passageForm, sectionForm } from '../store/passage-form.ts'
import type { Passage, Piece, Section } from '../store/piece.ts'
import { repertoire } from '../store/repertoire.ts'
import { type Context, must, Stop } from './context.ts'
import {
  parseEnds,
  parseMusic,
  parseRule,
  parseSteps,
  quickStart,
  type Typed,
  wholeNumber,
} from './options.ts'

/** What is to be practiced, wherever it came from. */
export type Target = {
  readonly key: string
  readonly title: string
  /** The player's own words on the music. */
  readonly music: string
  readonly readyBy: string | null
  readonly form: Form
  readonly firstMeasure: number
  readonly start: Tempo | null
  readonly goal: Tempo
  readonly step: Step
  readonly rules: Rules
  readonly countIn: number
  readonly subdivide: number
}

/** Number of the first whole measure; where it has none that counts, 1. */
const firstNumber = ({ form, numbers }: PassageForm): number => {
  const number = numbers[measures(form).findIndex(m => m.number === 1)] ?? numbers[0]
  return /^\d{1,6}$/.test(number ?? '') ? Number(number) : 1
}

/** "run at the weir, m. 41-44"; of a passage named by its measures these alone. */
export const placeText = (p: Passage): string => {
  if (p.measures === undefined) return p.name
  const place = /^\d/.test(p.measures) ? `m. ${p.measures}` : p.measures
  return p.name === p.measures ? place : `${p.name}, ${place}`
}

/** The form, start and goal of a passage as it stands in the repertoire, or of one of its sections. */
export const passageMusic = (p: Passage, s: Section | null = null): PassageForm =>
  must(s ? sectionForm(p, s) : passageForm(p))

const fromPassage = (piece: Piece, p: Passage, s: Section | null, t: Typed): Target => {
  const kept = passageMusic(p, s)
  const ends =
    t.goal === undefined && t.start === undefined ? null : must(parseEnds({ goal: typed(kept.goal), ...t }))
  return {
    key: sectionKey(s?.id ?? p.id),
    title: `${piece.title}   ${placeText(p)}${s ? `, ${s.name}` : ''}`,
    music: p.note ?? '',
    readyBy: p.readyBy ?? piece.readyBy ?? null,
    form: kept.form,
    firstMeasure: firstNumber(kept),
    start: ends?.start ?? kept.start,
    goal: ends?.goal ?? kept.goal,
    step: must(parseSteps(t)),
    rules: { ...DEFAULT_RULES, up: must(parseRule(t)) },
    countIn: must(wholeNumber(t.countIn ?? '1', 'count-in', 1, 8)),
    subdivide: must(wholeNumber(t.subdivide ?? '1', 'subdivide', 1, 8)),
  }
}

/** A ladder over so many measures of one meter, with nothing kept but its ceiling. */
export const quickTarget = (t: Typed): Target => {
  const { start, goal } = must(parseEnds(t))
  const music = must(parseMusic(t))
  const form = plainForm(music.meter, music.measures, goal, music.pickup ?? zero)
  const pickup = music.pickup ? `, pick-up ${noteValueName(music.pickup).replaceAll('-', ' ')}` : ''
  const measures = music.measures === 1 ? '1 measure' : `${music.measures} measures`
  return {
    key: quickKey({ meter: music.meter, measures: music.measures, pickup: music.pickup, unit: goal.unit }),
    title: `Quick ladder   ${measures} of ${meterText(music.meter)}${pickup}, to ${spoken(goal)}`,
    music: '',
    readyBy: null,
    form,
    firstMeasure: 1,
    start: start ?? quickStart(goal),
    goal,
    step: must(parseSteps(t)),
    rules: { ...DEFAULT_RULES, up: must(parseRule(t)) },
    countIn: music.countIn,
    subdivide: music.subdivide,
  }
}

/** By name from the repertoire, or a quick ladder where there is only a goal. Throws Stop with one sentence. */
export const findTarget = async (ctx: Context, name: string | undefined, t: Typed): Promise<Target> => {
  if (name === undefined && t.goal !== undefined) return quickTarget(t)
  const store = repertoire(ctx.home)
  if (name === undefined) {
    const { pieces } = await store.list()
    const all = pieces.flatMap(k => k.piece.passages.map(p => ({ piece: k.piece, passage: p })))
    const [one] = all
    if (all.length === 1 && one) return fromPassage(one.piece, one.passage, null, t)
    throw new Stop(
      2,
      'Say what to practice: gradino practice PIECE/PASSAGE, or --goal TEMPO for a quick ladder.',
    )
  }
  const found = must(findPiece((await store.list()).pieces, name, true))
  const { piece } = found.in
  const passage = found.passage ?? (piece.passages.length === 1 ? piece.passages[0] : undefined)
  if (!passage) {
    const names = piece.passages.map(p => p.name).join(', ')
    const accepted =
      names === '' ? 'a piece with a passage (gradino piece add)' : `one of its passages: ${names}`
    return must(problem('passage', name, accepted))
  }
  return fromPassage(piece, passage, found.section, t)
}
