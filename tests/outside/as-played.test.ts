import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { generatePlaybackSequence, hasTieStop, parseAuto, withAbsolutePositions } from 'musicxml-io'
import { describe, expect, test } from 'vitest'
import { add, frac, fractionText, max, zero } from '../../src/music/fraction.ts'
import { folder } from '../cli/import-scene.ts'

/*
 * Source: scores by others (see openscore.test.ts), imported as played; the order and the places of the notes are compared with
 * musicxml-io, which reads the file on its own.
 */
const SCORES = new URL('./scores/', import.meta.url)
const listed = (dir: string, which: RegExp): readonly string[] => {
  const at = new URL(`${dir}/`, SCORES)
  return existsSync(at) ? readdirSync(at).flatMap(n => (which.test(n) ? [new URL(n, at).pathname] : [])) : []
}

const imported = async (file: string) => {
  const { type, json, pieces } = folder()
  const said = await type(
    ...['piece', 'import', file, '--part', 'P1', '--title', 'Weir', '--as-played', '--goal', '96'],
  )
  expect(said).toMatchObject({ status: 0, err: '' })
  const [text = ''] = Object.values(pieces())
  const { passages } = await json('piece', 'show', 'Weir')
  return { kept: JSON.parse(text).passages[0], shown: passages[0] }
}

/** The measures as musicxml-io plays them: number, and where notes begin in whole notes (ties and graces left out). */
const theirs = (file: string) => {
  const score = parseAuto(readFileSync(file))
  const measures = score.parts[0]?.measures ?? []
  let divisions = 1
  const read = measures.map(m => {
    divisions = m.attributes?.divisions ?? divisions
    const notes = withAbsolutePositions(m)
    const at = (n: number) => frac(n, 4 * divisions)
    const ends = notes.filter(n => !n.grace).map(n => at(n.absolutePosition + n.duration))
    const heard = notes.filter(n => !n.rest && !n.grace && !n.cue && !hasTieStop(n))
    return {
      number: m.number,
      length: ends.reduce(max, zero),
      onsets: heard.map(n => at(n.absolutePosition)),
    }
  })
  const order = generatePlaybackSequence(score).map(s => s.measureIndex)
  let from = zero
  const onsets: string[] = []
  for (const i of order) {
    for (const at of read[i]?.onsets ?? []) onsets.push(fractionText(add(from, at)))
    from = add(from, read[i]?.length ?? zero)
  }
  return { numbers: order.map(i => String(read[i]?.number)), onsets: [...new Set(onsets)] }
}

const starts = (notes: readonly string[]): readonly string[] => [
  ...new Set(notes.map(n => n.split(' ')[0] ?? '')),
]
const halves = (numbers: readonly string[]): readonly string[] => numbers.filter(n => !/^X/.test(n))

describe('measures and notes as played', () => {
  // musicxml-io leaves out a first ending that ends before its repeat sign; the engraver Verovio does not
  test.each([
    ...listed('openscore', /^lc(?!31184216).*mxl$/),
    ...listed('musicxml-suite', /^45[abcg].*xml$/),
  ])('%s: as musicxml-io plays them', async file => {
    const { kept, shown } = await imported(file)
    const other = theirs(file)
    expect(shown.numbers).toEqual(halves(other.numbers))
    expect([...starts(kept.notes ?? [])].sort()).toEqual([...other.onsets].sort())
  })

  // Verovio 6.3.0, npm verovio: its expansion of the file, measures counted from 1
  test('lc31184216: the bracket over measure 23 ends before the repeat sign, and 23 is played each time', async () => {
    const [file = ''] = listed('openscore', /^lc31184216/)
    const { shown } = await imported(file)
    const run = (from: number, to: number) =>
      Array.from({ length: to - from + 1 }, (_, i) => String(from + i))
    expect(shown.numbers).toEqual([...run(1, 35), ...run(14, 70)])
  })

  // musicxml-io plays on beyond the Fine
  test.each([
    ['sq7070319.mxl', 222],
    ['sq7070781.mxl', 280],
  ] as const)('%s: as musicxml-io plays them, as far as the Fine', async (name, measures) => {
    const [file = ''] = listed('openscore', new RegExp(`^${name}$`))
    const { shown } = await imported(file)
    const other = theirs(file).numbers.slice(0, measures)
    expect(shown.numbers).toEqual(other)
    expect(shown.order.at(-1)).toMatch(/\((2|3|4)\)$/)
  })
})
