import { existsSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Context, Outcome } from '../../src/app/context.ts'
import { calendarCommand } from '../../src/cli/calendar.ts'
import { diaryCommand } from '../../src/cli/diary.ts'
import { noteCommand } from '../../src/cli/note.ts'
import { notesCommand } from '../../src/cli/notes.ts'
import { pieceAddCommand } from '../../src/cli/piece-add.ts'
import { pieceEditCommand } from '../../src/cli/piece-edit.ts'
import { pieceSplitCommand } from '../../src/cli/piece-split.ts'
import { pieceTempoCommand } from '../../src/cli/piece-tempo.ts'
import { piecesCommand } from '../../src/cli/pieces.ts'
import { progressCommand } from '../../src/cli/progress.ts'
import { reportCommand } from '../../src/cli/report.ts'
import { asData } from '../../src/cli/run.ts'
import { todayCommand } from '../../src/cli/today.ts'
import { type Home, homeAt } from '../../src/store/home.ts'
import { killedVisit } from './killed.ts'
import { type Item, newPlayer } from './player.ts'
import {
  DATES,
  MONTH,
  OVERTURE,
  overture,
  type ScriptDay,
  type Visit,
  WALTZ,
  type What,
  waltz,
  ZONES,
} from './script.ts'
import { halfSynced, synced } from './synced.ts'
import { type MonthTime, monthTime } from './time.ts'

/** One thing that was shown: by which command, on which day, at which machine. */
export type Shown = {
  readonly day: string
  readonly on: string
  readonly what: string
  readonly lines: readonly string[]
  readonly json: unknown
}

type Plan = {
  readonly day: string
  readonly minutes: number
  readonly on: string
  readonly lines: readonly string[]
  readonly items: readonly Item[]
  readonly later: readonly { readonly key: string }[]
  readonly questions: readonly { readonly piece: string }[]
  readonly open: readonly string[]
}

export type Machine = { readonly name: 'desk' | 'lap'; readonly root: string; readonly home: Home }

export type Month = Awaited<ReturnType<typeof playMonth>>

const MS = 60_000
const localMs = (day: string, clock: string, offset: number): number => {
  const [h = 0, m = 0] = clock.split(':').map(Number)
  return Date.parse(`${day}T00:00:00Z`) + (h * 60 + m - offset) * MS
}

/** Data as a program gets it; a number that is none stays to be seen. */
const asPrinted = (json: unknown = null): unknown =>
  JSON.parse(
    JSON.stringify(json, (k, v) => (typeof v === 'number' && !Number.isFinite(v) ? 'NaN' : asData(k, v))),
  )

/** A month of practice through the commands, in virtual time. `days` = only so many; `kill` = with the real program. */
export const playMonth = async (o: {
  readonly seed: number
  readonly days?: number
  readonly kill: boolean
}) => {
  // In memory where that is possible: what a disk keeps through a power cut is tested elsewhere, and takes its time.
  const folder = mkdtempSync(join(existsSync('/dev/shm') ? '/dev/shm' : tmpdir(), 'gradino-month-'))
  const time = monthTime(`${MONTH[0]?.day}T06:00:00Z`, ZONES)
  const machine = (name: Machine['name']): Machine => {
    const root = join(folder, name)
    return { name, root, home: homeAt(root, {}) }
  }
  const machines = { desk: machine('desk'), lap: machine('lap') }
  const shown: Shown[] = []
  const plans: Plan[] = []
  let [today, on, sessions] = ['', 'desk' as Machine['name'], 0]
  const known = [overture(), waltz()]
  const [one, two] = known as [ReturnType<typeof overture>, ReturnType<typeof waltz>]

  const told = (what: string, { lines = [], json = null }: Outcome): void => {
    shown.push({ day: today, on, what, lines, json })
  }
  const player = newPlayer({ seed: o.seed, time, repertoire: known, today: () => today, told })
  const contextOf = (m: Machine): Context => ({
    home: m.home,
    homeNamed: true,
    clock: time as MonthTime,
    tty: false,
    json: false,
    plain: false,
    chance: () => `m${o.seed}x${String(++sessions).padStart(5, '0')}`,
  })
  const ask = async (what: string, f: (ctx: Context) => Promise<Outcome>): Promise<Outcome> => {
    const outcome = await f(contextOf(machines[on]))
    const said = { ...outcome, json: asPrinted(outcome.json) }
    told(what, said)
    return said
  }
  const passage = (of: { title: string; passage: string }): string => `${of.title}/${of.passage}`

  const DO: Readonly<Record<What, () => Promise<void>>> = {
    overture: async () => {
      const typed = { passage: one.passage, in: '41-48', goal: '138', readyBy: DATES.overture }
      await ask('piece add', ctx => pieceAddCommand(ctx, OVERTURE, typed))
      await ask('piece split', ctx => pieceSplitCommand(ctx, passage(one), { at: '43,45,47' }))
    },
    waltz: async () => {
      const typed = {
        passage: two.passage,
        in: '1-16',
        meter: '3/4',
        start: '84',
        goal: '168',
        readyBy: DATES.waltz,
      }
      await ask('piece add', ctx => pieceAddCommand(ctx, WALTZ, typed))
      await ask('piece split', ctx => pieceSplitCommand(ctx, passage(two), { at: '5,9,13' }))
    },
    killed: async () => {
      if (o.kill) await killedVisit({ machine: machines.desk, time, player, ctx: contextOf(machines.desk) })
    },
    keep: async () => {
      await ask('piece edit', ctx => pieceEditCommand(ctx, `${passage(one)}/2`, { to: '45.2', keep: true }))
    },
    anew: async () => {
      await ask('piece edit', ctx => pieceEditCommand(ctx, `${passage(two)}/3`, { to: '13.2', anew: true }))
    },
    pain: async () => {
      await ask('note', ctx => noteCommand(ctx, ['left', 'wrist'], { pain: true }))
      await ask('today', ctx => todayCommand(ctx, { minutes: '30' }))
      // Two more, against all advice.
      const names = named?.names ?? new Map()
      const key = [...names.keys()].find(k => k.startsWith('section ')) as string
      await player.practice(contextOf(machines[on]), on, names, key, 'section', { leave: s => s.reps >= 2 })
    },
    rehearsal: async () => {
      await ask('piece tempo', ctx => pieceTempoCommand(ctx, OVERTURE, '132', {}))
      one.goal = 132
    },
    'next date': async () => {
      await ask('piece edit', ctx => pieceEditCommand(ctx, OVERTURE, { readyBy: DATES.again }))
      await ask('piece edit', ctx => pieceEditCommand(ctx, passage(one), { readyBy: 'none' }))
    },
    sync: async () => {
      synced(machines.desk.home, machines.lap.home)
    },
    'half a sync': async () => {
      halfSynced(machines.lap.home, machines.desk.home)
      await look()
    },
  }

  /** What he looks at after a day: every command that speaks of it. */
  const look = async (): Promise<void> => {
    await ask('progress', ctx => progressCommand(ctx, undefined))
    await ask('diary', ctx => diaryCommand(ctx, {}))
    await ask('notes', ctx => notesCommand(ctx))
    if (new Date(today).getUTCDay() !== 0) return
    await ask('pieces', ctx => piecesCommand(ctx))
    await ask('calendar', ctx => calendarCommand(ctx, { out: join(folder, 'days.ics') }))
    await ask('report', ctx => reportCommand(ctx, OVERTURE, {}))
    await ask('report', ctx => reportCommand(ctx, WALTZ, {}))
  }

  /** Ids by what they name; they change only when the repertoire does. */
  let named: { on: string; names: Awaited<ReturnType<typeof player.namesOf>> } | null = null
  const visit = async (v: Visit, stopAfter: number | null): Promise<void> => {
    time.jump(localMs(today, v.at, time.offset()))
    on = v.on
    const ctx = contextOf(machines[on])
    if (named === null || named.on !== on) named = { on, names: await player.namesOf(ctx) }
    const { names } = named
    const plan = await ask('today', c => todayCommand(c, { minutes: String(v.minutes) }))
    const json = plan.json as Plan
    plans.push({
      ...json,
      day: today,
      on,
      lines: plan.lines ?? [],
      open: [...names].filter(([key]) => key.startsWith('section ')).map(([, n]) => n.name),
    })
    const begun = time.wall()
    for (const [i, item] of json.items.entries()) {
      if (stopAfter !== null && i >= stopAfter) return
      time.jump(Math.max(time.wall(), begun + item.at * MS))
      await player.item(ctx, on, names, item)
    }
  }

  const day = async (d: ScriptDay): Promise<void> => {
    today = d.day
    if (d.first.length > 0) named = null
    on = d.visits[0]?.on ?? on
    player.morning(today)
    time.jump(Math.max(time.wall(), localMs(today, '07:00', time.offset())))
    for (const w of d.first) await DO[w]()
    const pain = d.last.includes('pain')
    for (const v of d.visits) await visit(v, pain ? 3 : null)
    for (const w of d.last) await DO[w]()
    await look()
  }

  const days = MONTH.slice(0, o.days ?? MONTH.length)
  for (const d of days) await day(d)
  return {
    shown,
    plans,
    machines,
    days: days.map(d => d.day),
    sittings: player.sittings,
    warmed: player.warmed,
    /** Asks once more, at either machine. */
    ask: async (name: Machine['name'], what: string, f: (ctx: Context) => Promise<Outcome>) => {
      on = name
      return ask(what, f)
    },
    clear: () => rmSync(folder, { recursive: true, force: true }),
  }
}
