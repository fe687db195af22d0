import { breathLimit } from '../click/air.ts'
import { type Standing, standing } from '../ladder/standing.ts'
import { type Frac, less, mulNear, parseDecimal, zero } from '../music/fraction.ts'
import { attemptLater, checked, ok, problem, type Result } from '../music/result.ts'
import {
  compareTempo,
  parseTempo,
  ratioOf,
  spoken,
  spokenGoal,
  type Tempo,
  tidy,
  typed,
} from '../music/tempo.ts'
import {
  adviceText,
  breathAdvice,
  breathes,
  breathText,
  oneBreath,
  partOf,
} from '../repertoire/breath-advice.ts'
import { feltIn } from '../repertoire/field.ts'
import { ladderOf, musicOf } from '../repertoire/ladder-of.ts'
import type { PassageForm } from '../repertoire/passage-form.ts'
import { checkPiece, isOpen, type Passage, type Piece, type Section } from '../repertoire/piece.ts'
import { repertoire } from '../store/repertoire.ts'
import { asResult } from '../store/trouble.ts'
import { placeText } from '../visit/subject.ts'
import type { Context, Outcome } from './context.ts'
import { instantOf, type Practiced, readPracticed } from './now.ts'
import { tooLongText, trueTempoText } from './words.ts'

const ACCEPTED = 'the tempo the conductor took, like 126 or half=63, or a ratio like x0.92'

/** By how much all goals change: "x0.92", or from the main goal to a tempo; a plain number counts the beat that is felt. */
const parseRatio = (text: string, p: Passage): Result<Frac> => {
  const ratio = /^[x\u00d7](.+)$/.exec(text.trim())?.[1]
  if (ratio === undefined) {
    const tempo = parseTempo(text, 'tempo', feltIn(p))
    return tempo.ok ? ok(ratioOf(tempo.value, goalOf(p))) : problem(tempo.problem.field, text, ACCEPTED)
  }
  const exact = parseDecimal(ratio)
  return exact && less(zero, exact) ? ok(exact) : problem('ratio', text, ACCEPTED)
}

const goalOf = (p: Passage): Tempo => checked(parseTempo(p.goal))

const goalText = ({ goal, top }: PassageForm): string => spokenGoal(goal, top)

/** A tempo as typed, in a ratio; refused where it cannot be a tempo. */
const scaled = (text: string, ratio: Frac): string => {
  const { unit, bpm } = checked(parseTempo(text))
  return typed(tidy({ unit, bpm: mulNear(bpm, ratio) }))
}

/** The passage at its new goal. A start stays, unless it would then stand above the goal; the tempo map keeps its ratios. */
const atNewGoal = (p: Passage, ratio: Frac): Result<Passage> => {
  const goal = scaled(p.goal, ratio)
  const top = parseTempo(goal, 'goal tempo')
  if (!top.ok) return top
  const above = p.start !== undefined && compareTempo(checked(parseTempo(p.start)), top.value) > 0
  return ok({
    ...p,
    goal,
    ...(p.goalTop === undefined ? {} : { goalTop: scaled(p.goalTop, ratio) }),
    ...(p.start !== undefined && above ? { start: scaled(p.start, ratio) } : {}),
  })
}

/** One ladder before and after. */
type Moved = {
  readonly name: string
  readonly before: PassageForm
  readonly after: PassageForm
  readonly ceiling: Tempo | null
  readonly state: 'ready' | 'reached' | 'opens again' | 'open'
}

const stateOf = ({ ready, ceiling, goal: after }: Standing, before: Tempo): Moved['state'] => {
  if (ready) return 'ready'
  const reached = (goal: Tempo): boolean => ceiling !== null && compareTempo(ceiling, goal) >= 0
  return reached(after) ? 'reached' : reached(before) ? 'opens again' : 'open'
}

/** What is practiced of a passage: its sections, or it itself where it has none. */
const unitsOf = (ctx: Context, all: Practiced, was: Passage, is: Passage): readonly Moved[] => {
  const unit = (s: Section | null): Moved => {
    const own = s ? [s] : []
    const now = standing(ladderOf(is, own, all.usual), all, instantOf(ctx))
    const [before, after] = [musicOf(was, own), musicOf(is, own)]
    return {
      name: placeText(was) + (s ? `, section ${s.name}` : ''),
      before,
      after,
      ceiling: now.ceiling,
      state: stateOf(now, before.goal),
    }
  }
  return (was.sections ?? []).length > 0 ? (was.sections ?? []).map(unit) : [unit(null)]
}

const STATES: { readonly [S in Moved['state']]: string } = {
  ready: 'Ready',
  reached: 'At the goal',
  'opens again': 'Opens again',
  open: 'Still below the goal',
}

const stateLines = (units: readonly Moved[]): readonly string[] =>
  (Object.keys(STATES) as Moved['state'][]).flatMap(state => {
    const of = units.filter(u => u.state === state)
    const names = of.map(
      u =>
        `  ${u.name}: ${u.ceiling ? `ceiling ${spoken(u.ceiling)}` : 'no ceiling yet'}, goal ${goalText(u.after)}`,
    )
    return names.length > 0 ? [`${STATES[state]}:`, ...names] : []
  })

/** The longest stretch in one breath of a passage at its goal, before and after, and whether it is now too long. */
const breathOf = (was: Passage, is: Passage, capacity: number | null) => {
  const [before, after] = [partOf(was, null), partOf(is, null)]
  const limit = breathLimit(capacity ?? undefined, null)
  if (!limit && !breathes(after.form)) return null
  return {
    passage: is.name,
    before: oneBreath(before, before.goal),
    after: oneBreath(after, after.goal),
    goal: after.goal,
    fitted: !limit || breathAdvice(before, before.goal, limit, 'breath') === null,
    limit,
    advice: limit && breathAdvice(after, after.goal, limit, 'breath'),
  }
}

const breathLine = (b: NonNullable<ReturnType<typeof breathOf>>): string => {
  const said = `In one breath, ${b.passage}: ${breathText(b.after)}, before ${b.before.seconds} s`
  if (!b.advice || !b.limit) return `${said}.`
  return tooLongText(said, b.fitted, adviceText(b.advice, b.goal, b.limit))
}

/** The true tempo after a rehearsal: all goals of the piece in one ratio; what was practiced stays. */
export const setTrueTempo = (
  ctx: Context,
  name: string,
  text: string,
  capacity: number | null = null,
): Promise<Result<Outcome>> =>
  attemptLater(async need => {
    const store = repertoire(ctx.home)
    const { in: kept, passage } = need(await store.find(name))
    const { piece } = kept
    const main = passage ?? piece.passages[0]
    if (!main) return need(problem('piece', name, 'a piece with a passage (gradino piece add)'))
    const ratio = need(parseRatio(text, main))
    const wanted: Piece = {
      ...piece,
      sure: 'conductor',
      passages: piece.passages.map(p => need(atNewGoal(p, ratio))),
    }
    const edited = need(checkPiece(wanted))
    const all = await readPracticed(ctx)
    const pairs = piece.passages.map((was, i) => [was, edited.passages[i] as Passage] as const)
    const units = pairs.flatMap(([was, is]) => unitsOf(ctx, all, was, is))
    const breaths = pairs.flatMap(([was, is]) => breathOf(was, is, capacity) ?? [])
    need(asResult(await store.save(edited, kept.seen)))
    return {
      lines: [
        trueTempoText(piece.title, ratio.n / ratio.d),
        ...pairs.map(
          ([was, is]) =>
            `  ${placeText(is)}: goal ${goalText(musicOf(is))}, before ${isOpen(piece) ? 'open' : goalText(musicOf(was))}${was.start === is.start ? '' : `, start ${is.start}`}`,
        ),
        ...stateLines(units),
        ...breaths.map(b => breathLine(b)),
        ...all.notes,
      ],
      json: {
        id: piece.id,
        title: piece.title,
        ratio: ratio.n / ratio.d,
        passages: pairs.map(([was, is]) => ({
          id: is.id,
          name: is.name,
          before: was.goal,
          goal: is.goal,
          goalTop: is.goalTop ?? null,
          start: is.start ?? null,
        })),
        sections: units.map(u => ({
          name: u.name,
          goal: u.after.goal,
          goalTop: u.after.top ?? null,
          ceiling: u.ceiling,
          state: u.state,
        })),
        breaths: breaths.map(({ goal: _, limit: __, ...b }) => b),
      },
    }
  })
