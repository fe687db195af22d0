import { PassThrough } from 'node:stream'
import { expect, test } from 'vitest'
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
