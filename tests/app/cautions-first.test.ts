import { expect, test, vi } from 'vitest'
import { contextFrom } from '../../src/app/context.ts'
import { inRoom } from '../../src/app/room.ts'
import { ALL_CAUTIONS } from '../../src/screens/words.ts'
import { player } from '../cli/typed.ts'

test('the cautions are said before the first screen that sounds, whichever it is, and once', async () => {
  const { home } = player()
  vi.stubEnv('GRADINO_NOW', '2031-03-15T12:00:00Z')
  const ctx = contextFrom({ home, plain: true })
  let said = ''
  vi.spyOn(process.stdout, 'write').mockImplementation(s => {
    said += String(s)
    return true
  })
  const open = () => inRoom(ctx, { how: { output: 'silent' } }, async () => said)
  expect(await open()).toEqual({ ok: true, value: `${ALL_CAUTIONS.join('\n')}\n` })
  said = ''
  expect(await open()).toEqual({ ok: true, value: '' })
})
