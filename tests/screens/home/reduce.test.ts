import { describe, expect, test } from 'vitest'
import { type Form, textOf } from '../../../src/screens/form/form.ts'
import { newState } from '../../../src/screens/home/reduce.ts'
import { atTheList, atTheQuestion, empty, known, row, sitAt } from './scene.ts'

describe('the list', () => {
  test('begins with the nearest date; without a date comes after, a past one last', () => {
    const past = row('old', { readyBy: '2026-03-20', days: -4 })
    const { rows } = newState({ ...known, rows: [past, ...known.rows] }, false)
    expect(rows.map(r => r.days)).toEqual([4, 9, null, -4])
  })

  test('up and down stop at the ends', () => {
    const player = atTheList()
    player.press('Up')
    expect(player.chosen()).toBe('run at the weir, m. 41-44')
    player.press('Down', 'Down', 'Down', 'Down')
    expect(player.chosen()).toBe('coda')
  })

  test('the left pedal goes to the next line, and from the last to the first', () => {
    const player = atTheList()
    player.press('PageUp')
    expect(player.chosen()).toBe('opening, m. 1-8')
    player.press('PageUp', 'Left')
    expect(player.chosen()).toBe('run at the weir, m. 41-44')
  })

  test.each(['Enter', 'PageDown', 'Right'])('%s goes to the practice screen of the chosen passage', key => {
    const player = atTheList()
    player.press('Down', key)
    expect(player.effects).toMatchObject([
      { kind: 'go', to: { kind: 'practice', row: { place: 'opening, m. 1-8' } } },
    ])
  })

  test.each(['f', 'q', 'C-c'])('%s leaves', key => {
    const player = atTheList()
    player.press(key)
    expect(player.effects).toEqual([{ kind: 'go', to: { kind: 'leave' } }])
  })

  test('after a visit the same passage is chosen, though its numbers or its place have changed', () => {
    const player = atTheList()
    player.press('Down', 'Enter')
    const rows = known.rows.map(r =>
      r.readyBy === '2026-04-02' ? { ...r, days: 1, readyBy: '2026-03-25' } : r,
    )
    player.act({ kind: 'known', known: { ...known, rows }, note: 'The disk is full.' })
    expect(player.state()).toMatchObject({ chosen: 0, view: 'list', note: 'The disk is full.' })
    expect(player.chosen()).toBe('opening, m. 1-8')
  })

  test('when the chosen passage is gone, another one is chosen; when all are gone, the question comes back', () => {
    const player = atTheList()
    player.press('Down', 'Down')
    player.act({ kind: 'known', known: { ...known, rows: known.rows.slice(1) }, note: '' })
    expect(player.chosen()).toBe('opening, m. 1-8')
    player.act({ kind: 'known', known: empty, note: '' })
    expect(player.state().view).toBe('question')
  })
})

describe('the question of the first start', () => {
  test('shows the cautions once: after any answer they are gone', () => {
    for (const steps of [
      ['Enter', 'Escape'],
      ['Down', 'Enter', 'Escape'],
    ]) {
      const player = atTheQuestion()
      expect(player.state()).toMatchObject({ view: 'question', cautions: true })
      player.press('Down', 'Up', ...steps)
      expect(player.state()).toMatchObject({ view: 'question', cautions: false })
    }
  })

  test('a quick ladder asks the goal tempo only', () => {
    const player = atTheQuestion()
    player.press('Enter')
    player.text('12x')
    player.press('Enter')
    expect(player.effects).toEqual([])
    player.press('Backspace')
    player.text('6')
    player.press('Enter')
    expect(player.effects).toEqual([{ kind: 'go', to: { kind: 'quick', goal: '126' } }])
  })

  test('the pedals alone reach the demonstration', () => {
    const player = atTheQuestion()
    player.press('PageUp', 'PageUp', 'PageUp', 'PageDown')
    expect(player.effects).toEqual([{ kind: 'go', to: { kind: 'demo' } }])
  })
})

const fieldOf = (f: Form): string | undefined => f.rows[f.at]?.key
/** What was typed, by fields. */
const typedIn = (f: Form) => Object.fromEntries(f.rows.filter(r => r.text !== '').map(r => [r.key, r.text]))

/** At the first piece, with these texts typed into its fields one after another. */
const filled = (...texts: string[]) => {
  const player = atTheQuestion()
  player.press('Down', 'Enter')
  for (const [i, t] of texts.entries()) {
    if (i > 0) player.press('Enter')
    player.text(t)
  }
  return player
}

describe('the first piece', () => {
  test('is filled in by keyboard alone and handed over as typed', () => {
    const player = filled(
      'Weir Street Overture',
      '41-44',
      'run at the weir',
      '6/8',
      'eighth',
      'dotted-quarter=92',
      '',
      '2026-03-28',
    )
    expect(player.effects).toEqual([])
    player.press('Enter')
    expect(player.effects).toEqual([
      {
        kind: 'store',
        edits: {
          fields: {
            title: 'Weir Street Overture',
            measures: '41-44',
            name: 'run at the weir',
            meter: '6/8',
            pickup: 'eighth',
            goal: 'dotted-quarter=92',
            start: '',
            readyBy: '2026-03-28',
          },
          lists: {},
        },
      },
    ])
  })

  test('letters are text there, not commands: f, q, n, h and ? among them', () => {
    const player = filled('fqnh? +-')
    expect(textOf(player.state().piece, 'title')).toBe('fqnh? +-')
    player.press('PageDown', 'PageUp')
    expect(fieldOf(player.state().piece)).toBe('title')
  })

  test('a text is changed anywhere in it, by whole characters', () => {
    const player = filled('Wär\u{1d11e}')
    player.press('Backspace', 'Left', 'Delete', 'Home', 'Delete')
    player.text('b')
    player.press('End')
    player.text('s')
    expect(textOf(player.state().piece, 'title')).toBe('bäs')
  })

  test('Escape loses nothing that was typed', () => {
    const player = filled('Weir Street Overture', '41-44', 'run')
    player.press('Escape')
    expect(player.state().view).toBe('question')
    player.press('Enter')
    expect(player.state().piece.at).toBe(2)
    expect(typedIn(player.state().piece)).toEqual({
      title: 'Weir Street Overture',
      measures: '41-44',
      name: 'run',
    })
  })

  test('Enter in the last field goes to the first field that is wrong', () => {
    const player = filled('Weir Street Overture', '41-44', '', '5/9', '', '', '', '')
    player.press('Enter')
    expect(player.effects).toEqual([])
    expect(fieldOf(player.state().piece)).toBe('meter')
  })

  test('stored, the passage is chosen in the list, and the form is empty again', () => {
    const player = filled('Harbor Song', '1-4', '', '', '', '126', '', '')
    player.press('Enter', 'Enter', 'x')
    expect(player.effects).toHaveLength(1)
    player.act({ kind: 'stored', known, id: 'opening, m. 1-8' })
    expect(player.state()).toMatchObject({ view: 'list', busy: false, piece: { at: 0 } })
    expect(typedIn(player.state().piece)).toEqual({})
    expect(player.chosen()).toBe('opening, m. 1-8')
  })

  test('refused, all that was typed is still there, with the sentence why', () => {
    const player = filled('Harbor Song', '1-4', '', '', '', '126', '', '')
    player.press('Enter')
    player.act({ kind: 'refused', text: "Can't write your pieces." })
    expect(player.state()).toMatchObject({
      view: 'piece',
      busy: false,
      note: "Can't write your pieces.",
    })
    expect(typedIn(player.state().piece).title).toBe('Harbor Song')
  })

  test('a opens it from the list', () => {
    const player = sitAt(newState(known, false))
    player.press('a')
    expect(player.state().view).toBe('piece')
  })
})

test('m on the list asks for the next word for how much the chosen passage matters', () => {
  const player = sitAt(newState(known, false))
  player.press('m')
  expect(player.effects.at(-1)).toMatchObject({
    kind: 'go',
    to: { kind: 'matters', row: { id: expect.any(String) } },
  })
})
