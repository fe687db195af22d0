import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { chained, JOIN_READY, type JoinedRun, pairs, runsOf, stretchOf } from '../../src/ladder/chain.ts'
import { frac } from '../../src/music/fraction.ts'

const span = (from: number, to: number) => ({ from: frac(from), to: frac(to) })

describe('the sections of a passage in the order of the music', () => {
  test('each goes on over the first note of the next one', () => {
    expect(runsOf([span(0, 5), span(4, 9), span(8, 12)])).toEqual([[0, 1, 2]])
  })

  test('where one ends the next one begins, if both were cut at the same place', () => {
    expect(runsOf([span(0, 4), span(4, 8)])).toEqual([[0, 1]])
  })

  test('a small section that was cut out of two stands apart, wherever it is in the list', () => {
    expect(runsOf([span(0, 5), span(4, 9), span(8, 12), span(2, 9)])).toEqual([[0, 1, 2], [3]])
  })

  test('sections with music between them are no neighbors', () => {
    expect(runsOf([span(0, 4), span(5, 9), span(8, 12)])).toEqual([[0], [1, 2]])
  })

  test('every section is in one run, and a run leads on', () => {
    const any = fc
      .array(fc.tuple(fc.nat(20), fc.integer({ min: 1, max: 8 })), { maxLength: 8, size: 'max' })
      .map(all => all.map(([from, length]) => span(from, from + length)))
    let long = 0
    fc.assert(
      fc.property(any, spans => {
        const runs = runsOf(spans)
        expect(runs.flat().sort((a, b) => a - b)).toEqual([...spans.keys()])
        for (const run of runs)
          for (const [i, at] of run.entries()) {
            const [a, b] = [spans[run[i - 1] ?? -1], spans[at]]
            if (i > 0 && run.length > 2) long++
            if (a && b) expect(a.from.n < b.from.n && b.from.n <= a.to.n && a.to.n < b.to.n).toBe(true)
          }
      }),
    )
    expect(long).toBeGreaterThan(50)
  })
})

describe('what is played as one', () => {
  test('ids stand for neighbors, in any order; with one left out, or one of another passage, for nothing', () => {
    const run = ['a', 'b', 'c', 'd']
    expect(stretchOf(['c', 'b'], run)).toEqual({ from: 1, to: 3 })
    expect(stretchOf(['a', 'b'], run)).toEqual({ from: 0, to: 2 })
    expect(stretchOf(run, run)).toEqual({ from: 0, to: 4 })
    expect(stretchOf(['a', 'c'], run)).toBeNull()
    expect(stretchOf(['a', 'x'], run)).toBeNull()
  })

  test('the longest join from the beginning takes the place of its sections', () => {
    expect(chained(4, [{ from: 0, to: 2 }])).toEqual([
      { from: 0, to: 2 },
      { from: 2, to: 3 },
      { from: 3, to: 4 },
    ])
    expect(
      chained(4, [
        { from: 0, to: 2 },
        { from: 0, to: 3 },
        { from: 1, to: 4 },
      ]),
    ).toEqual([
      { from: 0, to: 3 },
      { from: 3, to: 4 },
    ])
  })

  const someStretches = (count: number) =>
    fc.array(
      fc
        .tuple(fc.nat(count - 1), fc.integer({ min: 2, max: count }))
        .map(([from, length]): JoinedRun => ({ from, to: Math.min(count, from + length) })),
      { maxLength: 10, size: 'max' },
    )

  test('all sections are practiced, each once, in their order, and only what was joined is one', () => {
    let joins = 0
    fc.assert(
      fc.property(
        fc.integer({ min: 2, max: 12 }).chain(n => fc.tuple(fc.constant(n), someStretches(n))),
        ([count, joined]) => {
          const chain = chained(count, joined)
          expect(chain[0]?.from).toBe(0)
          expect(chain.at(-1)?.to).toBe(count)
          for (const [i, s] of chain.entries()) {
            expect(s.from).toBe(i === 0 ? 0 : chain[i - 1]?.to)
            if (s.to - s.from > 1) joins++
            expect(s.to - s.from === 1 || joined.some(j => j.from === s.from && j.to === s.to)).toBe(true)
          }
        },
      ),
    )
    expect(joins).toBeGreaterThan(50)
  })

  test('who joins what is offered comes to the whole: 1+2, then with 3, and so on; one join fewer than sections', () => {
    fc.assert(
      fc.property(fc.integer({ min: 2, max: 12 }), count => {
        const joined: JoinedRun[] = []
        for (let n = 1; n < count; n++) {
          const [next] = pairs(chained(count, joined), () => true)
          expect(next).toEqual([
            { from: 0, to: n },
            { from: n, to: n + 1 },
          ])
          joined.push({ from: 0, to: n + 1 })
        }
        expect(pairs(chained(count, joined), () => true)).toEqual([])
      }),
    )
  })

  test('a neighbor that is not ready is not offered; it is from 85 % of its goal on', () => {
    expect(JOIN_READY).toBe(0.85)
    expect(pairs(['1', '2', '3', '4'], b => b !== '2')).toEqual([['3', '4']])
  })
})
