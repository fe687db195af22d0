import { describe, expect, test } from 'vitest'
import { downKey, rhythmKey, seamKey, sectionKey } from '../../src/ladder/key.ts'
import { DEFAULT_RULES } from '../../src/ladder/rules.ts'
import { frac } from '../../src/music/fraction.ts'
import { checked, ok, type Result, sentence, wrong } from '../../src/music/result.ts'
import type { Rhythm } from '../../src/music/rhythm.ts'
import { tempo, typed } from '../../src/music/tempo.ts'
import type { Passage, Piece, Section } from '../../src/repertoire/piece.ts'
import type { Wishes } from '../../src/visit/subject.ts'
import { passageTarget, type Selection } from '../../src/visit/target.ts'
import { UP_AND_DOWN, WEIR } from '../repertoire/weir.ts'

const PASSAGE: Passage = { ...WEIR, sections: [...UP_AND_DOWN] }
const piece = (p: Passage, other: Partial<Piece> = {}): Piece => ({
  v: 2,
  id: 'a1b2c3d4',
  title: 'Weir Street Overture',
  passages: [p],
  ...other,
})
const rhythmNamed = (name: string): Result<Rhythm> =>
  name === '3:1' ? ok({ name, words: 'long and short', ratios: [3, 1], over: 1 }) : wrong('no such rhythm')
const target = (
  p: Partial<Passage> = {},
  wishes: Wishes = {},
  more: Partial<Selection> & { piece?: Piece } = {},
) => {
  const passage = { ...PASSAGE, ...p } as Passage
  return passageTarget({ piece: piece(passage), passage, sections: [], ...more }, wishes, rhythmNamed)
}
const made = (...a: Parameters<typeof target>) => checked(target(...a))
const refusal = (r: Result<unknown>): string => (r.ok ? '' : sentence(r.problem))

describe('a passage as it is kept', () => {
  test('has its key, name, music and ends, and climbs as usual', () => {
    const t = made()
    expect(t).toMatchObject({
      key: sectionKey('weir0001'),
      title: 'Weir Street Overture   run at the weir, m. 41-44',
      music: '',
      readyBy: null,
      numbers: ['41', '42', '43', '44'],
      start: null,
      goal: tempo(120),
      direction: 'up',
      step: { kind: 'notch' },
      fast: null,
      rules: DEFAULT_RULES,
      click: { countIn: 1 },
      rhythm: null,
      run: null,
      rhythms: [],
      notes: [],
    })
    expect(t.form.length).toEqual(frac(4))
    for (const name of ['beside', 'top', 'open', 'rests', 'longRests', 'said', 'dayStart'])
      expect(t).not.toHaveProperty(name)
    expect(t.origin).toMatchObject({ sections: [], from: frac(0) })
    expect(made({ sections: [] })).not.toHaveProperty('joins')
  })

  test('has the date of its passage, else that of its piece', () => {
    const dated = (p: Partial<Passage>, readyBy?: string) =>
      made(p, {}, { piece: piece(PASSAGE, readyBy === undefined ? {} : { readyBy }) }).readyBy
    expect(dated({ readyBy: '2031-03-20' }, '2031-04-01')).toBe('2031-03-20')
    expect(dated({}, '2031-04-01')).toBe('2031-04-01')
    expect(dated({})).toBeNull()
  })

  test('has what was kept with it: a note, rests, a running note, rhythms, rehearsal marks, and how it is clicked', () => {
    const t = made({
      note: 'crescendo into 43',
      rests: 8,
      run: 'eighth',
      rhythms: ['3:1'],
      rehearsals: [{ at: '42', text: 'C' }],
      beats: '2,4',
    } as Partial<Passage>)
    expect(t).toMatchObject({ music: 'crescendo into 43', rests: 8, run: frac(1, 8) })
    expect(t.rhythms.map(r => r.words)).toEqual(['long and short'])
    expect(t.beside?.get('43')).toBe('C+1')
    expect(t.click.beats?.map(b => b.value)).toEqual([[2, 4]])
    expect(refusal(target({ rhythms: ['2:9'] }))).toContain('no such rhythm')
  })

  test('has a range, and a goal that nobody knows yet, unless another goal is asked for', () => {
    const range = { goalTop: '126' }
    const open = { piece: piece(PASSAGE, { sure: 'open' }) }
    expect(made(range).top).toEqual(tempo(126))
    expect(made(range, { goal: tempo(112) })).not.toHaveProperty('top')
    expect(made(range, { start: tempo(80) }).top).toEqual(tempo(126))
    expect(made(range, { start: tempo(144), down: true })).not.toHaveProperty('top')
    expect(made({}, {}, open).open).toBe(true)
    expect(made({}, { goal: tempo(112) }, open)).not.toHaveProperty('open')
  })

  test('its notes are the guide’s, where a part was read; long rests among them are known', () => {
    const notes = ['0 1/4 C4', '1/4 1/4 D4', '3 1 x']
    const t = made({ notes } as Partial<Passage>)
    expect(t.notes.map(n => n.at)).toEqual([frac(0), frac(1, 4), frac(3)])
    // From the second half of m. 41 to m. 44 nothing is played.
    expect(t.longRests?.length).toBe(1)
    expect(made({ notes: ['3 1 x'] } as Partial<Passage>).longRests?.length).toBe(1)
    expect(t.click).not.toHaveProperty('guide')
    expect(made({ notes, guide: 'notes' } as Partial<Passage>)).toMatchObject({
      said: 'the guide taps the notes',
    })
    expect(made({ notes, guide: 'notes' } as Partial<Passage>, { guide: 'none' })).not.toHaveProperty('said')
    expect(made({ notes } as Partial<Passage>, { guide: 'notes' }).click.guide).toMatchObject({
      onsets: [frac(0), frac(1, 4), frac(3)],
    })
  })
})

describe('as the player wishes', () => {
  test('start and goal, rests, a running note, what is clicked, and from which tempo on changes are played', () => {
    const wishes: Wishes = {
      start: tempo(80),
      goal: tempo(112),
      rests: 4,
      run: frac(1, 16),
      countIn: 2,
      changesFrom: frac(5, 6),
      fast: 'goal',
      dayStart: 0.9,
    }
    const t = made({ rests: 8, run: 'eighth' }, wishes)
    expect([t.start && typed(t.start), typed(t.goal)]).toEqual(['80', '112'])
    expect(t).toMatchObject({
      rests: 4,
      run: frac(1, 16),
      fast: 'goal',
      dayStart: 0.9,
      click: { countIn: 2 },
    })
    expect(t.form.changesFrom).toEqual(frac(5, 6))
    expect(made().form).not.toHaveProperty('changesFrom')
  })

  test('a start alone keeps the goal, a goal alone the start; neither stands the wrong way round', () => {
    const ends = (wishes: Wishes, p: Partial<Passage> = { start: '72' }) => {
      const t = made(p, wishes)
      return [t.start && typed(t.start), typed(t.goal)]
    }
    expect([ends({ start: tempo(80) }), ends({ goal: tempo(112) })]).toEqual([
      ['80', '120'],
      ['72', '112'],
    ])
    expect(ends({ goal: tempo(112) }, {})).toEqual([null, '112'])
    expect(refusal(target({}, { start: tempo(132) }))).toContain('at or above the start (132)')
    // Of a goal alone nobody asks whether it lies above the kept start: that one gives way later.
    expect(target({ start: '72' }, { goal: tempo(60) }).ok).toBe(true)
  })

  test('a ladder down has a key of its own and a faster start; one that is kept so needs none', () => {
    const t = made({}, { down: true, start: tempo(144) })
    expect(t).toMatchObject({ key: downKey(sectionKey('weir0001')), direction: 'down' })
    expect(t.click.toward).toBe('down')
    expect(refusal(target({}, { down: true, goal: tempo(112) }))).toContain('--start with the faster tempo')
    const kept = made({ start: '144' })
    expect(kept).toMatchObject({ key: downKey(sectionKey('weir0001')), direction: 'down', start: tempo(144) })
    expect(kept.click.toward).toBe('down')
    expect(made({ start: '144' }, { goal: tempo(100) })).toMatchObject({
      direction: 'down',
      goal: tempo(100),
    })
  })

  test('in an altered rhythm it has the key of it', () => {
    const rhythm = checked(rhythmNamed('3:1'))
    expect(made({}, { rhythm })).toMatchObject({
      key: rhythmKey(sectionKey('weir0001'), '3:1'),
      title: 'Weir Street Overture   run at the weir, m. 41-44, long and short',
      rhythm,
    })
    expect(refusal(target({ start: '144' }, { rhythm }))).toContain('even rhythm')
  })

  test.each([
    [{ measures: 2 }, 'measures', '--measures'],
    [{ meter: { groups: [1, 1, 1], unit: frac(1, 4) } }, 'meter', '--meter'],
    [{ pickup: frac(1, 8) }, 'pick-up', '--pickup'],
  ] as const)('its own music cannot be asked for: %j', (wishes, name, option) => {
    expect(refusal(target({}, wishes))).toContain(`The passage has its own ${name}. Leave out ${option}`)
  })
})

test('beats are counted in the measure that has most of them, the first of these', () => {
  const beat = (n: number, meter?: string) =>
    target(meter === undefined ? {} : { changes: [{ at: '43', meter }] }, {
      clicked: { beats: [{ from: null, value: [n] }] },
    })
  expect(refusal(beat(5))).toContain('numbers from 1 to 4 in 4/4')
  expect(refusal(beat(5, '2/2'))).toContain('numbers from 1 to 4 in 4/4')
  expect(beat(5, '5/4').ok).toBe(true)
  expect(refusal(beat(6, '5/4'))).toContain('numbers from 1 to 5 in 5/4')
})

describe('sections of it', () => {
  const [up, down] = UP_AND_DOWN as [Section, Section]
  const of = (
    own: readonly Section[],
    seam?: 'beat' | 'measure',
    wishes: Wishes = {},
    p: Partial<Passage> = {},
  ) => made(p, wishes, { sections: own, ...(seam ? { seam } : {}) })

  test('one has its own measures and its place in the passage, and counts rests only where the passage begins', () => {
    expect(of([up], undefined, {}, { rests: 8 })).toMatchObject({ numbers: ['41', '42'], rests: 8 })
    const second = of([down], undefined, {}, { rests: 8 })
    expect(second).toMatchObject({
      key: sectionKey('s0000002'),
      title: 'Weir Street Overture   run at the weir, m. 41-44, section down',
      numbers: ['43', '44'],
      origin: { sections: [down], from: frac(2) },
    })
    expect(second).not.toHaveProperty('rests')
    expect(of([down], undefined, { rests: 2 }, { rests: 8 }).rests).toBe(2)
  })

  test('its notes are those that fall into it, from its own first note on', () => {
    const notes = ['0 1/4 C4', '2 1/4 D4', '9/4 1/4 E4']
    expect(of([down], undefined, {}, { notes } as Partial<Passage>).notes.map(n => n.at)).toEqual([
      frac(0),
      frac(1, 4),
    ])
  })

  test('several are one, and all of them are the passage', () => {
    const three = [up, { ...down, to: '44' }, { id: 's0000003', name: 'out', from: '44', to: 'end' }] as const
    const joined = made({ sections: [...three] }, {}, { sections: three.slice(0, 2) })
    expect(joined.title).toBe('Weir Street Overture   run at the weir, m. 41-44, sections up+down')
    expect(joined).toMatchObject({
      numbers: ['41', '42', '43'],
      joins: [{ id: 's0000001' }, { id: 's0000002' }],
    })
    expect(of([up, down]).key).toBe(sectionKey('weir0001'))
  })

  test('their seam reaches a beat or a measure to both sides, and has a ladder of its own', () => {
    const beat = of([up, down], 'beat')
    expect(beat.form.length).toEqual(frac(1, 2))
    expect(beat.title).toBe('Weir Street Overture   run at the weir, m. 41-44, seam of up+down')
    expect(beat.joins).toMatchObject([{ id: 's0000001', goal: tempo(120) }, { id: 's0000002' }])
    expect(beat.rules.up).toEqual({ kind: 'row', n: 2 })
    expect(beat.key).toBe(seamKey(['s0000001', 's0000002']))
    const measure = of([up, down], 'measure')
    expect([measure.form.length, measure.numbers, measure.origin?.from]).toEqual([
      frac(2),
      ['42', '43'],
      frac(1),
    ])
  })
})
