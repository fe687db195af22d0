import { describe, expect, test } from 'vitest'
import { readPart } from '../../src/score/read-part.ts'
import { performed } from '../../src/score/repeats.ts'
import { must } from '../score/scores.ts'
import { openScore, openscore } from './scores-by-others.ts'

/*
 * Source: repeats, endings, da capo and fine as the engraver Verovio 6.3.0 (npm verovio, LGPL) expands them for its playback:
 * measureOn events of renderToTimemap, as runs of measures counted from 0. It knows no movements, so that a da capo
 * goes to the first measure of the file there; here it is counted from the first measure of its movement. Files that are
 * not named are played once from beginning to end.
 */
const EXPANDED: Readonly<Record<string, readonly string[]>> = {
  lc31184216: ['0-34 13-69'],
  lc6218732: ['0-10 1-9 11-20'],
  sq7070319: ['0-15 0-139 0-65'],
  sq7070781: ['0-27 0-71 28-79 72-103 80-103 0-71'],
  sq13744399: ['0-225', '0-92', '0-53 16-52 54-65 55-64 66-96 0-52 54', '0-265'],
  sq8885439: ['0-62 2-177', '0-96', '0-195 0-47', '0-381'],
}

const runs = (order: readonly number[]): string => {
  const out: [number, number][] = []
  for (const i of order) {
    const last = out.at(-1)
    if (last && last[1] === i - 1) last[1] = i
    else out.push([i, i])
  }
  return out.map(r => [...new Set(r)].join('-')).join(' ')
}

describe('as played, equal to the expansion of an engraver', () => {
  test.each(openscore)(
    '%s',
    name => {
      const score = openScore(name)
      const ours = score.movements.map(
        m => performed(must(readPart(score, score.parts[0]?.id ?? '', m))).order,
      )
      const once = score.movements.map(m => runs(Array.from({ length: m.to - m.from + 1 }, (_, i) => i)))
      expect(ours.map(runs)).toEqual(EXPANDED[name.replace('.mxl', '')] ?? once)
    },
    60_000,
  )
})

test('every measure of a quartet with a da capo is played', () => {
  for (const name of ['sq13744399.mxl', 'sq8885439.mxl', 'sq7070319.mxl', 'sq7070781.mxl']) {
    const score = openScore(name)
    for (const m of score.movements) {
      const { order } = performed(must(readPart(score, 'P1', m)))
      expect(new Set(order).size, `${name}, ${m.name}`).toBe(m.to - m.from + 1)
    }
  }
}, 120_000)
