import type { Body } from '../ladder/event.ts'
import { type WarmedUp, warmUpKey } from '../ladder/key.ts'
import { DEFAULT_RULES } from '../ladder/rules.ts'
import type { WarmUpLog, WarmUpTold } from '../screens/warmup/screen.ts'
import { RATE } from '../sound/stream.ts'
import type { Journal } from '../store/journal.ts'
import { slotClock } from '../visit/slot-clock.ts'
import { type Exercise, exercisesOf, warmedUp } from '../warm-up/exercises.ts'
import type { WarmUp } from '../warm-up/preset.ts'
import { todayOf } from './now.ts'
import { saveAs } from './presets.ts'
import { type PracticeRoom, soundingIn } from './room.ts'

/** An exercise is a visit of its own, its turns are repetitions that nobody judged. */
export const warmUpLog = (
  journal: Pick<Journal, 'append'>,
  keyOf: (w: WarmedUp) => string = warmUpKey,
): WarmUpLog => {
  const put = async (body: Body): Promise<void> => {
    await journal.append([body])
  }
  return {
    begin: w => put({ kind: 'visit', key: keyOf(w), rungs: [w.tempo], at: 0, rules: DEFAULT_RULES }),
    turn: (rep, tempo) => put({ kind: 'unjudged', rep, tempo, why: 'silent' }),
  }
}

/** Exercises on the screen of warm-ups. `name`: of the warm-up that may be saved; `minutes`: so many, in the plan of a day. */
export const playExercises = async (
  room: PracticeRoom,
  title: string,
  exercises: readonly Exercise[],
  log: WarmUpLog,
  { name, minutes }: { readonly name?: string; readonly minutes?: number | undefined } = {},
): Promise<WarmUpTold> => {
  const { warmUpScreen } = await import('../screens/warmup/screen.ts')
  return warmUpScreen({
    ...(await soundingIn(room)),
    title,
    exercises,
    rate: RATE,
    log,
    save: name === undefined ? null : as => saveAs(room.ctx, room.practiced().visits, as, name),
    ...(minutes === undefined ? {} : { slot: slotClock(room.ctx.clock, minutes) }),
  })
}

/** A warm-up with today's keys and tempos. It asks for no verdict; what was played is kept in the journal. */
export const playWarmUp = (room: PracticeRoom, warmUp: WarmUp, minutes?: number): Promise<WarmUpTold> => {
  const { title, name } = warmUp
  const remembered = warmedUp(room.practiced().visits)
  const exercises = exercisesOf(warmUp, {
    today: todayOf(room.ctx),
    remembered,
    tuning: room.settings.now(),
  })
  return playExercises(room, title, exercises, warmUpLog(room.journal), { name, minutes })
}
