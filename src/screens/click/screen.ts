import type { Steady } from '../../click/endless.ts'
import { spoken } from '../../music/tempo.ts'
import { backLine, brokeOffLine } from '../../sound/words.ts'
import { type Controls, keyHelp, keyHints, pressed } from '../../terminal/key-table.ts'
import type { Pedal } from '../../terminal/lock.ts'
import type { Screen, ScreenRun } from '../../terminal/run-screen.tsx'
import { loudness, type SoundingDesk, watchSleep } from '../desk.ts'
import type { Chapter } from '../help.ts'
import { runCovered } from '../overlay.ts'
import { keyNames } from '../words.ts'
import { feed, type HeardClick } from './feed.ts'
import { CLICK_KEYS } from './key-table.ts'
import {
  type Action,
  clickOf,
  clickText,
  closing,
  type Effect,
  noteOf,
  pedalHint,
  reduce,
  type State,
  tapCount,
  tapped,
} from './reduce.ts'
import { clickSheet, eyeRow, type Shown, stripRow } from './view.ts'
import { GOING, opening, turnsTo, WHEN } from './words.ts'

/** Between two drawings of the mark: at 208 nine within a beat. Milliseconds. */
const EYE = 32

/** What the click needs. */
export type ClickParts = SoundingDesk & {
  readonly click: State
  /** Frames a second. */
  readonly rate: number
}

export type Left = { readonly lines: readonly string[] }

/** What lies open. */
const openOf = (s: State): string => (s.typing !== '' || tapped(s) ? 'entering' : 'click')

/** What a key is to the click: a pedal, an action, or another loudness; `at` in monotonic ms. */
export const commandOf = (id: string, at: number, c: Controls, s: State) => {
  const press = pressed(CLICK_KEYS, openOf(s), id, c)
  if (!press || press.kind === 'pedal') return press
  const { does } = press
  if (does.kind === 'digit') return { kind: 'digit', text: press.id } as const
  return does.kind === 'tap' ? ({ kind: 'tap', at } as const) : does
}

/** The click as a screen; `heard` = what is heard now, `turning` = another click begins at the next bar line. */
export const theClick = (o: ClickParts) => {
  const { sound, timing, lock, controls } = o
  let wanted: Steady = clickOf(o.click)
  const loud = loudness(o)
  /** The sound has broken off and is not back; or there is none. */
  let lost = false
  let changed = (): void => {}
  const going = feed({ sound, timing, rate: o.rate, beat: () => changed() })
  const keys = keyNames(controls)

  const heard = (): HeardClick | null => going.heard()
  const turning = (s: State): boolean => {
    const now = s.going ? going.heard() : null
    return now !== null && now.click !== wanted
  }
  /** The left pedal taps while nothing sounds; a foot that still holds it after the stop does not. */
  const pedal = (s: State, which: Pedal, at: number): Action | null => {
    const press = lock.press(which, at)
    if (s.going) return press === 'held' ? null : { kind: 'press' }
    if (which === 'right' || controls.pedals === 1) return press === 'accepted' ? { kind: 'press' } : null
    return press === 'accepted' || (press === 'held' && tapCount(s.taps) > 0) ? { kind: 'tap', at } : null
  }
  const shown = (s: State): Shown => ({
    state: s,
    heard: heard(),
    turning: turning(s),
    sound: loud.line(),
    pedals: controls.pedals,
    keys,
    hints: keyHints(CLICK_KEYS, 'click', controls.choice),
    motion: o.motion,
    size: o.terminal.size(),
  })

  const screen: Screen<State, Action, Effect, Left> = {
    state: o.click,
    reduce,
    key: (s, { id, at }) => {
      const does = commandOf(id, at, controls, s)
      if (does?.kind === 'pedal') return pedal(s, does.pedal, at)
      if (does?.kind !== 'louder') return does
      if (loud.change(does.by)) changed()
      return null
    },
    perform: (e, run) => {
      if (e === 'stop') going.stop()
      else if (e === 'leave') run.end({ lines: closing(run.state()) })
      else {
        wanted = clickOf(run.state())
        if (e === 'start') going.start(wanted, run.state().countIn)
        else going.change(wanted)
        run.changed()
      }
    },
    open: (run: ScreenRun<State, Action, Left>) => {
      changed = run.changed
      loud.open(run.changed)
      return [
        sound.on(e => {
          // The click goes on by itself, in time.
          if (e.kind === 'trouble' && e.what !== 'underrun') {
            lost = true
            run.act({ kind: 'said', text: brokeOffLine(false) })
          } else if (e.kind === 'output') {
            if (lost) run.act({ kind: 'said', text: backLine(e.name, false) })
            else run.changed()
            lost = e.name === 'silent'
          }
        }),
        // What was heard before the sleep has no place in what is heard after it.
        watchSleep(timing, () => run.act({ kind: 'slept' })),
        going.close,
      ]
    },
    view: s => clickSheet(shown(s)),
    topics: s => {
      const now = `${spoken(s.tempo)}, ${clickText(s)}`
      return {
        pedals: opening(pedalHint(s.going, controls.pedals, keys)),
        sound: loud.said(),
        click: s.going && s !== o.click ? turnsTo(now) : now,
        going: s.going ? GOING.true : s === o.click ? '' : GOING.false,
        note: s.typing === '' ? noteOf(s) : '',
      }
    },
    eye: s => {
      if (!s.going || o.motion !== 'glide' || heard() === null) return null
      const p = shown(s)
      const row = stripRow(p)
      return row === null ? null : { row, text: eyeRow(p), in: EYE }
    },
  }
  return { screen, heard, turning }
}

/** What the pedals and the keys of the click do. */
export const clickHelp = (c: Controls): readonly Chapter[] => [
  {
    title: 'The pedals',
    entries: [false, true].map(going => [WHEN[`${going}`], pedalHint(going, c.pedals, keyNames(c))]),
  },
  { title: 'The keys', entries: keyHelp(CLICK_KEYS, c.choice) },
]

/** The click, drawn or as lines, until the player leaves it. The caller opens and closes terminal and sound. */
export const clickScreen = (o: ClickParts): Promise<Left> =>
  runCovered(o, theClick(o).screen, {
    table: CLICK_KEYS,
    on: openOf,
    chapters: clickHelp(o.controls),
    sounds: s => s.going,
    subject: s => (s.typing === '' ? { about: {}, says: '' } : null),
    stops: s => (s.going ? ({ kind: 'press' } as const) : null),
  })
