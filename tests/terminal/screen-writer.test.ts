import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  clip,
  enterScreen,
  eraseToEndOfRow,
  leaveScreen,
  screenWriter,
  updateRows,
} from '../../src/terminal/screen-writer.ts'
import { headless, UNTOUCHED } from './headless.ts'

const stage = async (rows: number, cols: number) => {
  const screen = headless(rows, cols)
  await screen.write(enterScreen())
  const writer = screenWriter({ rows, cols })
  return { screen, writer, show: () => screen.write(writer.update()) }
}

describe('the screen after each frame', () => {
  it('shows the frame, top left first, and nothing of the one before', async () => {
    const { screen, writer, show } = await stage(4, 30)
    writer.frame('Weir Street Overture\n\nquarter 112')
    await show()
    expect(screen.rows()).toEqual(['Weir Street Overture', '', 'quarter 112', ''])
    writer.frame('\nshort')
    await show()
    expect(screen.rows()).toEqual(['', 'short', '', ''])
  })

  it('as tall and as wide as the terminal: nothing scrolls, nothing wraps, no cell is lost', async () => {
    const { screen, writer, show } = await stage(3, 5)
    writer.frame('12345\nabcde\nvwxyz')
    await show()
    writer.frame('12345\nABCDE\nvwxyz')
    await show()
    expect(screen.rows()).toEqual(['12345', 'ABCDE', 'vwxyz'])
    expect(screen.terminal.buffer.active.length).toBe(3)
  })

  // xterm erases the last cell then, the headless terminal does not: hence the bytes, for once.
  it('a row that fills its width is not erased after its last cell', () => {
    expect(updateRows([''], ['12345'], { rows: 1, cols: 5 })).not.toContain(eraseToEndOfRow())
    expect(updateRows([''], ['1234'], { rows: 1, cols: 5 })).toContain(eraseToEndOfRow())
  })

  it('taller and wider than the terminal is cut', async () => {
    const { screen, writer, show } = await stage(2, 5)
    writer.frame('1234567\nabcdefg\nno\nroom')
    await show()
    expect(screen.rows()).toEqual(['12345', 'abcde'])
  })

  it('an unchanged row is not written again, an unchanged screen not at all', async () => {
    const { writer } = await stage(3, 20)
    writer.frame('one\ntwo\nthree')
    writer.update()
    expect(writer.update()).toBe('')
    writer.frame('one\n2\nthree')
    const bytes = writer.update()
    expect(bytes).toContain('2')
    expect(bytes).not.toContain('one')
    expect(bytes).not.toContain('three')
  })

  it('frames skipped while the terminal was slow leave no trace', async () => {
    const { screen, writer, show } = await stage(2, 20)
    writer.frame('beat 1')
    writer.frame('beat 2\nlate')
    writer.frame('beat 3')
    await show()
    expect(screen.rows()).toEqual(['beat 3', ''])
  })

  it('a damaged screen is whole again after forget', async () => {
    const { screen, writer, show } = await stage(3, 20)
    writer.frame('one\ntwo')
    await show()
    await screen.write('\x1b[1;1Hnoise from elsewhere\r\nmore\r\nmore')
    writer.forget()
    await show()
    expect(screen.rows()).toEqual(['one', 'two', ''])
  })

  it('a resized screen is drawn anew to its new size', async () => {
    const { screen, writer, show } = await stage(3, 10)
    writer.frame('a long line\nsecond\nthird')
    await show()
    screen.resize(2, 20)
    writer.resize({ rows: 2, cols: 20 })
    await show()
    expect(screen.rows()).toEqual(['a long line', 'second'])
  })

  it('colors end with their row, also where it is cut', async () => {
    const { screen, writer, show } = await stage(2, 6)
    writer.frame('\x1b[41mred red red\x1b[49m\nplain')
    await show()
    const cell = (row: number, col: number) => screen.terminal.buffer.active.getLine(row)!.getCell(col)!
    expect(screen.rows()).toEqual(['red re', 'plain'])
    expect(cell(0, 5).getBgColor()).toBe(1)
    expect(cell(1, 0).isBgDefault()).toBe(true)
    expect(cell(1, 5).isBgDefault()).toBe(true)
  })

  it('after leaving, the terminal is as it was before', async () => {
    const screen = headless(3, 20)
    await screen.write('$ gradino\r\n')
    expect(screen.state()).toEqual(UNTOUCHED)
    await screen.write(enterScreen())
    expect(screen.state()).toEqual({
      ...UNTOUCHED,
      alternate: true,
      cursorShown: false,
      autowrap: false,
      paste: true,
      focus: true,
    })
    await screen.write('\x1b[?2026h\x1b[31mhalf a frame')
    await screen.write(`${leaveScreen()}$`)
    expect(screen.state()).toEqual(UNTOUCHED)
    expect(screen.rows()).toEqual(['$ gradino', '$', ''])
    expect(screen.terminal.buffer.active.getLine(1)!.getCell(0)!.isFgDefault()).toBe(true)
  })
})

describe('the traveling mark', () => {
  it('moves over its row, and frames that leave the row alone leave the mark alone', async () => {
    const { screen, writer, show } = await stage(3, 20)
    writer.frame('tempo 112\n|---------|\nclean 1')
    writer.patch(1, '|-*-------|')
    await show()
    expect(screen.rows()[1]).toBe('|-*-------|')
    writer.frame('tempo 112\n|---------|\nclean 2')
    await show()
    expect(screen.rows()).toEqual(['tempo 112', '|-*-------|', 'clean 2'])
    writer.patch(1, null)
    await show()
    expect(screen.rows()[1]).toBe('|---------|')
  })

  it('does not survive a new size, where its row means something else', async () => {
    const { screen, writer, show } = await stage(3, 20)
    writer.frame('a\nstrip')
    writer.patch(1, 'mark')
    await show()
    writer.resize({ rows: 2, cols: 20 })
    screen.resize(2, 20)
    await show()
    expect(screen.rows()).toEqual(['a', 'strip'])
  })

  it('a frame that says something new in that row wins', async () => {
    const { screen, writer, show } = await stage(2, 20)
    writer.frame('a\nstrip')
    writer.patch(1, 'mark')
    await show()
    writer.frame('help\nfor the pedals')
    await show()
    expect(screen.rows()).toEqual(['help', 'for the pedals'])
  })
})

describe('laws', () => {
  const row = fc.oneof(
    fc.constantFrom(
      '',
      'quarter 112',
      '  3 of 3',
      '\x1b[1;38;2;10;20;30mhere\x1b[0m > 112',
      '小節 41',
      'é\u0301 ok',
    ),
    fc.string({ unit: 'grapheme-ascii', maxLength: 14 }),
  )
  const frames = fc.array(fc.array(row, { maxLength: 6 }), { minLength: 1, maxLength: 8 })

  it('step by step or drawn at once, the screen is the same, and never scrolls', async () => {
    await fc.assert(
      fc.asyncProperty(frames, async list => {
        const a = await stage(4, 12)
        for (const frame of list) {
          a.writer.frame(frame.join('\n'))
          await a.show()
        }
        const b = headless(4, 12)
        await b.write(enterScreen() + updateRows(null, list.at(-1)!, { rows: 4, cols: 12 }))
        expect(a.screen.rows()).toEqual(b.rows())
        expect(a.screen.terminal.buffer.active.length).toBe(4)
      }),
      { numRuns: 100 },
    )
  })
})

describe('what fits into a row', () => {
  it.each([
    ['quarter 112', 7, 'quarter', 7],
    ['小節', 3, '小', 2],
    ['小節', 4, '小節', 4],
    ['e\u0301tude', 2, 'e\u0301t', 2],
    ['𝄞 112', 3, '𝄞 1', 3],
  ])('%s in %i cells is %s', (text, columns, cut, cells) => {
    expect(clip(text, columns)).toEqual({ text: cut, cells })
  })

  it('lets styles pass and nothing else that commands the terminal', () => {
    const hostile = 'a\x1b[2Jb\x1b]0;title\x07c\x1b[31md\x1b[0m\x07\r\n\x1bce\x1b[10;10Hf\x9b2Jg'
    expect(clip(hostile, 80)).toEqual({ text: 'abc\x1b[31md\x1b[0mef2Jg\x1b[0m', cells: 9 })
  })

  it('measures as the terminal does', async () => {
    const words = ['Übung', '小節', 'ｶﾅ', '한국', '𝄞', 'e\u0301', '½', '→', '│', '…', 'Ａ']
    for (const word of words) {
      const screen = headless(1, 20)
      await screen.write(word)
      expect(clip(word, 20).cells, word).toBe(screen.terminal.buffer.active.cursorX)
    }
  })
})
