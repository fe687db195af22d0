import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, expect, test } from 'vitest'
import { UNTOUCHED } from './headless.ts'
import { gone } from './left-behind.ts'
import { type Pty, startInPty } from './pty.ts'

const folders: string[] = []
let open: Pty | undefined
afterEach(() => {
  open?.dispose()
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true })
})
const folder = (name: string): string => {
  const made = mkdtempSync(join(tmpdir(), `gradino-${name}-`))
  folders.push(made)
  return made
}

test('a MIDI pedal starts a repetition and stops it on the practice screen, and its process ends with the program', async () => {
  // The program as it is shipped; in place of the process that listens to MIDI one that is pressed by a file.
  const program = folder('program')
  cpSync(join(import.meta.dirname, '../../dist'), program, { recursive: true })
  const [foot, pid] = [join(program, 'foot'), join(program, 'pid')]
  writeFileSync(
    join(program, 'midi-process.js'),
    `import { existsSync, rmSync, writeFileSync } from 'node:fs'
writeFileSync(${JSON.stringify(pid)}, String(process.pid))
setInterval(() => {
  if (!existsSync(${JSON.stringify(foot)})) return
  process.send('midi-cc64')
  process.send('midi-cc64-low')
  rmSync(${JSON.stringify(foot)})
}, 10)
process.on('disconnect', () => process.exit())
`,
  )
  writeFileSync(join(program, 'package.json'), '{ "type": "module" }')
  const home = folder('midi')
  const start = (...args: string[]): Pty =>
    startInPty(process.execPath, [join(program, 'main.js'), '--home', home, ...args], {
      env: { CI: 'false' },
    })
  open = start('setup', '--pedals', '1')
  expect(await open.exit).toMatchObject({ code: 0 })
  const settings = join(home, 'config', 'settings.json')
  writeFileSync(
    settings,
    JSON.stringify({ ...JSON.parse(readFileSync(settings, 'utf8')), right: 'midi-cc64' }),
  )

  open = start('practice', '--start', '60', '--goal', '63', '--measures', '8', '--output', 'silent')
  const pty = open
  await pty.waitFor(/pedal \(MIDI damper pedal\): start/)
  const press = async (): Promise<void> => {
    writeFileSync(foot, '')
    for (let i = 0; i < 500 && existsSync(foot); i++) await new Promise(done => setTimeout(done, 10))
    expect(existsSync(foot)).toBe(false)
  }
  await press()
  await pty.waitFor(/pedal \(MIDI damper pedal\): stop, not clean/)
  await press()
  await pty.waitFor('Stopped; not clean.')
  await pty.send('\x03')
  expect(await pty.exit).toMatchObject({ code: 0 })
  expect(pty.state()).toEqual(UNTOUCHED)
  const listener = Number(readFileSync(pid, 'utf8'))
  for (let i = 0; i < 500 && !gone(listener); i++) await new Promise(done => setTimeout(done, 10))
  expect(gone(listener)).toBe(true)
})
