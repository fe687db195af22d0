import { render } from 'ink'
import type { Question } from '../../plan/dates.ts'
import type { Line } from '../../plan/order.ts'
import { keyLabel } from '../../terminal/learn.ts'
import type { PedalLock } from '../../terminal/lock.ts'
import type { Terminal } from '../../terminal/open-terminal.ts'
import type { Timing } from '../slept.ts'
import type { Answers } from './after.ts'
import { actionOf, type Pedals, pedalAction, pedalOf } from './keys.ts'
import { type Action, type Choice, reduce, type State } from './reduce.ts'
import { DayView } from './view.tsx'

/** A pedal that ended the screen before must not also choose here. Milliseconds. */
const LINGER = 600
/** The clock times follow the clock. Milliseconds. */
const CLOCK = 15_000

/** Something that is done beside the screen: what it leads to, or the sentence of a trouble. */
type Doing = Promise<Extract<Action, { k: 'known' | 'refused' }>>

/** The day until the player begins a line or leaves. The caller opens and closes the terminal. */
export const dayScreen = (o: {
  readonly terminal: Terminal
  readonly lock: PedalLock
  readonly timing: Timing
  /** Minutes after midnight, whole. */
  readonly clock: () => number
  readonly pedals: Pedals
  readonly state: State
  /** Back from another screen, which a pedal may have closed. */
  readonly back: boolean
  readonly text: (l: Line) => string
  readonly keep: (s: State) => Promise<void>
  readonly plan: (s: State) => Doing
  readonly answer: (q: Question, a: Answers) => Doing
}): Promise<{ readonly to: Choice; readonly state: State }> =>
  new Promise((resolve, reject) => {
    const { terminal, pedals, timing } = o
    const listens = o.back ? timing.now() + LINGER : 0
    const keys = { right: keyLabel(pedals.right), left: keyLabel(pedals.left) }
    let state = o.state
    let over = false
    const view = () => <DayView state={state} size={terminal.size()} keys={keys} text={o.text} />
    const ink = render(view(), terminal.ink)
    const draw = (): void => {
      if (!over) ink.rerender(view())
    }
    const close = (): void => {
      over = true
      stopClock()
      for (const off of offs) off()
      ink.unmount()
    }
    const fail = (error: unknown): void => {
      close()
      reject(error)
    }
    const act = (action: Action): void => {
      if (over) return
      const step = reduce(state, action)
      state = step.state
      draw()
      for (const e of step.effects) {
        if (e.k === 'go') {
          close()
          resolve({ to: e.to, state })
        } else if (e.k === 'keep') o.keep(state).catch(fail)
        else if (e.k === 'plan') o.plan(state).then(act, fail)
        else o.answer(e.question, e.answers).then(act, fail)
      }
    }
    const onKey = (id: string, at: number): void => {
      const pedal = pedalOf(id, state.view, pedals)
      if (pedal && (o.lock.press(pedal, at) !== 'accepted' || at < listens)) return
      const action = pedal ? pedalAction(pedal, state.view) : actionOf(id, state.view)
      if (action) act(action)
    }
    const tick = (): void => {
      const now = o.clock()
      if (now !== state.now) act({ k: 'clock', now })
      if (!over) stopClock = timing.later(CLOCK, tick)
    }
    let stopClock = timing.later(CLOCK, tick)
    const offs = [
      terminal.onKey(key => onKey(key.id, key.at)),
      terminal.onResize(draw),
      terminal.onResume(draw),
    ]
    draw()
  })
