import { describe, expect, test } from 'vitest'
import { editPiece } from '../../../src/repertoire/edit.ts'
import { editedForm, editsOf, isChanged, labelOf, unsaved, wrong } from '../../../src/screens/form/form.ts'
import { about } from '../../music/about.ts'
import { around, run, sitAt, weir } from './scene.ts'

const labels = (at: ReturnType<typeof sitAt>): readonly string[] => {
  const { form } = at.state()
  return form.rows.map((_, i) => labelOf(form, i))
}
const entries = (at: ReturnType<typeof sitAt>, key: string): readonly string[] =>
  at
    .state()
    .form.rows.filter(r => r.key === key)
    .map(r => r.text)

const edited = (at: ReturnType<typeof sitAt>) => {
  const { form } = at.state()
  const read = editPiece(form.piece ?? weir, form.where, editsOf(form), {
    ...around,
    newId: () => 'new00000',
  })
  if (!read.ok) throw new Error(JSON.stringify(read.problem))
  return read.value
}

describe('the form', () => {
  test('has a line for each field and each entry, and an empty one behind each list', () => {
    expect(labels(sitAt())).toEqual([
      ...['name', 'place', 'measures', 'numbers', 'meter', 'change 1', 'change', 'pick-up', 'ends'],
      ...[
        'breath 1',
        'breath 2',
        'breath',
        'goal tempo',
        'upper goal',
        'start tempo',
        'tempo',
        'to go up',
        'step',
        'slips',
        'day start',
        'ready by',
        'run',
      ],
      ...[
        'rhythm',
        'matters',
        'tempo change',
        'pulse',
        'subdivide',
        'beats',
        'measures on',
        'measures off',
        'rests',
      ],
      ...['rehearsal mark', 'guide', 'note', 'section 1', 'section 2', 'section'],
    ])
    expect(entries(sitAt(), 'breaths')).toEqual(['42.4', '43.3 slow below=96', ''])
    expect(labels(sitAt({}))).toEqual(['title', 'ready by', 'concert', 'goals are'])
    expect(labels(sitAt({ passage: run.id, section: 's0000002' }))).toEqual(['name', 'from', 'to'])
  })

  test('untouched it changes nothing, also where texts were typed and taken away again', () => {
    const at = sitAt()
    at.text('x')
    at.press('Backspace')
    at.write('breaths', '44', 2)
    at.write('breaths', '', 2)
    expect(isChanged(at.state().form)).toBe(false)
    expect(editsOf(at.state().form)).toEqual({ fields: {}, lists: {} })
    expect(edited(sitAt())).toEqual(weir)
  })

  test('only what was typed is an edit', () => {
    const at = sitAt()
    at.write('goal', '126')
    expect(editsOf(at.state().form)).toEqual({ fields: { goal: '126' }, lists: {} })
    expect(edited(at).passages[0]).toEqual({ ...run, goal: '126' })
  })

  test('an entry that was written is followed by an empty line for the next one', () => {
    const at = sitAt()
    at.write('tempos', '44=half=66')
    at.press('Down')
    expect(at.row()).toMatchObject({ key: 'tempos', text: '' })
    at.text('43.3 ramp')
    at.press('Down')
    expect(entries(at, 'tempos')).toEqual(['44=half=66', '43.3 ramp', ''])
    expect(edited(at).passages[0]?.tempos).toEqual([
      { at: '41', tempo: '138' },
      { at: '43.3', tempo: '138', ramp: true },
      { at: '44', tempo: 'half=66' },
    ])
  })

  test('an emptied entry is taken out; it stays in sight, and can be written again', () => {
    const at = sitAt()
    at.write('breaths', '', 0)
    at.press('Down')
    expect(entries(at, 'breaths')).toEqual(['', '43.3 slow below=96', ''])
    expect(labels(at).slice(9, 12)).toEqual(['breath', 'breath 1', 'breath'])
    expect(edited(at).passages[0]?.breaths).toEqual([{ at: '43.3', kind: 'slow-breath', below: '96' }])
    at.write('breaths', '42.4', 0)
    expect(isChanged(at.state().form)).toBe(false)
  })

  test('a section that is written otherwise is the same section', () => {
    const at = sitAt()
    at.write('sections', 'the leap=42.3 to end', 1)
    expect(edited(at).passages[0]?.sections?.[1]).toEqual({
      id: 's0000002',
      name: 'the leap',
      from: '42.3',
      to: 'end',
    })
  })

  test('what is not stored can be told in words', () => {
    const at = sitAt()
    at.write('goal', '126')
    at.write('breaths', '43.3 slow below=90', 1)
    at.write('note', 'light')
    at.write('start', '')
    expect(unsaved(at.state().form)).toBe(
      'breath 2 43.3 slow below=90; goal tempo 126; start tempo none; note light',
    )
  })
})

describe('what is wrong', () => {
  test('is told about a line once it is left, on the line where it is', () => {
    const at = sitAt()
    at.write('breaths', '49', 2)
    expect(wrong(at.state().form, around)).toBeNull()
    at.press('Down')
    const { form } = at.state()
    const found = wrong(form, around)
    expect(found?.says).toMatch(/^In breath 3, at "49" doesn't work. Try a measure from 41 to 44/)
    expect(form.rows[found?.row ?? -1]).toMatchObject({ key: 'breaths', text: '49' })
  })

  test('its line is found though others were taken out', () => {
    const at = sitAt()
    at.write('breaths', '', 0)
    at.write('breaths', '43 slow', 1)
    at.press('Down')
    const { form } = at.state()
    expect(form.rows[wrong(form, around)?.row ?? -1]).toMatchObject({ text: '43 slow' })
  })

  test.each([
    ['goal', 'fast', 'goal tempo'],
    ['start', 'soon', 'start tempo'],
    ['measures', '44-41', 'place'],
    ['count', '0', 'measures'],
    ['pickup', 'whole', 'pick-up'],
    ['goalTop', '100', 'upper goal'],
    ['readyBy', '2026-03-23', 'ready by'],
    ['matters', 'a lot', 'matters'],
    ['changes', '43=5/9', 'change 1'],
    ['tempos', '43.3=72 ramp', 'tempo 1'],
    ['tempos', 'soon', 'tempo 1'],
    ['rhythms', 'wobbly', 'rhythm 1'],
    ['sections', '1=42 to 41', 'section 1, to'],
  ])('%s %s: one sentence that names it', (key, text, field) => {
    const at = sitAt()
    at.write(key, text)
    at.press(at.state().form.at === 0 ? 'Down' : 'Up')
    expect(wrong(at.state().form, around)?.says).toMatch(new RegExp(`^${about(field)}`))
  })

  test('two of a kind at one place', () => {
    const at = sitAt()
    at.write('breaths', '42+3/4', 2)
    at.press('Down')
    expect(wrong(at.state().form, around)?.says).toBe(
      'In breath 3, "42+3/4" doesn\'t work. Try one at each place.',
    )
    const meters = sitAt()
    meters.write('changes', '43(1)=4/4', 1)
    meters.press('Down')
    expect(wrong(meters.state().form, around)?.says).toMatch(/^In change 2, .*one at each place\.$/)
  })

  test('a section that the music no longer holds is named', () => {
    const at = sitAt()
    at.write('measures', '41-42')
    at.press('Down')
    expect(wrong(at.state().form, around)?.says).toMatch(/^In (change|breath|section) \d, /)
  })

  test('in a section its own fields', () => {
    const at = sitAt({ passage: run.id, section: 's0000002' })
    at.write('from', '49')
    at.press('Down')
    expect(wrong(at.state().form, around)?.says).toMatch(/^"49".* for from/)
    expect(editedForm(weir, { passage: run.id, section: 's0000002' }).rows.map(r => r.text)).toEqual([
      '2',
      '43',
      'end',
    ])
  })
})
