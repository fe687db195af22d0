import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { BREATH_KINDS } from '../../src/music/form.ts'
import { sentence } from '../../src/music/result.ts'
import { linesOf, readLines, withPlacesFiled } from '../../src/repertoire/change-list.ts'
import { type Edits, editPiece } from '../../src/repertoire/edit.ts'
import { type Table, textIn } from '../../src/repertoire/field.ts'
import { PASSAGE } from '../../src/repertoire/fields.ts'
import { type Entry, LISTS, textOf } from '../../src/repertoire/lists.ts'
import { checkPiece, type Passage, type Piece } from '../../src/repertoire/piece.ts'
import { begunAnew, movedMusic } from '../../src/repertoire/same-music.ts'
import { overture } from '../store/scene.ts'

const full: Passage = {
  id: 'p0000003',
  name: 'over the weir',
  measures: '41-46',
  meter: '4/4',
  count: 6,
  pickup: 'quarter',
  start: '72',
  goal: '120',
  goalTop: '126',
  run: '1/12',
  matters: 'must',
  pulse: 'quarter; half from 100',
  subdivide: '2; 1 from 84',
  beats: 'all; 1,3 from half=56',
  on: 'all; 2 from 112',
  off: '2',
  rests: 8,
  note: 'light',
  readyBy: '2026-04-02',
  rhythms: ['long-short', '5:1:1:1/2'],
  rehearsals: [{ at: '43', text: 'C' }],
  changes: [
    { at: '43', meter: '7/8' },
    { at: '45', meter: '4/4' },
  ],
  tempos: [
    { at: '40', tempo: '120' },
    { at: '45', tempo: '120', ramp: true },
    { at: '46', tempo: 'half=30' },
  ],
  breaths: [
    { at: '42.3', kind: 'slow-breath', below: '84' },
    { at: '43', kind: 'breath', word: 'quick' },
    { at: '46+5/8', kind: 'fermata', adds: 'half' },
  ],
  sections: [
    { id: 's0000001', name: 'one', from: '40', to: '43.2' },
    { id: 's0000002', name: 'two', from: '43', to: '45.3' },
    { id: 's0000003', name: 'three', from: '45.3', to: 'end' },
  ],
  notes: ['0 1/16 Bb4', '1/16 1/16 C5'],
}
const piece: Piece = { ...overture, passages: [...overture.passages, full] }
const from = { today: '2026-03-24', newId: () => 'new00000', isRhythm: (n: string) => n === 'long-short' }

const edited = (e: Partial<Edits>): Passage => {
  const read = editPiece(piece, { passage: full.id }, { fields: {}, lists: {}, ...e }, from)
  if (!read.ok) throw new Error(JSON.stringify(read.problem))
  return read.value.passages[2] as Passage
}

test('a rehearsal mark stands somewhere in the music, one at each place', () => {
  const marks = (...lines: string[]) =>
    editPiece(
      piece,
      { passage: full.id },
      { fields: {}, lists: { rehearsals: lines.map(text => ({ text })) } },
      from,
    )
  expect(edited({ lists: { rehearsals: [{ text: '45=D' }, { text: '42=B' }] } }).rehearsals).toEqual([
    { at: '42', text: 'B' },
    { at: '45', text: 'D' },
  ])
  expect(marks('71=C')).toMatchObject({ ok: false, problem: { field: 'rehearsal mark 1, at', got: '71' } })
  expect(marks('43=C', '43=D')).toMatchObject({ ok: false, problem: { field: 'rehearsal mark 2' } })
  expect(marks('43')).toMatchObject({ ok: false, problem: { field: 'rehearsal mark 1', got: '43' } })
})

describe('every field and every entry is typed as it is shown', () => {
  test.each(Object.entries(PASSAGE as Table).filter(([key]) => key !== 'measures'))(
    '%s written as it stands changes nothing',
    (key, field) => {
      expect(edited({ fields: { [key]: textIn(full, key, field) } })).toEqual(full)
    },
  )

  test.each(LISTS)('%s read line by line are the same', key => {
    const lines = linesOf(key, full).map(l => ({ text: l.text }))
    const read = readLines(key, lines, full, from)
    if (!read.ok) throw new Error(JSON.stringify(read.problem))
    const ids = (all: readonly unknown[]) => all.map(e => (typeof e === 'object' ? { ...e, id: '' } : e))
    expect(ids(read.value.map(e => withPlacesFiled(full, e)))).toEqual(ids(full[key] ?? []))
  })

  test('a place between beats is shown as the player reads it, and stored in the one form of the files', () => {
    const shown = (p: Passage) => linesOf('breaths', p).map(l => l.text)
    const typed = edited({ lists: { breaths: [{ text: '43.2+16th caesura' }, { text: '42+3/16' }] } })
    expect(typed.breaths?.map(b => b.at)).toEqual(['42+3/16', '43+5/16'])
    expect(shown(typed)).toEqual(['42+dotted-eighth', '43.2+16th caesura'])
    const whole = { ...piece, passages: piece.passages.with(2, typed) }
    const again = editPiece(
      whole,
      { passage: full.id },
      { fields: {}, lists: { breaths: linesOf('breaths', typed) } },
      from,
    )
    expect(again).toEqual({ ok: true, value: whole })
  })

  test('any breath or mark', () => {
    const place = fc.constantFrom('41', '42.4', '43+3/16', '41(2)', 'end')
    const length = fc.constantFrom('half', 'dotted-quarter', '5/16')
    const word = fc.option(fc.stringMatching(/^[a-z0-9]([ a-z0-9=;,-]{0,20}[a-z0-9])?$/), { nil: undefined })
    const mark = fc
      .record({
        at: place,
        kind: fc.constantFrom(...BREATH_KINDS),
        adds: fc.option(length),
        word,
        waits: fc.boolean(),
        note: fc.option(length),
        before: fc.boolean(),
      })
      .map(({ at, kind, adds, word: w, waits, note, before }): Entry<'breaths'> => {
        const adding = kind === 'slow-breath' || kind === 'caesura' || kind === 'fermata'
        return {
          at,
          kind,
          ...(adds !== null && adding ? { adds } : {}),
          ...(kind === 'slow-breath' ? { below: 'dotted-quarter=63.5' } : {}),
          ...(waits && (kind === 'caesura' || kind === 'fermata') ? { waits } : {}),
          ...(kind === 'fermata' && before ? { before } : {}),
          ...(kind === 'fermata' && !before && note !== null ? { note } : {}),
          ...(w === undefined ? {} : { word: w }),
        }
      })
    fc.assert(
      fc.property(mark, m => {
        const read = readLines('breaths', [{ text: textOf('breaths', m) }], full, from)
        expect(read).toEqual({ ok: true, value: [m] })
      }),
      { numRuns: 500 },
    )
  })
})

test('measures on are nothing without measures off, and rests are counted in whole measures', () => {
  const refused = (change: object): string => {
    const read = checkPiece({ ...overture, passages: [{ ...full, ...change }] })
    return read.ok ? 'taken' : sentence(read.problem)
  }
  const { off: _, ...alone } = full
  const piece = checkPiece({ ...overture, passages: [alone] })
  expect(piece.ok ? 'taken' : sentence(piece.problem)).toBe(
    'In passage 1, off is missing. Type both or neither of on and off.',
  )
  expect(refused({ rests: 8.5 })).toMatch(/^In passage 1, rests .*whole number of measures from 1 to 99/)
  expect(refused({ pulse: 'half; quarter' })).toMatch(/^In passage 1, pulse .*after ";"/)
  expect(refused({})).toBe('taken')
})

describe('what is the same music', () => {
  const moved = (e: Partial<Edits>) => movedMusic(full, edited(e)).map(m => [m.name, ...m.what])

  test('names, notes, dates, goals, starts, breaths and rhythms leave it alone', () => {
    const fields = {
      name: 'x',
      note: '',
      readyBy: '',
      goal: '112',
      start: '60',
      goalTop: '',
      run: '',
      pulse: '',
      matters: '',
    }
    for (const [key, text] of Object.entries(fields))
      expect(moved({ fields: { [key]: text } }), key).toEqual([])
    expect(moved({ lists: { breaths: [{ text: '44' }], rhythms: [] } })).toEqual([])
    expect(moved({ fields: { goal: 'dotted-quarter=80' } })).toEqual([])
  })

  test('each section is compared by itself', () => {
    // Measure 45 belongs to "two" and "three" only.
    expect(moved({ lists: { changes: [{ text: '43=7/8' }, { text: '45=1+1+2/4' }] } })).toEqual([
      ['over the weir', 'meter'],
      ['section two', 'meter'],
      ['section three', 'meter'],
    ])
    expect(
      moved({
        lists: {
          sections: [
            { text: 'one=40 to 43', of: 0 },
            { text: 'two=43 to 45.3', of: 1 },
          ],
        },
      }),
    ).toEqual([['section one', 'measures', 'meter', 'length']])
    // The ritardando begins in measure 45, which "two" still plays.
    expect(moved({ lists: { tempos: [{ text: '40=120' }] } }).map(m => m[0])).toEqual([
      'over the weir',
      'section two',
      'section three',
    ])
  })

  test('begun anew, an id is new and the old one is kept; the others stay', () => {
    let n = 0
    const now = begunAnew(
      begunAnew(full, ['s0000002'], () => `fresh00${++n}`),
      ['fresh001', full.id],
      () => `fresh00${++n}`,
    )
    expect(now).toMatchObject({ id: 'fresh003', was: ['p0000003'] })
    expect(now.sections?.map(s => [s.id, s.was])).toEqual([
      ['s0000001', undefined],
      ['fresh002', ['s0000002', 'fresh001']],
      ['s0000003', undefined],
    ])
  })
})

test('in 6/8 a plain number in a list is the dotted quarter; a quarter of before is shown as one and stays', () => {
  const jig: Passage = {
    id: 'p0000004',
    name: 'jig',
    measures: '1-8',
    meter: '6/8',
    count: 8,
    pickup: null,
    goal: 'dotted-quarter=100',
    tempos: [{ at: '3', tempo: '120' }],
  }
  const from = { newId: () => 'x', isRhythm: () => false }
  const [before] = linesOf('tempos', jig)
  expect(before?.text).toBe('3=quarter=120')
  const read = (key: 'tempos' | 'breaths', text: string) => readLines(key, [{ text }], jig, from)
  expect(read('tempos', '5=80')).toEqual({ ok: true, value: [{ at: '5', tempo: 'dotted-quarter=80' }] })
  expect(read('tempos', '3=quarter=120')).toEqual({ ok: true, value: [{ at: '3', tempo: '120' }] })
  expect(read('breaths', '5 slow below=80')).toEqual({
    ok: true,
    value: [{ at: '5', kind: 'slow-breath', below: 'dotted-quarter=80' }],
  })
  expect(read('breaths', '5 slow below=quarter=80')).toMatchObject({ ok: true, value: [{ below: '80' }] })
})
