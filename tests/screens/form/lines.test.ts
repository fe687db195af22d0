import { expect, test } from 'vitest'
import type { Edits } from '../../../src/repertoire/edit.ts'
import { editedForm } from '../../../src/screens/form/form.ts'
import { editScreen, type Tried } from '../../../src/screens/form/screen.ts'
import type { PlainTerminal } from '../../../src/terminal/open-plain.ts'
import { TWO } from '../controls.ts'
import { around, run, weir } from './scene.ts'

/** A player who hears lines and types: what was said since the last question, and what stands in the line. */
const byEar = (answer: Tried<string> = { kind: 'stored', value: 'stored' }) => {
  let tell: Parameters<PlainTerminal['onKey']>[0] = () => {}
  let said: string[] = []
  let typed: string | null = null
  const stored: Edits[] = []
  const terminal: PlainTerminal = {
    onKey: f => {
      tell = f
      return () => {}
    },
    line: text => void said.push(text),
    typing: text => {
      typed = text
    },
    size: () => ({ rows: 24, cols: 80 }),
    onResize: () => () => {},
    ink: null,
    close: () => {},
  }
  const left = editScreen<string>({
    terminal,
    timing: { now: () => 0, later: () => () => {}, wall: () => 0 },
    controls: TWO,
    title: 'Weir Street Overture, run at the weir',
    form: editedForm(weir, { passage: run.id }),
    around,
    subject: { about: {}, says: '' },
    store: async edits => {
      stored.push(edits)
      return answer
    },
  })
  return {
    left,
    stored,
    typed: () => typed,
    press: (...ids: string[]) => {
      for (const id of ids) tell({ id, at: 0 })
    },
    heard: () => {
      const all = said
      said = []
      return all
    },
  }
}

/** Down to the row of a label; its line is heard last. */
const to = (at: ReturnType<typeof byEar>, label: string): string => {
  for (let n = 0; n < 40; n++) {
    at.press('Down')
    const line = at.heard().at(-1) ?? ''
    if (line.startsWith(label)) return line
  }
  throw new Error(`no line ${label}`)
}

test('the form asks line by line: label, place in the form and hint, then what stands there', () => {
  const at = byEar()
  expect(at.heard()[0]).toBe('Weir Street Overture, run at the weir')
  expect(to(at, 'goal tempo')).toMatch(/^goal tempo, \d+ of \d+\. ./)
  expect(at.typed()).toBe('138')
})

test('a goal is changed by ear, said as it was understood, and stored', async () => {
  const at = byEar()
  to(at, 'goal tempo')
  at.press('Backspace', 'Backspace', 'Backspace', '1', '3', '2')
  expect([at.typed(), at.heard()]).toEqual(['132', []])
  at.press('Enter')
  expect(at.heard()[0]).toBe('goal tempo: quarter = 132.')
  at.press('C-s')
  expect(await at.left).toEqual({ stored: 'stored' })
  expect(at.stored).toEqual([{ fields: { goal: '132' }, lists: {} }])
})

test('what is wrong is said when the line is left, not while it is typed', () => {
  const at = byEar()
  to(at, 'goal tempo')
  at.press('x')
  expect(at.heard()).toEqual([])
  at.press('Enter')
  expect(at.heard().join('\n')).toMatch(/"138x"/)
  at.press('Up', 'Backspace')
  at.heard()
  at.press('Enter')
  expect(at.heard().join('\n')).not.toMatch(/138x/)
})

test('leaving asks what becomes of the change, each answer is heard', async () => {
  const at = byEar()
  to(at, 'goal tempo')
  at.press('Backspace', 'Escape')
  const [asks = '', answer] = at.heard()
  expect(asks).toMatch(/not stored yet.*\nStore it/)
  expect(answer).toBe('Store it')
  expect(at.typed()).toBeNull()
  at.press('Down')
  expect(at.heard()).toEqual(['Leave everything as it was'])
  at.press('Enter')
  expect(await at.left).toEqual({ stored: null, unsaved: 'goal tempo 13' })
})
