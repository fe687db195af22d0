import { expect, test } from 'vitest'
import { decimal } from '../../../src/music/fraction.ts'
import { ladderLines } from '../../../src/screens/practice/ladder-lines.ts'
import { setup, stage } from './stage.ts'

const lines = async (start: number, goal: number, from: number, most: number) => {
  const session = (await stage(setup({ start, goal, from }))).conductor.session()
  return { rungs: session.ladder.rungs.map(t => decimal(t.bpm)), all: ladderLines(session, most) }
}
/** Tempos and numbers of left-out rungs, top first. */
const read = (all: readonly { readonly text: string }[]): readonly string[] =>
  all.map(l => /(\d+ more)/.exec(l.text)?.[1] ?? /[\d.]+/.exec(l.text)?.[0] ?? '')

test('rungs without a row are counted where they are missing; goal, start and the present rung have one', async () => {
  for (const from of [0, 3, 8, 12])
    for (const most of [7, 8, 10, 14]) {
      const { rungs, all } = await lines(60, 120, from, most)
      const at = `from ${from}, ${most} rows`
      expect(all.length, at).toBeLessThanOrEqual(most)
      const left = read(all).filter(t => t.endsWith('more'))
      const missing = left.reduce((n, t) => n + Number.parseInt(t, 10), 0)
      expect(all.length - left.length + missing, at).toBe(rungs.length)
      // Counted where they are: what stands after it is so many rungs lower.
      let next = rungs.length - 1
      for (const t of read(all)) {
        if (t.endsWith('more')) next -= Number.parseInt(t, 10)
        else expect(t, at).toBe(rungs[next--])
        // A row for one rung is the rung's own.
        expect(t, at).not.toBe('1 more')
      }
      expect(all.filter(l => l.here).length, at).toBe(1)
      expect(all[0]?.text, at).toContain('goal')
    }
})

test('where there are rows for all nothing is left out', async () => {
  const { rungs, all } = await lines(104, 120, 1, 10)
  expect(read(all)).toEqual([...rungs].reverse())
})
