import fc from 'fast-check'
import { expect, test } from 'vitest'
import { performed } from '../../src/score/repeats.ts'
import { backward, barline, forward, head, note, partOf, words } from './scores.ts'

/*
 * Music that is made of blocks, each played through or repeated, with endings or without: the order in which it is heard
 * is known from the blocks, and the signs of MusicXML 4.0 (elements repeat, ending, sound) are only written for it.
 */
type Ending = { readonly length: number; readonly times: readonly number[] }
type Block = {
  readonly body: number
  /** 1 = no repeat. */
  readonly times: number
  readonly endings: readonly Ending[]
  /** Whether its beginning has a sign where it needs none. */
  readonly sign: boolean
}

const endings = (times: number): fc.Arbitrary<readonly Ending[]> =>
  fc.array(fc.integer({ min: 1, max: 2 }), { minLength: times, maxLength: times }).chain(lengths =>
    // in how many brackets: the times are divided in their order
    fc.integer({ min: 2, max: times }).map(brackets =>
      Array.from({ length: brackets }, (_, i) => ({
        length: lengths[i] ?? 1,
        times: Array.from({ length: times }, (_, k) => k + 1).filter(t => Math.min(brackets, t) === i + 1),
      })),
    ),
  )
const block: fc.Arbitrary<Block> = fc.constantFrom(1, 1, 2, 2, 3, 4).chain(times =>
  fc.record({
    body: fc.integer({ min: 1, max: 3 }),
    times: fc.constant(times),
    endings: times > 1 ? fc.oneof(fc.constant([]), endings(times)) : fc.constant([]),
    sign: fc.boolean(),
  }),
)
const plain = (body: number): Block => ({ body, times: 1, endings: [], sign: false })

/** Where each block begins, its signs, and what of it is heard in a time through. */
const laid = (blocks: readonly Block[]) => {
  const left: string[] = []
  const right: string[] = []
  const heard: number[][][] = []
  for (const [i, b] of blocks.entries()) {
    const first = left.length
    const before = blocks[i - 1]
    // without a sign it goes back to the repeat before, or to the start
    const needs = before !== undefined && before.times === 1
    const put = (l: string, r: string) => [left.push(l), right.push(r)]
    for (let k = 0; k < b.body; k++) put(k === 0 && b.times > 1 && (needs || b.sign) ? forward : '', '')
    const body = Array.from({ length: b.body }, (_, k) => first + k)
    const by = new Map<number, number[]>()
    for (const e of b.endings) {
      const at = left.length
      const numbers = e.times.join(', ')
      const again = e.times.some(t => t < b.times)
      for (let k = 0; k < e.length; k++)
        put(
          k === 0 ? barline('left', `<ending number="${numbers}" type="start"/>`) : '',
          k < e.length - 1
            ? ''
            : barline(
                'right',
                `<ending number="${numbers}" type="${again ? 'stop' : 'discontinue'}"/>${again ? '<repeat direction="backward"/>' : ''}`,
              ),
        )
      for (const t of e.times)
        by.set(
          t,
          Array.from({ length: e.length }, (_, k) => at + k),
        )
    }
    if (b.times > 1 && b.endings.length === 0)
      right[right.length - 1] += backward(b.times === 2 ? '' : ` times="${b.times}"`)
    heard.push(Array.from({ length: b.times }, (_, t) => [...body, ...(by.get(t + 1) ?? [])]))
  }
  return { left, right, heard }
}
const play = (left: readonly string[], right: readonly string[]) =>
  performed(partOf(left.map((l, i) => (i === 0 ? head() : '') + l + note(16) + right[i])))

test('repeats and endings are heard as the blocks say', () => {
  let brackets = 0
  fc.assert(
    fc.property(fc.array(block, { minLength: 1, maxLength: 5 }), blocks => {
      const { left, right, heard } = laid(blocks)
      expect(play(left, right)).toEqual({ order: heard.flat(2), warnings: [] })
      if (blocks.some(b => b.endings.length > 1)) brackets++
    }),
    { numRuns: 40 },
  )
  expect(brackets).toBeGreaterThan(5)
})

const jump = fc.record({
  before: fc.array(block, { maxLength: 2 }),
  target: fc.array(block, { maxLength: 2 }),
  way: fc.array(block, { maxLength: 2 }),
  rest: fc.array(block, { maxLength: 2 }),
  coda: fc.array(block, { maxLength: 2 }),
  kind: fc.constantFrom('fine', 'coda', 'end'),
  segno: fc.boolean(),
  byWords: fc.boolean(),
})

test('a da capo or dal segno leads back, without repeats and by the last ending, to its fine, coda or end', () => {
  fc.assert(
    fc.property(jump, ({ before, target, way, rest, coda, kind, segno, byWords }) => {
      // one measure to stand at each sign; a da capo to the end stands there itself
      const tail = kind === 'end' ? [] : [plain(1), ...coda]
      const blocks = [...before, plain(1), ...target, ...way, plain(1), ...rest, plain(1), ...tail]
      const [from, out] = [before.length, before.length + 1 + target.length + way.length]
      const leap = out + 1 + rest.length
      const { left, right, heard } = laid(blocks)
      const place = (block: number): number => heard[block]?.[0]?.[0] ?? 0
      const put = (block: number, said: string, sound: string, sign = '') => {
        const at = place(block)
        left[at] += byWords
          ? sign === ''
            ? words(said)
            : `<direction><direction-type><${sign}/></direction-type></direction>`
          : `<sound ${sound}/>`
      }
      if (segno) put(from, '', 'segno="s"', 'segno')
      put(leap, segno ? 'D.S.' : 'D.C.', segno ? 'dalsegno="s"' : 'dacapo="yes"')
      if (kind === 'fine') put(out, 'Fine', 'fine="yes"')
      if (kind === 'coda') {
        put(out, 'To Coda', 'tocoda="c"')
        put(leap + 1, '', 'coda="c"', 'coda')
      }
      const once = (b: number): readonly number[] => heard[b]?.at(-1) ?? []
      const all = blocks.map((_, b) => b)
      const start = segno ? from : 0
      const first = heard.slice(0, leap + 1).flat(2)
      const end = kind === 'end' ? leap : out
      const again = all.slice(start, end + 1).flatMap(b => [...once(b)])
      const after = kind === 'fine' ? [] : heard.slice(leap + 1).flat(2)
      // what follows the jump is new music, heard with its repeats; after a fine nothing is heard
      expect(play(left, right).order).toEqual([...first, ...again, ...after])
    }),
    { numRuns: 50 },
  )
})
