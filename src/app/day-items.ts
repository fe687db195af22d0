import { idsOf, type TakeKind, takeKey } from '../ladder/key.ts'
import { openingOf } from '../ladder/standing.ts'
import { decimal } from '../music/fraction.ts'
import { failed, ok, type Result } from '../music/result.ts'
import { inUnit, type Tempo } from '../music/tempo.ts'
import type { Item, PlannedTake } from '../plan/item.ts'
import { aboutMinutes } from '../plan/pass.ts'
import type { Left } from '../screens/practice/leaving.ts'
import type { Controls } from '../terminal/key-table.ts'
import { offerKey } from '../visit/joining.ts'
import { slotClock } from '../visit/slot-clock.ts'
import type { Target } from '../visit/subject.ts'
import { passageTarget } from '../visit/target.ts'
import { type Exercise, warmedUp, warmUpInTurn } from '../warm-up/exercises.ts'
import type { Context } from './context.ts'
import type { DayNow } from './day-plan.ts'
import { instantOf, usually } from './now.ts'
import { joinAcross, sit, take } from './play-visit.ts'
import { playExercises, playWarmUp, warmUpLog } from './play-warm-up.ts'
import { rhythmNamed } from './presets.ts'
import { inPracticeRoom, notebookOf, type Stage } from './room.ts'
import type { Slot } from './sitting.ts'
import { GONE, NO_WARM_UPS, nothingAbove, ONCE, SEAM_FIRST, toPassText } from './words.ts'

/**
 * How a line of the day was left. `onward`: a press said to go on, so the next line begins by itself; it ended by itself, so the
 * next one waits for a press; or it was left by hand, for the day.
 */
export type ItemLeft = {
  readonly quit: boolean
  readonly onward: 'begins' | 'waits' | 'day'
  readonly lines: readonly string[]
}

/** Where the day is played, and whether what is opened begins by itself. */
type DayStage = Stage & { readonly begins: boolean }

const ended: ItemLeft = { quit: false, onward: 'waits', lines: [] }

const playedBy = (left: Left): ItemLeft => ({
  quit: left.quit,
  onward: left.left ? 'day' : left.held.session.asks ? 'begins' : 'waits',
  lines: left.lines,
})

/** A section, a passage or a join of the plan, by its key. */
const targetOf = async ({ from, planned: p }: DayNow, key: string): Promise<Result<Target>> => {
  const seam = p.seams.find(s => s.key === key)
  const ids = (seam?.of ?? [key]).flatMap(idsOf)
  // The ids of a join stand in the alphabet's order, parts in the music's.
  const found = p.parts.filter(x => ids.includes((x.section ?? x.passage).id))
  const [first] = found
  if (!first || found.length < ids.length) return failed(GONE)
  const sections = found.flatMap(x => x.section ?? [])
  const rhythm = rhythmNamed(await from.presets())
  return passageTarget(
    { piece: first.piece, passage: first.passage, sections },
    usually(from.practiced),
    rhythm,
  )
}

/** What is said of a slot before its first press. */
const slotSays = (i: Item & { kind: 'section' | 'seam' }): string => {
  if (i.kind === 'seam') return SEAM_FIRST
  const inGoal = (t: Tempo): string => decimal(inUnit(t, i.goal.unit).bpm)
  return [
    i.ceiling && i.toPass !== null ? toPassText(inGoal(i.ceiling), aboutMinutes(i.toPass)) : '',
    i.top ? nothingAbove(inGoal(i.top)) : '',
  ]
    .filter(Boolean)
    .join(' ')
}

const slot = async (
  ctx: Context,
  now: DayNow,
  i: Item & { kind: 'section' | 'seam' },
  stage: DayStage,
): Promise<Result<ItemLeft>> => {
  const found = await targetOf(now, i.key)
  if (!found.ok) return found
  const target = found.value
  const opens = openingOf(target, now.from.practiced, instantOf(ctx))
  if (!opens.ok) return opens
  const time: Slot = {
    clock: slotClock(ctx.clock, i.minutes),
    says: slotSays(i),
    // Goals that were lowered for now end the ladder there.
    top: i.kind === 'section' ? (i.top ?? (now.planned.choice?.kind === 'lower' ? i.goal : null)) : null,
    begins: stage.begins,
  }
  const offer = i.kind === 'seam' ? now.planned.offers.find(o => offerKey(o) === i.key) : undefined
  return inPracticeRoom(ctx, now.from, { stage }, async room =>
    playedBy(await (offer ? joinAcross(room, offer, time) : sit(room, target, null, null, time))),
  )
}

/** Single takes, one after another, until the player leaves them. */
const takes = (
  ctx: Context,
  now: DayNow,
  kind: TakeKind,
  all: readonly PlannedTake[],
  stage: DayStage,
): Promise<Result<ItemLeft>> =>
  inPracticeRoom(ctx, now.from, { stage }, async room => {
    for (const [i, t] of all.entries()) {
      const target = room.need(await targetOf(now, t.key))
      const left = await take(room, target, kind, t.tempo, null, stage.begins && i === 0)
      if (left.quit || left.left) return { ...ended, quit: left.quit, onward: 'day' }
    }
    return ended
  })

const fundamentals = async (
  ctx: Context,
  now: DayNow,
  minutes: number,
  stage: DayStage,
): Promise<Result<ItemLeft>> => {
  const warmUp = warmUpInTurn((await now.from.presets()).all, warmedUp(now.from.practiced.visits))
  if (!warmUp) return failed(NO_WARM_UPS)
  return inPracticeRoom(ctx, now.from, { stage }, async room => {
    const { quit } = await playWarmUp(room, warmUp, minutes)
    return { ...ended, quit }
  })
}

/** On the day itself: each spot once, nobody judges. A spot that was not heard to its end ends it. */
const entries = (
  ctx: Context,
  now: DayNow,
  i: Item & { kind: 'entries' },
  stage: DayStage,
): Promise<Result<ItemLeft>> =>
  inPracticeRoom(ctx, now.from, { stage }, async room => {
    for (const spot of i.spots) {
      const target = room.need(await targetOf(now, spot.key))
      const meter = target.form.meters[0]?.meter
      if (!meter) continue
      let heard = false
      const exercise: Exercise = {
        warmUp: '',
        item: target.title,
        key: null,
        words: ONCE,
        heading: '',
        notes: [],
        meter,
        measures: 1,
        form: target.form,
        lengths: [],
        tempos: [spot.from],
        shift: 0,
        times: 1,
        minutes: null,
        tone: null,
        asLong: false,
      }
      const log = warmUpLog(room.journal, () => takeKey('entry', spot.key))
      const turn: typeof log.turn = (rep, tempo) => {
        heard = true
        return log.turn(rep, tempo)
      }
      const { quit } = await playExercises(room, 'Entries', [exercise], { ...log, turn })
      if (quit || !heard) return { ...ended, quit, onward: 'day' }
    }
    return ended
  })

const rest = async (
  ctx: Context,
  i: Item,
  stage: DayStage,
  controls: Controls,
): Promise<Result<ItemLeft>> => {
  const { restScreen } = await import('../screens/today/rest.ts')
  const how = await restScreen({
    ...stage,
    timing: ctx.clock,
    minutes: i.minutes,
    says: [],
    controls,
    notebook: notebookOf(ctx),
  })
  return ok({ ...ended, quit: how === 'quit', onward: how === 'on' ? 'begins' : 'day' })
}

/** Opens what a line of the day says, until it is over or left. */
export const playItem = (
  ctx: Context,
  now: DayNow,
  i: Item,
  stage: DayStage,
  controls: Controls,
): Promise<Result<ItemLeft>> => {
  switch (i.kind) {
    case 'fundamentals':
      return fundamentals(ctx, now, i.minutes, stage)
    case 'rest':
      return rest(ctx, i, stage, controls)
    case 'section':
    case 'seam':
      return slot(ctx, now, i, stage)
    case 'cold':
      return takes(ctx, now, 'cold', [i.take], stage)
    case 'through':
      return takes(ctx, now, 'through', i.takes, stage)
    case 'run':
      return takes(ctx, now, 'entry', i.takes, stage)
    case 'goal':
      return takes(ctx, now, 'goal', [i.take], stage)
    case 'slow':
    case 'silent':
      return takes(
        ctx,
        now,
        i.kind,
        Array.from({ length: i.times }, () => i.take),
        stage,
      )
    case 'entries':
      return entries(ctx, now, i, stage)
  }
}
