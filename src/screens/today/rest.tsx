import { Box, Text } from 'ink'
import type { ReactElement } from 'react'
import { pressed } from '../../terminal/key-table.ts'
import { LINGER, type Screen } from '../../terminal/run-screen.tsx'
import type { Size } from '../../terminal/screen-writer.ts'
import { kindOf } from '../home/layout.ts'
import { type PedalDesk, runCovered } from '../overlay.ts'
import { REST_KEYS, type RestLeft } from './rest-keys.ts'
import { GO_ON } from './words.ts'

/** What is said in a rest with so many whole minutes left; begun ones count. */
const restWords = (left: number): string =>
  left > 0 ? `${left} ${left === 1 ? 'minute' : 'minutes'} left` : 'The rest is over'

export const RestView = (p: { left: number; says: readonly string[]; size: Size }): ReactElement => (
  <Box
    flexDirection="column"
    width={Math.min(72, p.size.cols)}
    marginLeft={Math.max(0, Math.floor((p.size.cols - 72) / 2))}
    marginTop={kindOf(p.size) === 'full' ? Math.floor(p.size.rows / 2) - 4 : 0}
  >
    <Text bold>Rest</Text>
    <Text> </Text>
    <Text>{`${restWords(p.left)}.`}</Text>
    {p.says.map(line => (
      <Text key={line} wrap="wrap">
        {line}
      </Text>
    ))}
    <Text> </Text>
    <Text wrap="wrap">{GO_ON}</Text>
  </Box>
)

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
    view: () => <RestView left={left()} says={o.says} size={o.terminal.size()} />,
    topics: () => ({ rest: `Rest: ${restWords(left())}.`, says: o.says.join(' '), keys: GO_ON }),
  }
  return runCovered(o, screen, { table: REST_KEYS })
}
