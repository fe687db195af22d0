import type { Levels } from '../../click/voices.ts'
import type { Sound } from '../../sound/sound.ts'
import { RATE } from '../../sound/stream.ts'
import { keyHints, pressed } from '../../terminal/key-table.ts'
import type { Screen } from '../../terminal/run-screen.tsx'
import type { Desk } from '../desk.ts'
import { runCovered } from '../overlay.ts'
import { linesSheet } from '../page.ts'
import { inOneBreath } from '../text-rows.ts'
import {
  type Action,
  CHOOSE_KEYS,
  changed,
  moved,
  ROWS,
  rowLine,
  type SoundChoice,
  sample,
} from './choose.ts'
import { CHOOSE_HINT, CHOOSE_TITLE } from './words.ts'

type Effect = 'play' | 'keep' | 'leave'

const reduce = (s: SoundChoice, a: Action): { state: SoundChoice; effects: readonly Effect[] } => {
  if (a.kind === 'leave') return { state: s, effects: ['leave'] }
  const state = a.kind === 'row' ? moved(s, a.by) : changed(s, a.by)
  const effects = [state.row === s.row ? [] : ['play'], state.levels === s.levels ? [] : ['keep']] as const
  return { state, effects: effects.flat() as readonly Effect[] }
}

/** Click and loudness by ear: what is chosen is heard at once, and kept. Resolves when the player is done. */
export const chooseScreen = (
  o: Desk & {
    readonly sound: Sound
    readonly levels: Levels
    readonly keep: (levels: Levels) => void
  },
): Promise<Levels> => {
  const { sound, controls } = o
  let last = 0
  /** Begins anew, so that the chosen role is heard without delay. */
  const play = (s: SoundChoice): void => {
    last = sound.play(sample(s.row, RATE), 'now')
  }
  const hint = [CHOOSE_HINT, ...keyHints(CHOOSE_KEYS, '', controls.choice)].join('   ')
  const screen: Screen<SoundChoice, Action, Effect, Levels> = {
    state: { levels: o.levels, row: 'character' },
    reduce,
    key: (_, key) => {
      const press = pressed(CHOOSE_KEYS, '', key.id, controls, { feet: false })
      return press?.kind === 'key' ? press.does : null
    },
    perform: (e, run) => {
      const s = run.state()
      if (e === 'play') play(s)
      else if (e === 'keep') {
        sound.levels(s.levels)
        o.keep(s.levels)
      } else {
        sound.stop()
        run.end(s.levels)
      }
    },
    open: run => {
      play(run.state())
      return [
        sound.on(e => {
          if (e.kind === 'started' && e.id === last) last = sound.play(sample(run.state().row, RATE), last)
        }),
      ]
    },
    view: s =>
      linesSheet({
        title: CHOOSE_TITLE,
        lines: ROWS.map(row => rowLine(s, row)),
        hint,
        size: o.terminal.size(),
      }),
    topics: s => ({ title: CHOOSE_TITLE, keys: inOneBreath(hint), line: rowLine(s, s.row).slice(2) }),
  }
  return runCovered(o, screen, { table: CHOOSE_KEYS })
}
