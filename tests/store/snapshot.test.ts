import { existsSync, mkdirSync, readFileSync, rmSync, statSync, utimesSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Body } from '../../src/ladder/event.ts'
import { historiesOf, summary } from '../../src/ladder/history.ts'
import { tempo } from '../../src/music/tempo.ts'
import { clashes, type FileSummary, hashOf, summarize } from '../../src/store/file-summary.ts'
import type { Home } from '../../src/store/home.ts'
import { journalFolder } from '../../src/store/journal.ts'
import { recordId } from '../../src/store/log.ts'
import { foldFiles, practiceOf, readPractice, snapshotFile } from '../../src/store/snapshot.ts'
import { parseSnapshot, SNAPSHOT_VERSION, snapshotText } from '../../src/store/snapshot-text.ts'
import { byKey, histories } from '../ladder/histories.ts'
import { allEvents } from './all-events.ts'
import { after, type Files, fates, journals, lay, record } from './journals.ts'
import { newHome } from './scene.ts'
import { opening, verdict } from './visit.ts'

/** What the events themselves say, all of them read and folded at once, without any of what is tested here. */
const plainly = async (home: Home) => {
  const read = await allEvents(home)
  const visits = read.visits.flatMap(v => summary(v) ?? [])
  return { practice: { ...read, visits }, histories: histories(read.visits) }
}

const event = (session: string, n: number, body: Body = n === 1 ? opening() : verdict(n)) => ({
  ...body,
  id: recordId(session, n),
  session,
  n,
  visit: recordId(session, 1),
  time: new Date(Date.UTC(2031, 2, 14, 15, 0, n * 20)).toISOString(),
  offset: 60,
})
const visit = (session: string, length: number): string =>
  Array.from({ length }, (_, i) => record(event(session, i + 1))).join('')

const kept = (home: Home): ReadonlyMap<string, FileSummary> =>
  new Map(parseSnapshot(readFileSync(snapshotFile(home), 'utf8'))?.map(f => [f.file, f]))

describe('with the snapshot and without it the answers are the same', () => {
  it('whatever happened to the files since: copies, cuts, rubbish, other machines', async () => {
    const seen = { ceilings: 0, stops: 0, airs: 0, copies: 0, damaged: 0, unopened: 0, refolded: 0 }
    const story = fc.tuple(journals, fc.array(fc.tuple(fc.nat(20), fates), { maxLength: 6, size: 'max' }))
    await fc.assert(
      fc.asyncProperty(story, async ([first, steps]) => {
        const home = newHome()
        let files: Files = first
        lay(home, files)
        for (const step of [null, ...steps]) {
          if (step) files = after(files, ...step)
          rmSync(journalFolder(home), { recursive: true, force: true })
          lay(home, files)
          const truth = await plainly(home)
          const practice = await readPractice(home, 0)
          expect(practice).toEqual(truth.practice)
          expect(byKey(historiesOf(practice.visits))).toEqual(byKey(truth.histories))
          expect(await readPractice(home, 0)).toEqual(practice)
          seen.ceilings += practice.visits.filter(v => v.ceiling).length
          seen.stops += practice.visits.filter(v => v.stops.length > 0).length
          seen.airs += practice.visits.filter(v => v.air !== null).length
          seen.damaged += practice.damaged.length
          seen.unopened += practice.unopened
          seen.copies += Object.keys(files).filter(name => name.includes('copy')).length
          seen.refolded += clashes(await foldFiles(home, new Map())).size
        }
      }),
      { numRuns: 40 },
    )
    // All of it must have happened.
    for (const [what, times] of Object.entries(seen)) expect(times, what).toBeGreaterThan(1)
  })

  it('every summary comes back as it went in', () => {
    fc.assert(
      fc.property(journals, files => {
        const all = Object.entries(files).map(([name, text]) => summarize(Buffer.from(text), name))
        expect(parseSnapshot(snapshotText(all))).toEqual(all)
      }),
      { numRuns: 80 },
    )
  })
})

describe('a file that was added to', () => {
  it('is folded again, and it alone', async () => {
    const home = newHome()
    lay(home, { 'desk/2031-01.jsonl': visit('aaaa', 5), 'desk/2031-02.jsonl': visit('bbbb', 5) })
    await readPractice(home, 0)
    const before = kept(home)
    lay(home, { 'desk/2031-02.jsonl': visit('bbbb', 5) + visit('cccc', 3) })
    const files = await foldFiles(home, before)
    expect(files.map(f => before.get(f.file) === f)).toEqual([true, false])
    expect((await practiceOf(home, files)).visits.map(v => v.id)).toEqual(
      ['aaaa', 'bbbb', 'cccc'].map(s => recordId(s, 1)),
    )
  })

  it('is noticed by what it holds, not by its time', async () => {
    const home = newHome()
    const name = 'desk/2031-01.jsonl'
    const path = join(journalFolder(home), name)
    lay(home, { [name]: visit('aaaa', 5) })
    await readPractice(home, 0)
    const { atime, mtime, size } = statSync(path)
    const last = record(event('aaaa', 5, { ...verdict(5), clean: false } as Body))
    writeFileSync(path, (visit('aaaa', 4) + last).slice(0, size))
    utimesSync(path, atime, mtime)
    expect((await readPractice(home, 0)).visits).toEqual((await plainly(home)).practice.visits)
  })

  it('a touched one is not folded again', async () => {
    const home = newHome()
    lay(home, { 'desk/2031-01.jsonl': visit('aaaa', 5) })
    await readPractice(home, 0)
    utimesSync(join(journalFolder(home), 'desk/2031-01.jsonl'), 0, 0)
    const before = kept(home)
    expect((await foldFiles(home, before))[0]).toBe(before.get('desk/2031-01.jsonl'))
  })
})

describe('the snapshot', () => {
  it.each([
    ['cut short', (text: string) => text.slice(0, -20)],
    ['one digit changed', (text: string) => text.replace('"size":', '"size":1')],
    ['empty', () => ''],
    ['of another program', () => '{"files":[]}\n'],
    ['of another version', (text: string) => text.replace(/snapshot \d+/, 'snapshot 0')],
    ['that knew other kinds of lines', (text: string) => text.replace(',takeBack', '')],
    ['with another line end', (text: string) => `${text.slice(0, -1)}\r\n`],
  ])('%s is ignored and made anew', async (_, spoil) => {
    const home = newHome()
    lay(home, { 'desk/2031-01.jsonl': visit('aaaa', 8) })
    const practice = await readPractice(home, 0)
    const text = readFileSync(snapshotFile(home), 'utf8')
    expect(spoil(text)).not.toBe(text)
    writeFileSync(snapshotFile(home), spoil(text))
    expect(await readPractice(home, 0)).toEqual(practice)
    expect(readFileSync(snapshotFile(home), 'utf8')).toBe(text)
  })

  it('is only for its owner, and deleting the cache is always safe', async () => {
    const home = newHome()
    lay(home, { 'desk/2031-01.jsonl': visit('aaaa', 8) })
    const practice = await readPractice(home, 0)
    if (process.platform !== 'win32') expect(statSync(snapshotFile(home)).mode & 0o777).toBe(0o600)
    rmSync(home.cache, { recursive: true })
    expect(await readPractice(home, 0)).toEqual(practice)
  })

  it('is not written for a journal that is read in a moment', async () => {
    const home = newHome()
    lay(home, { 'desk/2031-01.jsonl': visit('aaaa', 8) })
    await readPractice(home)
    expect(existsSync(home.cache)).toBe(false)
  })

  it('is written from so many bytes on that had to be folded, and not again while nothing is new', async () => {
    const home = newHome()
    const text = visit('aaaa', 8)
    lay(home, { 'desk/2031-01.jsonl': text })
    await readPractice(home, text.length + 1)
    expect(existsSync(home.cache)).toBe(false)
    await readPractice(home, text.length)
    const { ino } = statSync(snapshotFile(home))
    await readPractice(home, 1)
    expect(statSync(snapshotFile(home)).ino).toBe(ino)
    const more = visit('bbbb', 2)
    lay(home, { 'desk/2031-02.jsonl': more })
    await readPractice(home, more.length + 1)
    expect(kept(home).size).toBe(1)
    await readPractice(home, more.length)
    expect(kept(home).size).toBe(2)
  })

  it('that cannot be written is missed by nobody', async () => {
    const home = newHome()
    lay(home, { 'desk/2031-01.jsonl': visit('aaaa', 8) })
    mkdirSync(dirname(home.cache), { recursive: true })
    writeFileSync(home.cache, 'a file where the folder should be')
    expect((await readPractice(home, 0)).visits).toHaveLength(1)
    expect(readFileSync(home.cache, 'utf8')).toBe('a file where the folder should be')
  })

  it('holds no file that could not be read, which is told each time', async () => {
    const home = newHome()
    mkdirSync(join(journalFolder(home), 'desk', 'folder.jsonl'), { recursive: true })
    for (let i = 0; i < 2; i++)
      expect((await readPractice(home, -1)).damaged).toEqual([
        { file: join(journalFolder(home), 'desk', 'folder.jsonl'), line: 0 },
      ])
    expect(kept(home).size).toBe(0)
  })

  it('writes what comes again and again once', () => {
    const text = snapshotText([
      summarize(Buffer.from(['aaaa', 'bbbb', 'cccc'].map(s => visit(s, 4)).join('')), 'march'),
    ])
    expect(text.split('weir/41-44 even').length - 1).toBe(1)
    expect(text.split('"n":92,').length - 1).toBe(1)
  })

  it('of a copy with the same lines asks for no file to be read again', () => {
    const file = (text: string) => summarize(Buffer.from(text), 'file')
    const [a, b] = [visit('aaaa', 8), visit('bbbb', 3)]
    expect(clashes([file(a + b), file(b), file(a)])).toEqual(new Set())
    expect(clashes([file(a + b), file(visit('bbbb', 2)), file(a)])).toEqual(new Set([recordId('bbbb', 1)]))
  })
})

/** Chance that never changes: mulberry32 (from memory; any generator would do). */
const fixedChance = (seed: number) => (): number => {
  seed = (seed + 0x6d2b79f5) | 0
  let t = Math.imul(seed ^ (seed >>> 15), 1 | seed)
  t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
  return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32
}

it('a change of what a visit comes to makes all older snapshots void', () => {
  const chance = fixedChance(41)
  const one = (n: number): Body => {
    const [x, y] = [chance(), chance()]
    const at = tempo([92, 92, 96, 100, 94][Math.floor(y * 5)] as number)
    if (x < 0.8) {
      const stop = x > 0.7 ? { place: `${41 + Math.floor(y * 4)}.${n % 4}` } : {}
      const [whole, clean] = [x > 0.05, x < 0.6]
      const long = whole && clean && n % 3 > 0 ? { air: Math.round(500 + y * 700) / 100 } : {}
      return { kind: 'verdict', rep: n, tempo: at, whole, clean, ...stop, ...long }
    }
    if (x < 0.88)
      return {
        kind: 'unjudged',
        rep: n,
        tempo: at,
        why: y < 0.5 ? 'silent' : y < 0.8 ? 'unclear' : 'interrupted',
      }
    return x < 0.94 ? { kind: 'takeBack', of: recordId('aaaa', n - 2) } : { kind: 'move', to: at }
  }
  const visits = Array.from({ length: 60 }, (_, v) => {
    const up = opening() as Extract<Body, { kind: 'visit' }>
    // Every third ladder leads down.
    const first = v % 3 === 2 ? { ...up, key: 'section p0000001 down', rungs: up.rungs.toReversed() } : up
    return Array.from({ length: 40 }, (_, i) => {
      // Every eighth repetition comes after a pause, longer and longer ones.
      const time = new Date(Date.UTC(2031, 2, 14, 15, 0, 20 * i + (i >> 3) * v * 10)).toISOString()
      return { ...event('aaaa', i + 1, i === 0 ? first : one(i + 1)), time }
    })
  })
  const said = visits.map(v => JSON.stringify(summary(v)))
  expect(said.filter(s => /"ceiling":\{/.test(s)).length).toBeGreaterThan(15)
  expect(
    [SNAPSHOT_VERSION, hashOf(said.join('\n'))],
    'the same lines come to something else now: raise SNAPSHOT_VERSION and put the new hash here',
  ).toEqual([4, 'kR1VNhxORFiMMvWM'])
})
