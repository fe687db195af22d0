import { EventEmitter } from 'node:events'
import { expect, test } from 'vitest'
import { openTerminal } from '../../src/terminal/open-terminal.ts'
import type { Key } from '../../src/terminal/tokenizer.ts'

/** What a screen is told of bytes that come in one read each. */
const told = (...reads: readonly string[]): readonly Key[] => {
  const stdin = Object.assign(new EventEmitter(), { setRawMode: () => {}, resume() {}, pause() {} })
  const stdout = Object.assign(new EventEmitter(), { rows: 24, columns: 80, write: () => true })
  const terminal = openTerminal({
    now: () => 0,
    stdin: stdin as unknown as NodeJS.ReadStream,
    stdout: stdout as unknown as NodeJS.WriteStream,
  })
  const keys: Key[] = []
  terminal.onKey(key => void keys.push(key))
  for (const bytes of reads) stdin.emit('data', Buffer.from(bytes))
  terminal.close()
  return keys
}

test.each([
  '/home/weir/Weir Street.mxl',
  "'/home/weir/Weir Street.mxl'",
  '"/home/weir/Weir Street.musicxml" ',
  '/home/weir/Weir\\ Street\\ \\(flute\\).xml',
  'file:///home/weir/Weir%20Street.mxl',
  '~/scores/weir.json',
  'C:\\scores\\weir.mxl',
  `/${'a-long-name/'.repeat(9)}weir.mxl\n`,
])('a file dropped into a window that does not tell a paste is one key: %s', typed => {
  expect(told(typed)).toEqual([{ id: 'Paste', at: 0, text: typed.trim() }])
})

test('typed letter by letter, or anything else in one read, stays what it is', () => {
  expect(told(...'/a.mxl').map(k => k.id)).toEqual(['/', 'a', '.', 'm', 'x', 'l'])
  expect(told('\x1b[6~\x1b[6~\x1b[6~').map(k => k.id)).toEqual(['PageDown', 'PageDown', 'PageDown'])
  expect(told('nsmt').map(k => k.id)).toEqual(['n', 's', 'm', 't'])
  expect(told('/a\x03b/c.mxl').map(k => k.id)).toContain('C-c')
})
