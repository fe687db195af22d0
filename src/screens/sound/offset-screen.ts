import type { Program } from '../../click/program.ts'
import { type Offset, offsetFrom } from '../../sound/offset.ts'
import type { Sound } from '../../sound/sound.ts'
import { RATE } from '../../sound/stream.ts'
import { runScreen, type Screen } from '../../terminal/run-screen.tsx'
import type { Desk } from '../desk.ts'
import { linesSheet } from '../page.ts'
import { OFFSET_ASKS, OFFSET_TITLE, pressedLine } from './words.ts'

/** Clicks to listen to, clicks to press with, and the distance between two, seconds: slow enough for half a second of delay. */
const LISTEN = 4
const PRESS = 20
const BEAT = 0.8

const clicks = (): Program => {
  const at = (i: number): number => Math.round(i * BEAT * RATE)
  const all = LISTEN + PRESS
  return {
    rate: RATE,
    frames: at(all),
    onsets: Array.from({ length: all }, (_, i) => ({
      frame: at(i),
      role: i < LISTEN ? ('countIn' as const) : ('beat' as const),
      measure: i < LISTEN ? 0 : 1,
      beat: 1 + (i < LISTEN ? i : i - LISTEN),
    })),
    segments: [{ kind: 'passage', frame: 0 }],
    firstNote: at(LISTEN),
    verdictFrom: at(all - 1),
    lastBeat: at(all - 1),
    end: at(all),
  }
}

/** Has the player press with the click. Resolves with what that says, or that there was too little of it or the player left. */
export const offsetScreen = (
  /** The sound's own offset is 0. */
  { terminal, timing, sound }: Pick<Desk, 'terminal' | 'timing'> & { readonly sound: Sound },
): Promise<Offset | 'few' | 'left'> => {
  const program = clicks()
  const id = sound.play(program, 'now')
  let callOff = (): void => {}
  /** Its state: when was pressed. */
  const screen: Screen<readonly number[], number | 'few' | 'left', 'few' | 'left', Offset | 'few' | 'left'> =
    {
      state: [],
      reduce: (presses, a) =>
        typeof a === 'number' ? { state: [...presses, a], effects: [] } : { state: presses, effects: [a] },
      key: (_, key) => {
        if (key.id === 'Escape' || key.id === 'C-c') return 'left'
        const first = sound.heardAt(id, program.firstNote)
        return first !== null && key.at > first - 300 ? key.at : null
      },
      perform: (otherwise, run) => {
        const beats = program.onsets.slice(LISTEN).flatMap(x => sound.heardAt(id, x.frame) ?? [])
        sound.stop()
        run.end(offsetFrom(run.state(), beats) ?? otherwise)
      },
      open: run => [
        // A moment longer than the last click: the last press may come late.
        sound.on(e => {
          if (e.kind !== 'started' || e.id !== id) return
          const over = (sound.heardAt(id, program.frames - 1) ?? timing.now()) + 700
          callOff = timing.later(over - timing.now(), () => run.act('few'))
        }),
        () => callOff(),
      ],
      view: ({ length }) =>
        linesSheet({
          title: OFFSET_TITLE,
          hint: '',
          lines: [OFFSET_ASKS, '', pressedLine(length, PRESS)],
          size: terminal.size(),
        }),
      topics: ({ length }) => ({
        title: OFFSET_TITLE,
        asks: OFFSET_ASKS,
        count: length > 0 && length % 5 === 0 ? pressedLine(length, PRESS) : '',
      }),
    }
  return runScreen(terminal, timing, screen)
}
