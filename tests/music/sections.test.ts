import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { cutForm } from '../../src/music/cut.ts'
import { measures } from '../../src/music/form.ts'
import { compare, equal, type Frac, frac, less, zero } from '../../src/music/fraction.ts'
import { joined, type Span, seam, sections } from '../../src/music/sections.ts'
import { meter, music, tempoOf } from '../click/support.ts'
import { anyForm } from './any-form.ts'

/** As fractions of a whole note: "0-5/4". */
const text = (spans: readonly Span[]) => spans.map(s => `${say(s.from)}-${say(s.to)}`)
const say = (f: Frac) => (f.d === 1 ? `${f.n}` : `${f.n}/${f.d}`)

describe('a passage in small sections', () => {
  const four = music('4/4', 3, '96')

  it('by measures: each goes on over the first beat of the next one', () => {
    expect(text(sections(four, { kind: 'measure' }))).toEqual(['0-5/4', '1-9/4', '2-3'])
  })

  it('by measures, over the next note only, when its length is known', () => {
    expect(text(sections(four, { kind: 'measure' }, frac(1, 16)))).toEqual(['0-17/16', '1-33/16', '2-3'])
  })

  it('by half measures: 2+2 of four, two of three first, 2+2 before 3 of seven, 3 before 2+2', () => {
    const starts = (m: string) => sections(music(m, 1, 'eighth=120'), { kind: 'half' }).map(s => say(s.from))
    expect(starts('4/4')).toEqual(['0', '1/2'])
    expect(starts('3/4')).toEqual(['0', '1/2'])
    expect(starts('6/8')).toEqual(['0', '3/8'])
    expect(starts('2+2+3/8')).toEqual(['0', '1/2'])
    expect(starts('3+2+2/8')).toEqual(['0', '3/8'])
    expect(starts('1/4')).toEqual(['0'])
  })

  it('by beats, as the tempo counts them: two a measure in 6/8', () => {
    const six = music('6/8', 2, 'dotted-quarter=60')
    expect(text(sections(six, { kind: 'beat' }))).toEqual(['0-3/4', '3/8-9/8', '3/4-3/2', '9/8-3/2'])
  })

  it('at chosen points, each over the beat that stands there', () => {
    const at = [frac(9, 8), frac(1, 2), frac(9, 8), zero, frac(7)]
    expect(text(sections(four, { kind: 'points', at }))).toEqual(['0-3/4', '1/2-11/8', '9/8-3'])
  })

  it('a pick-up belongs to the first measure, half or beat', () => {
    const f = music('4/4', 2, '96', frac(1, 8))
    expect(sections(f, { kind: 'measure' }).map(s => say(s.from))).toEqual(['0', '9/8'])
    expect(sections(f, { kind: 'half' }).map(s => say(s.from))).toEqual(['0', '5/8', '9/8', '13/8'])
    expect(sections(f, { kind: 'beat' }).map(s => say(s.from))).toEqual([
      '0',
      ...[3, 5, 7, 9, 11, 13, 15].map(n => `${n}/8`),
    ])
    // Three quarters of pick-up hold a whole half measure: that is a section, the odd quarter before it is not.
    const long = music('4/4', 1, '96', frac(3, 4))
    expect(sections(long, { kind: 'half' }).map(s => say(s.from))).toEqual(['0', '3/4', '5/4'])
  })

  it('where the meter changes, each measure has its own length and beat', () => {
    const f = {
      ...four,
      meters: [
        { at: zero, meter: meter('4/4') },
        { at: frac(1), meter: meter('6/8') },
      ],
      marks: [
        { at: zero, tempo: tempoOf('96') },
        { at: frac(1), tempo: tempoOf('dotted-quarter=64') },
      ],
      length: frac(5, 2),
    }
    expect(text(sections(f, { kind: 'measure' }))).toEqual(['0-11/8', '1-17/8', '7/4-5/2'])
  })

  it('of any form: they cover it in order, each reaches into the next, and each can be played', () => {
    fc.assert(
      fc.property(anyForm, fc.constantFrom('measure' as const, 'half' as const, 'beat' as const), (f, k) => {
        const all = sections(f, { kind: k })
        expect(all[0]?.from).toEqual(zero)
        expect(all.at(-1)?.to).toEqual(f.length)
        all.forEach((s, i) => {
          const next = all[i + 1]
          expect(less(s.from, s.to)).toBe(true)
          if (next) expect([less(s.from, next.from), less(next.from, s.to)]).toEqual([true, true])
          expect(cutForm(f, s.from, s.to).length.n).toBeGreaterThan(0)
        })
        if (k !== 'measure') return
        const lines = measures(f).filter(m => m.number > (less(zero, f.pickup) ? 1 : 0))
        expect(all.slice(1).map(s => s.from)).toEqual(
          lines.filter(m => !equal(m.from, zero)).map(m => m.from),
        )
      }),
      { numRuns: 300 },
    )
  })
})

describe('the seam between two sections', () => {
  const f = music('4/4', 4, '96', frac(1, 4))
  const [a, b, c] = sections(f, { kind: 'measure' }) as [Span, Span, Span, Span]

  it('by beats: the last beat of the first and the first of the second', () => {
    expect(text([seam(f, a, b, 'beat')])).toEqual(['1-3/2'])
  })

  it('by measures: the last measure of the first and the first of the second', () => {
    expect(text([seam(f, a, b, 'measure'), seam(f, b, c, 'measure')])).toEqual(['1/4-9/4', '5/4-13/4'])
  })

  it('inside a measure: that measure', () => {
    const halves = sections(f, { kind: 'half' })
    expect(text([seam(f, halves[0] as Span, halves[1] as Span, 'measure')])).toEqual(['1/4-5/4'])
  })

  it('never reaches beyond the two', () => {
    fc.assert(
      fc.property(anyForm, fc.constantFrom('half' as const, 'beat' as const), (form, k) => {
        const all = sections(form, { kind: k })
        all.slice(1).forEach((second, i) => {
          const first = all[i] as Span
          for (const by of ['beat', 'measure'] as const) {
            const s = seam(form, first, second, by)
            expect([compare(first.from, s.from) <= 0, less(s.from, second.from)]).toEqual([true, true])
            expect([less(second.from, s.to), compare(s.to, second.to) <= 0]).toEqual([true, true])
          }
        })
      }),
      { numRuns: 200 },
    )
  })

  it('joined they are one, whichever is named first', () => {
    expect(text([joined(a, b), joined(b, a)])).toEqual(['0-5/2', '0-5/2'])
  })
})
