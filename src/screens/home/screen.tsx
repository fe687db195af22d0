import { render } from 'ink'
import type { Edits } from '../../repertoire/edit.ts'
import type { Done } from '../../store/trouble.ts'
import { keyLabel } from '../../terminal/learn.ts'
import type { PedalLock } from '../../terminal/lock.ts'
import type { Terminal } from '../../terminal/open-terminal.ts'
import { actionOf, PEDALS, type Pedals, pedalOf } from './keys.ts'
import { type Action, type Choice, type Known, reduce, type State } from './reduce.ts'
import { HomeView } from './view.tsx'

/** A pedal that ended the screen before must not also choose here. Milliseconds. */
const LINGER = 600

/** A stored passage: its id, and the repertoire with it. */
export type Added = { readonly id: string; readonly known: Known }

/**
 * The home screen until the player goes on to something else; resolves with that and with the state to come back to.
 * The caller opens and closes the terminal, and keeps the lock from screen to screen: a foot that still holds the pedal
 * gives no second press.
 */
export const homeScreen = (o: {
  readonly terminal: Terminal
  readonly lock: PedalLock
  /** Monotonic milliseconds, the clock of the keys. */
  readonly now: () => number
  readonly pedals: Pedals
  readonly state: State
  /** Back from another screen, which a pedal may have closed. */
  readonly back: boolean
  readonly add: (edits: Edits) => Promise<Done<Added>>
}): Promise<{ readonly to: Choice; readonly state: State }> =>
  new Promise((resolve, reject) => {
    const { terminal, pedals } = o
    const listens = o.back ? o.now() + LINGER : 0
    const keys = { right: keyLabel(pedals.right), left: keyLabel(pedals.left) }
    let state = o.state
    let over = false

    const view = () => <HomeView state={state} size={terminal.size()} keys={keys} />
    const ink = render(view(), terminal.ink)
    const draw = (): void => {
      if (!over) ink.rerender(view())
    }

    const close = (): void => {
      over = true
      for (const off of offs) off()
      ink.unmount()
    }
    const leave = (to: Choice): void => {
      close()
      resolve({ to, state })
    }
    const store = async (edits: Edits): Promise<void> => {
      const done = await o.add(edits)
      act(done.ok ? { k: 'stored', ...done.value } : { k: 'refused', text: done.message })
    }
    const act = (action: Action): void => {
      if (over) return
      const step = reduce(state, action)
      state = step.state
      draw()
      for (const e of step.effects) {
        if (e.k === 'go') leave(e.to)
        else
          store(e.edits).catch(error => {
            close()
            reject(error)
          })
      }
    }
    const onKey = (id: string, at: number): void => {
      const pedal = pedalOf(id, state.view, pedals)
      const action = pedal ? PEDALS[pedal] : actionOf(id, state.view)
      if (pedal && (o.lock.press(pedal, at) !== 'accepted' || at < listens)) return
      if (action) act(action)
    }

    const offs = [
      terminal.onKey(key => onKey(key.id, key.at)),
      terminal.onResize(draw),
      terminal.onResume(draw),
    ]
    draw()
  })
