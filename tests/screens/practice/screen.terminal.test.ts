import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { typed } from '../../../src/music/tempo.ts'
import { homeAt } from '../../../src/store/home.ts'
import { readNotes } from '../../../src/store/notes.ts'
import { histories } from '../../ladder/histories.ts'
import { allEvents } from '../../store/all-events.ts'
import { UNTOUCHED } from '../../terminal/headless.ts'
import { forThisTest, newHome } from '../../terminal/left-behind.ts'
import { type Pty, startInPty } from '../../terminal/pty.ts'

const MAIN = join(import.meta.dirname, '../../../dist/main.js')
const RIGHT = '\x1b[6~'
const LEFT = '\x1b[5~'
const pause = (ms: number): Promise<void> => new Promise(done => setTimeout(done, ms))

/** The practice screen in a pseudo-terminal: one measure at 200 and up, on the silent clock, eight times as fast. */
const sit = async (
  home: string,
  o: { speed?: number; now?: string; args?: string[]; rows?: number; cols?: number } = {},
) => {
  const { speed = 8, now = '2031-03-10T10:00:00Z', args = [], ...size } = o
  const pty = startInPty(
    process.execPath,
    [MAIN, '--home', home, 'practice', '--start', '176', '--goal', '208', '--measures', '1', ...args],
    { ...size, env: { GRADINO_SPEED: String(speed), GRADINO_NOW: now, CI: 'true' } },
  )
  forThisTest(pty)
  await pty.waitFor(/either pedal .*: start/)
  return pty
}

/** Answers one repetition: starts it if nothing runs, waits for its end, presses, and waits for what was understood. */
const answer = async (pty: Pty, key: string, said: string | RegExp): Promise<void> => {
  if (pty.rows().some(r => /either pedal .*: (start|go on)/.test(r))) await pty.send(key)
  await pty.waitFor('Clean or not clean?')
  await pty.send(key)
  await pty.waitFor(said)
  await pty.waitFor(rows => !rows.some(r => r.includes('Clean or not clean?')))
}

const journalOf = (home: string) => allEvents(homeAt(home, {}))

describe('at the practice screen', () => {
  test('three clean ones raise the rung, two slips lower it, taking back undoes, and tomorrow knows the ceiling', async () => {
    const home = newHome()
    const pty = await sit(home)
    await answer(pty, RIGHT, 'one of three in a row')
    await answer(pty, RIGHT, 'two of three in a row')
    await answer(pty, RIGHT, 'A rung up: quarter = 184.')
    expect(pty.rows().some(r => /here >\s+184/.test(r))).toBe(true)
    expect(pty.rows().some(r => /ceiling\s+176/.test(r))).toBe(true)

    await answer(pty, LEFT, 'Not clean.')
    await answer(pty, LEFT, 'A rung down: quarter = 176.')
    await pty.send('t')
    await pty.waitFor('Taken back.')
    expect(pty.rows().some(r => /here >\s+184/.test(r))).toBe(true)

    await pty.send('f')
    await pty.waitFor('Reached today: quarter = 176')
    await pty.waitFor('Tomorrow starts at quarter = 176.')
    await pause(200)
    await pty.send('x')
    expect(await pty.exit).toEqual({ code: 0, signal: 0 })
    expect(pty.state()).toEqual(UNTOUCHED)

    const again = await sit(home, { now: '2031-03-11T10:00:00Z' })
    expect(again.rows().some(r => /ceiling/.test(r) && /176/.test(r))).toBe(true)
    const { visits } = await journalOf(home)
    const known = histories(visits).of('quick 4/4 x1 none quarter even')
    expect(known?.ceiling && typed(known.ceiling)).toBe('176')
  })

  test('a press before the last beat is not accepted, and says so', async () => {
    const home = newHome()
    const pty = await sit(home, { speed: 1, args: ['--start', '60', '--goal', '63', '--measures', '2'] })
    await pty.send(RIGHT)
    await pty.waitFor('count-in')
    await pty.waitFor('m. 1')
    await pty.send(RIGHT)
    await pty.waitFor('Not yet: the verdict counts from the last measure on.')
    expect((await journalOf(home)).visits).toEqual([])
  })

  test('a pedal held down for two seconds is one verdict', async () => {
    const home = newHome()
    const pty = await sit(home, { speed: 1, args: ['--start', '208', '--goal', '208'] })
    await pty.send(RIGHT)
    await pty.waitFor('Clean or not clean?', 8000)
    await pty.send(RIGHT)
    await pause(660)
    for (let held = 660; held < 2000; held += 40) {
      await pty.send(RIGHT)
      await pause(40)
    }
    const { visits } = await journalOf(home)
    expect(visits.flatMap(v => v.map(e => e.kind))).toEqual(['visit', 'verdict'])
    await pty.waitFor('one of five in a row')
  })

  test('Ctrl+C in the middle of a repetition gives the terminal back and keeps what was said', async () => {
    const home = newHome()
    const pty = await sit(home)
    await answer(pty, RIGHT, 'one of three in a row')
    await pty.send('\x03')
    expect((await pty.exit).code).toBe(0)
    expect(pty.state()).toEqual(UNTOUCHED)
    expect((await journalOf(home)).visits.flatMap(v => v.filter(e => e.kind === 'verdict'))).toHaveLength(1)
  })

  test('a second practice screen on the same home is refused with one sentence', async () => {
    const home = newHome()
    await sit(home)
    const second = startInPty(process.execPath, [MAIN, '--home', home, 'practice', '--goal', '120'], {})
    forThisTest(second)
    expect((await second.exit).code).toBe(1)
    expect(second.output()).not.toContain('\x1b[?1049h')
    expect(second.output().trim().split('\n')).toHaveLength(1)
  })
})

describe('apart from the ladder', () => {
  test('a cold take: once, its tempo is secure, and rung, row and ceiling stay', async () => {
    const home = newHome()
    const args = ['--clean', '1-in-a-row']
    const first = await sit(home, { args })
    await answer(first, RIGHT, 'A rung up: quarter = 184.')
    await first.send('f')
    await first.waitFor('key closes.')
    first.dispose()

    const day = { now: '2031-03-11T10:00:00Z', args }
    const pty = await sit(home, day)
    await pty.waitFor('A cold take first? c: once, at quarter = 176.')
    await pty.send('c')
    await pty.waitFor('cold take: once')
    await pty.send(RIGHT)
    await pty.waitFor('Clean or not clean?')
    await pty.send(RIGHT)
    await pty.waitFor('Cold take today at quarter = 176: clean.')
    const known = histories((await journalOf(home)).visits)
    const key = 'quick 4/4 x1 none quarter even'
    expect(known.of(`cold ${key}`)?.ceiling).toEqual(known.of(key)?.ceiling)
    expect(known.of(key)?.visits).toHaveLength(1)
    await pty.send('c')
    await pause(200)
    expect(pty.rows().join('\n')).not.toContain('cold take: once')
  })

  test('a round of rhythms: two clean ones of each at the click that fits, then even again', async () => {
    const home = newHome()
    const pty = await sit(home, { args: ['--run', 'eighth'] })
    await pty.send('r')
    await pty.waitFor(/click 88, quick notes as at 176/)
    await pty.send(RIGHT)
    for (let i = 0; i < 2; i++) {
      await pty.waitFor('Clean or not clean?')
      await pty.send(RIGHT)
      await pty.waitFor(rows => !rows.some(r => r.includes('Clean or not clean?')))
    }
    await pty.waitFor('short, long')
    const rhythm = histories((await journalOf(home)).visits).of('quick 4/4 x1 none quarter 3:1')
    expect(rhythm?.ceiling && typed(rhythm.ceiling)).toBe('88')
    await pty.send('f')
    await pty.waitFor(/here >\s+176/)
  })
})

describe('killed at any moment', () => {
  test('all that the screen had confirmed is in the journal', async () => {
    const TRIALS = 8
    let confirmed = 0
    const kill = async (trial: number): Promise<void> => {
      const home = newHome()
      const pty = await sit(home, { speed: 12 })
      const until = performance.now() + 800 + Math.random() * 1200
      await pty.send(RIGHT)
      let pressed = performance.now()
      let shown = 0
      const read = (): void => {
        const m = /(\d+) of (\d+) clean today/.exec(pty.rows().join('\n'))
        shown = Math.max(shown, Number(m?.[2] ?? 0))
      }
      // Every other one has something to lose, however slow the machine is.
      while (performance.now() < until || (trial % 2 === 1 && shown === 0)) {
        // On a slow machine answers come too late, and it waits for a press to go on.
        if (pty.rows().some(r => r.includes('Clean or not clean?')) || performance.now() - pressed > 1500) {
          await pty.send(Math.random() < 0.7 ? RIGHT : LEFT)
          pressed = performance.now()
        }
        await pause(5 + Math.random() * 20)
        read()
      }
      process.kill(pty.pid, 'SIGKILL')
      await pty.exit
      read()
      const { visits, damaged } = await journalOf(home)
      // Verdicts that were taken back count too: they were confirmed when they were shown.
      const stored = visits.flat().filter(e => e.kind === 'verdict').length
      expect(stored).toBeGreaterThanOrEqual(shown)
      expect(damaged).toEqual([])
      confirmed += shown
    }
    for (let trial = 0; trial < TRIALS; trial += 2) await Promise.all([kill(trial), kill(trial + 1)])
    expect(confirmed).toBeGreaterThan(3)
  })
})

describe('what went wrong', () => {
  test('after a slip one key says it, and it is kept with its place', async () => {
    const home = newHome()
    const pty = await sit(home)
    await answer(pty, LEFT, 'Not clean.   N notes  R rhythm  B breath  S sound')
    await pty.send('R')
    await pty.waitFor('Noted: rhythm.')
    const { notes } = await readNotes(homeAt(home, {}))
    expect(notes).toMatchObject([{ kind: 'wrong', what: 'rhythm', key: 'quick 4/4 x1 none quarter even' }])
    await pty.send('R')
    await pty.waitFor('Taken back: rhythm.')
    expect((await readNotes(homeAt(home, {}))).notes).toEqual([])
  })

  test('after pain was noted nothing invites to go on', async () => {
    const home = newHome()
    const env = { GRADINO_NOW: '2031-03-10T09:00:00Z' }
    const note = startInPty(process.execPath, [MAIN, '--home', home, 'note', 'left wrist', '--pain'], { env })
    forThisTest(note)
    await note.exit
    const pty = await sit(home)
    await pty.waitFor('see a physician or therapist')
    await pty.send('f')
    await pty.waitFor('key closes.')
    expect(pty.rows().join('\n')).not.toContain('Tomorrow starts')
  })
})
