import { existsSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as wait } from 'node:timers/promises'
import { afterAll, expect, it } from 'vitest'
import { checkJournal } from '../../src/store/check-journal.ts'
import { acquirePractice, listenAt } from '../../src/store/practice-lock.ts'
import { readPractice } from '../../src/store/snapshot.ts'
import { allEvents } from './all-events.ts'
import { bundled, start } from './child.ts'
import { newHome } from './scene.ts'

const programs = mkdtempSync(join(tmpdir(), 'gradino-fixture-'))
const append = bundled('append', programs)
const hold = bundled('hold', programs)
afterAll(() => rmSync(programs, { recursive: true, force: true }))

const rootOf = (home: { data: string }): string => join(home.data, '..')
const readIds = async (home: ReturnType<typeof newHome>) => {
  const read = await allEvents(home)
  return { ...read, ids: new Set(read.visits.flat().map(e => e.id)) }
}

/** `GRADINO_KILL_TRIALS=1000` for the long run: about five minutes. */
const TRIALS = Number(process.env.GRADINO_KILL_TRIALS ?? 40)
/** A program that has begun to store is killed after so many confirmed presses at most, and within so many ms of that. */
const MOST = 12
const SOON = 5

it(
  `a player whose program is killed at any moment finds every confirmed press again (${TRIALS} times)`,
  async () => {
    const home = newHome()
    const confirmed: string[] = []
    let withSome = 0
    for (let trial = 0; trial < TRIALS; trial++) {
      const child = start(append, rootOf(home))
      // Half of the trials end in the middle of practice, half at any moment from the start on.
      const least = trial % 2 ? 1 + Math.floor(Math.random() * MOST) : 0
      while (child.lines().length < least && child.process.exitCode === null) await wait(1)
      await wait(Math.random() * (trial % 2 ? SOON : 250))
      child.process.kill('SIGKILL')
      await child.ended
      if (child.lines().length > 0) withSome++
      confirmed.push(...child.lines())
    }
    const { ids, visits, damaged, unopened } = await readIds(home)
    const lost = confirmed.filter(id => !ids.has(id))
    process.stdout.write(
      `${TRIALS} kills, ${withSome} of them after a confirmed press: ${confirmed.length} confirmed, ${lost.length} lost, ${ids.size - confirmed.length} stored but not confirmed, ${damaged.length} torn\n`,
    )
    expect(lost).toEqual([])
    // The runs must have had something to lose.
    expect(withSome).toBeGreaterThanOrEqual(Math.floor(TRIALS / 2))
    expect(confirmed.length).toBeGreaterThan(2 * TRIALS)
    expect(unopened).toBe(0)
    expect(damaged.length).toBeLessThanOrEqual(TRIALS)
    for (const visit of visits)
      expect(visit.map(e => e.n - (visit[0]?.n ?? 0))).toEqual(visit.map((_, i) => i))
    // The snapshot, the check and the plain reading agree on what the kills have left.
    const check = await checkJournal(home)
    expect(check).toMatchObject({ visits: visits.length, unopened: 0, missing: [], damaged })
    expect((await readPractice(home, 0)).visits).toHaveLength(visits.length)
    expect((await readPractice(home, 0)).visits).toHaveLength(visits.length)
  },
  TRIALS * 1500,
)

it('two programs that store at the same time lose nothing, neither of the other nor of their own', async () => {
  const home = newHome()
  const both = [start(append, rootOf(home), '400'), start(append, rootOf(home), '400')]
  for (const child of both) expect(await child.ended).toEqual({ code: 0, errors: '' })
  const confirmed = both.flatMap(child => child.lines())
  const { ids, damaged } = await readIds(home)
  expect(confirmed.length).toBeGreaterThan(800)
  expect(ids).toEqual(new Set(confirmed))
  expect(damaged).toEqual([])
})

it('the practice screen of a killed program can be opened again at once', async () => {
  const home = newHome()
  const child = start(hold, 'home', rootOf(home))
  expect(await child.begun).toBe('held')
  expect((await acquirePractice(home)).ok).toBe(false)
  child.process.kill('SIGKILL')
  await child.ended
  const mine = await acquirePractice(home)
  expect(mine.ok).toBe(true)
  if (mine.ok) await mine.release()
})

it.skipIf(process.platform === 'win32')(
  'so too where the lock is a file that the killed program left',
  async () => {
    const address = join(rootOf(newHome()), 'practice.sock')
    const child = start(hold, 'path', address)
    expect(await child.begun).toBe('held')
    expect(await listenAt(address)).toBeNull()
    child.process.kill('SIGKILL')
    await child.ended
    expect(existsSync(address)).toBe(true)
    const mine = await listenAt(address)
    expect(mine).not.toBeNull()
    mine?.close()
  },
)
