import { JOIN_READY } from '../ladder/chain.ts'
import { markBelow } from '../ladder/start.ts'
import { faster, tempoRatio } from '../music/tempo.ts'
import { afterDate, dayItself, lastEvening, MOST_TAKES, mockRuns, type Question, takeAt } from './dates.ts'
import type { Block, Item } from './item.ts'
import { type Jump, jumpOf, type PlayedDay } from './jump.ts'
import { type Load, loadOf } from './load.ts'
import { restMinutes, withRests } from './rests.ts'
import { LONGEST, type Slot, slotsOf } from './slots.ts'
import { assumed, daysLeft, finished, type Seam, type Work } from './work.ts'

export type Day = {
  readonly date: string
  readonly minutes: number
  readonly items: readonly Item[]
  /** Sections that are in turn on another day. */
  readonly later: readonly { readonly key: string; readonly label: string }[]
  /** Pieces whose date is past. */
  readonly questions: readonly Question[]
  readonly load: Load | null
  /** Too little is logged: gains are taken as usual. */
  readonly assumed: boolean
  readonly jump: Jump | null
}

export type Asked = {
  /** "2026-03-14" */
  readonly date: string
  /** Minutes there are, rests included. */
  readonly minutes: number
  /** Earlier days and the minutes played on sections. */
  readonly played: readonly PlayedDay[]
}

/** The last evening and the day before it: no rung far above what is sure. */
const LAST_DAYS = 2
const LAST_TOP = 1.04
const THROUGH_SHARE = 0.9
const THROUGH = 2
/** All cold takes of a day together. */
const COLD = 5
const JOINING = 3
const JOINING_LATE = 0.3
/** Before the first rest so much is played at least; a warm-up that leaves no room for that grows to it. */
const EARLIEST_REST = 10
/** On a shorter day nothing is joined. */
const JOINING_FROM = 20
/** A slot may go on for so many seconds, until its rung is decided. */
const OVER = 60

const sum = (all: readonly number[]): number => all.reduce((a, b) => a + b, 0)
const half = (x: number): number => Math.round(x * 2) / 2
const halfUp = (x: number): number => Math.ceil(x * 2 - 1e-9) / 2
const endOf = (items: readonly Item[]): number => Math.max(0, ...items.map(i => i.at + i.minutes))
const minutesOf = (blocks: readonly Block[]): number => sum(blocks.map(b => b.minutes))

/** A fifth of the day, 8 to 15 minutes; of a short day a third at most. */
const fundamentals = (minutes: number): number =>
  half(Math.min(Math.max(8, Math.min(15, minutes / 5)), minutes / 3))

/** Finished sections: one cold take each, those first that were not played for longest; five minutes at most, and a fifth of the day. */
const coldTakes = (works: readonly Work[], minutes: number): readonly Block[] => {
  const secure = (w: Work): boolean => !!w.secure && tempoRatio(w.secure, w.top ?? w.goal) >= 1
  const waits = (w: Work): boolean =>
    w.lastPlayedDaysAgo !== 0 && (!secure(w) || (w.lastPlayedDaysAgo ?? 2) >= 2)
  const blocks = works
    .filter(w => finished(w) && waits(w))
    .sort((a, b) => (b.lastPlayedDaysAgo ?? 999) - (a.lastPlayedDaysAgo ?? 999))
    .map(w => ({
      task: { k: 'cold' as const, take: { key: w.key, label: w.label, tempo: w.cold ?? w.goal } },
      minutes: halfUp(w.secondsPerRepetition / 60),
    }))
  return blocks.filter((_, i) => minutesOf(blocks.slice(0, i + 1)) <= Math.min(COLD, minutes / 5))
}

/** Seams that are ready, longest away first, at least three minutes each. */
const joins = (seams: readonly Seam[], works: readonly Work[], minutes: number): readonly Block[] => {
  const ready = (key: string): boolean => {
    const w = works.find(x => x.key === key)
    return !!w?.ceiling && tempoRatio(w.ceiling, w.goal) >= JOIN_READY
  }
  const open = seams
    .filter(s => s.of.every(ready))
    .sort((a, b) => (b.lastPlayedDaysAgo ?? 999) - (a.lastPlayedDaysAgo ?? 999))
    .slice(0, Math.max(1, Math.floor(minutes / JOINING)))
  const each = Math.min(LONGEST, Math.floor((minutes / Math.max(1, open.length)) * 2) / 2)
  return open.map(s => ({ task: { k: 'seam', key: s.key, label: s.label, from: s.next }, minutes: each }))
}

const slotBlocks = (slots: readonly Slot[], date: string): readonly Block[] =>
  slots.map(({ work: w, minutes }, i) => {
    const again = slots.slice(0, i).some(s => s.work === w)
    const soon = (daysLeft(w, date) ?? 99) <= LAST_DAYS
    return {
      task: {
        k: 'section',
        key: w.key,
        label: w.label,
        from: again ? null : w.next,
        again,
        over: OVER,
        ceiling: w.ceiling,
        goal: w.goal,
        ...(w.top ? { goalTop: w.top } : {}),
        top: soon && w.ceiling ? faster(w.ceiling, markBelow(w.ceiling, LAST_TOP)) : null,
        toPass: again ? null : (w.minutesToPass ?? null),
      },
      minutes,
    }
  })

/** One take of each section of today, as many as fit, five at most. */
const through = (slots: readonly Slot[], minutes: number): readonly Block[] => {
  const works = [...new Set(slots.map(s => s.work))]
  const fit = works.filter((_, i) => {
    const seconds = sum(works.slice(0, i + 1).map(w => w.secondsPerRepetition))
    return i === 0 || (i < MOST_TAKES && seconds <= minutes * 60)
  })
  return fit.length === 0 || minutes === 0
    ? []
    : [{ task: { k: 'through', takes: fit.map(w => takeAt(w, THROUGH_SHARE)) }, minutes }]
}

/**
 * The plan of a day: fundamentals, sections by need in slots, seams that are ready, rests, last time through; with what a
 * near date asks for. All times in whole or half minutes, together at most the minutes there are.
 */
export const dayOf = (works: readonly Work[], seams: readonly Seam[], asked: Asked): Day => {
  const { date, minutes } = asked
  const climbing = works.filter(w => (daysLeft(w, date) ?? 99) > 1)
  const open = climbing.filter(w => !finished(w))
  const soon = climbing.some(w => (daysLeft(w, date) ?? 99) <= LAST_DAYS)
  const first = [...dayItself(works, date), ...mockRuns(works, date)]
  const last = lastEvening(works, date)
  const colds = coldTakes(climbing, minutes)
  const shortest = halfUp(Math.min(...open.map(w => w.secondsPerRepetition)) / 60)
  const closing = open.length > 0 && shortest <= minutes / 4 ? Math.max(THROUGH, shortest) : 0
  const joining = minutes < JOINING_FROM ? 0 : soon ? half(minutes * JOINING_LATE) : JOINING
  const seamBlocks = joining === 0 ? [] : joins(seams, climbing, joining)
  const apart = minutesOf([...first, ...last, ...colds, ...seamBlocks]) + closing

  /** With so long a warm-up and so many minutes of climbing. */
  const attempt = (warm: number, climb: number) => {
    const slots = slotsOf(open, date, climb)
    const blocks: readonly Block[] = [
      { task: { k: 'fundamentals' }, minutes: warm },
      ...first,
      ...slotBlocks(slots, date),
      ...seamBlocks,
      ...through(slots, closing),
      ...last,
    ]
    return { slots, items: withRests(blocks, colds, minutes) }
  }
  /** The longest climb that fits with the rests that it asks for. */
  const settle = (warm: number): ReturnType<typeof attempt> => {
    for (let climb = Math.max(0, minutes - warm - restMinutes(minutes) - apart); climb > 0; climb -= 0.5) {
      const now = attempt(warm, climb)
      if (endOf(now.items) > minutes) continue
      // The early rest comes after 10 to 15 minutes: a shorter warm-up has to leave room for what follows it.
      const early = now.items.find(i => i.k === 'rest')?.at ?? EARLIEST_REST
      return early < EARLIEST_REST && warm < EARLIEST_REST ? settle(EARLIEST_REST) : now
    }
    return attempt(warm, 0)
  }
  const { items, slots } = settle(fundamentals(minutes))
  const chosen = new Set(slots.map(s => s.work.key))
  const played = sum(items.filter(i => i.k !== 'rest' && i.k !== 'fundamentals').map(i => i.minutes))
  return {
    date,
    minutes,
    items,
    later: open.filter(w => !chosen.has(w.key)).map(({ key, label }) => ({ key, label })),
    questions: afterDate(works, date),
    load: loadOf(climbing, date, { minutes, beside: m => fundamentals(m) + restMinutes(m) + apart }),
    assumed: assumed(open),
    jump: jumpOf(played, asked.played),
  }
}
