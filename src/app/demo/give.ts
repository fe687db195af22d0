import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { DEFAULT_LEVELS } from '../../click/voices.ts'
import { decimal } from '../../music/fraction.ts'
import { noteValueName } from '../../music/note-value.ts'
import type { Result } from '../../music/result.ts'
import { compareTempo } from '../../music/tempo.ts'
import { beginSound } from '../../sound/open-sound.ts'
import { homeAt } from '../../store/home.ts'
import { openJournal } from '../../store/journal.ts'
import { openSettings } from '../../store/settings.ts'
import type { Terminal } from '../../terminal/open-terminal.ts'
import { tally } from '../../visit/answer.ts'
import type { Session } from '../../visit/session.ts'
import type { Context, Outcome } from '../context.ts'
import { devicesOf, levelsOf, type OutputWord, outputOf } from '../preferences.ts'
import { inRoom } from '../room.ts'
import { clearAtSignal, outFolder } from '../write-files.ts'
import { heardOf, keepFiles } from './recording.ts'
import { SCENE } from './script.ts'
import { virtualTime } from './stage.ts'

/** How a demonstration is given. */
export type Giving = {
  readonly output?: OutputWord | undefined
  /** In virtual time, without a screen or a sound. */
  readonly fast?: boolean
  /** A folder for what was played and heard. */
  readonly out?: string | undefined
  /** Another terminal to play in, on the clock of the demonstration (monotonic ms). */
  readonly hall?: (now: () => number) => Terminal
  /** What is journaled goes to a temporary place. */
  readonly scratch: boolean
}

/** A scripted player climbs a short ladder in the practice screen. */
export const giveDemo = async (ctx: Context, o: Giving): Promise<Result<Outcome>> => {
  const virtual = o.fast ? virtualTime(ctx.clock) : null
  const settings = await openSettings(ctx.home, ctx.clock.wall)
  // In virtual time nothing of this machine plays a part; else the player's own loudness and output.
  const levels = virtual ? DEFAULT_LEVELS : levelsOf(settings.now())
  const devices = virtual ? {} : devicesOf(settings.now())
  const output = virtual || !ctx.clock.real ? 'silent' : outputOf(o.output, settings.now())
  if (o.out !== undefined) await outFolder(o.out)
  const scratch = o.scratch ? await mkdtemp(join(tmpdir(), 'gradino-demo-')) : null
  const home = scratch === null ? ctx.home : homeAt(scratch)
  const clock = virtual ?? ctx.clock
  const release = clearAtSignal(new Set(scratch === null ? [] : [scratch]))
  const begun = () =>
    beginSound({
      output,
      now: clock.now,
      player: new URL('./player.js', import.meta.url),
      ...devices,
      levels,
      // Nobody waits for its answer to a pedal: the longer queue, without gaps.
      deep: true,
      silent: clock,
    })
  try {
    const there = { ...ctx, home, clock }
    return await inRoom(
      there,
      { settings, unheard: virtual !== null, sound: () => heardOf(begun(), clock.now) },
      async room => {
        const heard = room.sound as ReturnType<typeof heardOf>
        // In virtual time all begins at 0.
        if (virtual) await heard.ready()
        const journal = await openJournal(home, { ...clock, chance: ctx.chance })
        const { perform } = await import('./perform.ts')
        const hall = o.hall?.(clock.now)
        const done = await perform({ ctx: there, virtual, sound: heard, levels, journal, hall })
        await journal.close()
        const kept = { ...done, home, timeline: heard.timeline(), levels }
        const files = o.out === undefined ? [] : await keepFiles(o.out, kept)
        return { lines: [...done.left.lines, ...files], json: summary(done.session, files) }
      },
    )
  } finally {
    release()
    if (scratch !== null) await rm(scratch, { recursive: true, force: true })
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
