import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { diaryCommand } from '../../src/cli/diary.ts'
import { progressCommand } from '../../src/cli/progress.ts'
import { reportCommand } from '../../src/cli/report.ts'
import { ceilingOf, daysOf, type Sitting, verdicts } from './count.ts'
import { inTheJournal, remembered } from './journal-lines.ts'
import { type Month, playMonth, type Shown } from './month.ts'
import { DATES, OVERTURE, PAIN, WALTZ } from './script.ts'

type SectionJson = {
  readonly key: string
  readonly piece: string
  readonly passage: string
  readonly section: string | null
  readonly ceiling: string | null
  readonly days: readonly {
    day: string
    clean: number
    verdicts: number
    minutes: number
    best: string | null
    ceiling: string | null
  }[]
  readonly coldTakes: readonly { day: string; tempo: string; clean: boolean }[]
  readonly outlook: { readonly kind: string; readonly high?: number | null }
}

let month: Month
beforeAll(async () => {
  month = await playMonth({ seed: 1, kill: true })
}, 300_000)
afterAll(() => month?.clear())

/** Ladders of the same music: a section, all of them joined, and single repetitions. */
const ladder = (s: Sitting): boolean => s.kind === 'section' || s.kind === 'join' || s.kind === 'single'
const of = (key: string, upTo = '9999'): readonly Sitting[] =>
  month.sittings.filter(s => s.key === key && s.day <= upTo)
const shownAs = (what: RegExp): readonly Shown[] => month.shown.filter(s => what.test(s.what))
const progressOf = (s: Shown): readonly SectionJson[] => (s.json as { sections: SectionJson[] }).sections
const number = (typed: string | null): number | null => (typed === null ? null : Number(typed))
const atDesk = (s: Shown): boolean => s.on === 'desk'

describe('a month of practice, day by day through the commands', () => {
  test('it is a month: two thousand repetitions, right and wrong, on both machines', () => {
    const all = verdicts(month.sittings)
    expect(all.verdicts).toBeGreaterThan(1500)
    expect(all.verdicts - all.clean).toBeGreaterThan(200)
    for (const on of ['desk', 'lap']) expect(month.sittings.some(s => s.on === on)).toBe(true)
    for (const kind of ['section', 'join', 'seam', 'cold', 'single'])
      expect(month.sittings.filter(s => s.kind === kind).length, kind).toBeGreaterThan(1)
  })

  test('every verdict that was understood is in the journal, at its tempo and as it was meant, and nothing else', () => {
    expect(inTheJournal(month.machines.desk.home)).toEqual(remembered(month.sittings))
  })

  test('the ceilings of each evening are those that the player counted', () => {
    for (const s of shownAs(/^progress/).filter(s => s.day < '2031-03-17' || s.day > '2031-04-04'))
      for (const part of progressOf(s)) {
        const mine = of(part.key, s.day).filter(ladder)
        expect(number(part.ceiling), `${s.day} ${part.key}`).toBe(ceilingOf(mine))
      }
  })

  test('the steps of the staircase are the ceilings of the days', () => {
    const last = shownAs(/^progress/).at(-1) as Shown
    for (const part of progressOf(last)) {
      const mine = of(part.key).filter(ladder)
      const days = daysOf(mine)
      expect(part.days.map(d => [d.day, number(d.best)])).toEqual(days.map(d => [d.day, d.best]))
      expect(part.days.map(d => number(d.ceiling))).toEqual(
        days.map(d => ceilingOf(mine.filter(s => s.day <= d.day))),
      )
      expect(part.days.map(d => ({ clean: d.clean, verdicts: d.verdicts }))).toEqual(
        days.map(d => verdicts(mine.filter(s => s.day === d.day))),
      )
    }
  })

  test('cold takes stand as they happened', () => {
    const last = shownAs(/^progress/).at(-1) as Shown
    const told = progressOf(last).flatMap(p =>
      p.coldTakes.map(t => ({ key: `cold ${p.key}`, day: t.day, tempo: Number(t.tempo), clean: t.clean })),
    )
    const mine = month.sittings
      .filter(s => s.kind === 'cold')
      .flatMap(s => s.reps.map(r => ({ key: s.key, day: s.day, tempo: r.tempo, clean: r.clean })))
    const inOrder = (all: typeof mine) => all.map(t => JSON.stringify(t)).sort()
    // What was cut anew since has another name now.
    const keys = new Set(progressOf(last).map(p => `cold ${p.key}`))
    expect(inOrder(told)).toEqual(inOrder(mine.filter(t => keys.has(t.key))))
    expect(mine.length).toBeGreaterThan(10)
  })
})

describe('the plan of each day', () => {
  test('asks for no more minutes than there are, one thing after another', () => {
    for (const p of month.plans) {
      expect(p.items.length, p.day).toBeGreaterThan(0)
      // What is over stays as it was planned; what is open fits into what is left.
      const open = p.items.filter(i => i.state === 'open')
      let end = p.items.length === open.length ? 0 : (open[0]?.at ?? 0)
      for (const i of open) {
        expect(i.at, p.day).toBe(end)
        end = i.at + i.minutes
      }
      expect(end, p.day).toBeLessThanOrEqual(p.minutes)
    }
  })

  test('has a rest by the fifteenth minute of music and after 25 more, 30 before the end, where the day is longer than twenty', () => {
    for (const p of month.plans) {
      let since = 0
      let limit = 15
      const last = p.items.findLastIndex(i => i.kind === 'rest')
      for (const [n, i] of p.items.entries()) {
        if (i.kind === 'rest') [since, limit] = [0, n === last ? 30 : 25]
        else if (i.kind !== 'fundamentals') since += i.minutes
        if (p.minutes > 20) expect(since, `${p.day} ${i.clock}`).toBeLessThanOrEqual(limit)
      }
      if (p.minutes <= 20) expect(p.items.every(i => i.kind !== 'rest')).toBe(true)
    }
  })

  test('brings each section that is open at least on every third day of practice', () => {
    // After the day that pain cut short what was left of it comes first.
    const days = [...new Set(month.plans.map(p => p.day))].filter(d => d !== PAIN)
    /** What waited the whole day, and was not played either, not even once, cold. */
    const waited = (day: string | undefined): readonly string[] => {
      const plans = month.plans.filter(p => p.day === day).map(p => p.later.map(w => w.key))
      const played = month.sittings.filter(x => x.day === day).map(x => x.key.replace(/^cold /, ''))
      return (plans[0] ?? []).filter(k => plans.every(p => p.includes(k)) && !played.includes(k))
    }
    let seen = 0
    for (const [i, day] of days.entries()) {
      if (day > PAIN && days[i - 1] !== undefined && (days[i - 1] as string) < PAIN) continue
      const before = waited(days[i - 1])
      const twice = waited(days[i - 2]).filter(l => before.includes(l))
      expect(
        waited(day).filter(l => twice.includes(l)),
        day,
      ).toEqual([])
      seen += before.length
    }
    expect(seen).toBeGreaterThan(10)
  })

  test('asks how it was once the date is past, and no earlier; an answer ends the question', () => {
    const asked = (piece: string) =>
      month.plans.filter(p => p.questions.some(q => q.piece === piece)).map(p => p.day)
    expect(asked(OVERTURE).every(d => d > DATES.overture && d < '2031-03-30')).toBe(true)
    expect(asked(OVERTURE)).toContain('2031-03-27')
    expect(asked(WALTZ)).toEqual(['2031-04-07', '2031-04-08'])
  })

  test('keys of the fundamentals rotate: each of the twelve came, none twice before the others', () => {
    const keys = month.warmed.flatMap(w => w.keys)
    expect(new Set(keys).size).toBe(12)
    for (const day of month.warmed) expect(new Set(day.keys).size).toBe(day.keys.length)
  })
})

describe('a day with pain', () => {
  test('has no plan any more: the page says only to stop', () => {
    const pages = shownAs(/^today/).filter(s => s.day === PAIN)
    expect(pages.map(p => p.lines.length > 3)).toEqual([true, false])
    expect(pages[1]?.lines).toEqual([
      'Stop for today, and see a physician or therapist who treats musicians.',
    ])
    expect(pages[1]?.json).toMatchObject({ items: [] })
  })

  test('whoever opens a visit all the same is told so first, and at its end nothing is still to be reached', () => {
    const visit = shownAs(/^practice/)
      .filter(s => s.day === PAIN)
      .at(-1)
    expect(visit?.lines[1]).toContain('Stop for today')
    expect(visit?.lines.join(' ')).not.toContain('Not yet')
  })
})

describe('what may come', () => {
  /** Days with a rung completed, since the last gap of more than three days. */
  const known = (sittings: readonly Sitting[], today: string): number => {
    let count = 0
    let before = ''
    for (const d of [...daysOf(sittings), { day: today, best: null }]) {
      if (before !== '' && Date.parse(d.day) - Date.parse(before) > 3 * 86_400_000) count = 0
      if (d.best !== null) count++
      before = d.day
    }
    return count
  }

  test('pace after up to two days, an early range after three or four, a range from five on', () => {
    const seen = { pace: 0, early: 0, range: 0, level: 0, reached: 0 } as Record<string, number>
    for (const s of shownAs(/^progress/).filter(s => s.day < '2031-03-17' || s.day > '2031-04-04'))
      for (const part of progressOf(s)) {
        const days = known(of(part.key, s.day).filter(ladder), s.day)
        const { kind: k } = part.outlook
        seen[k] = (seen[k] ?? 0) + 1
        if (k === 'reached') continue
        const may = days < 3 ? ['pace'] : days < 5 ? ['early', 'level'] : ['range', 'level']
        expect(may, `${s.day} ${part.key} ${days}`).toContain(k)
      }
    for (const k of ['pace', 'early', 'range', 'reached']) expect(seen[k], k).toBeGreaterThan(0)
  })
})

describe('what is told of it', () => {
  test('the diary counts the days and minutes of each week as the player does', async () => {
    const { json } = await month.ask('desk', 'diary', ctx => diaryCommand(ctx, { from: '2031-03-10' }))
    const { weeks } = json as { weeks: { from: string; to: string; played: number; minutes: number }[] }
    for (const w of weeks) {
      const mine = month.sittings.filter(s => s.day >= w.from && s.day <= w.to)
      const days = new Set([...mine, ...month.warmed].map(s => s.day).filter(d => d >= w.from && d <= w.to))
      expect(w.played).toBe(days.size)
      // Of each visit what comes before the first verdict is left out: a count-in and the passage once.
      const warm = month.warmed.filter(x => x.day >= w.from && x.day <= w.to)
      const minutes = [...mine, ...warm].reduce((n, s) => n + s.seconds, 0) / 60
      const visits = mine.length + 3 * warm.length
      expect(w.minutes).toBeLessThanOrEqual(Math.ceil(minutes))
      expect(w.minutes).toBeGreaterThan(minutes - visits / 3)
    }
  })

  test('the report counts as the player does', async () => {
    for (const piece of [OVERTURE, WALTZ]) {
      const { json } = await month.ask('desk', 'report', ctx => reportCommand(ctx, piece, {}))
      const { sections, daysPlayed } = json as {
        daysPlayed: number
        sections: { key: string; clean: number; verdicts: number; ceiling: string | null }[]
      }
      const mine = month.sittings.filter(s => s.name.startsWith(piece))
      expect(daysPlayed).toBe(new Set(mine.map(s => s.day)).size)
      for (const s of sections) {
        const own = of(s.key).filter(ladder)
        expect({ clean: s.clean, verdicts: s.verdicts }, s.key).toEqual(verdicts(own))
        expect(number(s.ceiling)).toBe(ceilingOf(own))
      }
    }
  })

  test('both machines tell the same after the sync', async () => {
    const told = async (on: 'desk' | 'lap') => [
      (await month.ask(on, 'diary', ctx => diaryCommand(ctx, { from: '2031-03-01' }))).json,
      (await month.ask(on, 'progress', ctx => progressCommand(ctx, undefined))).json,
      (await month.ask(on, 'report', ctx => reportCommand(ctx, OVERTURE, {}))).json,
    ]
    expect(await told('lap')).toEqual(await told('desk'))
    expect(inTheJournal(month.machines.lap.home)).toEqual(inTheJournal(month.machines.desk.home))
  })

  test('nothing of it reads as a fault: no NaN, undefined, null or empty name in any line or number of any day', () => {
    const wrong = /\bNaN\b|undefined|\[object|\bnull\b|Infinity|, ,|: ,|\(\)|went wrong that|skipped/
    expect(month.shown.length).toBeGreaterThan(300)
    for (const s of month.shown) {
      for (const line of s.lines) expect(line, `${s.day} ${s.what}`).not.toMatch(wrong)
      expect(JSON.stringify(s.json), `${s.day} ${s.what}`).not.toMatch(
        /NaN|undefined|"label":""|"title":""|"name":""/,
      )
    }
  })

  test('no line of a plan or a staircase is longer than 80 columns', () => {
    // A command to be typed is never broken.
    for (const s of shownAs(/^(today|progress)/).filter(atDesk))
      for (const line of s.lines.filter(l => !l.includes('gradino practice')))
        expect(line.length, `${s.day} ${line}`).toBeLessThanOrEqual(80)
  })
})
