import { describe, expect, test } from 'vitest'
import type { State } from '../../../src/screens/form/reduce.ts'
import { editSheet } from '../../../src/screens/form/view.ts'
import { drawn } from '../drawn.ts'
import { sitAt } from './scene.ts'

const frame = (state: State, cols = 80, rows = 24): readonly string[] =>
  drawn(editSheet(state, 'Weir Street Overture, run at the weir', { rows, cols }))

const SIZES = [
  [80, 24],
  [120, 36],
  [40, 12],
] as const

describe.each(SIZES)('at %d x %d', (cols, rows) => {
  test('every line of the form can be reached and seen, and nothing is wider or taller than the window', () => {
    const at = sitAt()
    for (const _ of at.state().form.rows) {
      const shown = frame(at.state(), cols, rows)
      expect(shown.length).toBeLessThanOrEqual(rows)
      for (const row of shown) expect([...row].length).toBeLessThanOrEqual(cols)
      expect(shown.filter(r => r.includes('║:'))).toHaveLength(1)
      expect(shown.join('\n')).toContain('Ctrl+S')
      at.press('Down')
    }
  })

  test('a wrong line and its sentence stand together', () => {
    const at = sitAt()
    at.write('goal', 'fast')
    at.press('Down')
    const shown = frame(at.state(), cols, rows).join(' ').replace(/\s+/g, ' ')
    expect(shown).toContain('"fast" doesn\'t work for the goal tempo')
    expect(shown).toContain('Try beats a minute')
  })

  test('both questions show all their answers', () => {
    const at = sitAt()
    at.write('goal', '126')
    at.press('Escape')
    const leave = frame(at.state(), cols, rows).join('\n')
    for (const answer of ['Store it', 'Leave everything as it was', 'Go on']) expect(leave).toContain(answer)
    at.act({ kind: 'asked', text: 'run at the weir (meter) is no longer the music you practiced' })
    const history = frame(at.state(), cols, rows).join('\n')
    for (const answer of ['Keep the history', 'Begin anew', 'Go on']) expect(history).toContain(answer)
  })
})

test('a changed line says what stood there before', () => {
  const at = sitAt()
  at.write('goal', '126')
  at.write('goalTop', '130')
  const shown = frame(at.state(), 80, 30)
  expect(shown.find(r => r.includes('goal tempo'))).toMatch(/126 +quarter = 126, before: 138$/)
  expect(shown.find(r => r.includes('║:'))).toMatch(/upper goal +130_ +quarter = 130, before: none$/)
})

test('a new place brings its number of measures, and that is said', () => {
  const at = sitAt()
  at.write('measures', '41-46')
  const count = () => frame(at.state()).find(r => /^ {3}measures|║: measures/.test(r))
  expect(count()).toMatch(/measures +4 +as the place says$/)
  at.write('count', '5')
  expect(count()).toMatch(/measures +5_ +before: 4$/)
})

test('a long text shows what is around the place where typing goes', () => {
  const at = sitAt()
  at.write('note', `${'a'.repeat(60)}END`)
  expect(frame(at.state()).find(r => r.includes('║:'))).toContain('END_')
})

test('in a window that is too small: one sentence', () => {
  expect(frame(sitAt().state(), 39, 12).join(' ')).toContain('too small')
})
