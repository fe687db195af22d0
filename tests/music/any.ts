import fc from 'fast-check'
import { type Frac, frac } from '../../src/music/fraction.ts'
import { type Meter, parseMeter } from '../../src/music/meter.ts'
import { NOTE_VALUES } from '../../src/music/note-value.ts'
import type { Tempo } from '../../src/music/tempo.ts'

/** A fraction whose sums and products of two stay exact. */
export const anyFrac: fc.Arbitrary<Frac> = fc
  .tuple(fc.integer({ min: -9999, max: 9999 }), fc.integer({ min: 1, max: 9999 }))
  .map(([n, d]) => frac(n, d))

/** A tempo that can be typed: 1 to 999 with at most three decimals, of any named note value. */
export const anyTempo: fc.Arbitrary<Tempo> = fc
  .tuple(fc.constantFrom(...NOTE_VALUES), fc.integer({ min: 1000, max: 999_000 }))
  .map(([unit, thousandths]) => ({ unit, bpm: frac(thousandths, 1000) }))

const over = fc.constantFrom(1, 2, 4, 8, 16, 32, 64)

/** A meter as it is typed: a number or a sum of groups over a note value. */
export const typedMeter: fc.Arbitrary<string> = fc
  .tuple(
    fc.oneof(
      fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 2, maxLength: 7 }),
      fc.tuple(fc.integer({ min: 1, max: 64 })),
    ),
    over,
  )
  .map(([groups, under]) => `${groups.join('+')}/${under}`)

export const anyMeter: fc.Arbitrary<Meter> = typedMeter.map(s => {
  const read = parseMeter(s)
  if (!read.ok) throw new Error(s)
  return read.value
})

/** What a person might type into any field: ordinary text, near misses, control characters. */
export const anyText: fc.Arbitrary<string> = fc.oneof(
  fc.string({ maxLength: 30, unit: 'binary' }),
  fc.string({ maxLength: 16, unit: fc.constantFrom(...'0123456789+-/=.% anotchdrwi\t\u001b') }),
  fc.constantFrom(
    '',
    ' ',
    '=',
    '/',
    '+',
    '%',
    '112=',
    '=112',
    '4/',
    '/4',
    '__proto__',
    'constructor',
    'NaN',
    '1e3',
  ),
)
