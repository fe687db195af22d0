import { idsOf } from '../ladder/key.ts'
import { type Need, sentence } from '../music/result.ts'
import type { Question } from '../plan/dates.ts'
import type { Item } from '../plan/item.ts'
import { type DayLine, nextOpen } from '../plan/order.ts'
import type { Subject } from '../screens/note/note.ts'
import type { Answers } from '../screens/today/asked.ts'
import { columnsOf, itemWithWhy } from '../screens/today/line-words.ts'
import { type Action, newState, reduce, type State } from '../screens/today/reduce.ts'
import { type DayFile, writeDay } from '../store/day-file.ts'
import { tried } from '../store/trouble.ts'
import { changeDay, keepAnswers, keysIn } from './change-day.ts'
import type { Context } from './context.ts'
import { type ItemLeft, playItem } from './day-items.ts'
import { askedId, clockNow, type DayNow, dayNow } from './day-plan.ts'
import { type Now, type Practiced, readNow, todayOf } from './now.ts'
import { controlsOf } from './preferences.ts'
import { notebookOf, type Stage } from './room.ts'
import { WARM_UP_SKIPPED } from './words.ts'

/** Whether anything of today was heard since a moment (milliseconds since 1970). */
const playedSince = (all: Practiced, since: number): boolean =>
  all.visits.some(v => v.played > 0 && Date.parse(v.last?.time ?? v.time) >= since)

/** To the pieces, or leave the program, with what stays to be read. */
export type DayLeft =
  | { readonly kind: 'pieces' }
  | { readonly kind: 'leave'; readonly lines: readonly string[] }

/** What a note on a line is about: its music, where it is of one thing. */
const subjectOf = ({ planned }: DayNow, i: Item): Subject => {
  const [key, more] = keysIn(i)
  if (key === undefined || more !== undefined) return { about: {}, says: '' }
  const ids = idsOf(key)
  const part = planned.parts.find(p => ids.includes((p.section ?? p.passage).id))
  const label = planned.works.find(w => w.key === key)?.label ?? planned.seams.find(s => s.key === key)?.label
  return {
    about: { ...(part ? { piece: part.piece.id } : {}), key },
    says: [part?.piece.title, label].filter(Boolean).join(', '),
  }
}

/**
 * The day on screen, played line by line, until the player goes to the pieces or leaves. Null where there is nothing to
 * plan. `back`: from another screen, which a pedal may have closed.
 */
export const dayScreens = async (
  ctx: Context,
  stage: Stage,
  from: Now,
  o: { readonly back: boolean; readonly notes: readonly string[] },
): Promise<DayLeft | null> => {
  const first = dayNow(ctx, from)
  if (!first) return null
  let now: DayNow = first
  const { settings } = from
  const { dayScreen } = await import('../screens/today/screen.ts')
  const controls = controlsOf(settings.now())
  let state: State = newState(now.told, now.lines, now.file.minutes, clockNow(ctx), [
    ...o.notes,
    ...now.cautions,
  ])
  let back = o.back
  /** Plans are made one after another. */
  let last: Promise<unknown> = Promise.resolve()

  /** The day anew from what is known by then; with nothing left to plan it stays as it was. */
  const renew = (known: Now): void => {
    now = dayNow(ctx, known) ?? now
  }
  const reread = async () => renew({ ...(await readNow(ctx, settings)), day: now.file })
  const store = async (change: Partial<DayFile>): Promise<void> => {
    const file = { ...now.file, ...change }
    await writeDay(ctx.home, file)
    now = { ...now, file, from: { ...now.from, day: file } }
  }
  // Where this can't be kept, it is said again: no more than that.
  const { advice } = first
  if (advice && !now.file.asked.includes(advice))
    await tried(() => store({ asked: [...now.file.asked, advice] }))
  const shown = (note: readonly string[]): Action & { kind: 'known' } => {
    const { told, lines, file } = now
    return { kind: 'known', told, lines, minutes: file.minutes, note }
  }
  const attempt = async (f: (need: Need) => Promise<readonly string[]>) => {
    const done = await tried(async need => shown(await f(need)))
    return done.ok ? done.value : { kind: 'refused' as const, text: sentence(done.problem) }
  }
  /** What was skipped leaves its minutes to the others at once. */
  const keep = async (s: State): Promise<Action | undefined> => {
    const order = s.lines.map(l => l.name)
    const skipped = s.lines.filter(l => l.state === 'skipped').map(l => l.name)
    const same = skipped.join('\n') === now.file.skipped.join('\n')
    await tried(() => store({ order, skipped }))
    if (same) return
    renew(now.from)
    return shown([])
  }

  /** One line; resolves with how it was left. A trouble leads back to the day. */
  const one = async (line: DayLine, begins: boolean): Promise<ItemLeft> => {
    const [begun, at] = [ctx.clock.wall(), clockNow(ctx)]
    const done = await tried(async need => {
      const played = need(await playItem(ctx, now, line.item, { ...stage, begins }, controls))
      // The only time that the journal is read for this line.
      const known = await readNow(ctx, settings)
      now = { ...now, from: { ...known, day: now.file } }
      if (line.item.kind === 'rest' ? !played.quit : playedSince(known.practiced, begun))
        await store({
          over: [
            ...now.file.over.filter(x => x.name !== line.name),
            { name: line.name, at, minutes: line.item.minutes },
          ],
          skipped: now.file.skipped.filter(n => n !== line.name),
        })
      // Who leaves a warm-up before a turn of it was heard has decided: it is skipped, and does not come again by itself.
      else if (line.item.kind === 'fundamentals' && !played.quit) {
        await store({ skipped: [...now.file.skipped.filter(n => n !== line.name), line.name] })
        renew(now.from)
        return { ...played, lines: [WARM_UP_SKIPPED] }
      }
      renew(now.from)
      return played
    })
    const left: ItemLeft = done.ok
      ? done.value
      : { quit: false, onward: 'day', lines: [sentence(done.problem)] }
    state = reduce(state, shown(left.lines.length > 0 ? left.lines : now.cautions)).state
    return left
  }

  /** A line, and what follows it as long as nobody asks for the day. */
  const play = async (first: DayLine): Promise<DayLeft | null> => {
    let begins = false
    for (let line: DayLine | undefined = first; line; ) {
      const left = await one(line, begins)
      if (left.quit) return { kind: 'leave', lines: left.lines }
      if (left.onward === 'day' || state.pain || todayOf(ctx) !== now.file.date) return null
      begins = left.onward === 'begins'
      const name: string = line.name
      const at: number | null = nextOpen(now.lines, now.lines.findIndex(l => l.name === name) + 1)
      // What was left without being played stays open: it does not begin again by itself.
      line = at === null || now.lines[at]?.name === name ? undefined : now.lines[at]
    }
    return null
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
      text: l => itemWithWhy(l.item, now.planned.pieceOf),
      columns: l => columnsOf(l.item, now.planned.pieceOf),
      keep,
      notebook: notebookOf(ctx),
      subject: l => subjectOf(now, l.item),
      noted: () =>
        attempt(async () => {
          await reread()
          return []
        }),
      plan: s => {
        const planned = last.then(() =>
          attempt(async () => {
            await store({ minutes: s.minutes })
            renew(now.from)
            return []
          }),
        )
        last = planned.catch(() => {})
        return planned
      },
      change: c =>
        attempt(async need => {
          const said = need(await changeDay(ctx, now, c))
          if (said.file) await store(said.file)
          if (said.read) await reread()
          else renew(now.from)
          return [said.text].filter(Boolean)
        }),
      answer: (q: Question, a: Answers) =>
        attempt(async need => {
          const { planned, file } = now
          const piece = planned.parts.find(x => q.keys.includes(x.ladder.key))?.piece
          const text = piece ? need(await keepAnswers(ctx, now.from.practiced, piece, q, a)) : ''
          await store({ asked: [...file.asked, askedId(planned, q)] })
          await reread()
          return [text]
        }),
    })
    state = left.state
    back = true
    if (left.to.kind !== 'play')
      return left.to.kind === 'pieces' ? { kind: 'pieces' } : { kind: 'leave', lines: [] }
    if (todayOf(ctx) !== now.file.date) renew(await readNow(ctx, settings))
    const gone = await play(left.to.line)
    if (gone) return gone
  }
}
