import { describe, expect, test } from 'vitest'
import { editForm, type Form, goTo, newForm, understood, wrong } from '../../../src/screens/form/form.ts'
import { overture } from '../../store/scene.ts'

const around = { today: '2026-03-24', pieces: [overture] }

type Texts = { readonly [key: string]: string }
const at = (f: Form, key: string): number => f.rows.findIndex(r => r.key === key)

/** A form with these texts, in hand the row of this field. */
const form = (text: Texts, key: string): Form => {
  const empty = newForm()
  return {
    ...empty,
    rows: empty.rows.map(r => ({
      ...r,
      text: text[r.key] ?? '',
      left: r.key !== key && text[r.key] !== undefined,
    })),
    at: at(empty, key),
    cursor: [...(text[key] ?? '')].length,
  }
}

/** What is said after the field is left, of this field. */
const left = (text: Texts, key: string): string | null => {
  const f = form(text, key)
  const found = wrong(goTo(f, f.at === 0 ? 1 : f.at - 1), around)
  return found && found.row === f.at ? found.says : found && `elsewhere: ${found.says}`
}

const good = {
  title: 'Harbor Song',
  measures: '41-44',
  name: 'run',
  meter: '4/4',
  goal: '138',
}

describe('each field is checked when it is left, by one sentence that names it', () => {
  test.each([
    ['title', '', 'The title is missing. Type the title as printed on your part.'],
    ['title', 'x'.repeat(121), 'for the title'],
    ['measures', '', 'The place is missing. Type how many measures, like 4, or their place, like 41-44.'],
    ['measures', '0', '"0" doesn\'t work for the measures. Try'],
    ['measures', '44-41', '"44-41" doesn\'t work for the place. Try the first and last measure'],
    ['measures', 'letter C', '"letter C" doesn\'t work for the place. Try how many'],
    ['name', 'x'.repeat(81), 'for the name'],
    ['meter', '5/9', '"5/9" doesn\'t work for the meter'],
    ['pickup', 'whole', '"whole" doesn\'t work for the pick-up. Try a note value shorter than 4/4.'],
    ['pickup', 'short', '"short" doesn\'t work for the pick-up'],
    ['goal', '', 'The goal tempo is missing'],
    ['goal', 'fast', '"fast" doesn\'t work for the goal tempo'],
    ['readyBy', '2026-03-23', '"2026-03-23" is past. Try 2026-03-30, "in 6 days" or "Friday".'],
    ['readyBy', '2026-13-01', '"2026-13-01" doesn\'t work for ready by'],
  ])('%s "%s"', (field, typed, sentence) => {
    const text = { ...good, [field]: typed }
    expect(wrong(form(text, field), around)).toBeNull()
    expect(left(text, field)).toContain(sentence)
  })

  test.each([
    ['title', 'Weir Street Overture'],
    ['measures', '4'],
    ['measures', 'm. 41'],
    ['name', ''],
    ['meter', ''],
    ['meter', '2+2+3/8'],
    ['pickup', ''],
    ['pickup', 'None'],
    ['pickup', 'dotted half'],
    ['start', ''],
    ['start', '138'],
    ['readyBy', ''],
    ['readyBy', '2026-03-24'],
  ])('%s "%s" is taken', (field, typed) => {
    expect(left({ ...good, [field]: typed }, field)).toBeNull()
  })

  test('a name that the piece already has', () => {
    const text = { ...good, title: 'weir street overture', name: 'Opening' }
    expect(left(text, 'name')).toContain('Weir Street Overture already has a passage called')
  })

  test('a field that was left is looked at again when another one changes', () => {
    let f = form({ ...good, pickup: 'half', meter: '3/8' }, 'pickup')
    f = goTo(f, f.at - 1)
    expect(wrong(f, around)?.says).toContain('shorter than 3/8')
    for (const k of ['erase', 'erase', 'erase'] as const) f = editForm(f, { kind: k })
    f = goTo(editForm(f, { kind: 'type', text: '4/4' }), 0)
    expect(wrong(f, around)).toBeNull()
  })
})

test.each([
  ['title', 'Weir Street Overture', 'you have it: one more passage'],
  ['measures', '41-44', '4 measures'],
  ['measures', '41', '41 measures'],
  ['measures', 'm. 41', '1 measure'],
  ['meter', '', '4/4'],
  ['pickup', 'dotted-eighth', 'dotted eighth'],
  ['goal', 'dotted-quarter=80', 'dotted quarter = 80'],
  ['start', '', 'the first visit finds it'],
  ['start', '139', 'quarter = 139, leading down'],
  ['readyBy', '2026-03-28', 'Saturday, March 28, in 4 days'],
  ['readyBy', '2027-01-02', 'Saturday, January 2, 2027, in 284 days'],
])('what was understood by %s "%s": %s', (field, typed, said) => {
  const f = form({ ...good, [field]: typed }, field)
  expect(understood(f, f.at, around)).toBe(said)
})

test('a text longer than a line may be stops growing', () => {
  const f = editForm(form({ title: 'x'.repeat(400) }, 'title'), { kind: 'type', text: 'y' })
  expect(f.rows[0]?.text).toHaveLength(400)
})
