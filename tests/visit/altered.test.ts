import { describe, expect, test } from 'vitest'
import { rhythmKey } from '../../src/ladder/key.ts'
import { type Frac, frac } from '../../src/music/fraction.ts'
import type { Note } from '../../src/music/groups.ts'
import { checked, type Result, sentence } from '../../src/music/result.ts'
import type { Rhythm } from '../../src/music/rhythm.ts'
import { tempo, typed } from '../../src/music/tempo.ts'
import { altered, fits, guided } from '../../src/visit/altered.ts'
import type { Target } from '../../src/visit/subject.ts'
import { quickTarget } from '../../src/visit/target.ts'

const rhythm = (...ratios: readonly number[]): Rhythm => ({
  name: ratios.join(':'),
  words: `rhythm ${ratios.join(':')}`,
  ratios,
  over: 1,
})
const LONG_SHORT = rhythm(3, 1)

/** Three measures of 4/4 to quarter = 120, with these notes. */
const music = (...notes: readonly Note[]): Target => ({
  ...checked(quickTarget({ goal: tempo(120), measures: 3 })),
  numbers: ['41', '42', '43'],
  notes,
})
/** So many notes of one length in a row. */
const run = (count: number, length: Frac, from = 0): readonly Note[] =>
  Array.from({ length: count }, (_, i) => ({ at: frac(from * length.d + i * length.n, length.d), length }))
const refusal = (r: Result<unknown>): string => (r.ok ? '' : sentence(r.problem))
const saidOf = (t: Target, r: Rhythm): string | undefined => checked(altered(t, r)).said

describe('notes that run from beginning to end, where no part was read', () => {
  test('are four to the beat where nobody says: the guide taps the rhythm over them', () => {
    const t = checked(altered(music(), LONG_SHORT))
    expect(t.click.guide).toEqual({ ratios: [3, 1], group: frac(1, 8) })
    expect(t).toMatchObject({
      key: rhythmKey('quick 4/4 x3 none quarter even', '3:1'),
      title: `${music().title}, rhythm 3:1`,
      rhythm: LONG_SHORT,
      said: '',
    })
    expect(t).not.toHaveProperty('top')
  })

  test('or as long as the player says', () => {
    const t = checked(altered({ ...music(), run: frac(1, 8) }, LONG_SHORT))
    expect(t.click.guide).toEqual({ ratios: [3, 1], group: frac(1, 4) })
  })

  test('the ladder climbs to the tempo at which the quick notes run as the even ones do at the goal', () => {
    const t = checked(altered(music(), LONG_SHORT))
    // Long and short 3:1: the short one has half its even length.
    expect([t.start && typed(t.start), typed(t.goal)]).toEqual(['36', '60'])
  })

  test('a margin above the goal is left aside', () => {
    expect(checked(altered({ ...music(), top: tempo(126) }, LONG_SHORT))).not.toHaveProperty('top')
  })

  test('groups that do not fill the beats are refused, with their size and the meter', () => {
    const meter = { groups: [2, 2, 3], unit: frac(1, 8) }
    const t = checked(quickTarget({ goal: tempo(120), meter }))
    const four = rhythm(3, 1, 1, 1)
    expect(refusal(altered(t, four))).toBe(
      '"3:1:1:1" doesn\'t work for the rhythm. Try a rhythm whose groups of 4 notes fill the beats of 7/8.',
    )
    expect(fits(t, four)).toBe(false)
    expect(fits(music(), four)).toBe(true)
  })

  test('a ladder that leads down is played in even rhythm', () => {
    expect(refusal(altered({ ...music(), direction: 'down' }, LONG_SHORT))).toContain('even rhythm')
  })
})

describe('the notes of a part that was read', () => {
  test('are altered in their groups and tapped as they are heard then', () => {
    const t = checked(altered(music(...run(8, frac(1, 16))), LONG_SHORT))
    expect(t.click.guide).toEqual({
      onsets: [0, 3, 4, 7, 8, 11, 12, 15].map(n => frac(n, 32)),
    })
    expect(t.said).toBe('4 groups of two 16ths altered')
  })

  test.each([
    [run(2, frac(1, 16)), [3, 1], '1 group of two 16ths altered'],
    [run(2, frac(1, 2)), [3, 1], '1 group of two halves altered'],
    [run(4, frac(1, 4)), [3, 1], '2 groups of two quarters altered'],
    [run(12, frac(1, 12)), [2, 1, 1], '4 groups of three eighth triplets altered'],
    [run(5, frac(1, 20)), [1, 2, 1, 2, 1], '1 group of five notes of 1/20 altered'],
    [run(12, frac(1, 48)), Array(12).fill(1).with(0, 2), '1 group of twelve 32nd triplets altered'],
    [run(13, frac(1, 52)), Array(13).fill(1).with(0, 2), '1 group of 13 notes of 1/52 altered'],
  ])('are told by how many, and by their name: %#', (notes, ratios, words) => {
    expect(saidOf(music(...notes), rhythm(...ratios))).toBe(words)
  })

  test('measures that stay as written are named by their numbers', () => {
    const t = music(
      ...run(16, frac(1, 16)),
      { at: frac(1), length: frac(1) },
      { at: frac(2), length: frac(1) },
    )
    expect(saidOf(t, LONG_SHORT)).toBe('8 groups of two 16ths altered; m. 42-43 as written')
  })

  test('one measure as written is named as well', () => {
    const t = music(...run(32, frac(1, 16)), { at: frac(2), length: frac(1) })
    expect(saidOf(t, LONG_SHORT)).toBe('16 groups of two 16ths altered; m. 43 as written')
  })

  test('up to forty letters of numbers', () => {
    const said = (letters: number) => {
      const t = music({ at: frac(0), length: frac(1) }, ...run(16, frac(1, 16), 1), {
        at: frac(2),
        length: frac(1),
      })
      return saidOf({ ...t, numbers: ['1', '2', '3'.repeat(letters - 3)] }, LONG_SHORT)
    }
    expect(said(40)).toBe(`8 groups of two 16ths altered; m. 1, ${'3'.repeat(37)} as written`)
    expect(said(41)).toBe('8 groups of two 16ths altered; 2 measures as written')
  })

  test('or counted, where the numbers would fill the line', () => {
    const measures = 60
    // Every other measure has a group, so that no two of the others stand together.
    const notes = Array.from({ length: measures }, (_, i) =>
      i % 2 === 0 ? run(2, frac(1, 2), i) : [{ at: frac(i), length: frac(1) }],
    ).flat()
    const long: Target = {
      ...checked(quickTarget({ goal: tempo(120), measures })),
      numbers: Array.from({ length: measures }, (_, i) => String(i + 1)),
      notes,
    }
    expect(saidOf(long, LONG_SHORT)).toBe('30 groups of two halves altered; 30 measures as written')
  })

  test('where no group of that size stands, those that do are named', () => {
    const t = music(...run(12, frac(1, 12)), ...run(4, frac(1, 4), 1))
    const said = refusal(altered(t, rhythm(1, 2, 1, 2, 1)))
    expect(said).toMatch(
      /^"1:2:1:2:1" doesn't work for the rhythm\. Try a rhythm for the groups that stand here: /,
    )
    expect(said).toContain('three')
    expect(said).toContain('eighth triplets')
    expect(said).toContain('; ')
    expect(said).toContain('two')
    expect(said).toContain('quarters')
    expect(fits(t, rhythm(1, 2, 1, 2, 1))).toBe(false)
    expect(fits(t, LONG_SHORT)).toBe(true)
  })

  test('and where there is none at all, the even rhythm', () => {
    expect(refusal(altered(music({ at: frac(0), length: frac(1) }), LONG_SHORT))).toBe(
      '"3:1" doesn\'t work for the rhythm. Try the even rhythm: no equal notes stand together on a beat here.',
    )
  })
})

describe('a guide that taps every note', () => {
  const read = music(...run(4, frac(1, 4)))
  const tapped = { onsets: [frac(0), frac(1, 4), frac(1, 2), frac(3, 4)] }

  test('where it is asked for, or the passage asks for it', () => {
    for (const t of [
      guided(read, 'notes', undefined),
      guided(read, undefined, 'notes'),
      guided(read, 'notes', 'none'),
    ]) {
      expect(checked(t).click.guide).toEqual(tapped)
      expect(checked(t).said).toBe('the guide taps the notes')
    }
  })

  test('and not where it is not', () => {
    expect(checked(guided(read, undefined, undefined))).toEqual(read)
    expect(checked(guided(read, 'none', 'notes'))).toEqual(read)
    expect(checked(guided(read, undefined, 'none'))).toEqual(read)
  })

  test('without notes it is refused where it was asked for, and silent where the passage only says so', () => {
    expect(refusal(guided(music(), 'notes', undefined))).toContain('has notes to tap')
    expect(checked(guided(music(), undefined, 'notes'))).toEqual(music())
  })
})
