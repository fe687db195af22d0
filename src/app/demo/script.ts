import { sectionKey } from '../../ladder/key.ts'
import { DEFAULT_RULES } from '../../ladder/rules.ts'
import { rungs } from '../../ladder/rungs.ts'
import { plainForm } from '../../music/form.ts'
import { parseMeter } from '../../music/meter.ts'
import { checked } from '../../music/result.ts'
import { tempo } from '../../music/tempo.ts'
import type { Timing } from '../../screens/desk.ts'
import type { Conductor } from '../../screens/practice/conduct.ts'
import { RATE } from '../../sound/stream.ts'
import type { Setup } from '../../visit/session.ts'
import { REST } from '../../visit/sounding.ts'

const START = tempo(132)
const GOAL = tempo(160)
const STEP = { kind: 'notch' } as const

/** An invented passage with a short ladder. */
export const SCENE = {
  piece: 'Weir Street Overture',
  measures: '41-44',
  music: 'crescendo into 43, tip of the phrase on the long note',
  key: sectionKey('demonstration'),
  start: START,
  goal: GOAL,
  step: STEP,
  direction: 'up',
  rules: DEFAULT_RULES,
} as const

/** The same in every run, whatever was practiced before. */
export const sceneSetup = (): Setup => ({
  key: SCENE.key,
  form: plainForm(checked(parseMeter('2/4')), 4, GOAL),
  numbers: ['41', '42', '43', '44'],
  goal: GOAL,
  rhythm: null,
  opening: { rungs: checked(rungs(START, GOAL, STEP)), at: 0, rules: DEFAULT_RULES },
  ceiling: null,
  click: { countIn: 1 },
  pedals: 2,
  after: 'wait',
  rest: REST,
  rate: RATE,
})

export const RIGHT = 'PageDown'
export const LEFT = 'PageUp'

/** A key, pressed at a share of the passage (0 = its first note, 1 = its written end) or seconds after the last one. */
type Press = { readonly key: string } & ({ readonly share: number } | { readonly after: number })

const clean: Press = { key: RIGHT, share: 0.95 }
const notClean: Press = { key: LEFT, share: 0.9 }
/** A breakdown in the second measure. */
const stops: Press = { key: LEFT, share: 0.4 }

/** What the player answers, repetition by repetition. */
const SCRIPT: readonly (readonly Press[])[] = [
  // Three in a row: a rung up.
  [clean],
  [clean],
  [clean],
  // One slip alone changes nothing.
  [notClean],
  [clean],
  // Two in a row: a rung down.
  [stops],
  [notClean],
  // The wrong pedal, taken back.
  [notClean, { key: 't', after: 2.4 }, { key: RIGHT, after: 1.6 }],
  [clean, { key: 'f', after: 3 }],
]

/** Time to read: before the start, when it waits, and at the end. Seconds. */
const READ = 2.5
const GO_ON = 1.5
const LAST = 6

export type Player = {
  /** Looks at the stand; call after every change. */
  readonly look: () => void
  readonly stop: () => void
}

/** Plays the script on the keys of the practice screen; `press` gets the name of a key. */
export const scriptedPlayer = (o: {
  readonly timing: Timing
  readonly conductor: Conductor
  readonly press: (key: string) => void
}): Player => {
  let step = 0
  let answered = 0
  let callOff: (() => void) | null = null

  const play = (presses: readonly Press[]): void => {
    const [next, ...rest] = presses
    if (next)
      callOff = o.timing.later(millisecondsTo(next), () => {
        o.press(next.key)
        play(rest)
      })
    else {
      callOff = null
      // What the last press has changed already is seen only now.
      look()
    }
  }
  const millisecondsTo = (p: Press): number => {
    if ('after' in p) return p.after * 1000
    const program = o.conductor.session().current?.program
    if (!program) return 0
    const frame = program.firstNote + p.share * (program.end - program.firstNote)
    return ((frame - (o.conductor.frame() ?? program.firstNote)) * 1000) / program.rate
  }

  const look = (): void => {
    if (callOff) return
    const { phase, current } = o.conductor.session()
    if (phase === 'ready') play([{ key: RIGHT, after: READ }])
    else if (phase === 'hold') play([{ key: RIGHT, after: GO_ON }])
    else if (phase === 'done') play([{ key: 'Enter', after: LAST }])
    else if (current?.entered && current.rep !== answered) {
      answered = current.rep
      play(SCRIPT[step++] ?? [])
    }
  }

  return { look, stop: () => callOff?.() }
}
