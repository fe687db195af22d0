import { Box, render, Text } from 'ink'
import type { ReactElement } from 'react'
import type { PedalLock } from '../../terminal/lock.ts'
import type { Terminal } from '../../terminal/open-terminal.ts'
import { kindOf, type Size } from '../home/layout.ts'
import type { Timing } from '../slept.ts'
import { type Pedals, pedalOf } from './keys.ts'

/** A pedal that ended the screen before must not also end the rest. Milliseconds. */
const LINGER = 600

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
    <Text>Put the instrument down. Any pedal goes on, also before.</Text>
  </Box>
)

/** A rest: it counts whole minutes, and ends only when the player goes on. Resolves with how it was left. */
export const restScreen = (o: {
  readonly terminal: Terminal
  readonly lock: PedalLock
  readonly timing: Timing
  readonly minutes: number
  readonly says: readonly string[]
  readonly pedals: Pedals
}): Promise<'on' | 'left' | 'quit'> =>
  new Promise(resolve => {
    const { terminal, timing } = o
    const begun = timing.now()
    const left = (): number => Math.max(0, Math.ceil(o.minutes - (timing.now() - begun + 1) / 60_000))
    const view = (): ReactElement => <RestView left={left()} says={o.says} size={terminal.size()} />
    const ink = render(view(), terminal.ink)
    const draw = (): void => ink.rerender(view())
    let stop = (): void => {}
    const wait = (): void => {
      const rest = (o.minutes * 60_000 - (timing.now() - begun)) % 60_000
      if (left() > 0)
        stop = timing.later(rest > 0 ? rest : 60_000, () => {
          draw()
          wait()
        })
    }
    const leave = (how: 'on' | 'left' | 'quit'): void => {
      stop()
      for (const off of offs) off()
      ink.unmount()
      resolve(how)
    }
    const offs = [
      terminal.onResize(draw),
      terminal.onResume(draw),
      terminal.onKey(key => {
        const pedal = pedalOf(key.id, 'day', o.pedals)
        if (key.id === 'C-c') leave('quit')
        else if (key.id === 'f' || key.id === 'q' || key.id === 'Escape') leave('left')
        else if (key.id === 'Enter' || (pedal && o.lock.press(pedal, key.at) === 'accepted'))
          if (key.at - begun > LINGER) leave('on')
      }),
    ]
    wait()
    draw()
  })
