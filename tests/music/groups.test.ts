import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { cutForm } from '../../src/music/cut.ts'
import { type Form, measures, plainForm } from '../../src/music/form.ts'
import {
  add,
  compare,
  equal,
  type Frac,
  frac,
  fractionText,
  less,
  mul,
  sub,
  times,
  zero,
} from '../../src/music/fraction.ts'
import {
  type Altered,
  alteredNotes,
  cutNotes,
  groupSizes,
  groupsOf,
  type Note,
  onsetsOf,
} from '../../src/music/groups.ts'
import { parseRhythm, type Rhythm } from '../../src/music/rhythm.ts'
import { tempo } from '../../src/music/tempo.ts'
import { framesOf, meter, music, nearest, played } from '../click/support.ts'
import { anyForm, formAndSpan } from './any-form.ts'

const rhythm = (s: string): Rhythm => {
  const r = parseRhythm(s)
  if (!r.ok) throw new Error(s)
  return r.value
}
const [longShort, fours] = [rhythm('3:1'), rhythm('3:1:1:1')]
const [sixteenth, eighth, quarter, triplet] = [frac(1, 16), frac(1, 8), frac(1, 4), frac(1, 12)]

/** Lengths one after another from a place on; "-" before a length is a rest. */
const line = (text: string, from: Frac = zero): readonly Note[] => {
  const out: Note[] = []
  let at = from
  for (const word of text.split(' ').filter(Boolean)) {
    const [, rest, lengths, many] = /^(-?)(\d+\/\d+|\d+)(?:x(\d+))?$/.exec(word) ?? []
    const [n, d] = (lengths ?? '').split('/').map(Number)
    for (let i = 0; i < Number(many ?? 1); i++) {
      const length = frac(n ?? 0, d ?? 1)
      if (!rest) out.push({ at, length })
      at = add(at, length)
    }
  }
  return out
}
const starts = (f: Form, notes: readonly Note[], length: Frac, n: number) =>
  groupsOf(f, notes, length, n).map(g => fractionText(g.from))
const altered = (f: Form, notes: readonly Note[], r: Rhythm, run: Frac | null = null): Altered => {
  const a = alteredNotes(f, notes, r, run)
  if (!a) throw new Error('no group')
  return a
}
const onsets = (a: Altered) => a.onsets.map(fractionText)
const bars = (m: string, count: number, pickup: Frac = zero) => plainForm(meter(m), count, tempo(120), pickup)

describe('groups of equal notes', () => {
  test('stand on the beats: four sixteenths on each, not across two of them', () => {
    const notes = line('1/16x4 1/8 1/16x4 1/8 1/16x4 1/4')
    expect(starts(bars('4/4', 2), notes, sixteenth, 4)).toEqual(['0', '3/4'])
  })

  test('of two stand on the halves of the beat', () => {
    expect(starts(bars('2/4', 1), line('1/8 1/16x2 1/16 1/8 1/16'), sixteenth, 2)).toEqual(['1/8'])
  })

  test('hold no rest and no tie', () => {
    const f = bars('4/4', 1)
    expect(starts(f, line('1/16x3 -1/16 1/16x4 1/16x3 5/16'), sixteenth, 4)).toEqual(['1/4'])
  })

  test('over a bar line are none', () => {
    // two before the bar line and two after it
    expect(starts(bars('2/4', 2), line('1/4 1/8 1/16x4 1/8 1/4'), sixteenth, 4)).toEqual([])
  })

  test('of triplets next to sixteenths are groups of three, not of four', () => {
    const [f, notes] = [bars('2/4', 1), line('1/12x3 1/16x4')]
    expect(starts(f, notes, triplet, 3)).toEqual(['0'])
    expect(starts(f, notes, sixteenth, 4)).toEqual(['1/4'])
    expect(starts(f, notes, triplet, 2)).toEqual([])
  })

  test('in 6/8 are six, three or two in each dotted beat, never four', () => {
    const [f, notes] = [bars('6/8', 1), line('1/16x12')]
    expect(starts(f, notes, sixteenth, 6)).toEqual(['0', '3/8'])
    expect(starts(f, notes, sixteenth, 3).length).toBe(4)
    expect(starts(f, notes, sixteenth, 4)).toEqual([])
  })

  test('in 2+3/8 are four in the short beat and six in the long one', () => {
    const [f, notes] = [bars('2+3/8', 1), line('1/16x10')]
    expect(starts(f, notes, sixteenth, 4)).toEqual(['0'])
    expect(starts(f, notes, sixteenth, 6)).toEqual(['1/4'])
  })

  test('longer than a beat fill the measure: six sixteenths twice in 3/4', () => {
    expect(starts(bars('3/4', 1), line('1/16x12'), sixteenth, 6)).toEqual(['0', '3/8'])
    expect(starts(bars('4/4', 1), line('1/16x16'), sixteenth, 6)).toEqual([])
  })

  test('in a pick-up count from the bar line that it leads to', () => {
    const four = line('1/16x4 1/4')
    expect(starts(bars('4/4', 1, quarter), four, sixteenth, 4)).toEqual(['0'])
    // an eighth and a sixteenth of pick-up: the next two sixteenths stand on the beat
    expect(starts(bars('2/4', 1, eighth), line('1/16x6 1/4'), sixteenth, 4)).toEqual(['1/8'])
  })

  test('under a held note of a double stop count', () => {
    const held = [{ at: zero, length: quarter }, ...line('1/16x4')]
    expect(starts(bars('4/4', 1), held, sixteenth, 4)).toEqual(['0'])
  })
})

describe('a section that is cut from the music', () => {
  const f = bars('4/4', 2)
  const notes = line('1/2 1/16x8 1/16x16')
  const cut = (from: Frac, to: Frac) => ({ form: cutForm(f, from, to), notes: cutNotes(notes, from, to) })

  test('leaves a group that is cut by its end as written', () => {
    const { form, notes } = cut(zero, frac(13, 16))
    expect(starts(form, notes, sixteenth, 4)).toEqual(['1/2'])
    expect(onsets(altered(form, notes, fours)).at(-1)).toBe('3/4')
  })

  test('leaves a group that is cut by its beginning as written', () => {
    const { form, notes } = cut(frac(9, 16), frac(2))
    expect(starts(form, notes, sixteenth, 4)[0]).toBe('3/16')
  })

  test('begins with the note that sounds over its beginning', () => {
    const { notes } = cut(quarter, frac(1))
    expect(notes[0]).toEqual({ at: zero, length: quarter, held: true })
    // what is left of a held note makes no group
    const tied = cutNotes(line('5/16 1/16x3'), quarter, frac(1, 2))
    expect(starts(bars('1/4', 1), tied, sixteenth, 4)).toEqual([])
  })
})

describe('a rhythm over notes', () => {
  test('alters the groups inside their length and leaves all else as written', () => {
    const a = altered(bars('4/4', 1), line('1/4 1/16x4 -1/8 1/8 1/16x4'), fours)
    expect(onsets(a)).toEqual(['0', '1/4', '3/8', '5/12', '11/24', '5/8', '3/4', '7/8', '11/12', '23/24'])
    expect(a.groups.length).toBe(2)
  })

  test('takes the value that stands in most groups where nobody says, else the one that is said', () => {
    const [f, notes] = [bars('4/4', 1), line('1/8x4 1/16x8')]
    expect(altered(f, notes, longShort).length).toEqual(sixteenth)
    expect(altered(f, notes, longShort, eighth).groups.length).toBe(2)
    // Most groups, not the shortest value: two of sixteenths, three of eighths.
    expect(altered(bars('4/4', 1), line('1/8x6 1/16x4'), longShort).length).toEqual(eighth)
    // Of two that stand in as many the shorter one.
    expect(altered(bars('4/4', 1), line('1/8x4 1/16x4 1/4'), longShort).length).toEqual(sixteenth)
    expect(alteredNotes(f, notes, longShort, triplet)).toBeNull()
  })

  test('have from two to twelve notes: of thirteen no rhythm is made', () => {
    const sizes = (m: string, notes: string) => groupSizes(bars(m, 1), line(notes)).flatMap(g => g.sizes)
    expect(Math.max(...sizes('1/2', '1/24x12'))).toBe(12)
    expect(sizes('1/2', '1/26x13')).not.toContain(13)
    expect(Math.min(...sizes('2/4', '1/4x2'))).toBe(2)
  })

  test('says in which measures nothing is altered; silent ones are none of them', () => {
    expect(altered(bars('2/4', 4), line('1/16x8 1/2 -1/2 1/8 1/16x4 1/8'), fours).asWritten).toEqual([1, 3])
  })

  test('that stretches gives every note twice the time, and the groups their held note', () => {
    const stop = altered(bars('2/4', 1), line('1/16x4 1/8x2'), rhythm('5:1:1:1/2'))
    expect(onsets(stop)).toEqual(['0', '5/16', '3/8', '7/16', '1/2', '3/4'])
    expect(stop.form.length).toEqual(frac(1))
  })

  test('keeps a breath between its notes', () => {
    const f: Form = {
      ...bars('2/4', 1),
      breaths: [
        { at: eighth, kind: 'breath', adds: zero },
        { at: frac(3, 8), kind: 'breath', adds: zero },
      ],
    }
    const a = altered(f, line('1/16x4 1/8x2'), fours)
    expect(a.form.breaths?.map(b => fractionText(b.at))).toEqual(['1/6', '3/8'])
  })

  test('sizes: what groups there are, for the sentence that refuses a rhythm', () => {
    expect(groupSizes(bars('2/4', 2), line('1/16x4 1/12x3 1/8 1/16x2 1/4'))).toEqual([
      { length: sixteenth, sizes: [2, 4] },
      { length: triplet, sizes: [3] },
    ])
  })
})

test('the guide taps notes where they stand: a breath that takes time, another tempo, a rest', () => {
  const f: Form = {
    ...music('2/4', 2, '60'),
    marks: [
      { at: zero, tempo: tempo(60) },
      { at: frac(1, 2), tempo: tempo(120) },
    ],
    breaths: [{ at: frac(1, 4), kind: 'caesura', adds: frac(1, 8) }],
  }
  const notes = line('1/8x2 1/4 -1/4 1/8x2')
  const p = played(f, { guide: { onsets: onsetsOf(notes).map(n => n.at) } })
  expect(framesOf(p, 'guide')).toEqual(nearest([0, 0.5, 1.5, 3, 3.25]))
})

/** Notes as parts have them: beats of every kind, ties over them, rests, two notes at once; from the first note on. */
const cells = [
  '1/16x4',
  '1/16x4',
  '1/16x4',
  '1/12x3',
  '1/8x2',
  '1/8 1/16x2',
  '3/16 1/16',
  '1/4',
  '-1/4',
  '1/16 1/8 1/16',
  '5/16 1/16x3',
  '1/24x6',
  '1/16x6',
  '1/8',
  '-1/8',
] as const
const anyNotes = fc
  .array(fc.record({ cell: fc.constantFrom(...cells), both: fc.nat(9) }), {
    minLength: 8,
    maxLength: 40,
    size: 'max',
  })
  .map(all => {
    const notes: Note[] = []
    let at = zero
    for (const { cell, both } of all) {
      const made = line(cell, at)
      notes.push(...made)
      if (both === 0) notes.push(...made.slice(0, 1).map(n => ({ ...n, length: times(n.length, 4) })))
      at = cell.startsWith('-')
        ? add(at, frac(1, cell === '-1/4' ? 4 : 8))
        : made.reduce((a, n) => add(a, n.length), at)
    }
    return notes
  })
const RHYTHMS = ['3:1', '1:3', '2:1:1', '3:1:1:1', '1:1:1:3', '5:1:1:1:1:1', '5:1:1:1/2'].map(rhythm)

describe('whatever the music is', () => {
  /** Mostly with the beats of its measures. */
  const scene = fc
    .record({
      cut: formAndSpan,
      cells: anyNotes,
      astray: fc.nat(4),
      r: fc.constantFrom(...RHYTHMS),
      run: fc.constantFrom(sixteenth, sixteenth, triplet, null),
    })
    .map(({ cells, astray, ...rest }) => {
      const by = astray === 0 ? zero : rest.cut.form.pickup
      return { ...rest, notes: cells.map(n => ({ ...n, at: add(n.at, by) })) }
    })

  test('groups lie apart, each in equal notes of one measure; altered onsets stay in their group, its end unchanged', () => {
    let [groups, cuts, inPickups, stretched] = [0, 0, 0, 0]
    fc.assert(
      fc.property(scene, ({ cut, notes: all, r, run }) => {
        const { from, to } = cut
        const [form, notes] = [cutForm(cut.form, from, to), cutNotes(all, from, to)]
        const a = alteredNotes(form, notes, r, run)
        if (!a) return
        const n = r.ratios.length
        const written = onsetsOf(notes)
        const at = written.map(note => note.at)
        expect(a.onsets.length).toBe(written.length)
        a.groups.forEach((g, i) => {
          const next = a.groups[i + 1]
          if (next) expect(compare(g.to, next.from)).toBeLessThanOrEqual(0)
          const m = measures(form)[g.measure]
          expect(m && compare(m.from, g.from) <= 0 && compare(g.to, m.to) <= 0).toBe(true)
          expect(sub(g.to, g.from)).toEqual(times(a.length, n))
          const own = [...at.keys()].filter(
            k => compare(g.from, at[k] as Frac) <= 0 && less(at[k] as Frac, g.to),
          )
          expect(own.length).toBe(n)
          own.forEach((k, j) => {
            expect(written[k]?.length).toEqual(a.length)
            expect(at[k]).toEqual(add(g.from, times(a.length, j)))
            const here = a.onsets[k] as Frac
            expect(compare(times(g.from, r.over), here) <= 0 && less(here, times(g.to, r.over))).toBe(true)
          })
          // as long as it was, in the ratios of the rhythm
          const heard = [...own.map(k => a.onsets[k] as Frac), times(g.to, r.over)]
          const sum = r.ratios.reduce((x, y) => x + y, 0)
          r.ratios.forEach((ratio, j) => {
            const lasts = sub(heard[j + 1] as Frac, heard[j] as Frac)
            expect(lasts).toEqual(mul(times(a.length, n * r.over), frac(ratio, sum)))
          })
          if (m?.number === 0) inPickups++
        })
        // outside of groups nothing moves
        at.forEach((x, k) => {
          if (!a.groups.some(g => compare(g.from, x) <= 0 && less(x, g.to)))
            expect(a.onsets[k]).toEqual(times(x, r.over))
        })
        for (const [k, x] of a.onsets.entries())
          if (k > 0) expect(less(a.onsets[k - 1] as Frac, x)).toBe(true)
        groups += a.groups.length
        if (!equal(from, zero)) cuts += a.groups.length
        if (r.over > 1) stretched++
      }),
      { numRuns: 600 },
    )
    expect(Math.min(groups / 20, cuts / 20, inPickups, stretched)).toBeGreaterThan(7)
  })

  test('a section has the groups of the whole that lie inside it whole, and no others', () => {
    let [kept, lost] = [0, 0]
    fc.assert(
      fc.property(scene, ({ cut, notes, r }) => {
        const { form, from, to } = cut
        const n = r.ratios.length
        const all = groupsOf(form, notes, sixteenth, n)
        const inside = all.filter(g => compare(from, g.from) <= 0 && compare(g.to, to) <= 0)
        const here = groupsOf(cutForm(form, from, to), cutNotes(notes, from, to), sixteenth, n)
        expect(here.map(g => fractionText(add(g.from, from)))).toEqual(inside.map(g => fractionText(g.from)))
        kept += inside.length
        lost += all.length - inside.length
      }),
      { numRuns: 400 },
    )
    expect(Math.min(kept, lost)).toBeGreaterThan(100)
  })

  test('the guide taps each written onset once, in any tempo, after the same stops as the beats', () => {
    fc.assert(
      fc.property(anyForm, anyNotes, (form, all) => {
        const notes = cutNotes(all, zero, form.length)
        const onsets = onsetsOf(notes).map(n => n.at)
        const p = played(form, { guide: { onsets } })
        const taps = p.onsets.filter(o => o.role === 'guide')
        expect(taps.length).toBe(onsets.length)
        const bars = measures(form)
        taps.forEach((tap, i) => {
          const m = bars.findLast(b => compare(b.from, onsets[i] as Frac) <= 0)
          expect(tap.measure).toBe(m?.number)
        })
        for (const m of bars) {
          const at = onsets.findIndex(x => equal(x, m.barline))
          const bar = p.onsets.find(o => o.role === 'downbeat' && o.measure === m.number)
          if (at >= 0 && bar) expect(taps[at]?.frame).toBe(bar.frame)
        }
      }),
      { numRuns: 300 },
    )
  })
})
