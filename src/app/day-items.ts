import { idsOf, type TakeKind, takeKey } from '../ladder/key.ts'
import { DEFAULT_RULES } from '../ladder/rules.ts'
import { openingOf } from '../ladder/standing.ts'
import { decimal } from '../music/fraction.ts'
import { failed, ok, type Result } from '../music/result.ts'
import { inUnit, type Tempo } from '../music/tempo.ts'
import type { Item, Take } from '../plan/item.ts'
import { aboutMinutes } from '../plan/pass.ts'
import { RATE } from '../sound/stream.ts'
import type { Controls } from '../terminal/key-table.ts'
import { offerKey } from '../visit/joining.ts'
import { slotClock } from '../visit/slot-clock.ts'
import type { Target } from '../visit/subject.ts'
import { passageTarget } from '../visit/target.ts'
import { warmedUp } from '../warm-up/exercise.ts'
import { exercisesOf, warmUpInTurn } from '../warm-up/exercises.ts'
import type { Exercise } from '../warm-up/turns.ts'
import type { Context } from './context.ts'
import type { DayNow } from './day-now.ts'
import { instantOf, todayOf } from './now.ts'
import { joinAcross, sit, take } from './play-visit.ts'
import { controlsOf, levelsOf } from './preferences.ts'
import { saveAs } from './preset-store.ts'
import { rhythmNamed } from './presets.ts'
import { inPracticeRoom, type PracticeRoom, type Stage } from './room.ts'
import type { Slot } from './sitting.ts'
import { warmUpLog } from './warm-up-log.ts'

/** How a line of the day was left: the program, and what there is to say. */
export type Played = { readonly quit: boolean; readonly lines: readonly string[] }

const nothing: Played = { quit: false, lines: [] }

const GONE = 'That is no longer in the repertoire.'

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
  return passageTarget({ piece: first.piece, passage: first.passage, sections }, {}, rhythm)
}

/** What is said of a slot before its first press. */
const slotSays = (i: Item & { k: 'section' | 'seam' }): string => {
  if (i.k === 'seam') return 'The seam, then as one.'
  const inGoal = (t: Tempo): string => decimal(inUnit(t, i.goal.unit).bpm)
  return [
    i.ceiling && i.toPass !== null ? `To pass ${inGoal(i.ceiling)}: ${aboutMinutes(i.toPass)}.` : '',
    i.top ? `Nothing above ${inGoal(i.top)} now.` : '',
  ]
    .filter(Boolean)
    .join(' ')
}

const slot = async (
  ctx: Context,
  now: DayNow,
  i: Item & { k: 'section' | 'seam' },
  stage: Stage,
): Promise<Result<Played>> => {
  const found = await targetOf(now, i.key)
  if (!found.ok) return found
  const target = found.value
  const opens = openingOf(target, now.from.known, instantOf(ctx))
  if (!opens.ok) return opens
  const time: Slot = {
    clock: slotClock(ctx.clock, i.minutes),
    says: slotSays(i),
    top: i.k === 'section' ? i.top : null,
  }
  const offer = i.k === 'seam' ? now.planned.offers.find(o => offerKey(o) === i.key) : undefined
  return inPracticeRoom(ctx, now.from, { stage }, room =>
    offer ? joinAcross(room, offer, time) : sit(room, target, null, null, time),
  )
}

/** Single takes, one after another, until the player leaves them. */
const takes = (
  ctx: Context,
  now: DayNow,
  kind: TakeKind,
  all: readonly Take[],
  stage: Stage,
): Promise<Result<Played>> =>
  inPracticeRoom(ctx, now.from, { stage }, async room => {
    for (const t of all) {
      const left = await take(room, room.need(await targetOf(now, t.key)), kind, t.tempo)
      if (left.quit || left.left) return { quit: left.quit, lines: [] }
    }
    return nothing
  })

/** A warm-up screen in a room that is open. Resolves with whether the player left the program there. */
const warm = async (
  room: PracticeRoom,
  title: string,
  exercises: readonly Exercise[],
  log: ReturnType<typeof warmUpLog>,
  more: { readonly name?: string; readonly minutes?: number } = {},
): Promise<boolean> => {
  const { warmUpScreen } = await import('../screens/warmup/screen.tsx')
  const { name, minutes } = more
  const { quit } = await warmUpScreen({
    terminal: await room.terminal(),
    sound: room.sound,
    timing: room.ctx.clock,
    title,
    exercises,
    lock: room.lock,
    controls: controlsOf(room.settings.now()),
    rate: RATE,
    log,
    levels: levelsOf(room.settings.now()),
    louder: levels => void room.keep({ levels: { ...levels } }),
    save: name === undefined ? null : as => saveAs(room.ctx, as, name),
    ...(minutes === undefined ? {} : { slot: slotClock(room.ctx.clock, minutes) }),
  })
  return quit
}

const fundamentals = async (
  ctx: Context,
  now: DayNow,
  minutes: number,
  stage: Stage,
): Promise<Result<Played>> => {
  const remembered = warmedUp(now.from.known.visits)
  const warmUp = warmUpInTurn((await now.from.presets()).all, remembered)
  if (!warmUp) return failed('You have no warm-ups; gradino presets lists them.')
  return inPracticeRoom(ctx, now.from, { stage }, async room => {
    const tuning = room.settings.now()
    const exercises = exercisesOf(warmUp, { today: todayOf(ctx), remembered, tuning })
    const { title, name } = warmUp
    return {
      quit: await warm(room, title, exercises, warmUpLog(room.journal), { name, minutes }),
      lines: [],
    }
  })
}

/** On the day itself: each spot once, nobody judges. A spot that was not heard to its end ends it. */
const entries = (
  ctx: Context,
  now: DayNow,
  i: Item & { k: 'entries' },
  stage: Stage,
): Promise<Result<Played>> =>
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
        words: 'Once, and leave it. Nobody counts.',
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
      const quit = await warm(room, 'Entries', [exercise], {
        begin: async ({ tempo }) => {
          const key = takeKey('entry', spot.key)
          await room.journal.append([{ k: 'visit', key, rungs: [tempo], at: 0, rules: DEFAULT_RULES }])
        },
        turn: async (rep, tempo) => {
          heard = true
          await room.journal.append([{ k: 'unjudged', rep, tempo, why: 'silent' }])
        },
      })
      if (quit || !heard) return { quit, lines: [] }
    }
    return nothing
  })

const rest = async (ctx: Context, i: Item, stage: Stage, controls: Controls): Promise<Result<Played>> => {
  const { restScreen } = await import('../screens/today/rest.tsx')
  const how = await restScreen({ ...stage, timing: ctx.clock, minutes: i.minutes, says: [], controls })
  return ok({ quit: how === 'quit', lines: [] })
}

/** Opens what a line of the day says, until it is over or left. */
export const playItem = (
  ctx: Context,
  now: DayNow,
  i: Item,
  stage: Stage,
  controls: Controls,
): Promise<Result<Played>> => {
  switch (i.k) {
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
        i.k,
        Array.from({ length: i.times }, () => i.take),
        stage,
      )
    case 'entries':
      return entries(ctx, now, i, stage)
  }
}
