import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import { acquirePractice, listenAt, lockAddress } from '../../src/store/practice-lock.ts'
import { newHome } from './scene.ts'

it('one practice screen at a time for a home; the next may open when it is closed', async () => {
  const home = newHome()
  const first = await acquirePractice(home)
  expect(first.ok).toBe(true)
  expect(await acquirePractice(home)).toEqual({
    ok: false,
    message: expect.stringMatching(
      /^A practice screen is already open for \S+; close it first, .* --home\.$/,
    ),
  })
  if (first.ok) await first.release()
  const next = await acquirePractice(home)
  expect(next.ok).toBe(true)
  if (next.ok) await next.release()
})

it('two homes are two music stands', async () => {
  const both = await Promise.all([acquirePractice(newHome()), acquirePractice(newHome())])
  expect(both.map(l => l.ok)).toEqual([true, true])
  for (const lock of both) if (lock.ok) await lock.release()
})

it('of many starts at once one opens', async () => {
  const home = newHome()
  const all = await Promise.all(Array.from({ length: 8 }, () => acquirePractice(home)))
  expect(all.filter(l => l.ok)).toHaveLength(1)
  for (const lock of all) if (lock.ok) await lock.release()
})

it.skipIf(process.platform === 'win32')('the same home by another way is the same home', async () => {
  const home = newHome()
  mkdirSync(home.data, { recursive: true })
  symlinkSync(home.data, `${home.data}-link`)
  const first = await acquirePractice(home)
  const second = await acquirePractice({ ...home, data: `${home.data}-link` })
  expect([first.ok, second.ok]).toEqual([true, false])
  if (first.ok) await first.release()
})

it('the name is short everywhere, and another for another player', () => {
  const place = `/home/${'very/'.repeat(60)}far`
  const names = (['linux', 'darwin', 'win32'] as const).map(platform => lockAddress(place, platform, 1000))
  expect(names[0]?.charCodeAt(0)).toBe(0)
  expect(names[1]).toMatch(/^\/.*gradino-[0-9a-f]{16}\.sock$/)
  expect(names[2]).toMatch(/^\\\\\.\\pipe\\gradino-[0-9a-f]{16}$/)
  // A socket's path may have 104 bytes on the system with the shortest (BSD sys/un.h, from memory).
  for (const name of names) expect(name.replace(tmpdir(), '').length).toBeLessThan(40)
  expect(lockAddress(place, 'linux', 1001)).not.toBe(names[0])
})

it.skipIf(process.platform === 'win32')(
  'where the name is a file, one that is held is respected',
  async () => {
    const home = newHome()
    mkdirSync(home.data, { recursive: true })
    const address = join(home.data, 'practice.sock')
    const held = await listenAt(address)
    expect(held).not.toBeNull()
    expect(await listenAt(address)).toBeNull()
    await new Promise(resolve => held?.close(resolve))
    // What a killed process leaves answers nobody; a plain file stands for it here, a real one in the real test.
    writeFileSync(address, '')
    const next = await listenAt(address)
    expect(next).not.toBeNull()
    next?.close()
  },
)
