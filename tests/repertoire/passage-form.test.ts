import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { compile } from '../../src/click/compile.ts'
import { measures } from '../../src/music/form.ts'
import { type Frac, frac, fractionText, zero } from '../../src/music/fraction.ts'
import { meterText } from '../../src/music/meter.ts'
import { parsePlace, placeAt } from '../../src/music/place.ts'
import { type Result, sentence } from '../../src/music/result.ts'
import { joined, sections } from '../../src/music/sections.ts'
import { type Tempo, typed } from '../../src/music/tempo.ts'
import { findPiece } from '../../src/repertoire/find-piece.ts'
import {
  cutPassage,
  musicMark,
  type PassageForm,
  passageForm,
  passageNotes,
  sectionForm,
} from '../../src/repertoire/passage-form.ts'
import {
  checkPiece,
  type Passage,
  type Piece,
  parsePiece,
  pieceText,
  type Section,
} from '../../src/repertoire/piece.ts'
import { overture } from '../store/scene.ts'

/** Measures 41 to 46 of the overture's weir: 4/4, two of 7/8, back; a ritardando into the last measure but one. */
const weir: Passage = {
  id: 'p0000003',
  name: 'over the weir',
  measures: '41-46',
  meter: '4/4',
  count: 6,
  pickup: 'quarter',
  start: '72',
  goal: '120',
  goalTop: '126',
  run: '16th',
  matters: 'must',
  pulse: 'half',
  rhythms: ['long-short', '5:1:1:1/2'],
  changes: [
    { at: '43', meter: '2+2+3/8' },
    { at: '45', meter: '4/4' },
  ],
  tempos: [
    { at: '40', tempo: '120' },
    { at: '45', tempo: '120', ramp: true },
    { at: '46', tempo: 'half=30' },
  ],
  breaths: [
    { at: '43', kind: 'breath', word: 'quick' },
    { at: '42.3', kind: 'slow-breath', below: '84' },
    { at: '46', kind: 'fermata', note: 'half', adds: 'half' },
  ],
  sections: [
    { id: 's0000001', name: 'one', from: '40.4', to: '43.2' },
    { id: 's0000002', name: 'two', from: '43', to: '45.3' },
    { id: 's0000003', name: 'three', from: '45.3', to: 'end' },
  ],
  notes: ['0 1/16 Bb4', '1/16 1/16 C5', '1/8 1/8 x'],
}
const piece: Piece = {
  ...overture,
  concert: '2026-04-18',
  sure: 'printed',
  source: 'horn 1.mxl',
  passages: [...overture.passages, weir],
}

const sure = <T>(r: Result<T>): T => {
  if (!r.ok) throw new Error(sentence(r.problem))
  return r.value
}
const section = (name: string): Section => weir.sections?.find(s => s.name === name) as Section
const marks = (f: PassageForm) => f.form.marks.map(m => [fractionText(m.at), typed(m.tempo), m.ramp ?? false])
const meters = (f: PassageForm) => f.form.meters.map(m => [fractionText(m.at), meterText(m.meter)])

describe('a passage as it is written', () => {
  const f = sure(passageForm(weir))

  it('has its measures where the meters put them, called by their numbers', () => {
    expect(f.numbers).toEqual(['40', '41', '42', '43', '44', '45', '46'])
    expect(measures(f.form).map(m => fractionText(m.from))).toEqual([
      '0',
      '1/4',
      '5/4',
      '9/4',
      '25/8',
      '4',
      '5',
    ])
    expect(meters(f)).toEqual([
      ['0', '4/4'],
      ['9/4', '7/8'],
      ['4', '4/4'],
    ])
    expect(f.form.length).toEqual(frac(6))
  })

  it('changes its tempo where it is written', () => {
    expect(marks(f)).toEqual([
      ['0', '120', false],
      ['4', '120', true],
      ['5', 'half=30', false],
    ])
    expect([f.start && typed(f.start), typed(f.goal)]).toEqual(['72', '120'])
  })

  it('has its breaths in order, each adding what is said, or a beat', () => {
    expect(f.form.breaths).toEqual([
      { at: frac(7, 4), kind: 'slow-breath', adds: frac(1, 4), below: { unit: frac(1, 4), bpm: frac(84) } },
      { at: frac(9, 4), kind: 'breath', adds: frac(1, 4), word: 'quick' },
      { at: frac(11, 2), kind: 'fermata', note: frac(1, 2), adds: frac(1, 2) },
    ])
  })

  it('a goal other than the tempo written first leaves it and the ramp from it', () => {
    const slowing = sure(
      passageForm({
        ...weir,
        tempos: [
          { at: '40', tempo: '100', ramp: true },
          { at: '42', tempo: '80' },
        ],
      }),
    )
    expect(marks(slowing).slice(0, 2)).toEqual([
      ['0', '100', true],
      ['5/4', '80', false],
    ])
    expect(typed(slowing.goal)).toBe('120')
  })

  it('may end inside its last measure', () => {
    const short = sure(passageForm({ ...weir, ends: '46.3', breaths: [] }))
    expect(short.form.length).toEqual(frac(11, 2))
    expect(short.numbers).toHaveLength(7)
  })

  it('may call its measures by other names', () => {
    const numbers = ['X1', '41', '42', '42a', '43', '45', '46']
    const f = sure(
      passageForm({
        ...weir,
        numbers,
        changes: [{ at: '42a', meter: '3/4' }],
        tempos: [],
        breaths: [],
        sections: [],
      }),
    )
    expect(parsePlace('42a.2', f)).toEqual({ ok: true, value: frac(5, 2) })
    expect(meters(f)[1]).toEqual(['9/4', '3/4'])
  })

  it('may begin anywhere in a measure', () => {
    const f = sure(
      passageForm({ ...weir, pickup: '5/16', sections: [], changes: [], tempos: [], breaths: [] }),
    )
    expect(f.form.pickup).toEqual(frac(5, 16))
    expect(placeAt(zero, f)).toBe('40+11/16')
  })

  it('has notes for what needs them', () => {
    expect(passageNotes(weir)).toEqual([
      { at: zero, length: frac(1, 16), pitch: 'Bb4' },
      { at: frac(1, 16), length: frac(1, 16), pitch: 'C5' },
      { at: frac(1, 8), length: frac(1, 8), pitch: null },
    ])
    expect(passageNotes(overture.passages[0] as Passage)).toEqual([])
  })
})

describe('a section of a passage', () => {
  it('has its own measures, pick-up and breaths', () => {
    const one = sure(sectionForm(weir, section('one')))
    expect(one.numbers).toEqual(['40', '41', '42', '43'])
    expect([one.form.pickup, one.form.length]).toEqual([frac(1, 4), frac(5, 2)])
    expect(one.form.breaths?.map(b => b.kind)).toEqual(['slow-breath', 'breath'])
    expect([one.start && typed(one.start), typed(one.goal)]).toEqual(['72', '120'])
  })

  it('that begins inside the ritardando has its ladder at the tempo there, and half its measure as pick-up', () => {
    const three = sure(sectionForm(weir, section('three')))
    expect(three.numbers).toEqual(['45', '46'])
    expect(three.form.pickup).toEqual(frac(1, 2))
    // Half way from 120 to 60.
    expect(marks(three)).toEqual([
      ['0', '90', true],
      ['1/2', 'half=30', false],
    ])
    expect([three.start && typed(three.start), typed(three.goal)]).toEqual(['54', '90'])
    expect(three.form.breaths).toEqual([{ at: frac(1), kind: 'fermata', note: frac(1, 2), adds: frac(1, 2) }])
  })

  it('of a passage whose goal is not the written tempo keeps that ratio', () => {
    const slower: Passage = { ...weir, start: '54', goal: '90', goalTop: '96' }
    const three = sure(sectionForm(slower, section('three')))
    expect([marks(three)[0]?.[1], typed(three.goal), three.start && typed(three.start)]).toEqual([
      '90',
      '67.5',
      '40.5',
    ])
  })

  it('clicks at its goal when the whole does at the same place', () => {
    const whole = sure(passageForm(weir))
    const three = sure(sectionForm(weir, section('three')))
    const o = { countIn: 0, subdivide: 2, rate: 48_000 }
    const [a, b] = [compile(whole.form, whole.goal, o), compile(three.form, three.goal, o)]
    const late = a.onsets.slice(-b.onsets.length)
    const start = (late[0]?.frame ?? 0) - (b.onsets[0]?.frame ?? 0)
    b.onsets.forEach((x, i) => {
      expect(Math.abs((late[i]?.frame ?? 0) - x.frame - start)).toBeLessThanOrEqual(1)
      expect(late[i]?.role).toBe(x.role)
    })
    expect(b.onsets.length).toBeGreaterThan(8)
  })

  it('may be joined with the next one, and cut by rule', () => {
    const whole = sure(passageForm(weir))
    const [a, b] = sections(whole.form, { kind: 'measure' })
    const both = joined(a as { from: Frac; to: Frac }, b as { from: Frac; to: Frac })
    expect(cutPassage(whole, both.from, both.to).numbers).toEqual(['40', '41', '42', '43'])
  })
})

describe('history stays while the music is the same', () => {
  const mark = (p: Passage, name?: string) =>
    sure(musicMark(p, name === undefined ? undefined : section(name)))

  it('name, note, goal, start and breaths do not count', () => {
    const other: Passage = {
      ...weir,
      name: 'weir',
      note: 'soft',
      goal: '132',
      goalTop: '138',
      start: '80',
      breaths: [],
      readyBy: '2026-05-01',
    }
    expect(mark(other)).toBe(mark(weir))
    expect(mark(other, 'three')).toBe(mark(weir, 'three'))
    expect(mark({ ...weir, breaths: [] }, 'two')).toBe(mark(weir, 'two'))
  })

  it('place, meter, pick-up and tempos count, for the sections they touch', () => {
    const changed: Passage = {
      ...weir,
      changes: [
        { at: '43', meter: '3+2+2/8' },
        { at: '45', meter: '4/4' },
      ],
    }
    expect(mark(changed, 'two')).not.toBe(mark(weir, 'two'))
    expect(mark(changed, 'three')).toBe(mark(weir, 'three'))
    const moved: Passage = { ...weir, measures: '51-56', changes: [], tempos: [], breaths: [], sections: [] }
    expect(mark(moved)).not.toBe(mark({ ...moved, measures: '41-46' }))
    expect(mark({ ...weir, pickup: 'eighth' })).not.toBe(mark(weir))
    expect(mark({ ...weir, tempos: [] }, 'three')).not.toBe(mark(weir, 'three'))
    expect(mark({ ...weir, tempos: [] }, 'one')).toBe(mark(weir, 'one'))
  })
})

describe('the file', () => {
  it('comes back as it was, with all that a passage may have', () => {
    expect(parsePiece(pieceText(piece))).toEqual({ ok: true, value: piece })
  })

  it('keeps what it does not know, inside its new parts too', () => {
    const found = { ...piece, passages: [{ ...weir, sections: [{ ...section('one'), colour: 'blue' }] }] }
    const read = checkPiece(found)
    expect(read.ok && JSON.parse(pieceText(read.value))).toEqual(found)
  })

  it('a passage without any of it is what it was', () => {
    const plain = sure(passageForm(overture.passages[1] as Passage))
    expect(plain.numbers).toEqual(['41', '42', '43', '44'])
    expect(plain.form).toEqual({
      meters: [{ at: zero, meter: { groups: [3, 3], unit: frac(1, 8) } }],
      marks: [{ at: zero, tempo: plain.goal }],
      pickup: zero,
      length: frac(3),
    })
  })

  it('reads how a passage is heard in an older file as how much it matters', () => {
    const { matters: _, ...older } = weir as Passage
    for (const [exposure, matters] of [
      ['solo', 'must'],
      ['exposed', 'must'],
      ['tutti', 'can wait'],
      ['loud', undefined],
    ]) {
      const read = checkPiece({ ...piece, passages: [{ ...older, exposure }] })
      const found = read.ok ? read.value.passages[0] : null
      expect(found?.matters).toBe(matters)
      expect(found).not.toHaveProperty('exposure')
    }
    const both = checkPiece({ ...piece, passages: [{ ...older, exposure: 'solo', matters: 'can wait' }] })
    expect(both.ok && both.value.passages[0]?.matters).toBe('can wait')
  })

  const withWeir = (part: object) => ({ ...piece, passages: [{ ...weir, ...part }] })
  it.each([
    [
      withWeir({ numbers: ['41'] }),
      /^In passage 1, numbers "1 numbers" .* Try 7 numbers, one a measure and one for the pick-up\.$/,
    ],
    [
      withWeir({ changes: [{ at: '47', meter: '3/4' }] }),
      /^In passage 1, change 1, at "47" .* a measure from 40 to 46/,
    ],
    [withWeir({ changes: [{ at: '43.2', meter: '3/4' }] }), /^In passage 1, change 1, at "43\.2"/],
    [
      withWeir({ changes: [{ at: '40', meter: '3/4' }] }),
      /^In passage 1, change 1, at "40" .* after the pick-up/,
    ],
    [withWeir({ changes: [{ at: '43', meter: '3/5' }] }), /^In passage 1, change 1, meter "3\/5"/],
    [
      withWeir({ tempos: [{ at: '46.9', tempo: '60' }] }),
      /^In passage 1, tempo 1, at "46\.9" .* a beat from 1 to 4/,
    ],
    [
      withWeir({ tempos: [{ at: '46', tempo: '60' }] }),
      /^In passage 1, tempo 1, at "46" .* first the tempo at the start, 40\.4\.$/,
    ],
    [withWeir({ tempos: [{ at: '46', tempo: 'slow' }] }), /^In passage 1, tempo 1, tempo "slow"/],
    [
      withWeir({ breaths: [{ at: '42', kind: 'sigh' }] }),
      /^In passage 1, breath 1, kind "sigh" .* breath, slow-breath, caesura/,
    ],
    [
      withWeir({ breaths: [{ at: '42', kind: 'bow', waits: true }] }),
      /^In passage 1, breath 1, waits .* only a caesura or a fermata waits for the pedal/,
    ],
    [
      withWeir({ breaths: [{ at: '42', kind: 'slow-breath' }] }),
      /^In passage 1, breath 1, below .* the tempo below which/,
    ],
    [
      withWeir({ breaths: [{ at: '40.1', kind: 'breath' }] }),
      /^In passage 1, breath 1, at "40\.1" .* belongs to the music here/,
    ],
    [withWeir({ ends: '42' }), /^In passage 1, ends "42" .* inside the last measure, 46\.$/],
    [withWeir({ goalTop: '100' }), /^In passage 1, goalTop "100" .* at or above the goal 120\.$/],
    [withWeir({ matters: 'a lot' }), /^In passage 1, matters "a lot" .* must, as usual or can wait\.$/],
    [
      withWeir({ rhythms: ['?'] }),
      /^In passage 1, rhythm 1, "\?" .* the name of a rhythm, or ratios like 3:1\.$/,
    ],
    [withWeir({ notes: ['0 1/16'] }), /^In passage 1, note 1, "0 1\/16" .* like 1\/4 1\/16 Bb4\.$/],
    [withWeir({ sections: [{ ...section('one'), to: '41' }] }), 'taken'],
    [
      withWeir({ sections: [{ ...section('one'), to: '40' }] }),
      /^In passage 1, section 1, to "40" .* a place after 40\.4\.$/,
    ],
    [
      withWeir({ sections: [section('one'), { ...section('two'), from: '99' }] }),
      /^In passage 1, section 2, from "99"/,
    ],
    [
      withWeir({ sections: [section('one'), { ...section('two'), name: 'ONE' }] }),
      /^In passage 1, section 2, name "ONE" .* no other section here has\.$/,
    ],
    [
      withWeir({ sections: [{ ...section('one'), id: weir.id }] }),
      /^In passage 1, section 1, id .* an id of its own\.$/,
    ],
    [{ ...piece, sure: 'maybe' }, /^"maybe".* for the sure.* guess, printed or conductor\.$/],
    [{ ...piece, concert: 'soon' }, /^"soon".* for the concert.* a date like/],
  ])('a field that does not fit is named: %#', (found, said) => {
    const read = checkPiece(found)
    const text = read.ok ? 'taken' : sentence(read.problem)
    if (typeof said === 'string') expect(text).toBe(said)
    else expect(text).toMatch(said)
  })

  it('whatever stands in those fields, it is taken or refused in one sentence', () => {
    const place = fc.oneof(
      {
        weight: 9,
        arbitrary: fc.constantFrom('41', '42', '43+3/16', '44+7/4095', '45.2', '46', 'end', '46+1/4093'),
      },
      { weight: 1, arbitrary: fc.constantFrom('40', '40.4', '47', '') },
      { weight: 1, arbitrary: fc.string({ maxLength: 8 }) },
    )
    const tempo = fc.constantFrom('120', 'half=30', 'dotted-quarter=63.517', '999', '1', '77.7', '0')
    const any = fc.record(
      {
        count: fc.oneof({ weight: 5, arbitrary: fc.constant(6) }, { weight: 1, arbitrary: fc.integer() }),
        pickup: fc.constantFrom('quarter', '5/16', '7/4091', 'half', '2'),
        numbers: fc.constantFrom(
          ['40', '41', '42', '43', '44', '45', '46'],
          ['40', '41', '41', '42', '43', '45', '46'],
          [],
        ),
        ends: fc.constantFrom('46.2', '46+1/4093', '45', '46+3/4'),
        changes: fc.array(
          fc.record({
            at: fc.constantFrom('41', '43', '46', '47'),
            meter: fc.constantFrom('3/4', '64/64', '7/8', 'x'),
          }),
          {
            maxLength: 2,
          },
        ),
        tempos: fc
          .array(fc.record({ at: place, tempo, ramp: fc.boolean() }), { maxLength: 3 })
          .map(all => [{ at: '40', tempo: '99.5', ramp: true }, ...all]),
        breaths: fc.array(
          fc.record(
            {
              at: place,
              kind: fc.constantFrom('breath', 'fermata', 'slow-breath'),
              adds: fc.constantFrom('half', '3/4001', ''),
              below: tempo,
            },
            { requiredKeys: ['at', 'kind'] },
          ),
          { maxLength: 2 },
        ),
        sections: fc.array(
          fc.record({
            id: fc.constantFrom('s0000001', 's0000002'),
            name: fc.constantFrom('a', 'b'),
            from: place,
            to: place,
          }),
          { maxLength: 2 },
        ),
      },
      { requiredKeys: [] },
    )
    let taken = 0
    fc.assert(
      fc.property(any, part => {
        const read = checkPiece(withWeir({ sections: [], breaths: [], changes: [], tempos: [], ...part }))
        if (!read.ok) {
          expect(sentence(read.problem)).toMatch(/^In passage 1, [^\n]+ (Try|Type) [^\n]+\.$/)
          return
        }
        taken++
        const p = read.value.passages[0] as Passage
        for (const s of [undefined, ...(p.sections ?? [])]) {
          const f = sure(s ? sectionForm(p, s) : passageForm(p))
          expect(measures(f.form)).toHaveLength(f.numbers.length)
          const first = f.goal as Tempo
          expect(compile(f.form, first, { countIn: 1, subdivide: 1, rate: 8000 }).end).toBeGreaterThan(0)
          expect(f.goal.bpm.d).toBeLessThanOrEqual(10_000)
          sure(musicMark(p, s))
        }
      }),
      { numRuns: 1000 },
    )
    expect(taken).toBeGreaterThan(30)
  })
})

describe('names of sections', () => {
  const shelf = [
    { piece: { ...piece, passages: [weir, { ...weir, id: 'p0000009', name: 'over', sections: [] }] } },
  ]
  const where = (name: string, deep = true): string => {
    const found = findPiece(shelf, name, deep)
    if (!found.ok) return sentence(found.problem)
    const { passage, section: s } = found.value
    return [passage?.name, s?.name].filter(Boolean).join(' > ')
  }

  it.each([
    ['Weir Street Overture/over the weir/two', 'over the weir > two'],
    ['weir/over the/tw', 'over the weir > two'],
    ['a1b2c3d4/over the weir/one', 'over the weir > one'],
    ['weir/over the weir', 'over the weir'],
    ['weir/over', 'over'],
  ])('"%s" means %s', (name, expected) => {
    expect(where(name)).toBe(expected)
  })

  it('a section that is not there is answered with those that are', () => {
    expect(where('weir/over the weir/four')).toMatch(
      /^No section is called .* You have Weir Street Overture\/over the weir\/one, .*two, .*three\.$/,
    )
    expect(where('weir/over the weir/t')).toMatch(
      /for the name\. Try one of .*\/two, .*\/three, written out\.$/,
    )
  })

  it('are not taken for passages where only these are asked for', () => {
    expect(where('weir/over the weir/two', false)).toMatch(/^No passage is called /)
  })
})
