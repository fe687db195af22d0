import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Changing, changingText, parseChanging, type Toward, valueAt } from '../../src/music/changing.ts'
import { CLICKED, type Clicked } from '../../src/music/clicked.ts'
import { frac } from '../../src/music/fraction.ts'
import { NOTE_VALUES } from '../../src/music/note-value.ts'
import { ok, sentence } from '../../src/music/result.ts'
import { compareTempo, parseTempo, sameTempo, type Tempo, tempo, typed } from '../../src/music/tempo.ts'
import { anyText } from './any.ts'

const HALF = frac(1, 2)
const QUARTER = frac(1, 4)

/** A tempo that can be typed: three decimals at most. */
const typedTempo: fc.Arbitrary<Tempo> = fc
  .tuple(fc.constantFrom(...NOTE_VALUES), fc.integer({ min: 1000, max: 999_000 }))
  .map(([unit, thousandths]) => ({ unit, bpm: frac(thousandths, 1000) }))

const changing = <T>(value: fc.Arbitrary<T>): fc.Arbitrary<Changing<T>> =>
  fc
    .tuple(
      fc.option(value),
      fc.uniqueArray(fc.tuple(typedTempo, value), {
        maxLength: 5,
        size: 'max',
        comparator: (a, b) => sameTempo(a[0], b[0]),
      }),
    )
    .map(([first, then]) => [
      ...(first === null ? [] : [{ from: null, value: first }]),
      ...then.map(([from, value]) => ({ from, value })),
    ])
    .filter(c => c.length > 0)

const beats = fc.option(fc.array(fc.integer({ min: 1, max: 32 }), { minLength: 1, maxLength: 4 }))
const ANY: { readonly [K in keyof Required<Clicked>]: fc.Arbitrary<Changing<unknown>> } = {
  pulse: changing(fc.constantFrom(...NOTE_VALUES)),
  subdivide: changing(fc.integer({ min: 1, max: 8 })),
  beats: changing(beats),
  on: changing(fc.option(fc.integer({ min: 1, max: 32 }))),
  off: changing(fc.integer({ min: 1, max: 32 })),
}

const pulse = (s: string): Changing<unknown> => {
  const read = CLICKED.pulse.parse(s, 'pulse')
  if (!read.ok) throw new Error(sentence(read.problem))
  return read.value
}
const refused = (k: keyof Clicked, s: string): string => {
  const read = CLICKED[k].parse(s, k)
  return read.ok ? 'taken' : sentence(read.problem)
}

// Common practice, no source: fewer clicks, and a longer pulse, as the tempo rises.
describe('what changes with the tempo, as it is typed', () => {
  it('in quarters, and in halves from quarter = 100 on', () => {
    expect(pulse('quarter; half from quarter=100')).toEqual([
      { from: null, value: QUARTER },
      { from: tempo(100), value: HALF },
    ])
    expect(pulse('half from 100')).toEqual([{ from: tempo(100), value: HALF }])
    expect(pulse('half')).toEqual([{ from: null, value: HALF }])
  })

  it('all beats, from 112 on beat 1 alone, or beats 2 and 4', () => {
    expect(CLICKED.beats.parse('all; 1 from 112; 2, 4 from half=63', 'beats')).toEqual(
      ok([
        { from: null, value: null },
        { from: tempo(112), value: [1] },
        { from: tempo(63, HALF), value: [2, 4] },
      ]),
    )
  })

  it.each(Object.keys(ANY) as (keyof Clicked)[])('printed and read again it is the same: %s', k => {
    let several = 0
    fc.assert(
      fc.property(ANY[k], c => {
        const text = (CLICKED[k].show as (c: Changing<unknown>) => string)(c)
        several += c.length > 2 ? 1 : 0
        expect(CLICKED[k].parse(text, k)).toEqual(ok(c))
      }),
    )
    expect(several).toBeGreaterThan(0)
  })

  it('what is wrong is said in one sentence that names the field', () => {
    expect(refused('pulse', 'quarter; half')).toBe(
      '"half" doesn\'t work for the pulse. Try after ";" a value and the tempo from which it holds, like half from 100.',
    )
    expect(refused('pulse', 'thirds from 100')).toMatch(/^"thirds".* for the pulse.*quarter/)
    expect(refused('pulse', 'half from fast')).toMatch(/^In pulse, from "fast"/)
    expect(refused('beats', 'all; 1 from 112; 2 from quarter=112')).toMatch(
      /^In beats, from "112".*only once/,
    )
    expect(refused('beats', '0')).toContain('from 1 to 32')
    expect(refused('on', '2 off 2')).toContain('all, or a whole number')
    expect(refused('subdivide', '')).toContain('is missing')
    for (const k of Object.keys(ANY) as (keyof Clicked)[]) expect(refused(k, '2;')).not.toBe('taken')
  })

  it('any text is read or refused, never worse', () => {
    fc.assert(
      fc.property(anyText, s => {
        for (const k of Object.keys(ANY) as (keyof Clicked)[]) CLICKED[k].parse(s, k)
      }),
    )
  })
})

describe('which value holds', () => {
  const word = parseChanging('slow; walking from 80; fast from 132', 'pace', s => ok(s))
  const pace: Changing<string> = word.ok ? word.value : []

  it('each from its own tempo on, that tempo included', () => {
    const at = (t: string) => {
      const read = parseTempo(t)
      return read.ok && valueAt(pace, read.value)
    }
    expect(['79.9', '80', '131', '132', '208'].map(at)).toEqual([
      'slow',
      'walking',
      'walking',
      'fast',
      'fast',
    ])
    // 66 halves are 132 quarters.
    expect([at('half=65.9'), at('half=66')]).toEqual(['walking', 'fast'])
  })

  it('on a ladder that leads down from there on slower', () => {
    const down = (t: number) => valueAt(pace, tempo(t), 'down')
    expect([140, 132, 100, 80, 60].map(down)).toEqual(['slow', 'fast', 'fast', 'walking', 'walking'])
  })

  it('before the first one none', () => {
    expect(valueAt([{ from: tempo(100), value: 'in 2' }], tempo(99))).toBeUndefined()
  })

  it('the tempo alone decides, and on the way to the goal a value that was left never comes back', () => {
    let changes = 0
    const numbered = changing(fc.constant(0)).map(c => c.map((s, i) => ({ ...s, value: i })))
    fc.assert(
      fc.property(
        numbered,
        fc.array(typedTempo, { minLength: 2, maxLength: 12, size: 'max' }),
        fc.constantFrom<Toward>('up', 'down'),
        (c, tempos, toward) => {
          const climb = [...tempos].sort((a, b) => compareTempo(a, b) * (toward === 'up' ? 1 : -1))
          const held = climb.map(t => valueAt(c, t, toward))
          const stays = held.filter((v, i) => i === 0 || v !== held[i - 1])
          changes += stays.length > 2 ? 1 : 0
          expect(new Set(stays).size).toBe(stays.length)
          // The order in which they are typed plays no part, nor does the note value in which a tempo is given.
          expect(climb.map(t => valueAt([...c].reverse(), t, toward))).toEqual(held)
        },
      ),
    )
    expect(changes).toBeGreaterThan(0)
  })
})

it('a print names tempos as they are typed', () => {
  const c: Changing<number> = [
    { from: null, value: 2 },
    { from: tempo(84), value: 1 },
  ]
  expect(changingText(c, String)).toBe(`2; 1 from ${typed(tempo(84))}`)
})
