import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { equal, type Frac, frac, sum, times } from '../../src/music/fraction.ts'
import { type Meter, measureLength, parseMeter } from '../../src/music/meter.ts'
import { fitted } from '../../src/score/meters.ts'
import { attributes, head, must, note, partOf, rest, text, time } from './scores.ts'

const meter = (s: string): Meter => must(parseMeter(s))
const back = (n: number): string => `<backup><duration>${n}</duration></backup>`
const forward = (n: number): string => `<forward><duration>${n}</duration></forward>`
const inVoice = (voice: number, n: number): string =>
  `<note><rest/><duration>${n}</duration><voice>${voice}</voice></note>`

/** Divisions of a quarter: 64ths of a whole note are 6, a 256th of rounding is 1.5. */
const FINE = 96
const WHOLE = 4 * FINE
/** The second of three measures in 4/4: its length, and what is said of it. */
const second = (inside: string, other?: string) => {
  const measures = (of: string) => [
    attributes(`<divisions>${FINE}</divisions>${time('4', 4)}`) + rest(WHOLE),
    of,
    rest(WHOLE),
  ]
  const part = partOf(measures(inside), ...(other === undefined ? [] : [measures(other)]))
  return [text(part.measures[1]?.length ?? frac(0)), ...part.warnings.map(w => w.replace('measure 2: ', ''))]
}
const short = (has: string) => `it holds ${has} where 4/4 asks for whole`
const COUNTS = 'its notes do not add up to 4/4; it counts as 4/4'

describe('a measure that misses its meter', () => {
  test('by less than a 32nd was meant to fill it', () => {
    expect(second(rest(WHOLE))).toEqual(['1'])
    expect(second(rest(WHOLE - 11))).toEqual(['1', COUNTS])
    expect(second(rest(WHOLE + 11))).toEqual(['1', COUNTS])
    expect(second(note(WHOLE - 12))).toEqual(['31/32', short('31/32')])
    expect(second(note(WHOLE + 12))).toEqual(['33/32', short('33/32')])
  })

  test('and is filled to its end by a voice keeps its length, shorter or longer', () => {
    expect(second(note(WHOLE / 2))).toEqual(['1/2', short('half')])
    expect(second(note(2 * WHOLE))).toEqual(['2', short('breve')])
    // also where the voice has rests only
    expect(second(rest(WHOLE / 2))).toEqual(['1/2', short('half')])
    expect(second(rest(2 * WHOLE))).toEqual(['1', COUNTS])
  })

  test('and is filled by none counts as its meter', () => {
    // a voice that begins later, and so ends where it should not
    expect(second(forward(FINE) + note(FINE))).toEqual(['1', COUNTS])
    expect(second(note(FINE) + forward(FINE))).toEqual(['1', COUNTS])
    expect(second(forward(FINE) + note(WHOLE))).toEqual(['1', COUNTS])
  })

  test('because of one voice, where another fills the meter, counts as its meter', () => {
    const long = note(WHOLE + FINE)
    expect(second(long + back(WHOLE + FINE) + note(WHOLE).replace('<voice>1', '<voice>2'))).toEqual([
      '1',
      COUNTS,
    ])
    expect(second(long, note(WHOLE))).toEqual(['1', COUNTS])
    // a voice of rests says nothing
    expect(second(long + back(WHOLE + FINE) + inVoice(2, WHOLE))).toEqual(['5/4', short('5/4')])
    // rounded by less than a 256th it still fills it
    expect(second(long, note(WHOLE - 1))).toEqual(['1', COUNTS])
    expect(second(long, note(WHOLE - 2))).toEqual(['5/4', short('5/4')])
  })

  test('in this part alone is as long as others make it, but not longer than its meter', () => {
    expect(second(note(FINE), note(WHOLE))).toEqual(['1'])
    expect(second(note(FINE), note(2 * FINE))).toEqual(['1/2', short('half')])
    expect(second(note(FINE), note(2 * WHOLE))).toEqual(['1'])
    expect(second('', '')).toEqual(['1'])
  })

  test('may do so at the beginning, at the end, without a number, and before such a half', () => {
    const lengths = (...attrs: readonly string[]) => {
      const part = partOf(
        attrs.map((a, i) => ({ attrs: a, inside: (i === 0 ? head() : '') + forward(4) + note(4) })),
      )
      return part.measures.map(m => text(m.length))
    }
    const numbered = (...numbers: readonly (number | string)[]) =>
      lengths(...numbers.map(n => (typeof n === 'string' ? `number="${n}" implicit="yes"` : `number="${n}"`)))
    expect(numbered(1, 2, 3)).toEqual(['1/2', '1', '1/2'])
    expect(numbered(1, 'X1', 2, 3)).toEqual(['1/2', '1/2', '1', '1/2'])
    expect(numbered(1, 2, 'X1', 3)).toEqual(['1/2', '1/2', '1/2', '1/2'])
    // the two halves may bear the same number
    expect(numbered(1, 2, 2, 3)).toEqual(['1/2', '1/2', '1', '1/2'])
  })

  test('several of them are told in one line', () => {
    const odd = forward(4) + note(4)
    expect(partOf([head() + note(16), odd, odd, note(16)]).warnings).toEqual([
      'measures 2, 3: their notes do not add up to 4/4; each counts as 4/4',
    ])
  })

  test('or has none, and holds no whole number of notes, waits a little at its end, and that is said', () => {
    const free = (divisions: number, duration: number) => {
      const part = partOf([
        `<attributes><divisions>${divisions}</divisions><time><senza-misura/></time></attributes>${note(duration)}`,
      ])
      return [text(part.measures[0]?.length ?? frac(0)), ...part.warnings]
    }
    const waits = 'measure 1 holds no whole number of notes: its end waits a little'
    expect(free(16, 64 * 64)).toEqual(['64'])
    // up to sixty-four of any note value are a measure as it is
    for (const d of [1, 2, 4, 8, 16, 32, 64]) {
      expect(free(16, (63 * 64) / d)).toEqual([text(frac(63, d))])
      expect(free(16, (64 * 64) / d)).toEqual([text(frac(64, d))])
    }
    expect(free(16, 65 * 32)).toEqual(['33', waits])
    expect(free(16, 65 * 4)).toEqual(['33/8', waits])
    // thirds of a quarter, to the next 64th, or the finest of which there are not too many
    expect(free(3, 1)).toEqual(['3/32', waits])
    expect(free(3, 13)).toEqual(['35/32', waits])
    expect(free(3, 3 * 4 * 63 + 1)).toEqual(['64', waits])
    expect(free(16, 65)).toEqual(['33/32', waits])
  })
})

describe('a meter for a measure of another length', () => {
  const meterFor = (m: string | null, n: number, d: number) => {
    const { groups, unit } = fitted(m === null ? null : meter(m), frac(n, d))
    return `${groups.join('+')}/${text(unit)}`
  }
  test.each<[string | null, number, number, string]>([
    ['4/4', 1, 1, '1+1+1+1/1/4'],
    ['4/4', 3, 4, '1+1+1/1/4'],
    ['4/4', 5, 4, '1+1+1+1+1/1/4'],
    ['6/8', 9, 8, '3+3+3/1/8'],
    ['6/8', 1, 2, '3+1/1/8'],
    ['3+2/8', 7, 8, '3+2+2/1/8'],
    ['3+2/8', 3, 16, '3/1/16'],
    ['3+2/8', 11, 16, '6+4+1/1/16'],
    ['4/4', 3, 8, '2+1/1/8'],
    ['4/4', 1, 128, '1/1/128'],
    ['4/4', 1, 256, '1/1/256'],
    ['4/4', 1, 3, '1/1/3'],
    [null, 7, 4, '1+1+1+1+1+1+1/1/4'],
    [null, 1, 8, '1/1/8'],
  ])('%s over %d/%d is %s', (m, n, d, expected) => {
    expect(meterFor(m, n, d)).toBe(expected)
  })

  test('is always exactly as long', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('4/4', '6/8', '3+2/8', '2/2', '5/16', '7/8'),
        fc.integer({ min: 1, max: 400 }),
        fc.constantFrom(1, 2, 3, 4, 8, 12, 64, 128, 256),
        (m, n, d) => {
          const { groups, unit } = fitted(meter(m), frac(n, d))
          const length: Frac = sum(groups.map(g => times(unit, g)))
          expect(equal(length, frac(n, d))).toBe(true)
          if (equal(length, measureLength(meter(m)))) expect(groups).toEqual(meter(m).groups)
        },
      ),
      { numRuns: 200 },
    )
  })
})

test('a time of sixteen pairs is read, of what comes after nothing; one without any is empty', () => {
  const timed = (inside: string) =>
    partOf([attributes(`<divisions>4</divisions><time>${inside}</time>`) + note(16)]).measures[0]
  const pairs = (n: number) => '<beats>1</beats><beat-type>4</beat-type>'.repeat(n)
  expect(timed(pairs(16))?.meter?.groups).toHaveLength(16)
  expect(timed(pairs(17))?.meter?.groups).toHaveLength(16)
  expect(timed('')?.meterText).toBe('an empty time')
  expect(
    timed('<beats>3</beats><beat-type>4</beat-type><beats>x</beats><beat-type>8</beat-type>')?.meter,
  ).toBeNull()
  // a group of eighths beside quarters stays one group
  expect(
    timed('<beats>2</beats><beat-type>4</beat-type><beats>3</beats><beat-type>8</beat-type>')?.meter?.groups,
  ).toEqual([2, 2, 3])
})
