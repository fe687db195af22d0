import type { Context, Outcome } from '../../src/app/context.ts'
import { pieceShowCommand } from '../../src/cli/piece-show.ts'
import { practiceCommand } from '../../src/cli/practice.ts'
import { warmupCommand } from '../../src/cli/warmup.ts'
import { tempo as quarters } from '../../src/music/tempo.ts'
import { chances, KINDS, type Kind, type Pupil, pupil } from '../plan/learner.ts'
import type { Sitting } from './count.ts'
import { type Music, sitter, type Wish } from './sit.ts'
import { atTheStand } from './stand.ts'
import type { MonthTime } from './time.ts'
import { warmer } from './warm.ts'

/** A passage as the player entered it; all tempos in quarters. */
export type Known = {
  readonly title: string
  readonly passage: string
  readonly measure: number
  /** Beats of each section. */
  readonly beats: Readonly<Record<string, number>>
  goal: number
}

/** Goal of the invented learners. */
const THEIR_GOAL = 126

/** An item of the plan, as `today --json` has it. */
export type Item = {
  readonly kind: string
  readonly key?: string
  readonly at: number
  readonly minutes: number
  readonly clock: string
  readonly state: 'open' | 'done' | 'skipped'
  readonly from?: string | null
  readonly over?: number
  readonly top?: string | null
  readonly take?: Once
  readonly takes?: readonly Once[]
  readonly times?: number
}
type Once = { readonly key: string; readonly label: string; readonly tempo: string | null }

/** Names of what the plan speaks of, by its keys. */
type Names = ReadonlyMap<
  string,
  { readonly name: string; readonly parts: readonly string[]; readonly of: Known }
>

type Warmed = { readonly day: string; readonly keys: readonly string[]; readonly seconds: number }

export type Player = ReturnType<typeof newPlayer>

/** Which heads play: of sections by their names, so that an edited section is still known to the fingers. */
const headsOf = (seed: number) => {
  const heads = new Map<string, Pupil>()
  return {
    of: (name: string): Pupil => {
      const known = heads.get(name)
      if (known) return known
      const n = heads.size
      const fresh = pupil(KINDS[(seed + n) % KINDS.length] as Kind, seed * 1000 + n)
      heads.set(name, fresh)
      return fresh
    },
    night: () => {
      for (const p of heads.values()) p.night()
    },
  }
}

const wholeTempo = (text: string | null | undefined): number | null => {
  const n = text == null ? Number.NaN : Number(/([\d.]+)$/.exec(text)?.[1])
  return Number.isNaN(n) ? null : n
}

/** A player who follows the plan of each day, item by item, through the commands. */
export const newPlayer = (o: {
  readonly seed: number
  readonly time: MonthTime
  readonly repertoire: readonly Known[]
  readonly today: () => string
  readonly told: (what: string, outcome: Outcome) => void
}) => {
  const { time } = o
  const heads = headsOf(o.seed)
  const chance = chances(o.seed + 77)
  const sittings: Sitting[] = []
  const warmed: Warmed[] = []
  let [today, played, tired] = ['', 0, 0]

  const namesOf = async (ctx: Context): Promise<Names> => {
    const out = new Map<string, { name: string; parts: readonly string[]; of: Known }>()
    for (const of of o.repertoire) {
      const shown = await pieceShowCommand(ctx, of.title, {}).catch(() => null)
      if (!shown) continue
      o.told(`piece show ${of.title}`, shown)
      const { passages } = shown.json as {
        passages: { id: string; name: string; sections: { id: string; name: string }[] }[]
      }
      for (const p of passages) {
        const path = `${of.title}/${p.name}`
        const parts = p.sections.map(s => ({ id: s.id, name: `${path}/${s.name}` }))
        out.set(`section ${p.id} even`, { name: path, parts: parts.map(s => s.name), of })
        for (const [i, s] of parts.entries()) {
          out.set(`section ${s.id} even`, { name: s.name, parts: [s.name], of })
          // Two or more neighbors, joined.
          for (let n = i + 2; n <= parts.length; n++) {
            const run = parts.slice(i, n)
            const ids = run.map(x => x.id).sort()
            const sections = p.sections.slice(i, n).map(x => x.name)
            out.set(`join ${ids.join('+')} even`, {
              name: `${path}/${sections.join('+')}`,
              parts: run.map(x => x.name),
              of,
            })
          }
        }
      }
    }
    return out
  }

  /** Whether all heads that are needed get it clean. */
  const attempt =
    (parts: readonly string[], of: Known) =>
    (tempo: number): ReturnType<Wish['judge']> => {
      const theirs = quarters(Math.round((tempo * THEIR_GOAL * 1000) / of.goal) / 1000)
      const clean = parts.map(p => heads.of(p).repetition(theirs, played, tired)).every(Boolean)
      played++
      tired = heads.of(parts[0] as string).tiredAfter(tired)
      return { clean, stopped: !clean && chance() < 0.4, wrong: chance() < 0.04 }
    }
  const musicOf = (parts: readonly string[], of: Known): Music => ({
    measure: of.measure,
    beats: parts.reduce((n, p) => n + (of.beats[p.split('/').at(-1) as string] ?? of.measure), 0),
  })

  const practice = async (
    ctx: Context,
    on: string,
    names: Names,
    key: string,
    kind: Sitting['kind'],
    wish: Pick<Wish, 'leave'> & Partial<Pick<Wish, 'byHand'>>,
  ): Promise<Sitting> => {
    const named = names.get(key)
    if (!named) throw new Error(`the plan speaks of ${key}, and nobody knows it`)
    const { name, parts, of } = named
    const { sat, ear } = sitter(
      {
        music: kind === 'seam' ? { measure: of.measure, beats: 2 } : musicOf(parts, of),
        // Two beats are over before a foot could stop them.
        judge: kind === 'seam' ? t => ({ ...attempt(parts, of)(t), stopped: false }) : attempt(parts, of),
        byHand: null,
        once: kind === 'cold',
        ...wish,
      },
      time.wall,
    )
    const typed = {
      ...(kind === 'cold' ? { take: 'cold' } : {}),
      ...(kind === 'seam' ? { seam: 'beat' } : {}),
    }
    const done = await atTheStand(time, plain => practiceCommand({ ...ctx, ...plain }, name, typed), ear)
    o.told(`practice ${name}`, { lines: done.heard })
    const sitting: Sitting = {
      name,
      key: kind === 'cold' ? `cold ${key}` : kind === 'seam' ? key.replace(/^join/, 'seam') : key,
      kind,
      day: o.today(),
      on,
      goal: of.goal,
      row: key.startsWith('join ') ? 2 : 3,
      reps: sat.reps,
      seconds: sat.seconds,
    }
    if (sat.reps.length > 0) sittings.push(sitting)
    return sitting
  }

  /** As long as the slot lasts, and a little more until its rung is decided. */
  const slot =
    (minutes: number, over: number, top: number | null): Wish['leave'] =>
    s =>
      s.goal ||
      (top !== null && s.tempo > top) ||
      (s.seconds >= minutes * 60 && (s.decided || s.seconds >= minutes * 60 + over))

  const single = async (ctx: Context, on: string, names: Names, take: Once, times = 1): Promise<void> => {
    await practice(ctx, on, names, take.key, 'single', {
      byHand: wholeTempo(take.tempo),
      leave: s => s.reps >= times,
    })
  }

  const item = async (ctx: Context, on: string, names: Names, i: Item): Promise<void> => {
    if (i.kind === 'fundamentals') {
      const begun = time.now()
      const done = await atTheStand(
        time,
        plain => warmupCommand({ ...ctx, ...plain }, undefined, {}),
        warmer(i.minutes),
      )
      const [said = ''] = done.outcome.lines ?? []
      warmed.push({
        day: o.today(),
        seconds: (time.now() - begun) / 1000,
        keys: [...said.matchAll(/One scale in ([^,.]+)/g)].map(m => m[1] as string),
      })
      o.told('warmup', { lines: done.heard })
    } else if (i.kind === 'section' && i.key)
      await practice(ctx, on, names, i.key, 'section', {
        leave: slot(i.minutes, i.over ?? 60, wholeTempo(i.top)),
      })
    else if (i.kind === 'seam' && i.key) {
      // Of more than two there is no one seam.
      if (names.get(i.key)?.parts.length === 2)
        await practice(ctx, on, names, i.key, 'seam', { leave: slot(i.minutes / 3, 20, null) })
      await practice(ctx, on, names, i.key, 'join', { leave: slot((i.minutes * 2) / 3 - 0.5, 20, null) })
    } else if (i.kind === 'cold' && i.take)
      await practice(ctx, on, names, i.take.key, 'cold', { leave: () => true })
    // As players do, he is often gone before the last time through.
    else if (i.kind === 'through' && new Date(o.today()).getUTCDate() % 3 !== 0) return
    else if (i.kind === 'through' || i.kind === 'run')
      for (const t of i.takes ?? []) await single(ctx, on, names, t)
    else if (i.kind === 'slow' && i.take) await single(ctx, on, names, i.take, i.times)
  }

  return {
    sittings,
    warmed,
    namesOf,
    item,
    practice,
    slot,
    attempt,
    musicOf,
    /** A new day: what was learned is slept over. */
    morning: (day: string): void => {
      if (day === today) return
      heads.night()
      ;[today, played, tired] = [day, 0, 0]
    },
  }
}
