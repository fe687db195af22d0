import { pressed } from '../../terminal/key-table.ts'
import { LINGER } from '../../terminal/lock.ts'
import type { Sheet } from '../../terminal/painted.tsx'
import type { Screen } from '../../terminal/run-screen.tsx'
import type { Size } from '../../terminal/screen-writer.ts'
import type { PedalDesk } from '../desk.ts'
import { runCovered } from '../overlay.ts'
import { BOLD, indented, inTheMiddle, READ } from '../page.ts'
import { kindOf } from '../sizes.ts'
import { inRows } from '../text-rows.ts'
import { REST_KEYS, type RestLeft } from './key-table.ts'
import { GO_ON } from './words.ts'

/** What is said in a rest with so many whole minutes left; begun ones count. */
const restWords = (left: number): string =>
  left > 0 ? `${left} ${left === 1 ? 'minute' : 'minutes'} left` : 'The rest is over'

export const restSheet = (left: number, says: readonly string[], size: Size): Sheet => {
  const rows = (text: string, style = {}) => indented(inRows(text, Math.min(READ, size.cols)), style, 0)
  const said = [`${restWords(left)}.`, ...says].flatMap(text => rows(text))
  return inTheMiddle([...rows('Rest', BOLD), [], ...said, [], ...rows(GO_ON)], size, kindOf(size) !== 'full')
}

const MINUTE = 60_000

/** A rest: it counts whole minutes, and ends only when the player goes on. Resolves with how it was left. */
export const restScreen = (
  o: PedalDesk & { readonly minutes: number; readonly says: readonly string[] },
): Promise<RestLeft> => {
  const begun = o.timing.now()
  const left = (): number => Math.max(0, Math.ceil(o.minutes - (o.timing.now() - begun + 1) / MINUTE))
  const screen: Screen<null, RestLeft, RestLeft, RestLeft> = {
    state: null,
    reduce: (state, how) => ({ state, effects: [how] }),
    key: (_, key, run) => {
      const press = pressed(REST_KEYS, '', key.id, o.controls)
      if (press?.kind === 'pedal')
        return o.lock.press(press.pedal, key.at) === 'accepted' && key.at - run.since() > LINGER ? 'on' : null
      return press?.does === 'on' && key.at - run.since() <= LINGER ? null : (press?.does ?? null)
    },
    perform: (how, run) => run.end(how),
    wakes: (_, now) => (left() > 0 ? { in: (o.minutes * MINUTE - (now - begun)) % MINUTE || MINUTE } : null),
    view: () => restSheet(left(), o.says, o.terminal.size()),
    topics: () => ({ rest: `Rest: ${restWords(left())}.`, says: o.says.join(' '), keys: GO_ON }),
  }
  return runCovered(o, screen, { table: REST_KEYS })
}
