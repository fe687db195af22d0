import type { Context, Outcome } from '../app/context.ts'
import { findTarget } from '../app/find-target.ts'
import { dayScreens, said } from '../app/play-day.ts'
import { feetOf } from '../app/preferences.ts'
import { type Repertoire, repertoireNow } from '../app/repertoire-rows.ts'
import { type Choice, newState, reduce, type State } from '../screens/home/reduce.ts'
import { nearestFirst } from '../screens/home/row.ts'
import { CAUTIONS, listLines, questionLines } from '../screens/home/words.ts'
import { openSettings, type SettingsStore } from '../store/settings.ts'
import { pedalLock } from '../terminal/lock.ts'
import type { Terminal } from '../terminal/open-terminal.ts'
import { addPassage } from './piece-add.ts'
import { piecesJson } from './pieces.ts'

/** The day as a screen, or the repertoire where there is nothing to plan; without a terminal, or with `--plain`, the same as lines. */
export const homeCommand = async (ctx: Context): Promise<Outcome> => {
  const [now, settings] = await Promise.all([repertoireNow(ctx), openSettings(ctx.home, ctx.clock.wall)])
  const cautions = settings.now().cautionsShown !== true
  if (ctx.tty && !ctx.plain && !ctx.json) return homeScreens(ctx, now, settings, cautions)
  if (ctx.tty && !ctx.json) remember(settings, cautions)
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
    ...(cautions ? CAUTIONS : []),
    ...now.notes,
  ],
  json: piecesJson(now),
})

const NOTHING = 'There is nothing to plan yet: n, a first passage.'

const homeScreens = async (
  ctx: Context,
  first: Repertoire,
  settings: SettingsStore,
  cautions: boolean,
): Promise<Outcome> => {
  const { openTerminal } = await import('../terminal/open-terminal.ts')
  const { homeScreen } = await import('../screens/home/screen.tsx')
  const open = (): Terminal =>
    openTerminal({
      now: ctx.clock.now,
      stdin: process.stdin,
      stdout: process.stdout,
      feet: feetOf(settings.now()),
    })
  const lock = pedalLock({ lockMs: settings.now().lock })
  let terminal = open()
  const notes = [...first.notes, settings.note() ?? ''].filter(Boolean)
  let state = newState(first, cautions, notes.join(' '))
  /** The day lies open until the player goes to the pieces. */
  let atDay = first.rows.length > 0

  /** Goes where the player chose: what is to be said on coming back; an outcome = the player left the program there. */
  const go = async (to: Choice): Promise<Outcome | string> => {
    if (to.k === 'leave') return {}
    if (to.k === 'day') {
      atDay = true
      return ''
    }
    if (to.k === 'edit') {
      const { pieceEditCommand } = await import('./piece-edit.ts')
      const { lines = [] } = await pieceEditCommand(ctx, to.row.name, {}, terminal)
      return lines.map(l => l.trim()).join('  ')
    }
    if (to.k === 'cut') {
      const { pieceSplitCommand } = await import('./piece-split.ts')
      const { made } = await pieceSplitCommand(ctx, to.row.name, { by: to.by })
      return `Cut into ${made} sections: Enter opens them.`
    }
    if (to.k === 'demo') {
      terminal.close()
      try {
        const { demoCommand } = await import('./demo.ts')
        await demoCommand(ctx, false, {})
      } finally {
        terminal = open()
      }
      return ''
    }
    const target =
      to.k === 'quick'
        ? await findTarget(ctx, undefined, { goal: to.goal })
        : await findTarget(ctx, to.row.name, {})
    const { visit } = await import('../app/play-visit.ts')
    const done = await visit(ctx, target, {}, { terminal, lock }, to.k === 'join')
    return done.quit ? done : ''
  }
  try {
    for (let back = false; ; back = true) {
      if (atDay) {
        const first = back ? [] : [...(cautions ? CAUTIONS : []), ...notes]
        const left = await dayScreens(ctx, { terminal, lock }, settings, { back, notes: first })
        if (!back) remember(settings, cautions)
        if (left?.k === 'leave') return left.lines.length > 0 ? { lines: left.lines } : {}
        atDay = false
        back = true
        state = refresh({ ...state, cautions: false }, await repertoireNow(ctx), left === null ? NOTHING : '')
      }
      const going = homeScreen({
        terminal,
        lock,
        now: ctx.clock.now,
        pedals: { right: settings.now().right, left: settings.now().left },
        state,
        back,
        add: async edits => {
          try {
            const added = await addPassage(ctx, edits)
            return { ok: true, value: { id: added.passage.id, known: await repertoireNow(ctx) } }
          } catch (error) {
            return { ok: false, message: said(error) }
          }
        },
      })
      // After the first drawing: the library that writes settings takes its time to load.
      if (!back) remember(settings, cautions)
      const left = await going
      let note = ''
      try {
        const done = await go(left.to)
        if (typeof done !== 'string') return done
        note = done
      } catch (error) {
        note = said(error)
      }
      const known = await repertoireNow(ctx)
      state = refresh(left.state, known, note)
    }
  } finally {
    terminal.close()
  }
}

const refresh = (state: State, known: Repertoire, note: string): State =>
  reduce(state, { k: 'known', known, note: [note, ...known.notes].filter(Boolean).join(' ') }).state
