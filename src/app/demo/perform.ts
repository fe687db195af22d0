import { stripVTControlCharacters } from 'node:util'
import type { Program } from '../../click/program.ts'
import type { Levels } from '../../click/voices.ts'
import { historiesOf } from '../../ladder/history.ts'
import { openingTomorrow } from '../../ladder/standing.ts'
import { soundLine } from '../../screens/desk.ts'
import { type Conductor, conduct } from '../../screens/practice/conduct.ts'
import { keyLock } from '../../screens/practice/key-lock.ts'
import { PRACTICE_KEYS } from '../../screens/practice/key-table.ts'
import type { Left } from '../../screens/practice/leaving.ts'
import { practiceScreen } from '../../screens/practice/screen.ts'
import { practiceSheet, type Shown } from '../../screens/practice/view.ts'
import type { Sound } from '../../sound/sound.ts'
import type { Journal } from '../../store/journal.ts'
import { type Controls, keyHints, USUAL_KEYS } from '../../terminal/key-table.ts'
import { pedalLock } from '../../terminal/lock.ts'
import { openPlain } from '../../terminal/open-plain.ts'
import { openTerminal, type Terminal } from '../../terminal/open-terminal.ts'
import { sheetText } from '../../terminal/painted.tsx'
import { keyLabel } from '../../terminal/words.ts'
import type { Session, Sounding } from '../../visit/session.ts'
import type { Context } from '../context.ts'
import { LEFT, type Player, RIGHT, SCENE, sceneSetup, scriptedPlayer } from './script.ts'
import { emptyHall, SIZE, stageOn, type VirtualTime } from './stage.ts'

/** The practice screen as rows of text, without colors. */
const still = (shown: Shown): string => {
  const rows = stripVTControlCharacters(sheetText(practiceSheet(shown))).split('\n')
  return `${rows.map(row => row.trimEnd()).join('\n')}\n`
}

/** What the scripted player did, as far as it came. */
export type Performance = {
  readonly left: Left
  readonly session: Session
  /** The repetition each program belongs to. */
  readonly takes: ReadonlyMap<Program, Sounding>
  /** The last practice screen, before the closing view. */
  readonly screen: string
}

const FRAME = {
  title: `Demonstration: ${SCENE.piece}   m. ${SCENE.measures}`,
  date: 'any key ends it',
  music: SCENE.music,
  cold: '',
  motion: 'glide',
  coldIsOpen: false,
  earlier: { clean: 0, verdicts: 0 },
} as const

const CONTROLS: Controls = { right: RIGHT, left: LEFT, pedals: 2, choice: USUAL_KEYS }

const ending = async (c: Conductor) => {
  const { ladder } = c.session()
  const tomorrow = openingTomorrow(
    SCENE,
    historiesOf([]),
    ladder.ceiling,
    ladder.rungs[ladder.at] ?? SCENE.goal,
  )
  return { tomorrow, pain: false, cautions: [] }
}

/** The scripted player in the practice screen, as lines, or, in virtual time, where nobody looks. */
export const perform = async (o: {
  readonly ctx: Context
  readonly virtual: VirtualTime | null
  readonly sound: Sound
  readonly levels: Levels
  readonly journal: Journal
  /** The terminal; else the player's, or in virtual time none. */
  readonly hall?: Terminal | undefined
}): Promise<Performance> => {
  const { ctx, virtual, sound, levels } = o
  const timing = ctx.clock
  const setup = sceneSetup()
  const takes = new Map<Program, Sounding>()
  let conductor: Conductor | undefined
  let player: Player | undefined
  let last: Pick<Shown, 'session' | 'frame' | 'seconds'> | undefined

  const conductorFor = (press: (key: string) => void) => (changed: () => void) => {
    const watch = (): void => {
      const session = made.session()
      for (const take of [session.current, session.next]) if (take) takes.set(take.program, take)
      if (session.phase !== 'done') last = { session, frame: made.frame(), seconds: made.seconds() }
      player?.look()
    }
    const made = conduct({
      setup,
      sound,
      append: bodies => o.journal.append(bodies),
      timing,
      lock: pedalLock(),
      changed: () => {
        changed()
        watch()
      },
    })
    conductor = made
    player = scriptedPlayer({ timing, conductor: made, press })
    watch()
    return made
  }

  const shownOf = (at: NonNullable<typeof last>): Shown => ({
    ...FRAME,
    ...at,
    keys: { right: keyLabel(RIGHT), left: keyLabel(LEFT) },
    wrongs: null,
    hints: keyHints(PRACTICE_KEYS, 'ladder', USUAL_KEYS),
    choice: '',
    beside: '',
    sound: soundLine(sound.output(), levels),
    typing: '',
    size: SIZE,
  })
  const stage = () => {
    if (o.hall) return o.hall
    if (virtual) return emptyHall()
    return openTerminal({ now: timing.now, stdin: process.stdin, stdout: process.stdout })
  }
  /** Drawn or as lines, on whatever stage: one visit, then the stage is closed. */
  const show = async (real: Parameters<typeof stageOn>[0] & { close: () => void }): Promise<Left> => {
    const { terminal, press } = stageOn(real, timing.now)
    try {
      return await practiceScreen({
        terminal,
        timing,
        sound,
        levels,
        frame: FRAME,
        motion: FRAME.motion,
        controls: CONTROLS,
        lock: pedalLock(),
        conductor: conductorFor(press),
        ending,
        wrong: null,
        keyLock: keyLock(false),
        louder: () => {},
      })
    } finally {
      real.close()
    }
  }

  const plain = ctx.plain && !virtual
  const showing = show(
    plain ? openPlain({ now: timing.now, stdin: process.stdin, stdout: process.stdout }) : stage(),
  )
  try {
    await virtual?.run(() => conductor?.settled() ?? Promise.resolve(), showing)
    const left = await showing
    if (!conductor || !last) throw new Error('the screen never asked for its conductor')
    return { left, session: conductor.session(), takes, screen: still(shownOf(last)) }
  } finally {
    player?.stop()
  }
}
