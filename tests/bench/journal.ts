/** What `journal.mjs` measures, bundled on the fly: ten years of practice, written as the program writes it, and read. */
import { createHash } from 'node:crypto'
import { appendFileSync, mkdirSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import type { Body, Event } from '../../src/ladder/event.ts'
import { historiesOf, summary, type Visit } from '../../src/ladder/history.ts'
import { DEFAULT_RULES } from '../../src/ladder/rules.ts'
import { MARKS, type Tempo, tempo } from '../../src/music/tempo.ts'
import { type Home, homeAt } from '../../src/store/home.ts'
import { journalFolder } from '../../src/store/journal.ts'
import { byTime, recordId } from '../../src/store/log.ts'
import { encode } from '../../src/store/record.ts'
import { readPractice } from '../../src/store/snapshot.ts'
import { allEvents } from '../store/all-events.ts'

const YEARS = 10
const REPETITIONS = 500_000
const SECTIONS = 60
const A_VISIT = 20
const VISITS_A_DAY = 6

/** Chance that is the same in every run: mulberry32 (from memory; any generator would do). */
const fixedChance = (seed: number) => (): number => {
  seed = (seed + 0x6d2b79f5) | 0
  let t = Math.imul(seed ^ (seed >>> 15), 1 | seed)
  t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
  return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32
}

const chance = fixedChance(11)
const upTo = (n: number): number => Math.floor(chance() * n)
const name = (): string => Array.from({ length: 20 }, () => upTo(16).toString(16)).join('')

/** The events of one day: visits of twenty repetitions, three in four clean, up and down the ladder. */
const day = (at: number, visits: number): readonly Event[] => {
  const session = name()
  const events: Event[] = []
  let [n, now, visit] = [0, at, '']
  const add = (body: Body): void => {
    n++
    if (body.kind === 'visit') visit = recordId(session, n)
    events.push({
      ...body,
      id: recordId(session, n),
      session,
      n,
      visit,
      time: new Date(now).toISOString(),
      offset: 60,
    })
  }
  for (let v = 0; v < visits; v++) {
    const from = upTo(MARKS.length - 14)
    const rungs = MARKS.slice(from, from + 14).map(bpm => tempo(bpm))
    const key = `section p${String(upTo(SECTIONS)).padStart(7, '0')} even`
    add({ kind: 'visit', key, rungs, at: 0, rules: DEFAULT_RULES })
    let [rung, row, slips] = [0, 0, 0]
    for (let rep = 1; rep <= A_VISIT; rep++) {
      now += 14_000 + upTo(8000)
      const clean = chance() < 0.75
      // Every second slip stops the music somewhere.
      const stopped = !clean && chance() < 0.5
      const place = stopped ? { place: `${41 + upTo(8)}.${1 + upTo(4)}` } : {}
      const tempo = rungs[rung] as (typeof rungs)[number]
      add({ kind: 'verdict', rep, tempo, whole: !stopped, clean, ...place })
      row = clean ? row + 1 : 0
      slips = clean ? 0 : slips + 1
      if (row === 3) [rung, row] = [Math.min(rung + 1, rungs.length - 1), 0]
      if (slips === 2) [rung, slips] = [Math.max(rung - 1, 0), 0]
    }
    now += 120_000
  }
  return events
}

const fileOf = (home: Home, month: number): string =>
  join(
    journalFolder(home),
    'desk00000001',
    `${2021 + Math.floor(month / 12)}-${String((month % 12) + 1).padStart(2, '0')}.jsonl`,
  )

const store = (home: Home, month: number, events: readonly Event[]): void =>
  appendFileSync(fileOf(home, month), events.map(e => `\n${encode(e)}\n`).join(''))

/** Ten years in month files; `each` gets the same events. */
export const tenYears = (root: string, each: (events: readonly Event[]) => void): void => {
  const home = homeAt(root)
  mkdirSync(join(journalFolder(home), 'desk00000001'), { recursive: true })
  const months = YEARS * 12
  const days = Math.round(REPETITIONS / A_VISIT / VISITS_A_DAY / months)
  for (let month = 0; month < months; month++)
    for (let d = 0; d < days; d++) {
      const at = Date.UTC(2021 + Math.floor(month / 12), month % 12, 1 + (d % 28), d < 28 ? 9 : 15)
      const events = day(at, VISITS_A_DAY)
      store(home, month, events)
      each(events)
    }
}

/** One more visit in the last month, as between two starts of the program. */
export const oneMore = (root: string): void =>
  store(homeAt(root), YEARS * 12 - 1, day(Date.UTC(2030, 11, 30, 18), 1))

export const forget = (root: string): void => rmSync(homeAt(root).cache, { recursive: true, force: true })

/** What was asked: ceilings, last verdicts and counts of all visits, by key. As a hash, to be compared. */
const answers = (visits: readonly Visit[]): { keys: number; visits: number; hash: string } => {
  const { of } = historiesOf(visits)
  const keys = [...new Set(visits.map(v => v.key))]
  const all = keys.map(key => [key, of(key)] as const).sort(([a], [b]) => (a < b ? -1 : 1))
  const hash = createHash('sha1').update(JSON.stringify(all)).digest('hex').slice(0, 12)
  return { keys: all.length, visits: visits.length, hash }
}

const timed = async (get: () => Promise<readonly Visit[]> | readonly Visit[]) => {
  const start = performance.now()
  const visits = await get()
  historiesOf(visits)
  const ms = performance.now() - start
  return { ms, mb: process.memoryUsage().rss / 1e6, ...answers(visits) }
}

export const files = (root: string) => timed(async () => (await readPractice(homeAt(root))).visits)

/** All events in memory at once and no snapshot: what reading would be without it and without its file by file. */
export const plainly = (root: string) =>
  timed(async () => (await allEvents(homeAt(root))).visits.flatMap(v => summary(v) ?? []))

/** The part of better-sqlite3 that is used here. */
export type Database = {
  exec(sql: string): void
  prepare(sql: string): { run(...values: unknown[]): void; iterate(): IterableIterator<Row>; all(): Row[] }
  transaction(f: () => void): () => void
}
// biome-ignore lint/suspicious/noExplicitAny: a row is what the query says
type Row = Record<string, any>

const TABLES = `
  CREATE TABLE events (visit TEXT, n INTEGER, id TEXT PRIMARY KEY, session TEXT, time TEXT, "offset" INTEGER, k TEXT,
    rep INTEGER, tempo TEXT, whole INTEGER, clean INTEGER, place TEXT, opening TEXT) WITHOUT ROWID;
  CREATE TABLE visits (id TEXT PRIMARY KEY, key TEXT, time TEXT, "offset" INTEGER, clean INTEGER, verdicts INTEGER,
    played INTEGER, seconds INTEGER, ceiling TEXT, goal INTEGER, stopped TEXT, slipped INTEGER, ltime TEXT,
    loffset INTEGER, rule TEXT, stops TEXT, air REAL) WITHOUT ROWID;`

const tempoText = (t: Tempo | null | undefined): string | null => (t ? JSON.stringify(t) : null)
const known = new Map<string, Tempo>()
const tempoOf = (text: string): Tempo => {
  const t = known.get(text) ?? (JSON.parse(text) as Tempo)
  known.set(text, t)
  return t
}

/** The same events in a database, and beside them a table of what each visit came to, as a program would keep it. */
export const intoDatabase = (db: Database) => {
  db.exec(TABLES)
  const event = db.prepare(`INSERT INTO events VALUES (${Array(13).fill('?').join()})`)
  const visit = db.prepare(`INSERT INTO visits VALUES (${Array(17).fill('?').join()})`)
  const bit = (b: boolean | undefined): number => (b ? 1 : 0)
  return (events: readonly Event[]): void =>
    db.transaction(() => {
      for (const e of events) {
        const rest =
          e.kind === 'verdict'
            ? [e.rep, tempoText(e.tempo), bit(e.whole), bit(e.clean), e.place ?? null, null]
            : [null, null, null, null, null, JSON.stringify(e)]
        event.run(e.visit, e.n, e.id, e.session, e.time, e.offset, e.kind, ...rest)
      }
      for (const id of new Set(events.map(e => e.visit))) {
        const v = summary(events.filter(e => e.visit === id)) as Visit
        const { last } = v
        visit.run(
          ...[v.id, v.key, v.time, v.offset, v.clean, v.verdicts, v.played, v.seconds, tempoText(v.ceiling)],
          ...[bit(v.goal), tempoText(last?.tempo), bit(last?.slipped), last?.time, last?.offset],
          ...[v.rule, JSON.stringify(v.stops), v.air],
        )
      }
    })()
}

/** All events read from the database in order and folded, as the files are without a snapshot. */
export const fromEvents = (db: Database) =>
  timed(() => {
    const visits: Visit[] = []
    let events: Event[] = []
    const fold = (): void => {
      visits.push(...[summary(events) ?? []].flat())
      events = []
    }
    for (const r of db.prepare('SELECT * FROM events ORDER BY visit, n').iterate()) {
      if (events.length > 0 && r.visit !== events[0]?.visit) fold()
      const { id, session, n, visit, time, offset, rep } = r
      const where = { id, session, n, visit, time, offset }
      if (r.kind !== 'verdict') events.push(JSON.parse(r.opening))
      else {
        const [whole, clean] = [r.whole === 1, r.clean === 1]
        events.push({
          kind: 'verdict',
          rep,
          tempo: tempoOf(r.tempo),
          whole,
          clean,
          ...(r.place ? { place: r.place } : {}),
          ...where,
        })
      }
    }
    fold()
    return visits.sort(byTime)
  })

/** Only the table of visits read, as the snapshot is. */
export const fromVisits = (db: Database) =>
  timed(() =>
    db
      .prepare('SELECT * FROM visits ORDER BY time, id')
      .all()
      .map(({ ceiling, goal, stopped, slipped, ltime, loffset, ...v }): Visit => {
        const last = { tempo: tempoOf(stopped), slipped: slipped === 1, time: ltime, offset: loffset }
        return {
          ...{ id: v.id, key: v.key, time: v.time, offset: v.offset },
          ...{ clean: v.clean, verdicts: v.verdicts, played: v.played, seconds: v.seconds },
          ...{ ceiling: ceiling === null ? null : tempoOf(ceiling), goal: goal === 1 },
          last: ltime === null ? null : last,
          rule: v.rule,
          stops: JSON.parse(v.stops),
          air: v.air,
        }
      }),
  )
