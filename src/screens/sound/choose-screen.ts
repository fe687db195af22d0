import type { Levels } from '../../click/voices.ts'
import type { Sound } from '../../sound/sound.ts'
import { RATE } from '../../sound/stream.ts'
import type { PlainTerminal } from '../../terminal/open-plain.ts'
import type { Terminal } from '../../terminal/open-terminal.ts'
import { changed, moved, ROWS, rowLine, type SoundChoice, sample } from './choose.ts'
import { linesScreen } from './lines-screen.ts'
import { CHOOSE_KEYS, CHOOSE_TITLE } from './words.ts'

const STEPS: Readonly<Record<string, (c: SoundChoice) => SoundChoice>> = {
  Up: c => moved(c, -1),
  Down: c => moved(c, 1),
  Left: c => changed(c, -1),
  Right: c => changed(c, 1),
  '-': c => changed(c, -1),
  '+': c => changed(c, 1),
}
const DONE = ['f', 'q', 'Escape', 'Enter', 'C-c']

/** Click and loudness by ear: what is chosen is heard at once, and kept. Resolves when the player is done. */
export const chooseScreen = (o: {
  readonly terminal: Terminal | PlainTerminal
  readonly sound: Sound
  readonly levels: Levels
  readonly keep: (levels: Levels) => void
}): Promise<Levels> =>
  new Promise(resolve => {
    const { sound } = o
    let choice: SoundChoice = { levels: o.levels, row: 'character' }
    let last = 0
    /** Begins anew, so that the chosen role is heard without delay. */
    const play = (): void => {
      last = sound.play(sample(choice.row, RATE), 'now')
    }
    const screen = linesScreen({
      terminal: o.terminal,
      title: CHOOSE_TITLE,
      hint: CHOOSE_KEYS,
      lines: () => ROWS.map(row => rowLine(choice, row)),
      said: () => rowLine(choice, choice.row).slice(2),
      key: id => {
        if (DONE.includes(id)) {
          off()
          sound.stop()
          screen.close()
          return resolve(choice.levels)
        }
        const before = choice
        choice = STEPS[id]?.(choice) ?? choice
        if (choice.levels !== before.levels) {
          sound.levels(choice.levels)
          o.keep(choice.levels)
        }
        if (choice.row !== before.row) play()
        screen.draw()
      },
    })
    const off = sound.on(e => {
      if (e.kind === 'started' && e.id === last) last = sound.play(sample(choice.row, RATE), last)
    })
    play()
  })
