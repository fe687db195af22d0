import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { compare, type Frac, frac, mul, times } from '../../src/music/fraction.ts'
import {
  NOTE_VALUES,
  noteValueName,
  parseLength,
  parseNoteValue,
  several,
} from '../../src/music/note-value.ts'
import { anyText } from './any.ts'

const value = (s: string): Frac | null => {
  const read = parseNoteValue(s)
  return read.ok ? read.value : null
}

describe('note values', () => {
  it.each([
    ['breve', frac(2)],
    ['whole', frac(1)],
    ['half', frac(1, 2)],
    ['quarter', frac(1, 4)],
    ['eighth', frac(1, 8)],
    ['16th', frac(1, 16)],
    ['64th', frac(1, 64)],
    ['dotted-quarter', frac(3, 8)],
    ['dotted-half', frac(3, 4)],
    ['double-dotted-half', frac(7, 8)],
  ])('a %s is %o of a whole note', (name, length) => {
    expect(value(name)).toEqual(length)
  })

  it('may be written with spaces, capitals and in words', () => {
    expect(value(' Dotted Quarter ')).toEqual(frac(3, 8))
    expect(value('double dotted_half')).toEqual(frac(7, 8))
    expect(value('sixteenth')).toEqual(value('16th'))
    expect(value('dotted thirty-second')).toEqual(value('dotted-32nd'))
    expect(value('sixty-fourth')).toEqual(value('64th'))
  })

  it('each is twice the next shorter one; a dot adds half, a second dot half of that', () => {
    const plain = ['breve', 'whole', 'half', 'quarter', 'eighth', '16th', '32nd', '64th']
    plain.forEach((name, i) => {
      const here = value(name) as Frac
      const next = plain[i + 1]
      if (next) expect(times(value(next) as Frac, 2)).toEqual(here)
      expect(value(`dotted-${name}`)).toEqual(mul(here, frac(3, 2)))
      expect(value(`double-dotted-${name}`)).toEqual(mul(here, frac(7, 4)))
    })
  })

  it('all 24 have different lengths, stand longest first, and their names read back', () => {
    expect(NOTE_VALUES).toHaveLength(24)
    NOTE_VALUES.forEach((v, i) => {
      const next = NOTE_VALUES[i + 1]
      if (next) expect(compare(v, next)).toBeGreaterThan(0)
      expect(value(noteValueName(v))).toEqual(v)
    })
  })

  it('a length without a name is said as its fraction', () => {
    expect(noteValueName(frac(5, 8))).toBe('5/8')
  })

  it.each(['', 'dotted', 'dotted-', 'crotchet', '4', '1/4', 'triple-dotted-half', 'constructor', 'quarters'])(
    '%j is refused with what is accepted',
    s => {
      const read = parseNoteValue(s, 'beat')
      expect(read).toMatchObject({ ok: false, problem: { field: 'beat', got: s } })
      expect(!read.ok && read.problem.accepted).toMatch(/quarter/)
    },
  )

  it('nothing that is typed throws', () => {
    fc.assert(
      fc.property(anyText, s => {
        const read = parseNoteValue(s)
        if (read.ok) expect(NOTE_VALUES).toContainEqual(read.value)
        else expect(read.problem.got).toBe(s)
      }),
      { numRuns: 2000 },
    )
  })
})

it('several of a value are halves, dotted halves, quarters', () => {
  expect(['half', 'dotted-half', 'quarter'].map(several)).toEqual(['halves', 'dotted halves', 'quarters'])
})

describe('a length that need not be one note', () => {
  it('is a note value or a fraction of a whole note, and reads back from its name', () => {
    for (const v of [...NOTE_VALUES, frac(5, 16), frac(1, 12), frac(2, 3)])
      expect(parseLength(noteValueName(v))).toEqual({ ok: true, value: v })
  })

  it.each(['', '0', '0/4', '-1/4', 'long', '1/5000'])('%j is refused with what is accepted', s => {
    const read = parseLength(s, 'pick-up')
    expect(read).toMatchObject({ ok: false, problem: { field: 'pick-up', got: s } })
    expect(!read.ok && read.problem.accepted).toMatch(/quarter.*or a fraction like 5\/16$/)
  })
})
