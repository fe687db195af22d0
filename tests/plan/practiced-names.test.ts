import { expect, test } from 'vitest'
import { downKey, joinKey, quickKey, rhythmKey, seamKey, sectionKey, takeKey } from '../../src/ladder/key.ts'
import { frac } from '../../src/music/fraction.ts'
import { namesOf, nameText } from '../../src/plan/practiced-names.ts'
import type { Piece } from '../../src/repertoire/piece.ts'
import { overture } from '../store/scene.ts'

const [opening, run] = overture.passages as [Piece['passages'][number], Piece['passages'][number]]
const sections = [
  { id: 'zzzz0001', name: '1', from: '41', to: '43', was: ['olds0001'] },
  { id: 'aaaa0002', name: '2', from: '43', to: '44' },
]
const piece: Piece = { ...overture, passages: [opening, { ...run, sections, was: ['oldp0002'] }] }
const said = (key: string): string => nameText(namesOf([piece])(key))
const RUN = 'Weir Street Overture, run at the weir, m. 41-44'
const FOUR = { meter: { groups: [1, 1, 1, 1], unit: frac(1, 4) }, unit: frac(1, 4), pickup: null }

test.each([
  [sectionKey('p0000002'), RUN],
  [sectionKey('zzzz0001'), `${RUN}, section 1`],
  [rhythmKey(sectionKey('p0000002'), '3:1'), `${RUN}, rhythm 3:1`],
  [downKey(sectionKey('p0000002')), `${RUN}, downward`],
  [takeKey('cold', sectionKey('p0000002')), `${RUN}, cold`],
  [takeKey('entry', sectionKey('aaaa0002')), `${RUN}, section 2, from the entrance`],
  [joinKey(['zzzz0001', 'aaaa0002']), `${RUN}, section 1+2`],
  [rhythmKey(joinKey(['zzzz0001', 'aaaa0002']), '1:3'), `${RUN}, section 1+2, rhythm 1:3`],
  [seamKey(['zzzz0001', 'aaaa0002']), `${RUN}, seam of 1+2`],
  [quickKey({ ...FOUR, measures: 1 }), 'Quick ladder, 1 measure of 4/4'],
  [
    quickKey({
      meter: { groups: [3, 3], unit: frac(1, 8) },
      measures: 2,
      pickup: frac(1, 8),
      unit: frac(3, 8),
    }),
    'Quick ladder, 2 measures of 6/8, pick-up eighth, in dotted quarters',
  ],
  [sectionKey('oldp0002'), `${RUN}, before its music changed`],
  [sectionKey('olds0001'), `${RUN}, section 1, before its music changed`],
  [joinKey(['olds0001', 'aaaa0002']), `${RUN}, section 1+2, before its music changed`],
  [sectionKey('gone0001'), 'no longer in the repertoire'],
  ['', 'no longer in the repertoire'],
])('%s is called %s', (key, words) => {
  expect(said(key)).toBe(words)
})
