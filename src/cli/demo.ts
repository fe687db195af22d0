import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Context, Outcome } from '../app/context.ts'
import { heardOf } from '../app/demo/heard.ts'
import { keepFiles } from '../app/demo/keep.ts'
import { SCENE } from '../app/demo/scene.ts'
import { type VirtualTime, virtualTime } from '../app/demo/virtual-time.ts'
import { devicesOf, levelsOf, outputOf } from '../app/preferences.ts'
import { clearAtSignal, outFolder } from '../app/write-files.ts'
import { DEFAULT_LEVELS, type Levels } from '../click/voices.ts'
import { decimal } from '../music/fraction.ts'
import { noteValueName } from '../music/note-value.ts'
import { problem } from '../music/result.ts'
import { compareTempo } from '../music/tempo.ts'
import { beginSound } from '../sound/open-sound.ts'
import type { OutputName } from '../sound/outputs/output.ts'
import { homeAt } from '../store/home.ts'
import { openJournal } from '../store/journal.ts'
import { acquirePractice } from '../store/practice-lock.ts'
import { openSettings } from '../store/settings.ts'
import type { Session } from '../visit/session.ts'
import { tally } from '../visit/tally.ts'
import { parseOutput } from './options.ts'
import { must, Stop } from './stop.ts'

export type DemoTyped = { readonly fast?: boolean; readonly out?: string; readonly output?: string }

/** How this performance is given. */
type Hall = {
  readonly ctx: Context
  /** Null = in real time. */
  readonly virtual: VirtualTime | null
  readonly output: 'auto' | OutputName
  readonly devices: Partial<ReturnType<typeof devicesOf>>
  readonly levels: Levels
}

/** The player's own loudness and output where it sounds; in virtual time nothing of this machine plays a part. */
const hallOf = async (ctx: Context, t: DemoTyped): Promise<Omit<Hall, 'ctx' | 'virtual'>> => {
  if (t.fast) {
    if (t.output !== undefined && t.output !== 'silent')
      must(problem('--output', t.output, 'silent, or nothing, where --fast is given'))
    return { output: 'silent', devices: {}, levels: DEFAULT_LEVELS }
  }
  if (!ctx.tty && !ctx.plain)
    throw new Stop(
      2,
      'The demonstration needs a terminal; --plain gives lines instead, and --fast needs neither terminal nor sound.',
    )
  const settings = (await openSettings(ctx.home, ctx.clock.wall)).now()
  const output = outputOf(must(parseOutput(t.output)), settings)
  return {
    output: ctx.clock.real ? output : 'silent',
    devices: devicesOf(settings),
    levels: levelsOf(settings),
  }
}

/**
 * A scripted player climbs a short ladder in the practice screen. The journal goes to a temporary place, or, where a
 * home was `named`, stays there.
 */
export const demoCommand = async (ctx: Context, t: DemoTyped): Promise<Outcome> => {
  const hall = await hallOf(ctx, t)
  if (t.out !== undefined) await outFolder(t.out)
  const virtual = t.fast ? virtualTime(ctx.clock) : null
  const scratch = ctx.homeNamed ? null : await mkdtemp(join(tmpdir(), 'gradino-demo-'))
  const home = scratch === null ? ctx.home : homeAt(scratch)
  const release = clearAtSignal(new Set(scratch === null ? [] : [scratch]))
  try {
    return await give({ ...hall, virtual, ctx: { ...ctx, home, clock: virtual ?? ctx.clock } }, t.out)
  } finally {
    release()
    if (scratch !== null) await rm(scratch, { recursive: true, force: true })
  }
}

/** Opens what a visit needs, one after another, and closes it again whatever happens. */
const give = async (hall: Hall, out: string | undefined): Promise<Outcome> => {
  const { ctx, virtual, levels } = hall
  const lock = await acquirePractice(ctx.home)
  if (!lock.ok) throw new Stop(1, lock.message)
  try {
    const journal = await openJournal(ctx.home, { ...ctx.clock, chance: ctx.chance })
    const begun = beginSound({
      output: hall.output,
      now: ctx.clock.now,
      player: new URL('./player.js', import.meta.url),
      ...hall.devices,
      levels,
      // Nobody waits for its answer to a pedal: the longer queue, without gaps.
      deep: true,
      silent: ctx.clock,
    })
    const heard = heardOf(begun, ctx.clock.now)
    try {
      // In virtual time all begins at 0.
      if (virtual) await begun.ready()
      const { perform } = await import('../app/demo/perform.ts')
      const done = await perform({ ctx, virtual, sound: heard.sound, levels, journal })
      await journal.close()
      const kept = { ...done, home: ctx.home, timeline: heard.timeline(), levels }
      const files = out === undefined ? [] : await keepFiles(out, kept)
      return { lines: [...done.left.lines, ...files], json: summary(done.session, files) }
    } finally {
      await heard.sound.close()
    }
  } finally {
    await lock.release()
  }
}

const summary = (s: Session, files: readonly string[]) => {
  const { rungs, ceiling, drops } = s.ladder
  const { clean, verdicts } = tally(s)
  const number = (t: (typeof rungs)[number]): number => Number(decimal(t.bpm))
  return {
    piece: SCENE.piece,
    measures: SCENE.measures,
    unit: noteValueName(SCENE.goal.unit),
    rungs: rungs.map(number),
    climbed: rungs.filter(r => ceiling && compareTempo(r, ceiling) <= 0).map(number),
    drops,
    verdicts: { clean, notClean: verdicts - clean },
    ceiling: ceiling && number(ceiling),
    files,
  }
}
