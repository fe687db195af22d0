import fc from 'fast-check'
import { render } from 'ink-testing-library'
import { expect, test } from 'vitest'
import { Painted, type Sheet, sheetText, spelled } from '../../src/terminal/painted.tsx'

const sheet = (...rows: string[]): Sheet => rows.map(text => [{ text }])

test('rows that are painted come out of Ink as they went in', () => {
  const row = fc.array(fc.record({ text: fc.string({ unit: 'grapheme', maxLength: 30 }) }), { maxLength: 3 })
  fc.assert(
    fc.property(fc.array(row, { minLength: 1, maxLength: 60 }), rows => {
      const lines = rows.map(parts => parts.map(p => ({ text: p.text.replaceAll('\n', ' ') })))
      const ink = render(<Painted sheet={lines} />)
      expect(spelled(ink.lastFrame() ?? '')).toBe(sheetText(lines))
      ink.unmount()
    }),
    { numRuns: 40 },
  )
})

test('however many frames follow each other, the latest one comes out; one that stays gives Ink nothing to do', () => {
  const ink = render(<Painted sheet={sheet('120', '0')} />)
  for (let beat = 1; beat < 1100; beat++) {
    ink.rerender(<Painted sheet={sheet('120', `${beat}`)} />)
    expect(spelled(ink.lastFrame() ?? '')).toBe(`120\n${beat}`)
  }
  const before = ink.frames.length
  ink.rerender(<Painted sheet={sheet('120', '1099')} />)
  expect(new Set(ink.frames.slice(before - 1)).size).toBe(1)
  ink.unmount()
})

test('what Ink lays out itself is left as it is', () => {
  expect(spelled('fine\n\ndal segno')).toBe('fine\n\ndal segno')
})
