import { PassThrough } from 'node:stream'
import { expect, test, vi } from 'vitest'
import { openPlain } from '../../src/terminal/open-plain.ts'

const pipe = () => {
  const stdin = new PassThrough()
  const terminal = openPlain({
    now: () => 0,
    stdin: stdin as unknown as NodeJS.ReadStream,
    stdout: new PassThrough() as unknown as NodeJS.WriteStream,
  })
  return { stdin, terminal }
}

test('the end of a pipe leaves, also where it came before anything listened', async () => {
  const { stdin, terminal } = pipe()
  stdin.end()
  await new Promise(resolve => stdin.once('end', resolve))
  const heard: string[] = []
  terminal.onKey(k => heard.push(k.id))
  await Promise.resolve()
  terminal.close()
  expect(heard).toEqual(['C-c'])
})

test('keys of a pipe come one by one, and its end after them', async () => {
  const { stdin, terminal } = pipe()
  const heard: string[] = []
  terminal.onKey(k => heard.push(k.id))
  stdin.end('\x1b[6~f')
  await new Promise(resolve => stdin.once('end', resolve))
  terminal.close()
  expect(heard).toEqual(['PageDown', 'f', 'C-c'])
})

test('at a keyboard a page of bytes at once is no answer, a pasted line is; of a pipe every key counts', () => {
  const told = (isTTY: boolean, text: string): number => {
    const stdin = Object.assign(new PassThrough(), { isTTY, setRawMode: () => {} })
    const terminal = openPlain({
      now: () => 0,
      stdin: stdin as unknown as NodeJS.ReadStream,
      stdout: new PassThrough() as unknown as NodeJS.WriteStream,
    })
    const heard: string[] = []
    terminal.onKey(k => heard.push(k.id))
    stdin.emit('data', Buffer.from(text))
    terminal.close()
    return heard.length
  }
  expect(told(true, 'a'.repeat(1000))).toBe(1000)
  expect(told(true, 'a'.repeat(1001))).toBe(0)
  expect(told(true, `${'a'.repeat(5000)}\x03`)).toBe(1)
  expect(told(false, 'a'.repeat(5000))).toBe(5000)
})

test('what is typed stands below the lines, grows and is rubbed out; a line of the program begins anew', () => {
  vi.useFakeTimers()
  const stdout = new PassThrough()
  const terminal = openPlain({
    now: () => 0,
    stdin: new PassThrough() as unknown as NodeJS.ReadStream,
    stdout: stdout as unknown as NodeJS.WriteStream,
  })
  const shown = (): string => String(stdout.read() ?? '')
  terminal.line('goal tempo')
  terminal.typing('13')
  terminal.typing('138')
  expect(shown()).toBe('goal tempo\n138')
  terminal.typing('1')
  expect(shown()).toBe('\b \b\b \b')
  terminal.line('Not yet.')
  terminal.typing('1')
  expect(shown()).toBe('\nNot yet.\n1')
  terminal.typing('21')
  terminal.typing('321')
  expect(shown()).toBe('')
  vi.advanceTimersByTime(200)
  expect(shown()).toBe('\n321')
  terminal.typing(null)
  terminal.typing(null)
  expect(shown()).toBe('\n')
  terminal.close()
  vi.useRealTimers()
})
