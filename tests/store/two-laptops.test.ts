import { rmSync } from 'node:fs'
import fc from 'fast-check'
import { expect, it } from 'vitest'
import { historiesOf } from '../../src/ladder/history.ts'
import { compareTempo } from '../../src/music/tempo.ts'
import { journalFolder } from '../../src/store/journal.ts'
import { readPractice } from '../../src/store/snapshot.ts'
import { byKey, histories } from '../ladder/histories.ts'
import { gather, parseJournal } from './all-events.ts'
import { type Files, journals, lay, share } from './journals.ts'
import { newHome } from './scene.ts'

/** How a sync tool can leave a file: under another name, in pieces, twice, or only its beginning beside the whole. */
const kept = fc.constantFrom('as it is', 'renamed', 'cut in two', 'twice', 'beside its beginning', 'reversed')
type Kept = typeof kept extends fc.Arbitrary<infer T> ? T : never

/** Where lines end, so that a piece of a file is one of whole records. */
const cutAt = (text: string, part: number): number => {
  const at = text.indexOf('\n\n', Math.floor(part * text.length))
  return at < 0 ? text.length : at + 1
}

const left = (name: string, text: string, how: Kept, part: number): Files => {
  const [begin, end] = [text.slice(0, cutAt(text, part)), text.slice(cutAt(text, part))]
  switch (how) {
    case 'as it is':
      return { [name]: text }
    case 'renamed':
      return { [`zz/${name.replace('/', ' ')}`]: text }
    case 'cut in two':
      return { [`00 ${name.replace('/', ' ')}`]: end, [`zz/${name.replace('/', ' ')}`]: begin }
    case 'twice':
      return { [name]: text, [`${name}.conflict.jsonl`]: text }
    case 'beside its beginning':
      return { [name]: text, [`00/${name.replace('/', ' ')}`]: text.slice(0, part * text.length) }
    case 'reversed':
      return { [name]: text.split('\n').reverse().join('\n') }
  }
}

const synced = journals.chain(files =>
  fc
    .array(fc.tuple(kept, share), {
      minLength: Object.keys(files).length,
      maxLength: Object.keys(files).length,
    })
    .map(how => ({
      files,
      other: Object.assign(
        {},
        ...Object.entries(files).map(([n, t], i) => left(n, t, ...(how[i] ?? ['as it is', 0]))),
      ),
    })),
)

it('two laptops that hold the same lines know the same, however their files lie', async () => {
  let ceilings = 0
  await fc.assert(
    fc.asyncProperty(synced, async ({ files, other }) => {
      const [a, b] = [newHome(), newHome()]
      lay(a, files)
      lay(b, other)
      const [mine, yours] = [await readPractice(a, 0), await readPractice(b, 0)]
      expect(yours.visits).toEqual(mine.visits)
      expect(byKey(historiesOf(yours.visits))).toEqual(byKey(historiesOf(mine.visits)))
      expect(yours.unopened).toBe(mine.unopened)
      ceilings += mine.visits.filter(v => v.ceiling).length
    }),
    { numRuns: 30 },
  )
  expect(ceilings).toBeGreaterThan(15)
})

it('also when damage has made two lines of one id: both laptops take the same one', () => {
  fc.assert(
    fc.property(journals, share, (files, part) => {
      const texts = Object.values(files)
      const spoilt = texts.map(text => {
        const at = text.indexOf('"clean":true', part * text.length)
        return at < 0 ? text : `${text.slice(0, at)}"clean":false${text.slice(at + 12)}`
      })
      const read = [...texts, ...spoilt].map(text => parseJournal(text, 'march'))
      expect(gather([...read].reverse()).visits).toEqual(gather(read).visits)
    }),
    { numRuns: 80 },
  )
})

// Without take-backs: of these the line may still be on its way.
it('a sync that is under way never makes up a ceiling, and when it is done all is there', async () => {
  let less = 0
  await fc.assert(
    fc.asyncProperty(journals, fc.array(share, { minLength: 3, maxLength: 3 }), async (files, parts) => {
      const [a, b] = [newHome(), newHome()]
      lay(a, files)
      const whole = await readPractice(a, 0)
      const all = historiesOf(whole.visits)
      for (const part of [...parts].sort()) {
        rmSync(journalFolder(b), { recursive: true, force: true })
        lay(b, Object.fromEntries(Object.entries(files).map(([n, t]) => [n, t.slice(0, part * t.length)])))
        const { visits } = await readPractice(b, 0)
        if (visits.length < whole.visits.length) less++
        const halves = historiesOf(visits)
        for (const { key } of visits) {
          const [half, reached] = [halves.of(key)?.ceiling, all.of(key)?.ceiling]
          if (half) expect(reached && compareTempo(half, reached)).toBeLessThanOrEqual(0)
        }
      }
      lay(b, files)
      expect(await readPractice(b, 0)).toMatchObject({ visits: whole.visits, unopened: whole.unopened })
    }),
    { numRuns: 15 },
  )
  expect(less).toBeGreaterThan(7)
})

it('the clocks of the laptops change no count and no ceiling', () => {
  const clock = fc.record({
    days: fc.integer({ min: -400, max: 4000 }),
    offset: fc.constantFrom(0, 60, -480, 845),
  })
  const wrong = (text: string, { days, offset }: { days: number; offset: number }): string =>
    text
      .replaceAll(/"time":"([^"]+)"/g, (_, t: string) => {
        return `"time":"${new Date(Date.parse(t) + days * 86_400_000).toISOString()}"`
      })
      .replaceAll(/"offset":-?\d+/g, `"offset":${offset}`)
  const counted = (texts: readonly string[]) => {
    const all = histories(gather(texts.map(t => parseJournal(t, 'march'))).visits)
    return [...new Set(all.visits.map(v => v.key))]
      .map(key => ({
        key,
        ceiling: all.of(key)?.ceiling,
        visits: (all.of(key)?.visits ?? [])
          .map(v => [v.id, v.clean, v.verdicts, v.played, v.seconds, v.goal])
          .sort(([x], [y]) => (String(x) < String(y) ? -1 : 1)),
      }))
      .sort((x, y) => (x.key < y.key ? -1 : 1))
  }
  fc.assert(
    fc.property(journals, fc.array(clock, { minLength: 12, maxLength: 12 }), (files, clocks) => {
      const texts = Object.values(files)
      const moved = texts.map((text, i) => wrong(text, clocks[i] ?? { days: 0, offset: 0 }))
      expect(counted(moved)).toEqual(counted(texts))
    }),
    { numRuns: 80 },
  )
})
