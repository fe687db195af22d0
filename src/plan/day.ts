import { JOIN_READY } from '../ladder/chain.ts'
import { shareOfGoal } from '../ladder/direction.ts'
import { OVER } from '../visit/slot-clock.ts'
import {
  afterDate,
  dayItself,
  lastEvening,
  longRuns,
  minutesFor,
  mockRuns,
  type Question,
  wholesToPlay,
} from './dates.ts'
import { half, sum } from './halves.ts'
import type { Item, Unplaced } from './item.ts'
import { type Jump, jumpOf, type Load, loadOf, type PlayedDay } from './load.ts'
import { restMinutes, type Since, withRests } from './rests.ts'
import { LONGEST, type Slot, slotsOf } from './slots.ts'
import { assumed, atGoal, daysLeft, isDone, isOpen, keyOfWhole, type Seam, type Work, wayOf } from './work.ts'

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
  /** All of it is ready: the day may end after what is planned. */
  readonly allReady: boolean
}

export type Asked = {
  /** "2026-03-14" */
  readonly date: string
  /** Minutes there are, rests included. */
  readonly minutes: number
  /** Earlier days and the minutes played on sections. */
  readonly played: readonly PlayedDay[]
  /** Minutes of fundamentals that the player wants; 0 = none, null = a fifth of the day. */
  readonly fundamentals?: number | null
  /** The last evening without climbing. */
  readonly light?: boolean
  /** Minutes of music that were played today already, and how many of them since the last rest. */
  readonly over?: number
  readonly since?: Since
  /** What has no place in this day any more: it was played, or the player skipped it. */
  readonly without?: (task: Unplaced['task']) => boolean
}

const FUNDAMENTALS = { share: 1 / 5, least: 5, most: 1 / 3 }
/** The last two days before the date: no more than one rung above what is sure. */
const LAST_DAYS = 2
/** All cold takes of a day together, as a share of it. */
const COLD = 1 / 5
const JOINING = 3
/** On a shorter day nothing is joined. */
const JOINING_FROM = 20
/** Last time through: so much of the music at most. */
const THROUGH = 1 / 8

const minutesOf = (blocks: readonly Unplaced[]): number => sum(blocks.map(b => b.minutes))

/** As many as the player wants, else a fifth of the day and five minutes at least; of a very short day a third. */
export const fundamentalMinutes = (minutes: number, wanted: number | null): number =>
  half(
    wanted === null
      ? Math.min(Math.max(FUNDAMENTALS.least, minutes * FUNDAMENTALS.share), minutes * FUNDAMENTALS.most)
      : Math.min(wanted, minutes),
  )

/** Minutes of a day that are not for music. */
const besideMusic = (minutes: number, asked: Asked): number => {
  const warm = fundamentalMinutes(minutes, asked.fundamentals ?? null)
  return warm + restMinutes(minutes - warm)
}

/** What was left out longest comes first, what was never played before all. */
const longestAway = (a: number | null | undefined, b: number | null | undefined): number =>
  (b ?? Infinity) - (a ?? Infinity)

/**
 * Cold takes, the first thing of the day for their passage and one only: of what is at its goal each day, ready or not. `runs` = passages that are played cold as a whole anyway. A section and its passage are not both
 * asked for: what was played a minute ago is not cold.
 */
const coldTakes = (
  works: readonly Work[],
  runs: ReadonlySet<string>,
  minutes: number,
): readonly Unplaced[] => {
  const waits = (w: Work): boolean => w.lastPlayedDaysAgo !== 0 && w.coldDaysAgo !== 0
  const asked = works.filter(w => atGoal(w) && waits(w) && !runs.has(keyOfWhole(w)))
  const alone = asked.filter(w => w.key === keyOfWhole(w) || !asked.some(x => x.key === keyOfWhole(w)))
  const blocks = alone
    .sort((a, b) => Number(isDone(a)) - Number(isDone(b)) || longestAway(a.coldDaysAgo, b.coldDaysAgo))
    .map(w => ({
      task: { kind: 'cold' as const, take: { key: w.key, label: w.label, tempo: w.cold ?? w.goal } },
      minutes: minutesFor(w.secondsPerRepetition),
    }))
  return blocks.filter((_, i) => minutesOf(blocks.slice(0, i + 1)) <= Math.max(1, minutes * COLD))
}

/** Seams that are ready, longest away first, at least three minutes each. */
const joins = (seams: readonly Seam[], works: readonly Work[], minutes: number): readonly Unplaced[] => {
  const ready = (key: string): boolean => {
    const w = works.find(x => x.key === key)
    return !!w?.ceiling && shareOfGoal(w.ceiling, w.goal, wayOf(w)) >= JOIN_READY
  }
  const open = seams
    .filter(s => s.of.every(ready))
    .sort((a, b) => longestAway(a.lastPlayedDaysAgo, b.lastPlayedDaysAgo))
    .slice(0, Math.floor(minutes / JOINING))
  const each = Math.min(LONGEST, Math.floor((minutes / open.length) * 2) / 2)
  return open.map(s => ({ task: { kind: 'seam', key: s.key, label: s.label, from: s.next }, minutes: each }))
}

const slotBlocks = (slots: readonly Slot[], date: string): readonly Unplaced[] =>
  slots.map(({ work: w, minutes, why }, i) => {
    const again = slots.slice(0, i).some(s => s.work === w) || w.lastPlayedDaysAgo === 0
    const soon = daysLeft(w, date) <= LAST_DAYS
    return {
      task: {
        kind: 'section',
        key: w.key,
        label: w.label,
        from: again ? null : w.next,
        again,
        over: OVER,
        ceiling: w.ceiling,
        goal: w.goal,
        ...(w.top ? { goalTop: w.top } : {}),
        ...(w.open ? { open: w.open } : {}),
        top: soon ? (w.oneAbove ?? null) : null,
        toPass: again ? null : (w.minutesToPass ?? null),
        why,
      },
      minutes,
    }
  })

/**
 * Between two visits of the same music something else of it: once at its goal, then a few repetitions without a sound. It
 * takes its time from the visit that follows.
 */
const varied = (
  blocks: readonly Unplaced[],
  works: readonly Work[],
  without: Asked['without'] = () => false,
): readonly Unplaced[] => {
  let turn = 0
  return blocks.flatMap((b, i) => {
    const before = blocks[i - 1]?.task
    if (b.task.kind !== 'section' || before?.kind !== 'section' || before.key !== b.task.key) return [b]
    const w = works.find(x => x.key === before.key) as Work
    const goal = turn++ % 2 === 0
    const take = { key: w.key, label: w.label, tempo: goal ? w.goal : (w.ceiling ?? w.next) }
    const times = goal ? 1 : SILENT
    const minutes = minutesFor(times * w.secondsPerRepetition)
    if (minutes > b.minutes / 2) return [b]
    const task: Unplaced['task'] = goal ? { kind: 'goal', take } : { kind: 'silent', take, times }
    if (without(task)) return [b]
    return [
      { task, minutes },
      { ...b, minutes: b.minutes - minutes },
    ]
  })
}
const SILENT = 3

/**
 * The plan of a day: fundamentals, cold takes, sections and passages in slots, seams that are ready, last time through, with
 * what a near date asks for, and rests between. All times in whole or half minutes. As long as something is not ready, all
 * minutes that there are.
 */
export const dayOf = (works: readonly Work[], seams: readonly Seam[], asked: Asked): Day => {
  const { date, minutes, light = false } = asked
  const before = works.filter(w => daysLeft(w, date) > 0)
  const allReady = before.some(isDone) && before.every(w => isDone(w) || w.long === true)
  const climbing = before.filter(
    w => !(light && daysLeft(w, date) === 1) && (isOpen(w) || (allReady && !w.long)),
  )
  const mock = mockRuns(before, date)
  const cold = new Set(mock.flatMap(b => (b.task.kind === 'run' ? b.task.takes.map(t => t.key) : [])))
  const warm = fundamentalMinutes(minutes, asked.fundamentals ?? null)
  const there = minutes - warm
  const open = (blocks: readonly Unplaced[]): readonly Unplaced[] =>
    blocks.filter(b => !asked.without?.(b.task))
  const first = open([...dayItself(works, date), ...mock, ...coldTakes(before, cold, there)])
  const last = open(lastEvening(works, date, light))
  const music = there - restMinutes(there, asked.since)
  const long = open(longRuns(before, date, music / 2))
  const behind = [...first, ...long].at(-1)?.task
  const run = behind?.kind === 'run' ? behind.takes.map(t => t.key) : []
  const openSeams = seams.filter(
    ({ key, label, next }) => !asked.without?.({ kind: 'seam', key, label, from: next }),
  )
  const joining = Math.max(JOINING, half(music / 8))
  const seamBlocks = minutes < JOINING_FROM ? [] : joins(openSeams, before, joining)
  const apart = [...first, ...long, ...seamBlocks, ...last]
  const climb = music - minutesOf(apart)
  const played = slotsOf(climbing, date, climb).map(s => s.work)
  const closing = open(wholesToPlay(played, date, climb * THROUGH))
  const slots = slotsOf(climbing, date, climb - minutesOf(closing), run)
  const blocks = [
    ...first,
    ...long,
    ...varied(slotBlocks(slots, date), works, asked.without),
    ...seamBlocks,
    ...closing,
    ...last,
  ]
  const fundamentals: readonly Item[] = warm > 0 ? [{ kind: 'fundamentals', at: 0, minutes: warm }] : []
  const chosen = new Set(slots.map(s => s.work.key))
  return {
    date,
    minutes,
    items: [...fundamentals, ...withRests(blocks, warm, there, asked.since)],
    later: climbing.filter(w => !allReady && !chosen.has(w.key)).map(({ key, label }) => ({ key, label })),
    questions: afterDate(works, date),
    load: loadOf(before, date, { minutes, beside: m => besideMusic(m, asked) + minutesOf(apart) }),
    assumed: assumed(climbing),
    jump: jumpOf(minutesOf(blocks) + (asked.over ?? 0), asked.played),
    allReady,
  }
}
