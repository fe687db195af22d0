import { must } from '../app/context.ts'
import { ladderNamed, type Presets, rhythmNamed } from '../app/presets.ts'
import { clickPlan, readClicked } from '../cli/click-options.ts'
import {
  parseEnds,
  parseFast,
  parseMusic,
  parseRule,
  parseSteps,
  quickStart,
  type Typed,
  wholeNumber,
} from '../cli/options.ts'
import { type ClickPlan, movedClicked } from '../click/by-tempo.ts'
import type { Rules } from '../ladder/event.ts'
import { downKey, quickKey } from '../ladder/key.ts'
import { DEFAULT_RULES } from '../ladder/rules.ts'
import type { Ladder } from '../ladder/standing.ts'
import { parseChangesFrom } from '../music/changes.ts'
import { type Form, measures, plainForm } from '../music/form.ts'
import { equal, type Frac, zero } from '../music/fraction.ts'
import { cutNotes, type Note } from '../music/groups.ts'
import { type LongRest, longRests } from '../music/long-rests.ts'
import { meterText } from '../music/meter.ts'
import { noteValueName, parseLength } from '../music/note-value.ts'
import { problem } from '../music/result.ts'
import type { Rhythm } from '../music/rhythm.ts'
import type { Span } from '../music/sections.ts'
import { spoken, typed } from '../music/tempo.ts'
import { MOST_RESTS } from '../repertoire/fields.ts'
import { cutPassage, passageForm, passageNotes, tempoThere } from '../repertoire/passage-form.ts'
import type { Passage, Piece, Section } from '../repertoire/piece.ts'
import { altered, guided } from './altered.ts'
import type { Fast } from './fast.ts'

/** What is to be practiced, wherever it came from. */
export type Target = Ladder & {
  readonly title: string
  /** The player's own words on the music. */
  readonly music: string
  readonly readyBy: string | null
  readonly form: Form
  /** What each measure is called, pick-up included. */
  readonly numbers: readonly string[]
  /** After every ten repetitions one at the goal: of one beat, or of the whole section. */
  readonly fast: Fast | null
  readonly click: ClickPlan
  /** As written, or altered: then form, start and goal are those of the rhythm. */
  readonly rhythm: Rhythm | null
  /** Length of the running notes, for altered rhythms, where someone says; and the rhythms that the player has chosen. */
  readonly run: Frac | null
  readonly rhythms: readonly Rhythm[]
  /** The notes, where a part was read: else none are known. */
  readonly notes: readonly Note[]
  /** What the screen says of the guide voice. */
  readonly said?: string
  /** Counted rests before the entry, in measures. */
  readonly rests?: number
  /** Long rests inside, where the notes are known. */
  readonly longRests?: readonly LongRest[]
  /** Where it stands in the repertoire: its sections (none = a whole passage) and its first note, counted from the passage's. */
  readonly origin?: {
    readonly piece: Piece
    readonly passage: Passage
    readonly sections: readonly Section[]
    readonly from: Frac
  }
}

/** "run at the weir, m. 41-44"; of a passage named by its measures these alone. */
export const placeText = (p: Passage): string => {
  if (p.measures === undefined) return p.name
  const place = /^\d/.test(p.measures) ? `m. ${p.measures}` : p.measures
  return p.name === p.measures ? place : `${p.name}, ${place}`
}

/** Step, direction and rules: as typed, else those of a preset, else the usual ones. */
const climbOf = (
  t: Typed,
  presets: Presets,
  usual: Rules = DEFAULT_RULES,
): Pick<Target, 'step' | 'direction' | 'rules' | 'fast'> => {
  const preset = t.rules === undefined ? null : ladderNamed(presets, t.rules)
  const step = t.step ?? (t.rungs === undefined ? preset?.step : undefined)
  const clean = t.clean ?? preset?.clean
  return {
    step: must(parseSteps({ ...t, ...(step === undefined ? {} : { step }) })),
    direction: t.down ? 'down' : 'up',
    fast: must(parseFast(t, preset?.fast)),
    rules: {
      ...usual,
      up: clean === undefined ? usual.up : must(parseRule({ clean })),
      slips: preset?.slips ?? usual.slips,
    },
  }
}

const restsOf = (t: Typed, kept: number | undefined): number | undefined =>
  t.rests === undefined
    ? kept
    : t.take === 'entry'
      ? must(wholeNumber(t.rests, 'rests', 1, MOST_RESTS))
      : must<never>(problem('--rests', t.rests, 'counted rests before an entry, with --take entry'))

const lengthOf = (text: string | undefined): Frac | null =>
  text === undefined ? null : must(parseLength(text, 'running notes'))

export const inRhythm = (t: Target, name: string | undefined, presets: Presets): Target =>
  name === undefined ? t : altered(t, rhythmNamed(presets, name))

/** A passage or what was cut from it (`span`), on the ladder of these sections. */
export const fromPassage = (
  piece: Piece,
  p: Passage,
  span: Span | null,
  what: { ladder: Ladder; name: string; sections: readonly Section[] },
  t: Typed,
  presets: Presets,
): Target => {
  const whole = must(passageForm(p))
  const { from, to } = span ?? { from: zero, to: whole.form.length }
  const kept = cutPassage(whole, from, to)
  const notes = cutNotes(passageNotes(p), from, to)
  const rests = restsOf(t, equal(from, zero) ? p.rests : undefined)
  const fixed = (['meter', 'measures', 'pickup'] as const).find(k => t[k] !== undefined)
  if (fixed)
    must(problem(`--${fixed}`, t[fixed] ?? '', 'nothing here: it stands in the passage (gradino piece edit)'))
  const ends =
    t.goal === undefined && t.start === undefined ? null : must(parseEnds({ goal: typed(kept.goal), ...t }))
  const goal = ends?.goal ?? kept.goal
  const form =
    t.tempoChanges === undefined
      ? kept.form
      : { ...kept.form, changesFrom: must(parseChangesFrom(t.tempoChanges)) }
  const target: Target = {
    key: t.down ? downKey(what.ladder.key) : what.ladder.key,
    title: `${piece.title}   ${placeText(p)}${what.name}`,
    music: p.note ?? '',
    readyBy: p.readyBy ?? piece.readyBy ?? null,
    form,
    numbers: kept.numbers,
    start: ends?.start ?? kept.start,
    goal,
    ...(kept.top && t.goal === undefined && !t.down ? { top: kept.top } : {}),
    ...climbOf(t, presets, what.ladder.rules),
    ...(what.ladder.joins ? { joins: what.ladder.joins } : {}),
    click: clickPlan(
      t,
      kept.form,
      goal.unit,
      movedClicked(readClicked(p), at => tempoThere(at, whole, kept)),
    ),
    rhythm: null,
    run: lengthOf(t.run ?? p.run),
    rhythms: (p.rhythms ?? []).map(name => rhythmNamed(presets, name)),
    notes,
    ...(rests === undefined ? {} : { rests }),
    ...(notes.length > 0 ? { longRests: longRests(kept.form, notes) } : {}),
    origin: { piece, passage: p, sections: what.sections, from },
  }
  return guided(target, t.guide, p.guide)
}

/** A ladder over so many measures of one meter, with nothing kept but its ceiling. */
export const quickTarget = (t: Typed, presets: Presets): Target => {
  const { start, goal } = must(parseEnds(t))
  const music = must(parseMusic(t))
  const form = plainForm(music.meter, music.measures, goal, music.pickup ?? zero)
  const pickup = music.pickup ? `, pick-up ${noteValueName(music.pickup).replaceAll('-', ' ')}` : ''
  const measured = music.measures === 1 ? '1 measure' : `${music.measures} measures`
  const key = quickKey({
    meter: music.meter,
    measures: music.measures,
    pickup: music.pickup,
    unit: goal.unit,
  })
  const quick: Target = {
    key: t.down ? downKey(key) : key,
    title: `Quick ladder   ${measured} of ${meterText(music.meter)}${pickup}, to ${spoken(goal)}`,
    music: '',
    readyBy: null,
    form,
    numbers: measures(form).map(m => String(m.number)),
    start: start ?? quickStart(goal),
    goal,
    ...climbOf(t, presets),
    click: clickPlan(t, form, goal.unit),
    rhythm: null,
    run: lengthOf(t.run),
    rhythms: [],
    notes: [],
    ...(t.rests === undefined ? {} : { rests: restsOf(t, undefined) as number }),
  }
  return inRhythm(guided(quick, t.guide, undefined), t.rhythm, presets)
}
