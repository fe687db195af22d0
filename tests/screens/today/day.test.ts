import { readdirSync, readFileSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { homeCommand } from '../../../src/cli/home.ts'
import { pieceAddCommand } from '../../../src/cli/piece-add.ts'
import { setupCommand } from '../../../src/cli/setup.ts'
import { repertoire } from '../../../src/store/repertoire.ts'
import { newFolder } from '../../folders.ts'
import { UNTOUCHED } from '../../terminal/headless.ts'
import { type InTime, screenInTime } from '../screen-in-time.ts'

const PEDAL = '\x1b[6~'
/** A foot comes down again no sooner, ms: later than the lock, and earlier than a choice has stood. */
const FOOT = 900
/** How often the player looks at the screen, ms. */
const LOOK = 100
/** No day of ten minutes lasts longer, with all that is said in between. */
const LOOKS = 9000

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

/** Plays the day to its close with one pedal, by what stands on the screen, and tells what came up. */
const playTheDay = async ({ text, send, wait }: InTime): Promise<readonly string[]> => {
  const seen: string[] = []
  const saw = (what: string): void => {
    if (seen.at(-1) !== what) seen.push(what)
  }
  const press = async (): Promise<void> => {
    send(PEDAL)
    await wait(FOOT)
  }
  /** Goes on through the choices until this one comes up, waits until it stands, and takes it. */
  const choose = async (what: string): Promise<void> => {
    for (let n = 0; n < 12 && hintOf(text()) !== what && !text().includes(`${what}?`); n++) await press()
    for (let n = 0; n < 50 && hintOf(text()) !== what; n++) await wait(LOOK)
    expect(hintOf(text()), text()).toBe(what)
    await press()
  }
  let slips = 0
  for (let looks = 0; looks < LOOKS; looks++, await wait(LOOK)) {
    const now = text()
    const hint = hintOf(now)
    if (now.includes('Anything to keep?')) return seen
    if (now.includes('The goal is reached')) saw('the goal')
    if (hint.startsWith('choose, then')) await press()
    else if (hint === 'begin' || hint === 'start') {
      saw(hint === 'begin' ? 'the day' : now.includes('in a row') ? 'ready' : 'warm-up')
      await press()
    } else if (now.includes('exercise ') && hint === 'wait' && !/turn 1 of/.test(now)) {
      // A warm-up of which nothing was played would be skipped.
      await press()
      await choose('finish')
    } else if (now.includes('Stopped three times') && !seen.includes('the offer')) {
      // It waits, and what is offered is among the choices.
      await choose('what is offered')
      saw('the offer')
    } else if (hint === 'stop, not clean') {
      if (!seen.includes('the offer') && / m\. 41$/m.test(now)) await press()
    } else if (hint === 'clean' || hint === 'go on') await press()
    else if (
      seen.includes('the offer') &&
      slips === 0 &&
      hint === 'no, not clean' &&
      / one of five/.test(now)
    ) {
      await press()
      if (/Not clean\. /.test(text())) {
        slips++
        saw('slip at the end')
      }
    } else if (hint === 'what comes next') {
      if (!seen.includes('the goal') && now.includes('The turn is over')) await choose('two more minutes')
      else {
        saw('on')
        await press()
      }
    }
  }
  throw new Error(`the day did not end; ${seen.join(', ')}:\n${text()}`)
}

test('one pedal plays a whole day: three stops and what they offer, a rung up, a slip at the end, the goal and what comes next, the close', async () => {
  const home = newFolder()
  const day = screenInTime(home, '2031-03-14T18:00:00Z')
  const { ctx, screen, text, send, wait } = day
  await setupCommand(ctx, { pedals: '1', minutes: '10' })
  const passage = { in: '41-42', goal: '138', start: '132' }
  await pieceAddCommand(ctx, 'Weir Street Overture', passage)

  await day.beside(homeCommand(ctx), async () => {
    const seen = await playTheDay(day)
    expect(text()).toContain('That was the day. Anything to keep?')
    for (const what of ['ready', 'the offer', 'slip at the end', 'the goal', 'on'])
      expect(seen).toContain(what)
    // The close, with the same pedal.
    for (let n = 0; n < 100; n++, await wait(LOOK)) {
      const hint = hintOf(text())
      if (hint !== 'this one' && !hint.startsWith('choose, then')) continue
      send(PEDAL)
      await wait(FOOT)
      if (hint === 'this one') return
    }
    throw new Error(`the close did not end:\n${text()}`)
  })
  expect(screen.state()).toEqual(UNTOUCHED)
  // What was offered is a section now.
  const [kept] = (await repertoire(ctx.home).list()).pieces
  expect(kept?.piece.passages[0]?.sections ?? []).not.toEqual([])

  // Pressed clean at the end of the last note, then put right: of that repetition both stand there, the slip last.
  const verdicts = journal(home).filter(e => e.k === 'verdict')
  const corrected = verdicts.filter((v, i) => v.rep === verdicts[i + 1]?.rep && v.clean === true)
  expect(corrected.map(v => verdicts[verdicts.indexOf(v) + 1]?.clean)).toContain(false)
  // Three clean at 132 and five at 138, and three stops, whose place was noted.
  const clean = (bpm: number) => verdicts.filter(v => v.clean === true && bpmOf(v) === bpm).length
  expect(clean(132)).toBeGreaterThanOrEqual(3)
  expect(clean(138)).toBeGreaterThanOrEqual(5)
  expect(verdicts.filter(v => v.place !== undefined).length).toBeGreaterThanOrEqual(3)

  // Without the file of the day the journal still knows what was played.
  rmSync(join(home, 'data', 'day.json'))
  await day.beside(homeCommand(ctx), async () => {
    const reads = async (what: RegExp): Promise<void> => {
      for (let n = 0; n < 50 && !what.test(text()); n++) await wait(LOOK)
      expect(text()).toMatch(what)
    }
    await reads(/done +Fundamentals/)
    send('p')
    await reads(/Friday, one passage/)
    send('d')
    await reads(/done +Fundamentals/)
    send('\x03')
  })
  expect(screen.state()).toEqual(UNTOUCHED)
}, 120_000)
