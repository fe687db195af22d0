import { spawn } from 'node:child_process'
import { readdirSync } from 'node:fs'
import { expect, test } from 'vitest'
import { newFolder } from '../folders.ts'
import { MAIN } from './bundle.ts'

test.each(['SIGINT', 'SIGTERM', 'SIGHUP'] as const)(
  '%s in the middle of a long file leaves nothing of it',
  async signal => {
    const folder = newFolder()
    const args = ['render', '--out', 'hours.wav', '--tempo', '4', '--measures', '600', '--rate', '48000']
    const child = spawn(process.execPath, [MAIN, ...args], { cwd: folder, stdio: 'ignore' })
    const ended = new Promise(resolve => child.once('exit', (_, by) => resolve(by)))
    while (readdirSync(folder).length === 0) await new Promise(r => setTimeout(r, 5))
    child.kill(signal)
    expect(await ended).toBe(signal)
    expect(readdirSync(folder)).toEqual([])
  },
)
