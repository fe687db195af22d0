import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  add,
  compare,
  type Frac,
  frac,
  fractionText,
  less,
  sub,
  times,
  zero,
} from '../../src/music/fraction.ts'
import {
  feltBeat,
  type Meter,
  measureLength,
  meterText,
  parseMeter,
  pulses,
  sameMeter,
} from '../../src/music/meter.ts'
import { NOTE_VALUES } from '../../src/music/note-value.ts'
import { ok } from '../../src/music/result.ts'
import { anyMeter, anyText, typedMeter } from './any.ts'

const meter = (s: string): Meter => {
  const read = parseMeter(s)
  if (!read.ok) throw new Error(read.problem.accepted)
  return read.value
}

const [half, quarter, eighth, dottedQuarter] = [frac(1, 2), frac(1, 4), frac(1, 8), frac(3, 8)]

describe('a meter as it is typed', () => {
  it.each([
    ['4/4', [1, 1, 1, 1]],
    ['3/4', [1, 1, 1]],
    ['2/2', [1, 1]],
    ['3/8', [1, 1, 1]],
    ['6/8', [3, 3]],
    ['9/8', [3, 3, 3]],
    ['12/16', [3, 3, 3, 3]],
    ['5/8', [2, 3]],
    ['7/8', [2, 2, 3]],
    ['11/8', [2, 2, 2, 2, 3]],
    ['8/8', [1, 1, 1, 1, 1, 1, 1, 1]],
    ['6/4', [1, 1, 1, 1, 1, 1]],
  ])('%s is felt as %j', (s, groups) => {
    expect(meter(s).groups).toEqual(groups)
  })

  it('a sum says the groups: 3+2/8 (as in MusicXML 4.0, time), 2+2+3/8, 3+3+2/8', () => {
    expect(parseMeter('3+2/8')).toEqual(ok({ groups: [3, 2], unit: eighth }))
    expect(meter('3+3+2/8').groups).toEqual([3, 3, 2])
    expect(meter(' 2 + 2 + 3 / 8 ')).toEqual(meter('7/8'))
  })

  it.each([
    '',
    '4',
    '4/',
    '/4',
    '4/3',
    '4/128',
    '0/4',
    '3+0/8',
    '65/8',
    '40+40/8',
    '+3/8',
    '3+/8',
    '4/4/4',
    '-3/4',
    '4.5/4',
    '4 4/4',
    'constructor',
  ])('%j is refused with what is accepted', s => {
    expect(parseMeter(s, 'meter of measure 3')).toMatchObject({
      ok: false,
      problem: { field: 'meter of measure 3', got: s },
    })
  })

  it('never throws; a measure that is taken has 1 to 64 units', () => {
    fc.assert(
      fc.property(fc.oneof(anyText, typedMeter), s => {
        const read = parseMeter(s)
        if (!read.ok) return
        const count = read.value.groups.reduce((a, b) => a + b, 0)
        expect(count >= 1 && count <= 64 && read.value.groups.every(g => g >= 1)).toBe(true)
      }),
      { numRuns: 500 },
    )
  })

  it('reads back from its text, which is short where the groups are the customary ones', () => {
    expect(meterText(meter('2+2+3/8'))).toBe('7/8')
    expect(meterText(meter('3+2+2/8'))).toBe('3+2+2/8')
    fc.assert(
      fc.property(anyMeter, m => {
        expect(parseMeter(meterText(m))).toEqual(ok(m))
        expect(sameMeter(m, meter(meterText(m)))).toBe(true)
      }),
      { numRuns: 300 },
    )
  })

  it('6/8 and 3/4 last as long and are not the same; nor are 2+3/8 and 3+2/8', () => {
    expect(measureLength(meter('6/8'))).toEqual(measureLength(meter('3/4')))
    expect(sameMeter(meter('6/8'), meter('3/4'))).toBe(false)
    expect(sameMeter(meter('2+3/8'), meter('3+2/8'))).toBe(false)
  })
})

describe('what a player counts', () => {
  const at = (m: string, unit: Frac) => pulses(meter(m), unit).map(p => p.at)
  const starts = (m: string, unit: Frac) => pulses(meter(m), unit).flatMap((p, i) => (p.group ? [i + 1] : []))

  it('4/4 in quarters: four even beats, none a group by itself', () => {
    expect(at('4/4', quarter)).toEqual([zero, quarter, half, frac(3, 4)])
    expect(starts('4/4', quarter)).toEqual([])
  })

  it('4/4 in halves: in two; 3/4 in dotted halves and 3/8 in dotted quarters: in one', () => {
    expect(at('4/4', half)).toEqual([zero, half])
    expect(at('3/4', frac(3, 4))).toEqual([zero])
    expect(at('3/8', dottedQuarter)).toEqual([zero])
  })

  it('6/8 in dotted quarters: in two', () => {
    expect(at('6/8', dottedQuarter)).toEqual([zero, dottedQuarter])
  })

  it('6/8 in eighths: six, with a group on one and four', () => {
    expect(at('6/8', eighth)).toHaveLength(6)
    expect(starts('6/8', eighth)).toEqual([1, 4])
  })

  it('7/8 as 2+2+3 in eighths has its groups on one, three and five; as 3+2+2 on one, four and six', () => {
    expect(starts('7/8', eighth)).toEqual([1, 3, 5])
    expect(starts('3+2+2/8', eighth)).toEqual([1, 4, 6])
  })

  it('7/8 with a tempo in quarters is beaten in three: two short, one long', () => {
    expect(at('7/8', quarter)).toEqual([zero, quarter, half])
  })

  it('6/8 with a tempo in quarters still goes in two, not across the beat', () => {
    expect(at('6/8', quarter)).toEqual([zero, dottedQuarter])
  })

  it('6/8 in dotted halves: in one; 12/8: in two; but 3+3+2/8 in halves, across its groups, by these', () => {
    expect(at('6/8', frac(3, 4))).toEqual([zero])
    expect(at('12/8', frac(3, 4))).toEqual([zero, frac(3, 4)])
    expect(at('3+3+2/8', half)).toEqual([zero, dottedQuarter, frac(3, 4)])
    expect(at('2+2+2+2/8', half)).toEqual([zero, half])
    expect(at('7/8', frac(7, 8))).toEqual([zero])
  })

  it('3/4 with a tempo in halves, which do not fit, is counted in quarters', () => {
    expect(at('3/4', half)).toEqual([zero, quarter, half])
  })

  it('4/4 in eighths: eight, a group on every quarter', () => {
    expect(starts('4/4', eighth)).toEqual([1, 3, 5, 7])
  })

  it('in any meter and beat: from the bar line, in order, inside the measure, groups where the meter has them', () => {
    fc.assert(
      fc.property(anyMeter, fc.constantFrom(...NOTE_VALUES), (m, unit) => {
        const all = pulses(m, unit)
        expect(all[0]?.at).toEqual(zero)
        const groups = m.groups.map((_, i) =>
          times(
            m.unit,
            m.groups.slice(0, i).reduce((a, b) => a + b, 0),
          ),
        )
        all.forEach((p, i) => {
          expect(less(p.at, measureLength(m))).toBe(true)
          const before = all[i - 1]
          if (before) expect(compare(p.at, before.at)).toBeGreaterThan(0)
          if (p.group) expect(groups).toContainEqual(p.at)
        })
        if (compare(unit, m.unit) > 0) return
        // Counted out: steps of one size up to the next bar line.
        const ends = [...all.slice(1).map(p => p.at), measureLength(m)]
        const sizes = ends.map((end, i) => sub(end, all[i]?.at ?? zero))
        expect(sizes.every(s => compare(s, sizes[0] ?? zero) === 0)).toBe(true)
        expect(sizes.reduce(add, zero)).toEqual(measureLength(m))
      }),
      { numRuns: 300 },
    )
  })
})

it.each([
  ['4/4', '1/4'],
  ['2/2', '1/4'],
  ['3/8', '1/4'],
  ['6/8', '3/8'],
  ['9/8', '3/8'],
  ['12/16', '3/16'],
  ['2+3/8', '1/4'],
  ['3+3+2/8', '1/4'],
])('the beat that is felt in %s is %s of a whole note', (m, beat) => {
  expect(fractionText(feltBeat(meter(m)))).toBe(beat)
})
