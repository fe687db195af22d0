import fc from 'fast-check'
import { strToU8, zipSync } from 'fflate'
import { describe, expect, test } from 'vitest'
import { printable, sentence } from '../../src/music/result.ts'
import { tempo } from '../../src/music/tempo.ts'
import { importFrom, importScore } from '../../src/score/import-score.ts'
import { readScore } from '../../src/score/read-score.ts'
import { flute, oboe } from '../cli/import-scene.ts'
import { bytes, head, mark, must, note, scoreText } from './scores.ts'

describe('nothing throws', () => {
  const full = scoreText(flute, oboe)
  const use = (file: Uint8Array, part: string, hard: boolean, goal: number | null): boolean => {
    let n = 0
    const wanted = { part, hard, ...(goal === null ? {} : { goal: tempo(goal) }) }
    const read = importScore(file, 'weir.mxl', wanted, () => `id${1000 + n++}`)
    if (read.ok) return true
    expect(sentence(read.problem)).toMatch(/^.+ (Try|Type) .+\.$/)
    expect(printable(sentence(read.problem))).toBe(sentence(read.problem))
    return false
  }
  const how = fc.tuple(
    fc.constantFrom('P1', 'P2', 'flute 1'),
    fc.boolean(),
    fc.constantFrom(null, 1, 96, 999),
  )

  test('whatever numbers and texts of a score are changed', () => {
    const places = [...full.matchAll(/>[^<>\n]+<|="[^"]*"/g)]
    const value = fc.constantFrom('', '-1', '0', '0.5', '7', '999999999', '1e400', 'NaN', 'end', '12.5', 'x')
    let read = 0
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(places.length - 1), value), { minLength: 1, maxLength: 5 }),
        how,
        (changes, [part, hard, goal]) => {
          let text = full
          for (const [i, v] of [...changes].sort((a, b) => b[0] - a[0])) {
            const m = places[i] as RegExpMatchArray & { index: number }
            const put = m[0].startsWith('=') ? `="${v}"` : `>${v}<`
            text = text.slice(0, m.index) + put + text.slice(m.index + m[0].length)
          }
          if (use(bytes(text), part, hard, goal)) read++
        },
      ),
      { numRuns: 80 },
    )
    expect(read).toBeGreaterThan(4)
  })

  test('whatever bytes are changed, plain or compressed', () => {
    for (const file of [bytes(full), zipSync({ 'weir.musicxml': strToU8(full) })])
      fc.assert(
        fc.property(
          fc.array(fc.tuple(fc.nat(file.length - 1), fc.integer({ min: 0, max: 255 })), {
            minLength: 1,
            maxLength: 6,
          }),
          how,
          (changes, [part, hard, goal]) => {
            const copy = file.slice()
            for (const [i, v] of changes) copy[i] = v
            use(copy, part, hard, goal)
          },
        ),
        { numRuns: 40 },
      )
  })
})

test('an even part longer than a passage can be comes as few whole strips that follow each other; its measures can be taken in turn', () => {
  const long = scoreText(
    Array.from(
      { length: 2_500 },
      (_, i) => (i === 0 ? head() : '') + mark('quarter', String(60 + (i % 9))) + note(16),
    ),
  )
  const score = must(readScore(bytes(long), 'weir.xml'))
  for (const whole of [true, undefined]) {
    let n = 1000
    const { passages, remarks } = must(importFrom(score, 'weir.xml', { whole }, () => `id${n++}`))
    expect(passages.map(p => p.name)).toEqual(['1-834', '835-1668', '1669-2500'])
    expect(passages.every(p => p.whole)).toBe(true)
    expect(remarks.join()).toMatch(/2500 measures are more than one passage holds.*1-834.*--from/)
  }
  expect(importFrom(score, 'weir.xml', { from: '900', to: '1100' }, () => 'id1000').ok).toBe(true)
})

test('a goal left open is open whatever is printed: the printed tempo stands until the rehearsal says', () => {
  const read = must(
    importScore(
      bytes(scoreText([head() + mark('quarter', '96') + note(16)])),
      'weir.xml',
      { goal: 'open' },
      () => 'id1000',
    ),
  )
  expect(read.sure).toBe('open')
  expect(read.passages[0]?.goal ?? 'quarter = 96').toMatch(/96/)
})
