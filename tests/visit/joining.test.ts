import { describe, expect, test } from 'vitest'
import { type Histories, historiesOf, type Visit } from '../../src/ladder/history.ts'
import { joinKey, sectionKey } from '../../src/ladder/key.ts'
import { frac } from '../../src/music/fraction.ts'
import { checked, wrong } from '../../src/music/result.ts'
import { tempo } from '../../src/music/tempo.ts'
import type { Passage, Piece } from '../../src/repertoire/piece.ts'
import {
  blocksOf,
  joiningOf,
  type Offer,
  offerFor,
  offerKey,
  offerLine,
  offerName,
  offersOf,
  offerText,
  withReached,
} from '../../src/visit/joining.ts'
import { passageTarget } from '../../src/visit/target.ts'

const TODAY = '2026-03-14'
const none = () => wrong('no rhythm')

/** Twelve measures of 4/4 to 120 in three sections of four. */
const passage: Passage = {
  id: 'weir0001',
  name: 'run at the weir',
  measures: '41-52',
  meter: '4/4',
  count: 12,
  pickup: null,
  goal: '120',
  sections: [
    { id: 's0000001', name: '1', from: '41', to: '45' },
    { id: 's0000002', name: '2', from: '45', to: '49' },
    { id: 's0000003', name: '3', from: '49', to: 'end' },
  ],
}
const piece: Piece = { v: 2, id: 'a1b2c3d4', title: 'Weir Street Overture', passages: [passage] }
const [one, two, three] = ['s0000001', 's0000002', 's0000003'] as const

/** A visit in which a rung was completed (null = none), at noon of a day. */
const visit = (key: string, ceiling: number | null, day = '2026-03-13'): Visit => ({
  id: `${key} ${day}`,
  key,
  time: `${day}T12:00:00.000Z`,
  offset: 0,
  clean: 3,
  verdicts: 3,
  played: 3,
  seconds: 60,
  ceiling: ceiling === null ? null : tempo(ceiling),
  goal: false,
  last: { tempo: tempo(ceiling ?? 60), slipped: false, time: `${day}T12:00:00.000Z`, offset: 0 },
  rule: '3-in-a-row',
  stops: [],
  air: null,
})
const at = (...tempos: readonly number[]): readonly Visit[] =>
  tempos.map((t, i) => visit(sectionKey([one, two, three][i] as string), t))
const names = (visits: readonly Visit[]): string =>
  blocksOf(historiesOf(visits), passage, TODAY)
    .map(run => run.map(b => b.name).join(' '))
    .join(' | ')
const offers = (visits: readonly Visit[], p = passage): readonly Offer[] =>
  offersOf(historiesOf(visits), piece, p, TODAY)
const join12 = joinKey([one, two])

describe('two neighbors', () => {
  test('are ready to be joined from 85 % of their goal on, both of them', () => {
    expect(offers(at(102, 102, 60)).map(offerText)).toEqual(['1 and 2 are ready to be joined'])
    expect(offers(at(101, 102, 60))).toEqual([])
    expect(offers(at(102, 101, 60))).toEqual([])
    expect(offers(at(102, 60, 102))).toEqual([])
    expect(offers([])).toEqual([])
    expect(offers(at(110, 110, 110)).map(offerText)).toEqual([
      '1 and 2 are ready to be joined',
      '2 and 3 are ready to be joined',
    ])
  })

  test('are offered by what they are called, with the command where no key leads there', () => {
    const [offer] = offers(at(110, 110, 60)) as [Offer]
    expect(offerKey(offer)).toBe(join12)
    expect(offerName(offer)).toBe('Weir Street Overture/run at the weir/1+2')
    expect(offerLine(offer, false)).toBe('1 and 2 are ready to be joined')
    expect(offerLine(offer, true)).toBe(
      '1 and 2 are ready to be joined: gradino practice "Weir Street Overture/run at the weir/1+2"',
    )
  })
})

describe('sections that are played as one', () => {
  const ready = at(110, 110, 110)

  test('stand for their sections once a rung of the join was completed', () => {
    expect(names(ready)).toBe('1 2 3')
    expect(names([...ready, visit(join12, 88)])).toBe('1+2 3')
    expect(names([...ready, visit(join12, null)])).toBe('1 2 3')
  })

  test('for a week after it was played last', () => {
    expect(names([...ready, visit(join12, 88, '2026-03-07')])).toBe('1+2 3')
    expect(names([...ready, visit(join12, 88, '2026-03-06')])).toBe('1 2 3')
  })

  test('as long as the last day of it completed a rung; today is not over', () => {
    const yes = visit(join12, 88, '2026-03-12')
    expect(names([...ready, yes, visit(join12, null, '2026-03-13')])).toBe('1 2 3')
    expect(names([...ready, yes, visit(join12, null, TODAY)])).toBe('1+2 3')
    expect(names([...ready, visit(join12, null, '2026-03-12'), visit(join12, 88, TODAY)])).toBe('1+2 3')
  })

  test('and as long as all of them are ready', () => {
    expect(names([...at(110, 60, 110), visit(join12, 88)])).toBe('1 2 3')
  })

  test('are offered together with the next one', () => {
    const all = [...ready, visit(join12, 110)]
    expect(offers(all).map(offerText)).toEqual(['1+2 and 3 are ready to be joined'])
    expect(offers(all).map(offerName)).toEqual(['Weir Street Overture/run at the weir/1+2+3'])
    // All of them are the passage.
    expect(offers(all).map(offerKey)).toEqual([sectionKey(passage.id)])
  })

  test('all of them are the passage, once it has a ceiling itself', () => {
    expect(names([...ready, visit(sectionKey(passage.id), 88)])).toBe('1+2+3')
    expect(names([...ready, visit(sectionKey(passage.id), null)])).toBe('1 2 3')
    expect(names([...at(110, 110, 60), visit(sectionKey(passage.id), 88)])).toBe('1 2 3')
    // A rest of it that nobody cut off is part of it, and is not ready.
    const some = { ...passage, sections: passage.sections?.slice(0, 2) ?? [] }
    const cut = blocksOf(historiesOf([...at(110, 110), visit(sectionKey(passage.id), 88)]), some, TODAY)
    expect(cut.flat().map(b => b.name)).toEqual(['1', '2', 'the rest: m. 49-52'])
    const one = { ...passage, sections: [{ ...passage.sections?.[0], to: 'end' }] } as Passage
    const alone = blocksOf(historiesOf([...at(110), visit(sectionKey(passage.id), 88)]), one, TODAY)
    expect(alone.flat().map(b => b.key)).toEqual([sectionKey('s0000001')])
  })
})

describe('the offer for what is practiced now', () => {
  const all: Histories = historiesOf(at(110, 110, 110))
  const target = (...names: readonly string[]) => {
    const sections = (passage.sections ?? []).filter(s => names.includes(s.name))
    return checked(passageTarget({ piece, passage, sections }, {}, none))
  }
  const offered = (t: Parameters<typeof offerFor>[1], h = all) => {
    const o = offerFor(h, t, TODAY)
    return o && offerName(o).split('/').at(-1)
  }

  test('is one that it belongs to; of the whole passage the first', () => {
    expect([offered(target('1')), offered(target('2')), offered(target('3'))]).toEqual(['1+2', '1+2', '2+3'])
    expect(offered(target())).toBe('1+2')
  })

  test('is not the join itself, but what follows it', () => {
    expect(offered(target('1', '2'))).toBe('2+3')
  })

  test('there is none in an altered rhythm, on a ladder that leads down, for a quick ladder, or where none is ready', () => {
    const t = target('1')
    const rhythm = { name: '3:1', words: '3:1', ratios: [3, 1], over: 1 }
    const { origin: _, ...quick } = t
    expect(offered({ ...t, rhythm })).toBeNull()
    expect(offered({ ...t, direction: 'down' })).toBeNull()
    expect(offered(quick)).toBeNull()
    expect(offered(t, historiesOf([]))).toBeNull()
  })

  test('counts what this visit has reached, and never less than was known', () => {
    const before = historiesOf(at(110, 60))
    const reached = (bpm: number | null) =>
      withReached(before, sectionKey(two), bpm === null ? null : tempo(bpm))
    expect(offered(target('1'), before)).toBeNull()
    expect(offered(target('1'), reached(102))).toBe('1+2')
    expect(offered(target('1'), reached(null))).toBeNull()
    expect(reached(50).of(sectionKey(two))?.ceiling).toEqual(tempo(60))
    expect(reached(60).of(sectionKey(two))).toBe(before.of(sectionKey(two)))
    expect(reached(66).of(sectionKey(two))).toMatchObject({
      ceiling: tempo(66),
      visits: [{ id: `${sectionKey(two)} 2026-03-13` }],
    })
    expect(reached(66).of(sectionKey(one))?.ceiling).toEqual(tempo(110))
    expect(withReached(before, sectionKey(three), tempo(66)).of(sectionKey(three))).toEqual({
      ceiling: tempo(66),
      last: null,
      visits: [],
    })
  })
})

describe('what is played to join them', () => {
  test('is both as one, and their seam: a measure on both sides', () => {
    const [offer] = offers(at(110, 110, 60)) as [Offer]
    const { seam, join } = checked(joiningOf(offer, none))
    expect(join.key).toBe(join12)
    expect(join.title).toContain('sections 1+2')
    expect(join.form.length).toEqual(frac(8))
    expect(seam.title).toContain('seam of 1+2')
    expect(seam.form.length).toEqual(frac(2))
    expect(seam.numbers).toEqual(['44', '45'])
    expect(seam.joins?.map(j => j.id)).toEqual([one, two])
  })

  test('two measures on each side are enough for that', () => {
    const two12 = {
      ...passage,
      sections: [
        { id: one, name: '1', from: '41', to: '43' },
        { id: two, name: '2', from: '43', to: '45' },
      ],
    }
    const [offer] = offers(at(110, 110), two12) as [Offer]
    expect(checked(joiningOf(offer, none)).seam.numbers).toEqual(['42', '43'])
  })

  test('or a beat, where one of them is a measure only', () => {
    const short = {
      ...passage,
      sections: [
        { id: one, name: '1', from: '41', to: '42' },
        { id: two, name: '2', from: '42', to: 'end' },
      ],
    }
    const [offer] = offers(at(110, 110), short) as [Offer]
    const { seam } = checked(joiningOf(offer, none))
    expect(seam.form.length).toEqual(frac(1, 2))
    expect(seam.numbers).toEqual(['41', '42'])
  })

  test('climbs as the player usually does', () => {
    const [offer] = offers(at(110, 110, 60)) as [Offer]
    expect(checked(joiningOf(offer, none, { dayStart: '95%' })).join.dayStart).toBe(0.95)
  })
})
