import type { Program } from '../../click/program.ts'
import { type Offset, offsetFrom } from '../../sound/offset.ts'
import type { Sound } from '../../sound/sound.ts'
import { RATE } from '../../sound/stream.ts'
import type { PlainTerminal } from '../../terminal/open-plain.ts'
import type { Terminal } from '../../terminal/open-terminal.ts'
import type { Timing } from '../timing.ts'
import { linesScreen } from './lines-screen.ts'
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
export const offsetScreen = (o: {
  readonly terminal: Terminal | PlainTerminal
  /** Its own offset is 0. */
  readonly sound: Sound
  readonly timing: Timing
}): Promise<Offset | 'few' | 'left'> =>
  new Promise(resolve => {
    const { sound, timing } = o
    const program = clicks()
    const presses: number[] = []
    const id = sound.play(program, 'now')
    let callOff = (): void => {}
    const end = (otherwise: 'few' | 'left'): void => {
      callOff()
      off()
      const beats = program.onsets.slice(LISTEN).flatMap(x => sound.heardAt(id, x.frame) ?? [])
      sound.stop()
      screen.close()
      resolve(offsetFrom(presses, beats) ?? otherwise)
    }
    const screen = linesScreen({
      terminal: o.terminal,
      title: OFFSET_TITLE,
      hint: '',
      lines: () => [OFFSET_ASKS, '', pressedLine(presses.length, PRESS)],
      said: () =>
        presses.length === 0
          ? OFFSET_ASKS
          : presses.length % 5 === 0
            ? pressedLine(presses.length, PRESS)
            : '',
      key: (key, at) => {
        if (key === 'Escape' || key === 'C-c') return end('left')
        const first = sound.heardAt(id, program.firstNote)
        if (first !== null && at > first - 300) presses.push(at)
        screen.draw()
      },
    })
    // A moment longer than the last click: the last press may come late.
    const off = sound.on(e => {
      if (e.kind !== 'started' || e.id !== id) return
      const over = (sound.heardAt(id, program.frames - 1) ?? timing.now()) + 700
      callOff = timing.later(over - timing.now(), () => end('few'))
    })
  })
