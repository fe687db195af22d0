import { type ClickPlan, movedClicked } from '../click/by-tempo.ts'
import type { Direction } from '../ladder/direction.ts'
import type { Rules } from '../ladder/event.ts'
import { downKey, joinKey, quickKey, sectionKey } from '../ladder/key.ts'
import { DEFAULT_RULES } from '../ladder/rules.ts'
import type { Step } from '../ladder/rungs.ts'
import { JOIN_RULES } from '../ladder/start.ts'
import { type Form, measures, plainForm } from '../music/form.ts'
import { equal, type Frac, zero } from '../music/fraction.ts'
import { cutNotes, type Note } from '../music/groups.ts'
import { type LongRest, longRests } from '../music/long-rests.ts'
import { meterText } from '../music/meter.ts'
import { noteValueName, parseLength } from '../music/note-value.ts'
import { problem } from '../music/result.ts'
import type { Rhythm } from '../music/rhythm.ts'
import { joined, type Span, seam } from '../music/sections.ts'
import { spoken, type Tempo, typed } from '../music/tempo.ts'
import type { Fast } from '../screens/practice/fast.ts'
import { MOST_RESTS } from '../store/click-fields.ts'
import { findPiece } from '../store/find-piece.ts'
import {
  cutPassage,
  type PassageForm,
  passageForm,
  passageNotes,
  sectionForm,
  sectionSpan,
  tempoThere,
} from '../store/passage-form.ts'
import type { Passage, Piece, Section } from '../store/piece.ts'
import { type Kept, repertoire } from '../store/repertoire.ts'
import { altered, guided } from './altered.ts'
import { clickPlan, readClicked } from './click-options.ts'
import { type Context, must, Stop } from './context.ts'
import {
  parseEnds,
  parseFast,
  parseMusic,
  parseRule,
  parseSteps,
  quickStart,
  type Typed,
  wholeNumber,
} from './options.ts'
import { ladderNamed, loadPresets, rhythmNamed } from './presets.ts'

/** What is to be practiced, wherever it came from. */
export type Target = {
  readonly key: string
  readonly title: string
  /** The player's own words on the music. */
  readonly music: string
  readonly readyBy: string | null
  readonly form: Form
  /** What each measure is called, pick-up included. */
  readonly numbers: readonly string[]
  readonly start: Tempo | null
  readonly goal: Tempo
  /** Upper end of a goal that is a range. */
  readonly top?: Tempo
  readonly step: Step
  readonly direction: Direction
  readonly rules: Rules
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
  /** The sections that are joined here, each with its own key and goal. */
  readonly joins?: readonly { readonly key: string; readonly goal: Tempo }[]
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

/** Step, direction and rules: as typed, else those of a preset, else the usual ones. */
const climbOf = (t: Typed): Pick<Target, 'step' | 'direction' | 'rules' | 'fast'> => {
  const preset = t.rules === undefined ? null : ladderNamed(t.rules)
  const step = t.step ?? (t.rungs === undefined ? preset?.step : undefined)
  const clean = t.clean ?? preset?.clean
  return {
    step: must(parseSteps({ ...t, ...(step === undefined ? {} : { step }) })),
    direction: t.down ? 'down' : 'up',
    fast: must(parseFast(t, preset?.fast)),
    rules: {
      ...DEFAULT_RULES,
      up: must(parseRule(clean === undefined ? {} : { clean })),
      slips: preset?.slips ?? DEFAULT_RULES.slips,
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

const inRhythm = (t: Target, name: string | undefined): Target =>
  name === undefined ? t : altered(t, rhythmNamed(name))

/** What a passage and its sections share. */
const fromPassage = (
  piece: Piece,
  p: Passage,
  span: Span | null,
  what: { key: string; name: string },
  t: Typed,
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
  const target: Target = {
    key: t.down ? downKey(what.key) : what.key,
    title: `${piece.title}   ${placeText(p)}${what.name}`,
    music: p.note ?? '',
    readyBy: p.readyBy ?? piece.readyBy ?? null,
    form: kept.form,
    numbers: kept.numbers,
    start: ends?.start ?? kept.start,
    goal,
    ...(kept.top && t.goal === undefined && !t.down ? { top: kept.top } : {}),
    ...climbOf(t),
    click: clickPlan(
      t,
      kept.form,
      goal.unit,
      movedClicked(readClicked(p), at => tempoThere(at, whole, kept)),
    ),
    rhythm: null,
    run: lengthOf(t.run ?? p.run),
    rhythms: (p.rhythms ?? []).map(rhythmNamed),
    notes,
    ...(rests === undefined ? {} : { rests }),
    ...(notes.length > 0 ? { longRests: longRests(kept.form, notes) } : {}),
  }
  return guided(target, t.guide, p.guide)
}

/** A ladder over so many measures of one meter, with nothing kept but its ceiling. */
export const quickTarget = (t: Typed): Target => {
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
    ...climbOf(t),
    click: clickPlan(t, form, goal.unit),
    rhythm: null,
    run: lengthOf(t.run),
    rhythms: [],
    notes: [],
    ...(t.rests === undefined ? {} : { rests: restsOf(t, undefined) as number }),
  }
  return inRhythm(guided(quick, t.guide, undefined), t.rhythm)
}

/** "1+2" behind a passage: the sections that are joined; null where the name holds no join. */
const joinNames = (name: string): { passage: string; parts: readonly string[] } | null => {
  const at = name.lastIndexOf('/')
  const parts = name.slice(at + 1).split('+')
  return at > 0 && parts.length > 1 && parts.every(p => p.trim() !== '')
    ? { passage: name.slice(0, at), parts }
    : null
}

/** Two or more neighboring sections as one, or with `--seam` only where they meet. */
const fromJoin = (
  pieces: readonly Kept[],
  names: NonNullable<ReturnType<typeof joinNames>>,
  t: Typed,
): Target => {
  const found = names.parts.map(part => must(findPiece(pieces, `${names.passage}/${part}`, true)))
  const [first] = found
  const passage = first?.passage
  const own = found.flatMap(f => (f.section ? [f.section] : []))
  if (!first || !passage || own.length < found.length)
    return must(
      problem('sections', names.parts.join('+'), `sections of ${names.passage} (gradino piece split)`),
    )
  const whole = must(passageForm(passage))
  const spans = own.map(s => must(sectionSpan(whole, s)))
  const [a, b] = spans
  const by =
    t.seam === undefined
      ? null
      : t.seam === 'beat' || t.seam === 'measure'
        ? t.seam
        : must<never>(problem('seam', t.seam, 'beat or measure'))
  const span = by && a && b ? seam(whole.form, a, b, by) : spans.reduce(joined)
  const key = `${joinKey(own.map(s => s.id))}`
  const target = fromPassage(
    first.in.piece,
    passage,
    span,
    {
      key: by ? key.replace(/^join/, 'seam') : key,
      name: `, ${by ? 'seam of ' : 'sections '}${own.map(s => s.name).join('+')}`,
    },
    t,
  )
  const joins = own.map(s => ({ key: sectionKey(s.id), goal: must(sectionForm(passage, s)).goal }))
  return { ...target, rules: t.clean === undefined ? JOIN_RULES : target.rules, joins }
}

/** By name from the repertoire, or a quick ladder where there is only a goal. Throws Stop with one sentence. */
export const findTarget = async (ctx: Context, name: string | undefined, t: Typed): Promise<Target> => {
  await loadPresets(ctx.home)
  if (name === undefined && t.goal !== undefined) return quickTarget(t)
  const { pieces } = await repertoire(ctx.home).list()
  if (name === undefined) {
    const all = pieces.flatMap(k => k.piece.passages.map(p => ({ piece: k.piece, passage: p })))
    const [one] = all
    if (all.length === 1 && one) return inRhythm(passageTarget(one.piece, one.passage, null, t), t.rhythm)
    throw new Stop(
      2,
      'Say what to practice: gradino practice PIECE/PASSAGE, or --goal TEMPO for a quick ladder.',
    )
  }
  const found = findPiece(pieces, name, true)
  const join = joinNames(name)
  if (!found.ok && join) return inRhythm(fromJoin(pieces, join, t), t.rhythm)
  const { in: kept, passage: named, section } = must(found)
  const passage = named ?? (kept.piece.passages.length === 1 ? kept.piece.passages[0] : undefined)
  if (!passage) {
    const names = kept.piece.passages.map(p => p.name).join(', ')
    const accepted =
      names === '' ? 'a piece with a passage (gradino piece add)' : `one of its passages: ${names}`
    return must(problem('passage', name, accepted))
  }
  return inRhythm(passageTarget(kept.piece, passage, section, t), t.rhythm)
}

const passageTarget = (piece: Piece, p: Passage, s: Section | null, t: Typed): Target =>
  fromPassage(
    piece,
    p,
    s && must(sectionSpan(must(passageForm(p)), s)),
    { key: sectionKey(s?.id ?? p.id), name: s ? `, section ${s.name}` : '' },
    t,
  )
