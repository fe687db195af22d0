import { describe, expect, it } from 'vitest'
import type { Body, Event } from '../../src/ladder/event.ts'
import { ceilings, countedEvents as counted, fold, inOrder } from '../../src/ladder/fold.ts'
import { frac } from '../../src/music/fraction.ts'
import { EXAMPLES, standing } from './examples.ts'
import { at, bpm, numbered, openingBody, play, rules, script } from './live.ts'

const ladder = { fold, ceilings }

describe('a visit, repetition by repetition', () => {
  it.each(EXAMPLES.map(x => [x.play, x.says, x] as const))('%s: %s', (_, __, x) => {
    expect(standing(ladder, x)).toMatchObject(x.gives)
  })
})

const opening = { rungs: [104, 108, 112], at: 1, rules: rules() }

/** A visit of plain lines, numbered as they come. */
const visit = (...bodies: readonly Body[]): readonly Event[] =>
  [openingBody(opening), ...bodies].map((body, i) => numbered(body, 's', i + 1, 's-1'))
const verdict = (rep: number, clean = true, whole = true, tempo = 108): Body => ({
  kind: 'verdict',
  rep,
  tempo: at(tempo),
  whole,
  clean,
})

describe('a ladder that ends short of the goal', () => {
  const low = { ...opening, at: 2, rules: { ...rules(), capped: true as const } }
  const three = [1, 2, 3].map(rep => verdict(rep, true, true, 112))
  const lines = [openingBody(low), ...three].map((body, i) => numbered(body, 's', i + 1, 's-1'))

  it('has its last rung done as any other, stays there, and has not reached the goal', () => {
    expect(fold(lines)).toMatchObject({ at: 2, row: 0, ceiling: at(112), goal: false })
    expect(fold(lines.slice(0, 3))).toMatchObject({ at: 2, row: 2, ceiling: null })
  })
})

it('twenty clean ones of the last twenty are counted as well as three', () => {
  const all = { ...opening, rules: { ...rules(), up: { kind: 'most' as const, n: 20, of: 20 } } }
  const lines = (n: number) =>
    [openingBody(all), ...Array.from({ length: n }, (_, i) => verdict(i + 1))].map((body, i) =>
      numbered(body, 's', i + 1, 's-1'),
    )
  expect(fold(lines(19))).toMatchObject({ at: 1, ceiling: null })
  expect(fold(lines(20))).toMatchObject({ at: 2, ceiling: at(108) })
})

describe('what a file may hold that no player did', () => {
  it('the same repetition judged clean three times is one clean repetition', () => {
    expect(fold(visit(verdict(1), verdict(1), verdict(1)))).toMatchObject({ at: 1, row: 1, ceiling: null })
  })

  it('a repetition that was left unanswered cannot be judged later', () => {
    const silent: Body = { kind: 'unjudged', rep: 2, tempo: at(108), why: 'silent' }
    expect(fold(visit(verdict(1), silent, verdict(2), verdict(3)))).toMatchObject({ row: 1 })
  })

  it('clean on a repetition that was cut counts for nothing', () => {
    expect(fold(visit(verdict(1), verdict(2), verdict(3, true, false)))).toMatchObject({ at: 1, row: 2 })
  })

  it('the same tempo in another note value is the same rung', () => {
    const dotted: Body = { ...verdict(3), tempo: { unit: frac(3, 8), bpm: frac(72) } } as Body
    expect(fold(visit(verdict(1), verdict(2), dotted))).toMatchObject({ at: 2, ceiling: at(108) })
  })

  it('taking back may come before what it takes back', () => {
    expect(fold(visit({ kind: 'takeBack', of: 's-3' }, verdict(1), verdict(2)))).toMatchObject({ row: 1 })
  })

  it('taking back a tempo by hand, the opening, or a taking back, changes nothing', () => {
    const lines = [verdict(1), { kind: 'move', to: at(104) }, verdict(2, true, true, 104)] as const
    const before = fold(visit(...lines))
    expect(before).toMatchObject({ at: 0, row: 1 })
    for (const of of ['s-1', 's-3', 's-5', 'nobody'])
      expect(fold(visit(...lines, { kind: 'takeBack', of }))).toEqual(before)
  })

  it('without its opening, or with no rungs, a visit says nothing', () => {
    expect(fold(visit(verdict(1)).slice(1))).toBeNull()
    expect(fold([])).toBeNull()
    expect(fold([numbered({ ...openingBody(opening), rungs: [] } as Body, 's', 1, 's-1')])).toBeNull()
  })

  it('a first rung off the ladder is the nearest end', () => {
    const off = (i: number) => numbered({ ...openingBody(opening), at: i } as Body, 's', 1, 's-1')
    expect(fold([off(9)])?.at).toBe(2)
  })
})

describe('the lines of a visit', () => {
  const run = play(ladder, opening, script('C C R N U I'))

  it('stand in the order of their numbers, each once, whatever the clock says', () => {
    expect(inOrder([...run.written].reverse())).toEqual(run.events)
    expect([...run.events].sort((a, b) => (a.time < b.time ? -1 : 1))).not.toEqual(run.events)
  })

  it('count without the repetitions that were taken back', () => {
    expect(counted(run.written).map(e => e.kind)).toEqual([
      'visit',
      'verdict',
      'verdict',
      'takeBack',
      'unjudged',
    ])
  })
})

describe('ceilings', () => {
  const of = (key: string, session: string, text: string, start = opening.at) =>
    play(ladder, { ...opening, at: start }, script(text), { session, n: 1, key }).events

  it('are the greatest tempo completed in any visit of a section', () => {
    const all = ceilings([
      of('1', 'a', 'CCC'),
      of('1', 'b', 'CCC', 0),
      of('2', 'c', 'CCCCC', 2),
      of('3', 'd', 'CC'),
    ])
    expect([...all].map(([key, t]) => [key, bpm(t)])).toEqual([
      ['1', 108],
      ['2', 112],
    ])
  })

  it('two laptops: A with one clean, B with two, make no row of three; A with three keeps it', () => {
    expect(ceilings([of('1', 'a', 'C'), of('1', 'b', 'CC')]).size).toBe(0)
    expect(bpm(ceilings([of('1', 'a', 'CCC'), of('1', 'b', 'N')]).get('1') ?? at(1))).toBe(108)
  })
})
