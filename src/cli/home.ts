import { mattersOnList } from '../app/change-day.ts'
import type { Context, Outcome } from '../app/context.ts'
import { addPassage, editOnScreen, whereOf } from '../app/edit-piece.ts'
import { findTarget } from '../app/find-target.ts'
import { type Now, readNow } from '../app/now.ts'
import { dayScreens } from '../app/play-day.ts'
import { visit } from '../app/play-visit.ts'
import { controlsOf } from '../app/preferences.ts'
import { type Repertoire, repertoireNow, repertoireOf } from '../app/repertoire-rows.ts'
import { notebookOf, terminalFor } from '../app/room.ts'
import { type Need, ok, sentence } from '../music/result.ts'
import { parseTempo } from '../music/tempo.ts'
import { type Destination, newState, reduce, type State } from '../screens/home/reduce.ts'
import { nearestFirst } from '../screens/home/row.ts'
import { listLines, questionLines } from '../screens/home/words.ts'
import { ALL_CAUTIONS, CAUTIONS } from '../screens/words.ts'
import { repertoire } from '../store/repertoire.ts'
import type { SettingsStore } from '../store/settings.ts'
import { asDone, tried } from '../store/trouble.ts'
import { pedalLock } from '../terminal/lock.ts'
import { piecesJson } from './pieces.ts'

/** The day, or the repertoire where there is nothing to plan: on a screen, or played by lines with `--plain`; without a terminal only what there is. */
export const homeCommand = async (ctx: Context): Promise<Outcome> => {
  const from = await readNow(ctx)
  const { settings } = from
  const now = repertoireOf(ctx, from)
  const cautions = settings.now().cautionsShown !== true
  if (ctx.tty && !ctx.json) return homeScreens(ctx, from, cautions)
  return inLines(now, cautions)
}

/** The cautions are said once; where that cannot be kept in mind they are said again, and nothing is lost. */
const remember = (settings: SettingsStore, shown: boolean): void => {
  if (shown) void settings.change({ cautionsShown: true }).catch(() => {})
}

const inLines = (now: Repertoire, cautions: boolean): Outcome => ({
  lines: [
    ...(now.rows.length > 0
      ? [
          ...listLines(nearestFirst(now.rows), now.around.today),
          'To practice: gradino practice PIECE/PASSAGE',
        ]
      : questionLines()),
    ...(cautions ? ALL_CAUTIONS : []),
    ...now.notes,
  ],
  json: piecesJson(now),
})

const NOTHING = 'There is nothing to plan yet: a, a first passage.'

const homeScreens = async (ctx: Context, from: Now, cautions: boolean): Promise<Outcome> => {
  const { settings } = from
  const first = repertoireOf(ctx, from)
  const { homeScreen } = await import('../screens/home/screen.ts')
  const open = () => terminalFor(ctx, settings.now())
  const lock = pedalLock({ lockMs: settings.now().lock })
  let terminal = await open()
  const notes = [...first.notes, settings.note() ?? ''].filter(Boolean)
  let state = newState(first, cautions, notes.join(' '))
  /** The day lies open until the player goes to the pieces. */
  let atDay = first.rows.length > 0

  /** Goes where the player chose: what is to be said on coming back; an outcome = the player left the program there. */
  const go = async (to: Destination, need: Need): Promise<Outcome | string> => {
    if (to.kind === 'leave') return {}
    if (to.kind === 'day') {
      atDay = true
      return ''
    }
    if (to.kind === 'edit') {
      const found = need(await repertoire(ctx.home).find(to.row.name, true))
      const { lines = [] } = await editOnScreen(ctx, found.in, whereOf(found), null, terminal)
      return lines.map(l => l.trim()).join('  ')
    }
    if (to.kind === 'matters') {
      const found = need(await repertoire(ctx.home).find(to.row.name, true))
      const { passage } = found
      if (!passage) return ''
      return need(await mattersOnList(ctx, await readNow(ctx, settings), { in: found.in, passage }))
    }
    if (to.kind === 'cut') {
      const { by } = to
      const { splitPassage } = await import('../app/change-passage.ts')
      const { cut } = need(await splitPassage(ctx, to.row.name, () => ok({ kind: by }), false))
      return `Cut into ${cut.length} sections: Enter opens them.`
    }
    if (to.kind === 'import') {
      const { importOnScreen } = await import('../app/import-screen.ts')
      const { outcome, says, quit } = await importOnScreen(ctx, { path: to.path }, { terminal, lock })
      return quit ? outcome : says
    }
    if (to.kind === 'demo') {
      terminal.close()
      try {
        const { giveDemo } = await import('../app/demo/give.ts')
        need(await giveDemo(ctx, { scratch: true }))
      } finally {
        terminal = await open()
      }
      return ''
    }
    const known = await readNow(ctx, settings)
    const target = need(
      to.kind === 'quick'
        ? await findTarget(known, undefined, { goal: need(parseTempo(to.goal, 'goal tempo')) })
        : await findTarget(known, to.row.name, {}),
    )
    const done = need(await visit(ctx, known, target, {}, { terminal, lock }, to.kind === 'join'))
    return done.quit ? done : ''
  }
  try {
    for (let back = false; ; back = true) {
      if (atDay) {
        const first = back ? [] : [...(cautions ? CAUTIONS : []), ...notes]
        const left = await dayScreens(ctx, { terminal, lock }, back ? await readNow(ctx, settings) : from, {
          back,
          notes: first,
        })
        if (!back) remember(settings, cautions)
        if (left?.kind === 'leave') return left.lines.length > 0 ? { lines: left.lines } : {}
        atDay = false
        back = true
        state = refresh({ ...state, cautions: false }, await repertoireNow(ctx), left === null ? NOTHING : '')
      }
      const going = homeScreen({
        terminal,
        lock,
        timing: ctx.clock,
        controls: controlsOf(settings.now()),
        state,
        back,
        notebook: notebookOf(ctx),
        add: async edits => {
          const added = await tried(async need => ({
            id: need(await addPassage(ctx, edits)).passage.id,
            known: await repertoireNow(ctx),
          }))
          return asDone(added)
        },
      })
      // After the first drawing: the library that writes settings takes its time to load.
      if (!back) remember(settings, cautions)
      const left = await going
      const done = await tried(need => go(left.to, need))
      const said = done.ok ? done.value : sentence(done.problem)
      if (typeof said !== 'string') return said
      const known = await repertoireNow(ctx)
      state = refresh(left.state, known, said)
    }
  } finally {
    terminal.close()
  }
}

const refresh = (state: State, known: Repertoire, note: string): State =>
  reduce(state, { kind: 'known', known, note: [note, ...known.notes].filter(Boolean).join(' ') }).state
