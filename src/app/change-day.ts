import { idsOf } from '../ladder/key.ts'
import { dayText } from '../music/day-words.ts'
import { attemptLater, failed, type Need, ok, type Result } from '../music/result.ts'
import type { Question } from '../plan/dates.ts'
import type { Item } from '../plan/item.ts'
import { editPiece } from '../repertoire/edit.ts'
import type { MATTERS } from '../repertoire/fields.ts'
import type { Passage, Piece } from '../repertoire/piece.ts'
import type { Answers } from '../screens/today/asked.ts'
import type { PlanChange } from '../screens/today/reduce.ts'
import { lightWords, mattersWords, NO_PASSAGE } from '../screens/today/words.ts'
import { type DayFile, writeDay } from '../store/day-file.ts'
import { addNotes } from '../store/notes.ts'
import { type Kept, repertoire } from '../store/repertoire.ts'
import type { Context } from './context.ts'
import { type DayNow, madeToday } from './day-plan.ts'
import { aroundOf, storeEdit } from './edit-piece.ts'
import { type Now, type Practiced, todayOf } from './now.ts'
import { setTrueTempo } from './true-tempo.ts'
import { GONE, keptText } from './words.ts'

/** What is said, what is kept with the day, and whether anything else has to be read again. */
type Changed = { readonly text: string; readonly file?: Partial<DayFile>; readonly read?: true }

export const keysIn = (i: Item): readonly string[] => {
  if ('key' in i) return [i.key]
  if ('take' in i) return [i.take.key]
  if ('takes' in i) return i.takes.map(t => t.key)
  return 'spots' in i ? i.spots.map(s => s.key) : []
}

/** From one to the next, and round: today is for this day, the others from now on. */
const ROUND = ['as usual', 'must', 'can wait', 'today'] as const satisfies readonly (
  | (typeof MATTERS)[number]
  | 'today'
)[]

/** The next word for how much a passage matters: today is kept with the day, the others with the passage. */
const mattersNext = async (
  ctx: Context,
  all: Practiced,
  kept: Kept,
  passage: Passage,
  file: DayFile,
): Promise<Result<Changed>> => {
  const wanted = file.wanted.includes(passage.id)
  const now = wanted ? 'today' : (passage.matters ?? 'as usual')
  const next = ROUND[(ROUND.indexOf(now) + 1) % ROUND.length] ?? 'as usual'
  const text = mattersWords(passage.name, next)
  const others = file.wanted.filter(id => id !== passage.id)
  if (next === 'today') return ok({ text, file: { wanted: [...others, passage.id] } })
  const word = next === 'as usual' ? '' : next
  const stored = await storeEdit(
    ctx,
    all,
    kept,
    { passage: passage.id },
    { fields: { matters: word }, lists: {} },
    'keep',
  )
  if (!stored.ok) return stored
  return ok({ text, file: { wanted: others }, read: true })
}

/** The same from the list of pieces: what is said. */
export const mattersOnList = async (
  ctx: Context,
  now: Now,
  found: { readonly in: Kept; readonly passage: Passage },
): Promise<Result<string>> => {
  const made = madeToday(ctx, now)
  const changed = await mattersNext(ctx, now.practiced, found.in, found.passage, made)
  if (!changed.ok) return changed
  if (changed.value.file) await writeDay(ctx.home, { ...made, ...changed.value.file })
  return ok(changed.value.text)
}

const matters = async (
  ctx: Context,
  { planned, from, file }: DayNow,
  item: Item,
): Promise<Result<Changed>> => {
  const ids = keysIn(item).flatMap(idsOf)
  const part = planned.parts.find(
    p => ids.includes((p.section ?? p.passage).id) || ids.includes(p.passage.id),
  )
  const kept = from.kept.find(k => k.piece.id === part?.piece.id)
  if (!part || !kept) return failed(NO_PASSAGE)
  return mattersNext(ctx, from.practiced, kept, part.passage, file)
}

/** What the player changes of the plan: how much something matters, a light last evening, a way out where it is too much. */
export const changeDay = async (ctx: Context, now: DayNow, c: PlanChange): Promise<Result<Changed>> => {
  const { settings } = now.from
  switch (c.kind) {
    case 'matters':
      return matters(ctx, now, c.line.item)
    case 'light': {
      const light = settings.now().lastEvening !== 'light'
      await settings.change({ lastEvening: light ? 'light' : 'usual' })
      return ok({ text: lightWords(light) })
    }
    case 'way': {
      const { does } = c.way
      if (does.kind === 'leave' || does.kind === 'write') return ok({ text: '' })
      if (does.kind === 'note') {
        await addNotes(ctx.home, { ...ctx.clock, chance: ctx.chance }, [does.note])
        return ok({ text: does.said, read: true })
      }
      if (does.kind === 'days') {
        await settings.change({ days: does.days })
        return ok({ text: does.said, read: true })
      }
      if (does.kind === 'minutes') {
        await settings.change({ minutes: does.minutes })
        return ok({ text: '', file: { minutes: does.minutes, choice: null } })
      }
      return ok({
        text: '',
        file: { choice: does.kind === 'later' ? { kind: 'later', on: now.file.date } : does },
      })
    }
  }
}

/** One of the pieces as it is kept now. */
const keptNow = async (ctx: Context, id: string): Promise<Result<Kept>> => {
  const found = (await repertoire(ctx.home).list()).pieces.find(k => k.piece.id === id)
  return found ? ok(found) : failed(GONE)
}

/** The next date for the piece; passages whose own date is past have the piece's from now on. */
const setDate = async (
  ctx: Context,
  all: Practiced,
  piece: Piece,
  next: string,
  need: Need,
): Promise<void> => {
  const today = todayOf(ctx)
  const past = piece.passages.filter(p => p.readyBy && p.readyBy < today).map(p => ({ passage: p.id }))
  for (const where of [{}, ...past]) {
    const readyBy = 'passage' in where ? '' : next
    const kept = need(await keptNow(ctx, piece.id))
    need(await storeEdit(ctx, all, kept, where, { fields: { readyBy }, lists: {} }, 'keep'))
  }
}

/** Keeps what was said after a date, each only where something was said; all of it is checked before any is kept. */
export const keepAnswers = (
  ctx: Context,
  all: Practiced,
  piece: Piece,
  q: Question,
  a: Answers,
): Promise<Result<string>> =>
  attemptLater(async need => {
    const { piece: now } = need(await keptNow(ctx, piece.id))
    if (a.next !== '')
      need(editPiece(now, {}, { fields: { readyBy: a.next }, lists: {} }, await aroundOf(ctx)))
    if (a.tempo !== '') need(await setTrueTempo(ctx, piece.id, a.tempo))
    if (a.spots !== '')
      await addNotes(ctx.home, { ...ctx.clock, chance: ctx.chance }, [
        { kind: 'note', text: `After ${dayText(q.readyBy, todayOf(ctx))}: ${a.spots}`, piece: piece.id },
      ])
    if (a.next !== '') await setDate(ctx, all, now, a.next, need)
    return keptText(
      [a.tempo && 'the true tempo', a.spots && 'the spots', a.next && 'the next date'].filter(Boolean),
    )
  })
