import { attemptLater, type Need, ok, sentence } from '../music/result.ts'
import type { Question } from '../plan/dates.ts'
import type { Line } from '../plan/order.ts'
import type { Answers } from '../screens/today/after.ts'
import { itemText } from '../screens/today/lines.ts'
import { type Action, newState, reduce, type State } from '../screens/today/reduce.ts'
import { type DayFile, writeDay } from '../store/day-file.ts'
import type { SettingsStore } from '../store/settings.ts'
import { caught } from '../store/trouble.ts'
import { keepAnswers } from './after-date.ts'
import type { Context } from './context.ts'
import { playItem } from './day-items.ts'
import { askedId, dayNow, type Now } from './day-now.ts'
import { clockNow, madeToday } from './day-plan.ts'
import { known, todayOf } from './known.ts'
import { controlsOf } from './preferences.ts'
import type { Stage } from './sitting.ts'

/** Whether anything of today was heard since a moment (milliseconds since 1970). */
const playedSince = async (ctx: Context, since: number): Promise<boolean> =>
  (await known(ctx)).visits.some(v => v.played > 0 && Date.parse(v.last?.time ?? v.time) >= since)

/** To the pieces, or out of the program, with what stays to be read. */
export type Left = { readonly k: 'pieces' } | { readonly k: 'leave'; readonly lines: readonly string[] }

/**
 * The day on screen, played line by line, until the player goes to the pieces or leaves. Null where there is nothing to
 * plan. `back`: from another screen, which a pedal may have closed.
 */
export const dayScreens = async (
  ctx: Context,
  stage: Stage,
  settings: SettingsStore,
  o: { readonly back: boolean; readonly notes: readonly string[] },
): Promise<Left | null> => {
  let now = await dayNow(ctx)
  if (!now) return null
  const { dayScreen } = await import('../screens/today/screen.tsx')
  const controls = controlsOf(settings.now())
  let state: State = newState(now.told, now.lines, now.file.minutes, clockNow(ctx), [
    ...o.notes,
    ...now.cautions,
  ])
  let back = o.back
  /** Plans are made one after another. */
  let last: Promise<unknown> = Promise.resolve()

  const store = async (change: Partial<DayFile>): Promise<void> => {
    const file = { ...(now?.file ?? (await madeToday(ctx))), ...change }
    await writeDay(ctx.home, file)
    if (now) now = { ...now, file }
  }
  const again = async (note: readonly string[]): Promise<Action & { k: 'known' }> => {
    now = (await dayNow(ctx)) ?? now
    const { told, lines, file } = now as Now
    return { k: 'known', told, lines, minutes: file.minutes, note }
  }
  const attempt = async (f: (need: Need) => Promise<readonly string[]>) => {
    const done = await caught(() => attemptLater(async need => again(await f(need))))
    return done.ok ? done.value : { k: 'refused' as const, text: sentence(done.problem) }
  }
  const keep = async (s: State): Promise<void> => {
    const order = s.lines.map(l => l.name)
    const skipped = s.lines.filter(l => l.state === 'skipped').map(l => l.name)
    await caught(async () => ok(await store({ order, skipped })))
  }

  const play = async (line: Line): Promise<Left | null> => {
    const [begun, at] = [ctx.clock.wall(), clockNow(ctx)]
    let quit = false
    const done = await caught(() =>
      attemptLater(async need => {
        const played = need(await playItem(ctx, (now as Now).planned, line.item, stage, controls))
        quit = played.quit
        const over = line.item.k === 'rest' ? !quit : await playedSince(ctx, begun)
        const file = (now as Now).file
        if (over)
          await store({
            over: [...file.over.filter(x => x.name !== line.name), { name: line.name, at }],
            skipped: file.skipped.filter(n => n !== line.name),
          })
        return played.lines
      }),
    )
    const note = done.ok ? done.value : [sentence(done.problem)]
    const known = await again(note)
    state = reduce(state, { ...known, note: note.length > 0 ? note : (now?.cautions ?? []) }).state
    return quit ? { k: 'leave', lines: note } : null
  }

  for (;;) {
    const left = await dayScreen({
      terminal: stage.terminal,
      lock: stage.lock,
      timing: ctx.clock,
      clock: () => clockNow(ctx),
      controls,
      state: { ...state, now: clockNow(ctx) },
      back,
      text: l => itemText(l.item, (now as Now).planned.pieceOf),
      keep,
      plan: s => {
        const planned = last.then(() =>
          attempt(async () => {
            await store({ minutes: s.minutes })
            return []
          }),
        )
        last = planned.catch(() => {})
        return planned
      },
      answer: (q: Question, a: Answers) =>
        attempt(async need => {
          const { planned, file } = now as Now
          const piece = planned.parts.find(x => q.keys.includes(x.ladder.key))?.piece
          const text = piece ? need(await keepAnswers(ctx, piece, q, a)) : ''
          await store({ asked: [...file.asked, askedId(planned, q)] })
          return [text]
        }),
    })
    state = left.state
    back = true
    if (left.to.k !== 'play') return left.to.k === 'pieces' ? { k: 'pieces' } : { k: 'leave', lines: [] }
    if (todayOf(ctx) !== (now as Now).file.date) now = (await dayNow(ctx)) ?? now
    const gone = await play(left.to.line)
    if (gone) return gone
  }
}
