import type { Result } from '../music/result.ts'
import { offerOf } from '../score/offer.ts'
import { newImport } from '../screens/import/reduce.ts'
import { importScreen } from '../screens/import/screen.ts'
import { openSettings } from '../store/settings.ts'
import { asDone, caught, type Done } from '../store/trouble.ts'
import { type PedalLock, pedalLock } from '../terminal/lock.ts'
import type { PlainTerminal } from '../terminal/open-plain.ts'
import { openTerminal, type Terminal } from '../terminal/open-terminal.ts'
import type { Context, Outcome } from './context.ts'
import { type ImportTyped, importFile, type ReadFile, readFile } from './import-piece.ts'
import { controlsOf, feetOf } from './preferences.ts'
import { notebookOf } from './room.ts'

type FirstFile = {
  /** Read already; else it is asked for, with `path` as it was dropped. */
  readonly file?: ReadFile & { readonly kind: 'score' }
  readonly path?: string
  readonly typed?: ImportTyped
}
type Stays = { readonly terminal: Terminal | PlainTerminal; readonly lock: PedalLock }

const done = async <T>(work: () => Promise<Result<T>>): Promise<Done<T>> => {
  const r = await caught(work)
  // On a screen there are no options, only lines with names.
  return asDone(
    r.ok ? r : { ok: false, problem: { ...r.problem, field: r.problem.field.replace(/^--/, '') } },
  )
}

/** A part chosen by keys; `on` stays open. Nothing is stored before the player takes it. */
export const importOnScreen = async (
  ctx: Context,
  { file, path, typed = {} }: FirstFile,
  on?: Stays,
): Promise<{ readonly outcome: Outcome; readonly says: string; readonly quit: boolean }> => {
  const settings = (await openSettings(ctx.home, ctx.clock.wall)).now()
  let read: ReadFile | undefined = file
  const terminal =
    on?.terminal ??
    openTerminal({ now: ctx.clock.now, stdin: process.stdin, stdout: process.stdout, feet: feetOf(settings) })
  const left = await importScreen<Outcome>({
    terminal,
    timing: ctx.clock,
    lock: on?.lock ?? pedalLock({ lockMs: settings.lock }),
    controls: controlsOf(settings),
    notebook: notebookOf(ctx),
    state: newImport(file ? offerOf(file.score) : null, path),
    read: async named => {
      const found = await done(() => readFile(named))
      if (!found.ok) return found
      read = found.value
      return read.kind === 'score'
        ? { ok: true, value: offerOf(read.score) }
        : { ok: false, message: `${read.name} isn't a score. Leave, then type: gradino piece import` }
    },
    store: picked => done(() => importFile(ctx, read as ReadFile, { ...typed, ...picked })),
  }).finally(on ? () => {} : terminal.close)
  const outcome = left.stored ?? { lines: ['Nothing was imported.'] }
  const [says = ''] = outcome.lines ?? []
  return { outcome, says: says.endsWith('.') ? says : `Stored: ${says}.`, quit: left.quit }
}
