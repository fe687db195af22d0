import { describe, expect, test } from 'vitest'
import type { Field } from '../../../src/repertoire/draft.ts'
import {
  editForm,
  type Form,
  goTo,
  newForm,
  PIECE_FIELDS,
  understood,
  wrong,
} from '../../../src/screens/home/form.ts'
import { overture } from '../../store/scene.ts'

const around = { today: '2026-03-24', pieces: [overture] }

/** A form with these texts, in hand the field `at`. */
const form = (text: Form['text'], at: Field): Form => ({
  ...newForm(PIECE_FIELDS),
  text,
  at: PIECE_FIELDS.indexOf(at),
})

/** The sentence after the field is left. */
const left = (text: Form['text'], field: Field): string | null => {
  const f = form(text, field)
  return wrong(goTo(f, f.at === 0 ? 1 : f.at - 1), field, around)
}

const good = {
  title: 'Harbor Song',
  measures: '41-44',
  passage: 'run',
  meter: '4/4',
  goal: '138',
}

describe('each field is checked when it is left, by one sentence that names it', () => {
  test.each<[Field, string, string]>([
    ['title', '', 'The title is missing. Type the title as it stands on the part.'],
    ['title', 'x'.repeat(121), 'title: "'],
    ['measures', '', 'The measures is missing. Type how many'],
    ['measures', '0', 'measures: "0" doesn\'t work. Try how many'],
    ['measures', '44-41', 'measures: "44-41" doesn\'t work. Try first and last measure'],
    ['measures', 'letter C', 'measures: "letter C" doesn\'t work. Try how many'],
    ['passage', 'x'.repeat(81), 'passage: "'],
    ['meter', '5/9', 'meter: "5/9" doesn\'t work'],
    ['pickup', 'whole', 'pick-up: "whole" doesn\'t work. Try a note value shorter than a measure of 4/4.'],
    ['pickup', 'short', 'pick-up: "short" doesn\'t work'],
    ['goal', '', 'The goal tempo is missing'],
    ['goal', 'fast', 'goal tempo: "fast" doesn\'t work'],
    ['start', '139', 'start tempo: "139" doesn\'t work. Try a tempo at or below the goal (138).'],
    [
      'readyBy',
      '2026-03-23',
      'ready by: "2026-03-23" doesn\'t work. Try a date that is not past, as 2026-03-24.',
    ],
    ['readyBy', '2026-13-01', 'ready by: "2026-13-01" doesn\'t work'],
  ])('%s "%s"', (field, typed, sentence) => {
    const text = { ...good, [field]: typed }
    expect(wrong(form(text, field), field, around)).toBeNull()
    expect(left(text, field)).toContain(sentence)
  })

  test.each<[Field, string]>([
    ['title', 'Weir Street Overture'],
    ['measures', '4'],
    ['measures', 'm. 41'],
    ['passage', ''],
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
    const text = { ...good, title: 'weir street overture', passage: 'Opening' }
    expect(left(text, 'passage')).toContain('a name that no other passage of Weir Street Overture has')
  })

  test('a field that was left is looked at again when another one changes', () => {
    let f = form({ ...good, pickup: 'half', meter: '3/8' }, 'pickup')
    f = goTo(f, f.at - 1)
    expect(wrong(f, 'pickup', around)).toContain('shorter than a measure of 3/8')
    for (const k of ['erase', 'erase', 'erase'] as const) f = editForm(f, { k })
    f = editForm(f, { k: 'type', text: '4/4' })
    expect(wrong(f, 'pickup', around)).toBeNull()
  })
})

test.each<[Field, string, string]>([
  ['title', 'Weir Street Overture', 'there already: a passage more'],
  ['measures', '41-44', '4 measures'],
  ['measures', '41', '41 measures'],
  ['measures', 'm. 41', '1 measure'],
  ['meter', '', '4/4'],
  ['pickup', 'dotted-eighth', 'dotted eighth'],
  ['goal', 'dotted-quarter=80', 'dotted quarter = 80'],
  ['start', '', 'the first visit looks for it'],
  ['readyBy', '2026-03-28', 'Saturday 28 March, in 4 days'],
  ['readyBy', '2027-01-02', 'Saturday 2 January 2027, in 284 days'],
])('what was understood by %s "%s": %s', (field, typed, said) => {
  expect(understood(form({ ...good, [field]: typed }, field), field, around)).toBe(said)
})

test('a text longer than a title may be stops growing', () => {
  const f = editForm(form({ title: 'x'.repeat(120) }, 'title'), { k: 'type', text: 'y' })
  expect(f.text.title).toHaveLength(120)
})
