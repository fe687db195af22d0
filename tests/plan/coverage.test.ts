import fc from 'fast-check'
import { expect, test } from 'vitest'
import { type Histories, historiesOf, type Visit } from '../../src/ladder/history.ts'
import { decodeKey, idsOf, sectionKey, takeKey } from '../../src/ladder/key.ts'
import { dayAfter } from '../../src/music/day.ts'
import { measures } from '../../src/music/form.ts'
import { less } from '../../src/music/fraction.ts'
import { checked } from '../../src/music/result.ts'
import { type Tempo, tempo, tempoRatio, typed } from '../../src/music/tempo.ts'
import { type Day, dayOf } from '../../src/plan/day.ts'
import type { Work } from '../../src/plan/work.ts'
import { partsOf, seamsOf, worksOf } from '../../src/plan/works.ts'
import { spanOf } from '../../src/repertoire/ladder-of.ts'
import { passageForm } from '../../src/repertoire/passage-form.ts'
import type { Passage, Piece, Section } from '../../src/repertoire/piece.ts'
import { sectionsAndRest } from '../../src/repertoire/the-rest.ts'

/** A passage of twelve measures, m. 41-52, of which some stretches were cut out. */
const DAYS = 6
const FIRST = '2031-03-10'
const passage = (sections: readonly Section[]): Passage =>
  ({
    id: 'weir',
    name: 'run at the weir',
    measures: '41-52',
    meter: '4/4',
    count: 12,
    pickup: null,
    goal: '120',
    start: '60',
    sections,
  }) as Passage
const section = (id: string, from: number, to: number): Section => ({
  id,
  name: id,
  from: String(from),
  to: to > 52 ? 'end' : String(to),
})
const pieceOf = (p: Passage): Piece =>
  ({
    v: 2,
    id: 'piece',
    title: 'Weir Street Overture',
    readyBy: dayAfter(FIRST, DAYS),
    passages: [p],
  }) as Piece
const at = (day: number) => ({ wall: Date.parse(`${dayAfter(FIRST, day)}T18:00:00Z`), offset: 0 })

/** Which measures of the passage a key is music of. */
const measuresOf = (p: Passage, key: string): readonly number[] => {
  const { form } = checked(passageForm(p))
  const ids = idsOf(key)
  const own = sectionsAndRest(p).filter(s => ids.includes(s.id))
  const { from, to } = own.length === 0 ? { from: { n: 0, d: 1 }, to: form.length } : spanOf(p, own)
  return measures(form).flatMap((m, i) => (less(m.from, to) && less(from, m.to) ? [i] : []))
}
const keysOf = (d: Day): readonly string[] =>
  d.items.flatMap(i =>
    'key' in i ? [i.key] : 'take' in i ? [i.take.key] : 'takes' in i ? i.takes.map(t => t.key) : [],
  )

const visit = (key: string, day: number, ceiling: Tempo | null, clean = true): Visit => {
  const time = new Date(at(day).wall).toISOString()
  const last = { tempo: ceiling ?? tempo(60), slipped: !clean, time, offset: 0 }
  return {
    id: `${key}${day}`,
    key,
    time,
    offset: 0,
    clean: 3,
    verdicts: 3,
    played: 3,
    seconds: 240,
    ceiling,
    goal: false,
    last,
    rule: '3-in-a-row',
    stops: [],
    air: null,
  }
}

/** Each day as it is planned; a visit brings its ladder up by a tenth. */
const played = (p: Passage): readonly { readonly day: Day; readonly works: readonly Work[] }[] => {
  const visits: Visit[] = []
  return Array.from({ length: DAYS }, (_, d) => {
    const all: Histories = historiesOf(visits)
    const parts = partsOf(all, [pieceOf(p)])
    const [date, now] = [dayAfter(FIRST, d), at(d)]
    const works = worksOf(all, parts, date, now)
    const day = dayOf(works, seamsOf(all, parts, date, now), { date, minutes: 40, played: [] })
    for (const key of new Set(day.items.flatMap(i => (i.kind === 'section' ? [i.key] : [])))) {
      const up = Math.min(
        120,
        Math.round(tempoRatio(works.find(w => w.key === key)?.ceiling ?? tempo(60), tempo(1)) * 1.1),
      )
      visits.push(visit(key, d, tempo(up)))
    }
    for (const i of day.items)
      if (i.kind === 'cold') visits.push(visit(takeKey('cold', i.take.key), d, i.take.tempo))
    return { day, works }
  })
}

const anyCuts = fc
  .array(fc.tuple(fc.integer({ min: 41, max: 52 }), fc.integer({ min: 1, max: 6 })), {
    minLength: 1,
    maxLength: 4,
  })
  .map(all => all.map(([from, n], i) => section(`s${i}`, from, Math.min(53, from + n))))

test('over the days to the date each measure is climbed, whatever was cut', () => {
  fc.assert(
    fc.property(anyCuts, cuts => {
      const p = passage(cuts)
      const climbed = new Set(
        played(p).flatMap(({ day }) =>
          day.items.flatMap(i => (i.kind === 'section' ? measuresOf(p, i.key) : [])),
        ),
      )
      expect(climbed.size).toBe(12)
    }),
    { numRuns: 12 },
  )
})

test('the day before the last evening and the last evening play the whole passage, at a tempo that has a chance', () => {
  fc.assert(
    fc.property(anyCuts, cuts => {
      const days = played(passage(cuts))
      for (const { day, works } of days.slice(-2)) {
        const lowest = Math.min(...works.map(w => tempoRatio(w.ceiling ?? tempo(60), tempo(1))))
        const takes = day.items.flatMap(i => (i.kind === 'run' ? i.takes : []))
        expect(takes.map(t => t.key)).toEqual([sectionKey('weir')])
        for (const t of takes) {
          const bpm = tempoRatio(t.tempo ?? tempo(999), tempo(1))
          expect(bpm).toBeLessThanOrEqual(Math.max(60, lowest))
          expect(bpm).toBeGreaterThan(0.9 * Math.min(120, lowest))
        }
      }
    }),
    { numRuns: 8 },
  )
})

test('one section cut out of a passage: the rest stays in the plan as what it is', () => {
  const p = passage([section('s0', 44, 47)])
  const days = played(p)
  expect(days[0]?.works.map(w => w.label)).toEqual([
    'run at the weir, the rest: m. 41-43',
    'run at the weir, section s0, from m. 44',
    'run at the weir, the rest: m. 47-52',
  ])
  for (const { day } of days) expect(new Set(keysOf(day).flatMap(k => measuresOf(p, k))).size).toBe(12)
})

test('cold takes of a passage: one a day, before anything else of it, never of a part and the whole', () => {
  for (const { day } of played(passage([section('s0', 41, 47), section('s1', 47, 53)]))) {
    const seen: number[] = []
    for (const key of day.items.flatMap(i =>
      i.kind === 'cold' ? [i.take.key] : i.kind === 'section' ? [i.key] : [],
    )) {
      const here = measuresOf(passage([section('s0', 41, 47), section('s1', 47, 53)]), key)
      if (day.items.some(i => i.kind === 'cold' && i.take.key === key && !seen.includes(here[0] ?? -1)))
        expect(seen.some(m => here.includes(m))).toBe(false)
      seen.push(...here)
    }
  }
})

test('a new section begins from what its passage has reached, not from nothing', () => {
  const before = [visit(sectionKey('weir'), 0, tempo(100))]
  const all = historiesOf(before)
  const p = passage([section('s0', 44, 47)])
  const works = worksOf(all, partsOf(all, [pieceOf(p)]), dayAfter(FIRST, 1), at(1))
  // 92 % of 100.
  expect(works.map(w => w.next && typed(w.next))).toEqual(['92', '92', '92'])
  expect(decodeKey(works[0]?.key ?? '').kind).toBe('section')
})

test('a whole part as it was read has no ladder until it is cut; once it was played, it is played through each third day, at its true length', () => {
  const { start: _, ...open } = passage([])
  const whole: Passage = { ...open, count: 96, measures: '1-96', whole: true }
  const hard = { ...passage([]), id: 'coda', name: 'coda', measures: '60-65', count: 6 } as Passage
  const piece = { ...pieceOf(whole), passages: [whole, hard] }
  const dayWith = (all: Histories, day: number, minutes = 60): Day => {
    const works = worksOf(all, partsOf(all, [piece]), dayAfter(FIRST, day), at(day))
    return dayOf(works, [], { date: dayAfter(FIRST, day), minutes, played: [] })
  }
  const key = sectionKey('weir')
  const runOf = (d: Day) => d.items.filter(i => i.kind === 'run' && i.takes.some(t => t.key === key))
  const first = dayWith(historiesOf([]), 0)
  expect(first.items.some(i => i.kind === 'section' && i.key === key)).toBe(false)
  expect(runOf(first)).toEqual([])
  const after = (day: number, minutes?: number) =>
    dayWith(historiesOf([visit(takeKey('entry', key), 0, tempo(72))]), day, minutes)
  expect([1, 2, 3].map(d => runOf(after(d)).length)).toEqual([0, 0, 1])
  // 96 measures of four beats and four of count-in at 72, 60 % of 120, are 323 seconds; three more of pause: 5.4 min.
  expect(runOf(after(3)).map(i => i.minutes)).toEqual([5.5])
  // No run that is more than half the music of a day.
  expect(runOf(after(3, 15))).toEqual([])
})

test('a long passage with a start of its own is a ladder: the player says so', () => {
  const long = { ...passage([]), count: 96, measures: '1-96', whole: true } as Passage
  const all = historiesOf([])
  const works = worksOf(all, partsOf(all, [pieceOf(long)]), FIRST, at(0))
  expect(works.map(w => w.long)).toEqual([undefined])
})
