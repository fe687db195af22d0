import fc from 'fast-check'
import { expect, it } from 'vitest'
import { sentence } from '../../src/music/result.ts'
import { findPiece } from '../../src/repertoire/find-piece.ts'
import {
  checkPiece,
  type Passage,
  parsePiece,
  pieceFile,
  pieceText,
  shortId,
} from '../../src/repertoire/piece.ts'
import { chance } from '../../src/store/sources.ts'
import { overture } from '../store/scene.ts'

const passage = overture.passages[0] as Passage
const second = overture.passages[1] as Passage
const said = (found: unknown): string => {
  const read = checkPiece(found)
  return read.ok ? 'taken' : sentence(read.problem)
}
const withPassage = (part: object) => ({ ...overture, passages: [passage, { ...second, ...part }] })

it('a piece comes back from its text', () => {
  expect(parsePiece(pieceText(overture))).toEqual({ ok: true, value: overture })
  expect(parsePiece(`\uFEFF${pieceText(overture)}`).ok).toBe(true)
})

it('what another program put into the file stays in it', () => {
  const found = { ...withPassage({ fingering: [1, 3, 5] }), lastPage: 7 }
  const read = checkPiece(found)
  expect(read.ok && JSON.parse(pieceText(read.value))).toEqual(found)
})

it.each([
  [withPassage({ goal: 'fast' }), /^In passage 2, goal "fast" .* Try beats a minute .*$/],
  [withPassage({ slips: 'often' }), /^In passage 2, slips "often" .* Try a number from 1 to 9, or never\.$/],
  [withPassage({ meter: '4/5' }), /^In passage 2, meter "4\/5" .* a meter like 4\/4, 6\/8/],
  [
    withPassage({ pickup: 'dotted-half' }),
    /^In passage 2, pickup "dotted-half" .* a note value shorter than 6\/8\.$/,
  ],
  [withPassage({ pickup: 'a bit' }), /^In passage 2, pickup "a bit" .* breve, whole, half/],
  [withPassage({ count: 0 }), /^In passage 2, count "0" .* a whole number of measures from 1 to 999\.$/],
  [withPassage({ count: 2.5 }), /^In passage 2, count "2.5" .* a whole number/],
  [
    withPassage({ readyBy: '2026-02-30' }),
    /^In passage 2, readyBy "2026-02-30" .* a date like 2026-03-14\.$/,
  ],
  [
    withPassage({ name: 'Opening' }),
    /^In passage 2, name "Opening" .* a name that no other passage here has\.$/,
  ],
  [withPassage({ id: passage.id }), /^In passage 2, id .* that no other passage here has\.$/],
  [withPassage({ name: '\u0007 ' }), /^In passage 2, name .* text of 1 to 80 characters\.$/],
  [{ ...overture, id: '../../up' }, /^"..\/..\/up".* for the id.* lower-case letters and digits\.$/],
  [{ ...overture, v: 3 }, /^"3".* for the v.* 2 \(a newer Gradino wrote this\)\.$/],
  [{ ...overture, passages: 'all' }, /^"all".* for the passages.* a list of passages\.$/],
  [null, /^"null".* for the piece/],
  [[], /for the piece/],
])('a wrong field is named: %#', (found, expected) => {
  expect(said(found)).toMatch(expected)
})

it('text with escapes in it cannot reach the terminal', () => {
  const read = checkPiece({
    ...withPassage({ note: 'soft\u001b[31m', name: 'the\nrun' }),
    title: 'Weir\u0007Street',
  })
  expect(read.ok && [read.value.title, read.value.passages[1]?.name, read.value.passages[1]?.note]).toEqual([
    'Weir Street',
    'the run',
    'soft [31m',
  ])
  expect(said({ ...overture, readyBy: '\u001b[2J' })).not.toContain('\u001b')
})

it('the parser takes anything and never throws', () => {
  const mostly = <T, U>(right: fc.Arbitrary<T>, wrong: fc.Arbitrary<U>) =>
    fc.oneof({ weight: 12, arbitrary: right }, { weight: 1, arbitrary: wrong })
  const anyTempo = mostly(
    fc.constantFrom('112', 'dotted-quarter=80'),
    fc.oneof(fc.string(), fc.constant('0')),
  )
  const almost = fc.record(
    {
      v: mostly(fc.constant(1), fc.constantFrom(2, '1')),
      id: mostly(fc.constant('a1b2c3'), fc.string()),
      title: mostly(fc.string(), fc.integer()),
      passages: fc.array(
        fc.record(
          {
            id: fc.stringMatching(/^[a-z0-9]{4,8}$/),
            name: fc.string(),
            meter: mostly(fc.constantFrom('4/4', '7/8'), fc.string()),
            count: mostly(fc.integer({ min: 1, max: 999 }), fc.oneof(fc.integer(), fc.double())),
            pickup: mostly(fc.constantFrom(null, 'half', 'eighth'), fc.string()),
            start: anyTempo,
            goal: anyTempo,
          },
          { requiredKeys: ['id', 'name', 'meter', 'count', 'pickup', 'goal'] },
        ),
        { maxLength: 3 },
      ),
    },
    { requiredKeys: ['v', 'id', 'title', 'passages'] },
  )
  let taken = 0
  fc.assert(
    fc.property(
      fc.oneof(
        fc.json(),
        fc.string(),
        almost.map(p => JSON.stringify(p)),
      ),
      text => {
        const read = parsePiece(text)
        if (!read.ok) expect(sentence(read.problem)).toMatch(/^[^\n]+ (Try|Type) [^\n]+\.$/)
        else {
          taken++
          expect(parsePiece(pieceText(read.value))).toEqual(read)
        }
      },
    ),
    { numRuns: 500 },
  )
  // Most of what is almost a piece has some fault, not all.
  expect(taken).toBeGreaterThan(5)
})

it('a file that names its own prototype changes nothing', () => {
  const read = parsePiece(pieceText(overture).replace('{', '{ "__proto__": { "polluted": true },'))
  expect(read.ok).toBe(true)
  expect(({} as Record<string, unknown>).polluted).toBeUndefined()
})

it('a title never becomes a path: only letters, digits and the id', () => {
  const named = (title: string) => pieceFile({ ...overture, title })
  expect(named('Weir Street Overture')).toBe('weir-street-overture-a1b2c3d4.json')
  expect(named('../../etc/passwd')).toBe('etc-passwd-a1b2c3d4.json')
  expect(named('Übung für Öland')).toBe('ubung-fur-oland-a1b2c3d4.json')
  expect(named('練習')).toBe('piece-a1b2c3d4.json')
  fc.assert(
    fc.property(fc.string({ unit: 'binary', maxLength: 200 }), title => {
      expect(named(title)).toMatch(/^[a-z0-9][a-z0-9-]{0,40}-a1b2c3d4\.json$/)
    }),
  )
})

it('short ids are short and differ', () => {
  const ids = Array.from({ length: 500 }, () => shortId(chance))
  expect(new Set(ids).size).toBe(500)
  expect(ids[0]).toMatch(/^[a-z0-9]{8}$/)
})

const shelf = [
  { piece: overture },
  { piece: { ...overture, id: 'b1b2c3d4', title: 'Weir' } },
  {
    piece: {
      ...overture,
      id: 'c1b2c3d4',
      title: 'Study in 3/4',
      passages: [passage, { ...second, name: 'oak' }],
    },
  },
]
const where = (name: string): string => {
  const found = findPiece(shelf, name)
  if (!found.ok) return sentence(found.problem)
  return [found.value.in.piece.title, found.value.passage?.name].filter(Boolean).join(' > ')
}

it.each([
  ['Weir', 'Weir'],
  ['weir', 'Weir'],
  ['weir s', 'Weir Street Overture'],
  ['Weir Street Overture/run at the weir', 'Weir Street Overture > run at the weir'],
  ['weir  street/RUN', 'Weir Street Overture > run at the weir'],
  ['Study in 3/4', 'Study in 3/4'],
  ['study in 3/4/op', 'Study in 3/4 > opening'],
  ['study/oa', 'Study in 3/4 > oak'],
  ['a1b2c3d4/opening', 'Weir Street Overture > opening'],
])('"%s" means %s', (name, expected) => {
  expect(where(name)).toBe(expected)
})

it('a name that means two is answered with both', () => {
  expect(where('we/')).toMatch(
    /^"we\/".* for the name.* Try one of Weir Street Overture\/opening, .*, written out\.$/,
  )
  expect(where('study/o')).toMatch(
    /^"study\/o".* for the name.* Try one of Study in 3\/4\/opening, Study in 3\/4\/oak, written out\.$/,
  )
  const twins = findPiece([{ piece: overture }, { piece: { ...overture, id: 'zzzzzzzz' } }], 'weir')
  expect(!twins.ok && twins.problem.accepted).toBe('one of a1b2c3d4, zzzzzzzz, written out')
})

it('a name that means nothing is answered with what is there', () => {
  expect(where('mill')).toMatch(
    /^No piece is called "mill"\. You have Weir Street Overture, Weir, Study in 3\/4\.$/,
  )
  expect(where('study/coda')).toMatch(
    /^No passage is called .* You have Study in 3\/4\/opening, Study in 3\/4\/oak\.$/,
  )
  const none = findPiece([], 'mill')
  expect(!none.ok && none.problem.says).toMatch(/^You have no pieces yet, so no "mill"\. /)
})
