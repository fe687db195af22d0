import { describe, expect, test } from 'vitest'
import { offerOf } from '../../../src/score/offer.ts'
import { pressOf } from '../../../src/screens/import/key-table.ts'
import { type Effect, newImport, reduce, type State } from '../../../src/screens/import/reduce.ts'
import { importSheet } from '../../../src/screens/import/view.ts'
import { barline, head, mark, note, scoreOf, scoreText, words } from '../../score/scores.ts'
import { ONE, TWO } from '../controls.ts'
import { drawn } from '../drawn.ts'

const final = barline('right', '<bar-style>light-heavy</bar-style>')
const four = (tempo: string) => [
  { attrs: 'number="1"', inside: `${head()}${tempo}${note(16)}` },
  { attrs: 'number="2"', inside: note(16) },
  { attrs: 'number="3"', inside: note(16) + final },
]
const first = four(mark('quarter', '96'))
const second = four(words('II. Slow') + mark('half', '40'))
const overture = offerOf(scoreOf(scoreText([...first, ...second], [...first, ...second])))
const absurd = offerOf(scoreOf(scoreText(four(mark('quarter', '4', '132')))))
const silent = offerOf(scoreOf(scoreText(four(''))))

/** A player at the screen: presses keys, sees rows, and what was asked of the program. */
const at = (state: State, controls = TWO) => {
  let s = state
  const effects: Effect[] = []
  const act = (a: Parameters<typeof reduce>[1]): void => {
    const step = reduce(s, a)
    s = step.state
    effects.push(...step.effects)
  }
  return {
    act,
    effects,
    state: () => s,
    press: (...keys: readonly string[]) => {
      for (const id of keys) {
        const press = pressOf(s, { id, at: 0 }, controls)
        if (press?.kind === 'key') act(press.does)
        else if (press)
          act(press.pedal === 'right' ? { kind: 'take' } : { kind: 'choose', by: 1, round: true })
      }
    },
    rows: (size = { rows: 24, cols: 80 }) => drawn(importSheet(s, size, controls)),
  }
}

describe('a part is chosen on one screen', () => {
  test('the usual case is two presses: the part, and take it', () => {
    const who = at(newImport(overture))
    expect(who.rows().join('\n')).toMatch(
      /part +Flute 1[\s\S]*movement +both[\s\S]*goal +as printed: quarter = 96/,
    )
    who.press('Right', 'Enter')
    expect(who.effects).toEqual([{ kind: 'import', picked: { part: 'P2' } }])
  })

  test('by pedals: the left one goes round the choices, the right one takes what stands', () => {
    const who = at(newImport(overture))
    who.press('PageUp', 'PageUp', 'PageUp', 'PageDown')
    expect(who.effects).toEqual([{ kind: 'import', picked: { part: 'P2' } }])
    const one = at(newImport(overture), ONE)
    one.press(ONE.right)
    expect(one.effects).toEqual([{ kind: 'import', picked: { part: 'P1' } }])
  })

  test('a movement has a tempo of its own', () => {
    const who = at(newImport(overture))
    who.press('Down', 'Right', 'Right')
    expect(who.rows().join('\n')).toMatch(/movement +II\. Slow[\s\S]*half = 40/)
    who.press('Down', 'Right', 'Enter')
    expect(who.effects).toEqual([{ kind: 'import', picked: { part: 'P1', movement: '2', passages: true } }])
  })

  test('in a small window the line in hand is seen, however many there are', () => {
    const some = { ...newImport(overture), movement: 1, which: 'some' as const }
    const labels = {
      part: 'part',
      movement: 'movement',
      which: 'measures',
      from: 'from',
      to: 'to',
      goal: 'goal',
    }
    for (const row of Object.keys(labels) as (keyof typeof labels)[]) {
      const rows = at({ ...some, row }).rows({ rows: 12, cols: 40 })
      expect(
        rows.filter(r => r.includes(`: ${labels[row]} `) || r.endsWith(`: ${labels[row]}`)),
      ).toHaveLength(1)
      expect(rows.join('\n')).toContain('Escape: leave')
    }
  })

  test('movements become one piece or several', () => {
    const who = at(newImport(overture))
    expect(who.rows().join('\n')).toMatch(/becomes +one piece/)
    who.press('Up', 'Down', 'Down', 'Down', 'Down', 'Right')
    expect(who.rows().join('\n')).toMatch(/becomes +2 pieces, one a movement/)
    who.press('Enter')
    expect(who.effects).toEqual([{ kind: 'import', picked: { part: 'P1', pieces: true } }])
    // One movement is one piece.
    expect(
      at({ ...newImport(overture), movement: 1 })
        .rows()
        .join('\n'),
    ).not.toContain('becomes')
  })

  test('from one measure to another: the movement first, then both measures, each asked for where it is missing', () => {
    const who = at(newImport(overture))
    who.press('Down', 'Down', 'Right', 'Right', 'Right', 'Enter')
    expect(who.state()).toMatchObject({ row: 'movement' })
    expect(who.rows().join('\n')).toContain('Choose a movement first')
    who.press('Right', 'Enter', '1', 'Enter', 'B', 'Enter')
    expect(who.effects).toEqual([
      { kind: 'import', picked: { part: 'P1', movement: '1', from: '1', to: 'B' } },
    ])
  })

  test('a goal can be typed or left open; where none is printed it is open', () => {
    const who = at(newImport(overture))
    who.press('Down', 'Down', 'Down', 'Right', 'Enter', '8', '8', 'Enter')
    expect(who.effects).toEqual([{ kind: 'import', picked: { part: 'P1', goal: '88' } }])
    const none = at(newImport(silent))
    expect(none.rows().join('\n')).toContain('the rehearsal will say')
    none.press('Enter')
    expect(none.effects).toEqual([{ kind: 'import', picked: { part: 'P1', goal: 'open' } }])
  })

  test('an absurd printed mark beside a sane playback tempo is asked about', () => {
    const who = at(newImport(absurd))
    expect(who.rows().join('\n')).toMatch(/quarter = 4 is printed, which can't be meant/)
    expect(at(newImport(overture)).rows().join('\n')).not.toContain("can't be meant")
  })

  test('Escape leaves, and nothing was asked of the program but the end', () => {
    const who = at(newImport(overture))
    who.press('Right', 'Escape')
    expect(who.effects).toEqual([{ kind: 'end', quit: false }])
  })
})

describe('a file', () => {
  test('is typed, or dropped and read at once', () => {
    const who = at(newImport(null))
    who.press('Enter')
    expect(who.rows().join('\n')).toContain('Type the name of the file')
    who.press(...'w.mxl', 'Enter')
    who.act({ kind: 'refused', text: 'w.mxl is not there.' })
    expect(who.rows().join('\n')).toContain('w.mxl is not there.')
    who.act({ kind: 'paste', text: "'/tmp/Weir Street.mxl'" })
    expect(who.effects.map(e => (e.kind === 'read' ? e.path : e.kind))).toEqual([
      'w.mxl',
      "'/tmp/Weir Street.mxl'",
    ])
    who.act({ kind: 'read', offer: overture })
    expect(who.state()).toMatchObject({ row: 'part', busy: false })
  })
})

test.each([
  [24, 80],
  [14, 50],
  [12, 40],
])('%d rows of %d columns hold it', (rows, cols) => {
  const all = at(newImport(overture))
  all.press('Down', 'Down', 'Right', 'Right', 'Right', 'Enter', 'Right')
  const shown = all.rows({ rows, cols })
  expect(shown.length).toBeLessThanOrEqual(rows)
  expect(Math.max(...shown.map(r => r.length))).toBeLessThanOrEqual(cols)
  expect(shown.join('\n')).toMatch(/Escape/)
})
