import { describe, expect, test } from 'vitest'
import { ANSWERS } from '../../../src/screens/form/reduce.ts'
import { sitAt } from './scene.ts'

const named = (at: ReturnType<typeof sitAt>): string | undefined => {
  const { view, answer } = at.state()
  return view === 'form' ? undefined : ANSWERS[view][answer]?.name
}

describe('the form by keyboard', () => {
  test('Enter goes line by line and stores from the last one', () => {
    const at = sitAt()
    at.write('goal', '126')
    while (at.effects.length === 0) at.press('Enter')
    expect(at.effects).toEqual([
      { kind: 'store', edits: { fields: { goal: '126' }, lists: {} }, choice: null },
    ])
    expect(at.state().busy).toBe(true)
    at.text('x')
    at.press('Escape')
    expect(at.state().view).toBe('form')
  })

  test('Ctrl+S stores from anywhere; where nothing was typed it leaves', () => {
    const at = sitAt()
    at.press('C-s')
    expect(at.effects).toEqual([{ kind: 'leave' }])
    const other = sitAt()
    other.write('note', 'light')
    other.press('C-s')
    expect(other.effects).toMatchObject([{ kind: 'store', edits: { fields: { note: 'light' } } }])
  })

  test('what is wrong is brought into hand and not stored', () => {
    const at = sitAt()
    at.write('start', 'soon')
    at.write('note', 'light')
    at.press('C-s')
    expect(at.effects).toEqual([])
    expect(at.row()?.key).toBe('start')
  })

  test('page by page', () => {
    const at = sitAt()
    at.press('PageDown', 'PageDown')
    expect(at.state().form.at).toBe(20)
    at.press('PageDown', 'PageUp')
    expect(at.state().form.at).toBe(20)
  })

  test('letters that are commands elsewhere are text here', () => {
    const at = sitAt()
    at.text(' fhq?n')
    expect(at.row()?.text).toBe('run at the weir fhq?n')
  })
})

describe('nothing is lost', () => {
  test('Escape asks where something was typed, and Escape again is back at the same place', () => {
    const at = sitAt()
    at.write('goal', '126')
    const { form } = at.state()
    at.press('Escape')
    expect(at.state().view).toBe('leave')
    expect(named(at)).toBe('Store it')
    at.press('Escape')
    expect(at.state()).toMatchObject({ view: 'form', form })
    at.press('Escape', 'Down', 'Down', 'Enter')
    expect(at.state()).toMatchObject({ view: 'form', form })
    expect(at.effects).toEqual([])
  })

  test('where nothing was typed Escape leaves', () => {
    const at = sitAt()
    at.press('Down', 'Down', 'Escape')
    expect(at.effects).toEqual([{ kind: 'leave' }])
  })

  test('it can be stored from there, or given up', () => {
    const at = sitAt()
    at.write('goal', '126')
    at.press('Escape', 'Enter')
    expect(at.effects).toMatchObject([{ kind: 'store' }])
    const other = sitAt()
    other.write('goal', '126')
    other.press('Escape', 'Down', 'Enter')
    expect(other.effects).toEqual([{ kind: 'leave' }])
  })

  test('a wrong line is looked at before it is stored from there', () => {
    const at = sitAt()
    at.write('goal', 'fast')
    at.press('Escape', 'Enter')
    expect(at.effects).toEqual([])
    expect(at.state().view).toBe('form')
    expect(at.row()?.key).toBe('goal')
  })

  test('refused by the disk, everything is still there', () => {
    const at = sitAt()
    at.write('goal', '126')
    at.press('C-s')
    const { form } = at.state()
    at.act({ kind: 'refused', text: "Can't write your pieces." })
    expect(at.state()).toMatchObject({
      view: 'form',
      form,
      busy: false,
      note: "Can't write your pieces.",
    })
  })
})

describe('where the music changed and was practiced', () => {
  const asked = () => {
    const at = sitAt()
    at.write('ends', '44.3')
    at.press('C-s')
    at.act({ kind: 'asked', text: 'run at the weir (length) is no longer the music you practiced' })
    return at
  }

  test.each([
    [[], 'Keep the history', 'keep'],
    [['Down'], 'Begin anew', 'anew'],
  ] as const)('the answer decides: %j', (keys, name, choice) => {
    const at = asked()
    at.press(...keys)
    expect(named(at)).toBe(name)
    at.press('Enter')
    expect(at.effects.at(-1)).toEqual({
      kind: 'store',
      edits: { fields: { ends: '44.3' }, lists: {} },
      choice,
    })
  })

  test('or it goes back to the form, and nothing is stored', () => {
    const at = asked()
    at.press('Down', 'Down', 'Down', 'Enter')
    expect(at.state().view).toBe('form')
    expect(at.effects).toHaveLength(1)
  })
})

test('Ctrl+C leaves from anywhere', () => {
  const at = sitAt()
  at.write('goal', '126')
  at.press('Escape', 'C-c')
  expect(at.effects).toEqual([{ kind: 'leave' }])
})
