import { join } from 'node:path'
import { afterEach, expect, test } from 'vitest'
import { sectionKey } from '../../src/ladder/key.ts'
import { practiced } from '../cli/practiced.ts'
import { player } from '../cli/typed.ts'
import { headless } from '../terminal/headless.ts'
import { type Pty, startInPty } from '../terminal/pty.ts'
import { ROOT } from './pages.ts'
import { cellsOf, still } from './terminal-svg.ts'

const MAIN = join(ROOT, 'dist/main.js')
const WEIR = 'Weir Street Overture'

const open: Pty[] = []
afterEach(() => {
  for (const pty of open.splice(0)) pty.dispose()
})

const pause = (ms: number): Promise<void> => new Promise(done => setTimeout(done, ms))

/** An empty home, or one with a piece of two passages; with `played`, three evenings at the weir. */
const atHome = async (played?: true): Promise<string> => {
  const p = player()
  if (played === undefined) return p.home
  const add = (name: string, at: string, start: string, goal: string) =>
    p.type(...['piece', 'add', WEIR, '--passage', name, '--in', at, '--start', start, '--goal', goal])
  await add('run at the weir', '41-44', '80', '138')
  await add('coda', '60-65', '70', '126')
  await p.type('piece', 'edit', WEIR, '--ready-by', 'in 6 days')
  const { passages } = await p.json('piece', 'show', WEIR)
  const key = sectionKey(passages[0].id)
  const on = (day: number) => `2031-03-${day}T17:00:00Z`
  await practiced(p.home, [
    { key, at: on(12), presses: 'CCCNCCC' },
    { key, at: on(13), presses: 'CCCCCCNC', rung: 1 },
    { key, at: on(14), presses: 'CCCNCCC', rung: 2 },
  ])
  return p.home
}

type Step = { readonly see: string; readonly press?: string }

/** Asked once, before the first plan: every day. */
const DAYS: Step = { see: 'Which days do you play?', press: '\r' }

/** What the program shows at noon after some keys, each pressed once a text is seen; the last text is the picture's own. */
const shown = async (home: string, args: readonly string[], steps: readonly Step[]) => {
  const pty = startInPty(process.execPath, [MAIN, '--home', home, ...args], {
    cwd: ROOT,
    env: { GRADINO_NOW: '2031-03-15T12:00:00Z', CI: 'false', FORCE_COLOR: '3', COLORTERM: 'truecolor' },
  })
  open.push(pty)
  for (const { see, press } of steps) {
    await pty.waitFor(see)
    // What is drawn in several goes is whole when nothing more comes.
    for (let before = -1; before !== pty.output().length; await pause(400)) before = pty.output().length
    if (press !== undefined) await pty.send(press)
  }
  const screen = headless(24, 80)
  await screen.write(pty.output())
  return cellsOf(screen.terminal)
}

/** Each picture of a page: what it shows, said in words, what is typed, and what is seen and pressed. */
const STILLS: Readonly<
  Record<string, { says: string; played?: true; args: readonly string[]; steps: readonly Step[] }>
> = {
  'first-start': {
    says: 'The first start: cautions, and four ways to begin.',
    args: [],
    steps: [{ see: 'What is on the stand?' }],
  },
  day: {
    says: 'The day: each line with its clock time, its minutes, and its tempos.',
    played: true,
    args: [],
    steps: [DAYS, { see: 'rehearsal in 6 days' }],
  },
  pieces: {
    says: 'The list of pieces: each passage with its next start, its ceiling, its goal and its date.',
    played: true,
    args: [],
    steps: [DAYS, { see: 'rehearsal in 6 days', press: 'p' }, { see: 'next from' }],
  },
  form: {
    says: 'The form of a passage, line by line.',
    played: true,
    args: ['piece', 'edit', 'weir/run'],
    steps: [{ see: 'Ctrl+S' }],
  },
  click: {
    says: 'Just the click: its tempo, its meter, and what the pedals do.',
    args: ['click', '--tempo', '63.5', '--meter', '6/8'],
    steps: [{ see: '6/8' }],
  },
  import: {
    says: 'Choosing what to take from a score.',
    args: ['piece', 'import', 'docs/weir-street.musicxml'],
    steps: [{ see: 'import it' }],
  },
  'warm-up': {
    says: 'The first exercise of a warm-up.',
    args: ['warmup', 'first-minutes'],
    steps: [{ see: 'exercise 1 of' }],
  },
  'sound-by-ear': {
    says: 'Choosing the click and its loudness by ear.',
    args: ['sound', '--choose'],
    steps: [{ see: 'The click, by ear' }],
  },
  setup: {
    says: 'Teaching a pedal by pressing it three times.',
    args: ['setup'],
    steps: [{ see: 'press it three times' }],
  },
}

test.each(Object.entries(STILLS))('the picture of %s is what the program shows now', async (name, s) => {
  const cells = await shown(await atHome(s.played), s.args, s.steps)
  await expect(still(cells, s.says)).toMatchFileSnapshot(join(ROOT, `docs/pictures/${name}.svg`))
})
