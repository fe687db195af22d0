import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, expect, test } from 'vitest'
import { homeAt } from '../../../src/store/home.ts'
import { repertoire } from '../../../src/store/repertoire.ts'
import { UNTOUCHED } from '../../terminal/headless.ts'
import { type Pty, startInPty } from '../../terminal/pty.ts'

const MAIN = join(import.meta.dirname, '../../../dist/main.js')
const PEDAL = '\x1b[6~'
const SPEED = 20
/** Within this time a press is the same one. Milliseconds. */
const LOCK = 800 / SPEED

const open: Pty[] = []
const homes: string[] = []
afterEach(() => {
  for (const pty of open.splice(0)) pty.dispose()
  for (const home of homes.splice(0)) rmSync(home, { recursive: true, force: true })
})

/** Six in the evening, as many times as fast as life, on the silent clock. */
const start = (home: string, ...args: string[]): Pty => {
  const pty = startInPty(process.execPath, [MAIN, '--home', home, ...args], {
    env: { GRADINO_SPEED: String(SPEED), GRADINO_NOW: '2031-03-14T18:00:00Z', CI: 'false' },
  })
  open.push(pty)
  return pty
}
const done = async (home: string, ...args: string[]): Promise<void> =>
  expect(await start(home, ...args).exit).toMatchObject({ code: 0 })
const pause = (ms: number): Promise<void> => new Promise(go => setTimeout(go, ms))

/** Every event of the journal, in order. */
const hasSection = async (home: string): Promise<boolean> => {
  const [kept] = (await repertoire(homeAt(home, {})).list()).pieces
  return (kept?.piece.passages[0]?.sections ?? []).length > 0
}
/** Twenty times as fast as life a press may come just too late for what is offered: then it is offered again. */
const made = async (home: string): Promise<boolean> => {
  for (const end = performance.now() + 4000; performance.now() < end; await pause(50))
    if (await hasSection(home)) return true
  return false
}
const journal = (home: string): readonly Record<string, unknown>[] =>
  readdirSync(join(home, 'data', 'journal'), { recursive: true, withFileTypes: true })
    .filter(f => f.name.endsWith('.jsonl'))
    .flatMap(f => readFileSync(join(f.parentPath, f.name), 'utf8').split('\n'))
    .filter(Boolean)
    .map(line => JSON.parse(line))

const bpmOf = (e: Record<string, unknown>): number => (e.tempo as { bpm: { n: number } }).bpm.n

/** What one pedal does now, as the screen says it; '' where the screen says nothing of it. */
const hintOf = (screen: string): string =>
  /pedal \(Page Down\): (.*?)(?: {3,}.*)?$/m.exec(screen)?.[1]?.trim() ?? ''

test('one pedal plays a whole day: three stops and what they offer, a rung up, a slip at the end, the goal and what comes next, the close', {
  retry: 2,
}, async () => {
  const home = mkdtempSync(join(tmpdir(), 'gradino-day-'))
  homes.push(home)
  await done(home, 'setup', '--pedals', '1', '--minutes', '10')
  await done(home, 'piece', 'add', 'Weir Street Overture', '--in', '41-42', '--goal', '138', '--start', '132')
  const pty = start(home)
  await pty.waitFor('Friday, 10 minutes')
  const screen = (): string => pty.rows().join('\n')
  let pressed = 0
  const press = async (): Promise<void> => {
    const row = (): string => pty.rows().find(r => r.includes('(Page Down)')) ?? ''
    const before = row()
    // A foot takes longer than the lock.
    await pause(Math.max(0, pressed + LOCK - performance.now()))
    pressed = performance.now()
    await pty.send(PEDAL)
    // Until something has come of it, however busy the machine is.
    for (let i = 0; i < 40 && row() === before; i++) await pause(10)
  }
  const seen: string[] = []
  const saw = (what: string): void => {
    if (seen.at(-1) !== what) seen.push(what)
  }
  /** Goes on through the choices until this one stands, and takes it. */
  const choose = async (what: string): Promise<void> => {
    for (const end = performance.now() + 20_000; performance.now() < end; await pause(20)) {
      const hint = hintOf(screen())
      if (hint === what) return press()
      if (!screen().includes(`${what}?`)) await press()
    }
    throw new Error(`${what} was never to be chosen:\n${screen()}`)
  }

  let offered = false
  let slips = 0
  for (const end = performance.now() + 80_000; performance.now() < end; await pause(10)) {
    const now = screen()
    const hint = hintOf(now)
    if (now.includes('Anything to keep?')) break
    if (hint.startsWith('choose, then')) await press()
    else if (hint === 'begin' || hint === 'start') {
      saw(hint === 'begin' ? 'the day' : now.includes('in a row') ? 'ready' : 'warm-up')
      await press()
    } else if (now.includes('exercise ') && hint === 'wait' && !/turn 1 of/.test(now)) {
      // A warm-up of which nothing was played would be skipped.
      await press()
      await choose('finish')
    } else if (now.includes('Stopped three times') && !offered) {
      // It waits, and what is offered is among the choices.
      await press()
      await choose('what is offered')
      offered = await made(home)
      if (offered) saw('the offer')
    } else if (!offered && hint === 'stop, not clean' && / m\. 41$/m.test(now)) await press()
    else if (hint === 'clean') await press()
    else if (offered && slips === 0 && hint === 'no, not clean' && / one of five/.test(now)) {
      await press()
      if (/Not clean\. /.test(screen())) {
        slips++
        saw('slip at the end')
      }
    } else if (hint === 'go on') await press()
    if (now.includes('The goal is reached')) saw('the goal')
    if (hint === 'what comes next') {
      if (!seen.includes('the goal') && now.includes('The turn is over')) await choose('two more minutes')
      else {
        saw('on')
        await press()
      }
    }
  }
  expect(screen(), seen.join(', ')).toContain('That was the day. Anything to keep?')
  for (const what of ['ready', 'the offer', 'slip at the end', 'the goal', 'on']) expect(seen).toContain(what)

  // Pressed clean at the end of the last note, then put right: of that repetition both stand there, the slip last.
  const verdicts = journal(home).filter(e => e.k === 'verdict')
  const corrected = verdicts.filter((v, i) => v.rep === verdicts[i + 1]?.rep && v.clean === true)
  expect(corrected.map(v => verdicts[verdicts.indexOf(v) + 1]?.clean)).toContain(false)
  // Three clean at 132 and five at 138, and three stops, whose place was noted.
  const clean = (bpm: number) => verdicts.filter(v => v.clean === true && bpmOf(v) === bpm).length
  expect(clean(132)).toBeGreaterThanOrEqual(3)
  expect(clean(138)).toBeGreaterThanOrEqual(5)
  expect(verdicts.filter(v => v.place !== undefined).length).toBeGreaterThanOrEqual(3)

  // The close, with the same pedal.
  for (const end = performance.now() + 20_000; performance.now() < end; await pause(10)) {
    const hint = hintOf(screen())
    if (hint === 'this one' || hint.startsWith('choose, then')) await press()
    if (hint === 'this one') break
  }
  expect(await pty.exit).toMatchObject({ code: 0 })
  expect(pty.state()).toEqual(UNTOUCHED)

  // Without the file of the day the journal still knows what was played.
  rmSync(join(home, 'data', 'day.json'))
  const again = start(home)
  await again.waitFor(/done +Fundamentals/)
  await again.send('p')
  await again.waitFor('Friday, one passage')
  await again.send('d')
  await again.waitFor(/done +Fundamentals/)
  await again.send('\x03')
  expect(await again.exit).toMatchObject({ code: 0 })
})
