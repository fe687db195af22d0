import { spawn } from 'node:child_process'
import type { Context } from '../../src/app/context.ts'
import type { Machine } from './month.ts'
import type { Player } from './player.ts'
import { sitter } from './sit.ts'
import { bytesOf } from './stand.ts'
import type { MonthTime } from './time.ts'

const MAIN = new URL('../../dist/main.js', import.meta.url).pathname
const SPEED = 30

/**
 * A visit in the real program, in a process of its own, that is killed (SIGKILL) in the middle of a repetition after some
 * verdicts were said to be understood.
 */
export const killedVisit = async (o: {
  readonly machine: Machine
  readonly time: MonthTime
  readonly player: Player
  readonly ctx: Context
}): Promise<void> => {
  const { player, time } = o
  const names = await player.namesOf(o.ctx)
  const [key, named] = [...names].find(([k, n]) => k.startsWith('section ') && n.name.endsWith('/1')) ?? []
  if (!key || !named) throw new Error('there is no first section')
  const start = time.wall()
  const began = performance.now()
  const now = (): number => (performance.now() - began) * SPEED
  const child = spawn(process.execPath, [MAIN, '--plain', 'practice', named.name], {
    env: {
      ...process.env,
      GRADINO_HOME: o.machine.root,
      GRADINO_NOW: new Date(start).toISOString(),
      GRADINO_SPEED: String(SPEED),
      TZ: 'Europe/Rome',
    },
  })
  let enough = false
  const wish = {
    music: player.musicOf(named.parts, named.of),
    judge: player.attempt(named.parts, named.of),
    byHand: null,
    once: false,
    leave: (s: { readonly reps: number }) => {
      if (s.reps === 5) {
        enough = true
        // Somewhere in the count-in or the music of the next one.
        setTimeout(() => child.kill('SIGKILL'), 4000 / SPEED)
      }
      return false
    },
  }
  const { sat, ear } = sitter(
    { ...wish, judge: t => ({ ...wish.judge(t), stopped: false, wrong: false }) },
    () => start + now(),
  )
  const hear = ear({
    press: k => void (enough || child.stdin.write(bytesOf(k))),
    later: (ms, f) => void setTimeout(f, ms / SPEED),
    now,
  })
  let rest = ''
  child.stdout.on('data', (data: Buffer) => {
    const lines = (rest + data.toString()).split('\n')
    rest = lines.pop() ?? ''
    for (const line of lines) if (line !== '' && !enough) hear(line)
  })
  const signal = await new Promise((resolve, reject) => {
    child.on('error', reject)
    setTimeout(
      () => reject(new Error(`the program heard nothing more: ${sat.said.join(' / ')}`)),
      60_000,
    ).unref()
    child.on('exit', (_, s) => resolve(s))
  })
  if (signal !== 'SIGKILL') throw new Error(`the program ended by itself: ${sat.said.join(' / ')}`)
  time.jump(start + Math.ceil(now()))
  player.sittings.push({
    name: named.name,
    key,
    kind: 'section',
    day: new Date(start).toISOString().slice(0, 10),
    on: o.machine.name,
    goal: named.of.goal,
    row: 3,
    reps: sat.reps,
    seconds: sat.seconds,
  })
}
