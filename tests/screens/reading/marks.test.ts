import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { measures } from '../../../src/music/form.ts'
import { compare, less } from '../../../src/music/fraction.ts'
import { parsePlace } from '../../../src/music/place.ts'
import { sectionForm } from '../../../src/repertoire/passage-form.ts'
import { checkPiece } from '../../../src/repertoire/piece.ts'
import {
  type Mark,
  markAt,
  markText,
  stretches,
  withMark,
  withSections,
} from '../../../src/screens/reading/marks.ts'
import { must } from '../practice/stage.ts'
import { passage, passOf } from './scene.ts'

const on = (...numbers: number[]): Mark[] => numbers.map(n => ({ measure: n - 41, beat: 1 }))
/** "m. 42-43: 42 to 44.2" */
const offered = (marks: readonly Mark[], pass = passOf()): string[] =>
  stretches(pass.music, marks).map(s => `${s.name}: ${s.from} to ${s.to}`)

describe('a press', () => {
  const pass = passOf()
  const bars = measures(pass.music.form)
  /** What a press means so many frames after a beat of a measure is heard. */
  const pressed = (measure: number, beat: number, later = 4800): string => {
    const o = pass.program.onsets.find(x => x.measure === measure - 40 && x.beat === beat)
    const mark = markAt(pass.program, bars, (o?.frame ?? 0) + later)
    return mark ? markText(mark, pass.music) : 'none'
  }

  test('means one beat before the beat that is heard', () => {
    expect(pressed(43, 3)).toBe('m. 43, beat 2')
    expect(pressed(43, 1)).toBe('m. 42, beat 4')
    expect(pressed(41, 1)).toBe('m. 41, beat 1')
    // A whole beat later it is the next beat's.
    expect(pressed(43, 3, 40_100)).toBe('m. 43, beat 3')
  })

  test('in the count-in means nothing, after the end the last beat', () => {
    expect(markAt(pass.program, bars, pass.program.firstNote - 10)).toBeNull()
    expect(markAt(pass.program, bars, -5)).toBeNull()
    expect(markAt(pass.program, bars, pass.program.end + 20_000)).toEqual({ measure: 7, beat: 4 })
  })

  test('in a pick-up means the pick-up', () => {
    const up = passOf(passage({ pickup: 'quarter' }))
    const all = measures(up.music.form)
    const mark = markAt(up.program, all, up.program.firstNote + 100)
    expect(mark).toEqual({ measure: 0, beat: 4 })
    expect(mark && markText(mark, up.music)).toBe('m. 40, beat 4')
  })

  test('on the same beat again changes nothing; others stand in the order of the music', () => {
    const marks = [
      { measure: 3, beat: 2 },
      { measure: 1, beat: 4 },
      { measure: 3, beat: 2 },
      { measure: 3, beat: 1 },
    ].reduce(withMark, [] as readonly Mark[])
    expect(marks).toEqual([
      { measure: 1, beat: 4 },
      { measure: 3, beat: 1 },
      { measure: 3, beat: 2 },
    ])
  })
})

describe('what is offered', () => {
  test('a marked measure with the one before, over the first beat of what follows', () => {
    expect(offered(on(43))).toEqual(['m. 42-43: 42 to 44.2'])
  })

  test('neighbors together, others apart', () => {
    expect(offered(on(43, 44))).toEqual(['m. 42-44: 42 to 45.2'])
    expect(offered(on(47, 43, 44, 43))).toEqual(['m. 42-44: 42 to 45.2', 'm. 46-47: 46 to 48.2'])
    expect(offered(on(43, 45))).toEqual(['m. 42-43: 42 to 44.2', 'm. 44-45: 44 to 46.2'])
  })

  test('the first measure has none before it, the last one nothing after it', () => {
    expect(offered(on(41))).toEqual(['m. 41: 41 to 42.2'])
    expect(offered(on(48))).toEqual(['m. 47-48: 47 to end'])
  })

  test('not the whole passage as a section of itself', () => {
    expect(offered(on(41, 42, 43, 44, 45, 46, 47, 48))).toEqual([])
    expect(offered(on(42, 43, 44, 45, 46, 47, 48))).toEqual([])
  })

  test('in other meters the beat is that of the tempo: a dotted quarter in 6/8', () => {
    const p = passOf(passage({ meter: '6/8', goal: 'dotted-quarter=80' }))
    expect(offered(on(43), p)).toEqual(['m. 42-43: 42 to 44.2'])
  })

  test('measures of a repeat by their second time, and a pick-up from its first beat', () => {
    const numbers = ['41', '42', '43', '44', '41', '42', '43', '44']
    const again = passOf(passage({ numbers }))
    expect(offered([{ measure: 6, beat: 1 }], again)).toEqual(['m. 42(2)-43(2): 42(2) to 44(2).2'])
    const up = passOf(passage({ pickup: 'quarter' }))
    expect(offered([{ measure: 1, beat: 1 }], up)).toEqual(['m. 40-41: 40.4 to 42.2'])
  })

  test('whatever is marked, every section can be stored, begins where it says and holds its marks', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(
          passage(),
          passage({ meter: '3+2/8', goal: 'eighth=200', pickup: '16th' }),
          passage({ changes: [{ at: '44', meter: '7/8' }], ends: '48.2' }),
          passage({ numbers: ['1', '2', '3', '1', '2', '3', 'X1', 'X2'] }),
        ),
        fc.array(fc.nat({ max: 7 }), { minLength: 1, maxLength: 8 }),
        (p, indices) => {
          const { music } = passOf(p)
          const marks = indices.map(measure => ({ measure, beat: 1 }))
          let n = 0
          const { passage: cut, added } = withSections(p, stretches(music, marks), () => `new${n++}`)
          const piece = { v: 2, id: 'weir', title: 'Weir Street Overture', passages: [cut] }
          expect(checkPiece(piece)).toMatchObject({ ok: true })
          const bars = measures(music.form)
          const spans = added.map(
            s => [must(parsePlace(s.from, music)), must(parsePlace(s.to, music))] as const,
          )
          for (const s of added) expect(must(sectionForm(cut, s)).form.length.n).toBeGreaterThan(0)
          if (added.length > 0)
            for (const { measure } of marks) {
              const bar = bars[measure]
              const inside = spans.some(
                ([from, to]) => bar && compare(from, bar.from) <= 0 && !less(to, bar.to),
              )
              expect(inside, `measure ${measure}`).toBe(true)
            }
        },
      ),
      { numRuns: 300 },
    )
  })
})

describe('storing', () => {
  const ids = () => {
    let n = 0
    return () => `id${n++}00`
  }

  test('adds to the sections that are there and names no two alike', () => {
    const p = passage({ sections: [{ id: 'old1', name: 'M. 42-43', from: '42.3', to: '44' }] })
    const { passage: cut, added } = withSections(p, stretches(passOf(p).music, on(43, 47)), ids())
    expect(cut.sections?.map(s => s.name)).toEqual(['M. 42-43', 'm. 42-43 (2)', 'm. 46-47'])
    expect(added).toHaveLength(2)
  })

  test('the same marks again add nothing: a second reading keeps ids and history', () => {
    const once = withSections(passage(), stretches(passOf().music, on(43)), ids()).passage
    const twice = withSections(once, stretches(passOf().music, on(43)), ids())
    expect(twice.added).toEqual([])
    expect(twice.passage).toBe(once)
  })
})
