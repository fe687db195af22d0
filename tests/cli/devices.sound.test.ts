import { spawnSync } from 'node:child_process'
import { describe, expect, inject, test } from 'vitest'
import { newFolder } from '../folders.ts'
import { nothingHere } from '../sound/pulse.ts'
import { MAIN } from './bundle.ts'

const sound = (env: Readonly<Record<string, string>>, ...args: string[]) => {
  const home = newFolder()
  const { status, stdout, stderr } = spawnSync(process.execPath, [MAIN, '--home', home, 'sound', ...args], {
    encoding: 'utf8',
    env: { ...process.env, ...env },
  })
  return { status, lines: stdout.trimEnd().split('\n'), stderr }
}

describe('gradino sound', () => {
  test('without any device: each output says why, what to do stands below it, and --test has failed', () => {
    const quiet = nothingHere()
    const { status, lines, stderr } = sound(quiet.env, '--test')
    quiet.close()
    expect(status).toBe(1)
    expect(stderr).toBe('')
    for (const name of ['naudiodon', 'audio-io', 'pacat', 'aplay', 'speaker'])
      expect(lines.some(l => l.startsWith(name) && l.includes("doesn't work: "))).toBe(true)
    expect(lines.join(' ')).not.toMatch(/npm install (naudiodon|speaker)/)
    expect(lines).toContain('Nothing sounded: no output works.')
    for (const line of lines.filter(l => !l.includes('Type:'))) expect(line.length).toBeLessThanOrEqual(80)
  })

  const env = inject('soundServer')
  test.skipIf(env === null)('with one: it plays on the output that was named, and says which is used', () => {
    const { status, lines } = sound(env ?? {}, '--test', '--output', 'pacat')
    expect(status).toBe(0)
    expect(lines).toContain('pacat: played four beats. Did you hear them?')
    expect(lines.some(l => l.startsWith('Gradino uses pacat.'))).toBe(true)
    expect(lines.some(l => l.startsWith('pacat') && l.endsWith(', on Null Output'))).toBe(true)
  })
})
