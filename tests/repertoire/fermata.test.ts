import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { compile } from '../../src/click/compile.ts'
import { frac } from '../../src/music/fraction.ts'
import { type Result, sentence } from '../../src/music/result.ts'
import { KINDS } from '../../src/repertoire/lists.ts'
import { passageForm, sectionForm } from '../../src/repertoire/passage-form.ts'
import { checkPiece, type Passage, parsePiece, pieceText } from '../../src/repertoire/piece.ts'

const must = <T>(r: Result<T>): T => {
  if (!r.ok) throw new Error(sentence(r.problem))
  return r.value
}

const breath = (text: string) =>
  KINDS.breaths.read(text, 'breath', { newId: () => 's0000001', isRhythm: () => false }, undefined)

const bridge = (...marks: readonly string[]): Passage => ({
  id: 'p0000011',
  name: 'the bridge',
  measures: '61-64',
  meter: '4/4',
  count: 4,
  pickup: null,
  goal: '96',
  breaths: marks.map(m => must(breath(m))),
})

const holds = (...marks: readonly string[]) =>
  must(passageForm(bridge(...marks))).form.breaths?.map(b => [b.at, b.adds])

describe('a fermata is on the note that begins at its place, and holds at its end', () => {
  it('a beat long where nothing is said of the note', () => {
    expect(holds('63 fermata')).toEqual([[frac(9, 4), frac(1, 4)]])
    expect(holds('63.2 fermata adds=half')).toEqual([[frac(5, 2), frac(1, 2)]])
  })
  it('as long as the note is said to be', () => {
    expect(holds('63 fermata note=whole')).toEqual([[frac(3), frac(1, 4)]])
  })
  it('at most to the end of the music', () => {
    expect(holds('64.4 fermata note=whole')).toEqual([[frac(4), frac(1, 4)]])
    expect(holds('end fermata')).toEqual([[frac(4), frac(1, 4)]])
  })
  it('with "before" on the note that ends there, however long that is', () => {
    expect(holds('63 fermata before')).toEqual([[frac(2), frac(1, 4)]])
  })
  it('while a breath and a caesura come before the note at their place', () => {
    expect(holds('63', '63.2 caesura')).toEqual([
      [frac(2), frac(1, 4)],
      [frac(9, 4), frac(1, 4)],
    ])
  })
  it('only a fermata stands on a note, and not on two', () => {
    for (const [text, says] of [
      ['63 caesura note=half', 'only a fermata'],
      ['63 before', 'only a fermata'],
      ['63 fermata note=half before', 'the note that ends there'],
    ] as const) {
      const read = breath(text)
      expect(read.ok ? 'taken' : read.problem.accepted).toContain(says)
    }
  })
})

it.each([
  ['63 fermata', 'holds the note on m. 63'],
  ['63.2 fermata note=half waits', 'holds the note on m. 63, beat 2, a half, until your pedal'],
  ['63 fermata before adds=half', 'holds the note before m. 63, for a half more'],
  ['end fermata', 'holds the last note'],
  ['58.2', 'breathe before m. 58, beat 2'],
  ['58.2 slow below=dotted-quarter=60', 'breathe before m. 58, beat 2, below dotted quarter = 60'],
  ['58+3/16 caesura', 'caesura before m. 58, 3 sixteenths after the bar line'],
])('%s: %s', (text, said) => {
  expect(KINDS.breaths.says?.(must(breath(text)))).toBe(said)
})

describe('a piece written when a fermata stood where its note ends', () => {
  const KEPT = join(import.meta.dirname, 'kept-before')
  const piece = must(parsePiece(readFileSync(join(KEPT, 'weir-street-overture-f0d827a3.json'), 'utf8')))
  const onsets = (p: Passage): object =>
    Object.fromEntries(
      [null, ...(p.sections ?? [])].map(s => {
        const { form, goal } = must(s ? sectionForm(p, s) : passageForm(p))
        const program = compile(form, goal, { countIn: 1, subdivide: 1, rate: 48_000 })
        return [s?.name ?? 'whole', program.onsets.map(o => `${o.frame} ${o.role} ${o.measure}.${o.beat}`)]
      }),
    )
  const answers = JSON.parse(readFileSync(join(KEPT, 'answers.json'), 'utf8'))

  it('sounds as it did', () => {
    expect(piece.passages.map(onsets)).toEqual([answers])
  })
  it('also after it was written anew, now in the reading of today', () => {
    const again = must(parsePiece(pieceText(piece)))
    expect(again.v).toBe(2)
    expect(again.passages.map(onsets)).toEqual([answers])
  })
  it.each([{ passages: 'all' }, { passages: [null, { breaths: 7 }, { breaths: [null, 'fermata'] }] }])(
    'is refused by a sentence where it is no piece: %#',
    wrong => {
      expect(checkPiece({ v: 1, id: 'a1b2c3d4', title: 'Weir Street Overture', ...wrong }).ok).toBe(false)
    },
  )
})
