import { EventEmitter } from 'node:events'
import chalk from 'chalk'
import { contextFrom } from '../../src/app/context.ts'
import { giveDemo } from '../../src/app/demo/give.ts'
import { openTerminal, type Terminal } from '../../src/terminal/open-terminal.ts'
import { headless } from '../terminal/headless.ts'
import { type Cells, cellsOf } from './terminal-svg.ts'

const SIZE = { rows: 24, cols: 80 } as const

/** What a terminal shows from a moment on, in seconds. */
export type Shot = { readonly at: number; readonly cells: Cells; readonly text: string }

/** A terminal that keeps every byte with its moment. */
const keeping = (now: () => number, kept: { at: number; bytes: string }[]): Terminal => {
  const stdin = Object.assign(new EventEmitter(), { setRawMode: () => {}, resume() {}, pause() {} })
  const stdout = Object.assign(new EventEmitter(), {
    rows: SIZE.rows,
    columns: SIZE.cols,
    write: (bytes: string) => {
      kept.push({ at: now() / 1000, bytes })
      return true
    },
  })
  return openTerminal({
    now,
    stdin: stdin as unknown as NodeJS.ReadStream,
    stdout: stdout as unknown as NodeJS.WriteStream,
  })
}

/** The demonstration as a terminal shows it, in virtual time: the same in every run. */
export const demonstration = async (home: string): Promise<readonly Shot[]> => {
  const level = chalk.level
  chalk.level = 3
  const kept: { at: number; bytes: string }[] = []
  const ctx = contextFrom({ home }, { ...process.env, GRADINO_NOW: '2031-03-15T12:00:00Z' })
  const given = await giveDemo(ctx, { fast: true, scratch: true, hall: now => keeping(now, kept) })
  chalk.level = level
  if (!given.ok) throw new Error('no demonstration')
  const screen = headless(SIZE.rows, SIZE.cols)
  const shots: Shot[] = []
  for (const { at, bytes } of kept) {
    await screen.write(bytes)
    // When it ends the terminal is given back: nothing more to see.
    if (!screen.state().alternate) continue
    if (shots.at(-1)?.at === at) shots.pop()
    shots.push({ at, cells: cellsOf(screen.terminal), text: screen.rows().join('\n') })
  }
  return shots
}
