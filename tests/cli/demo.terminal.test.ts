import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterEach, describe, expect, test } from 'vitest'
import { newFolder } from '../folders.ts'
import { UNTOUCHED } from '../terminal/headless.ts'
import { type Pty, startInPty } from '../terminal/pty.ts'
import { MAIN, type Row, soundsIn } from './bundle.ts'

let pty: Pty
afterEach(() => pty.dispose())

/** The demonstration on a terminal, in a folder of its own. */
const show = (args: readonly string[], env: Record<string, string> = {}): string => {
  const folder = newFolder()
  pty = startInPty(process.execPath, [MAIN, 'demo', ...args], {
    cwd: folder,
    env: { GRADINO_HOME: join(folder, 'home'), ...env },
  })
  return folder
}

const SILENT = ['--output', 'silent']
const FAST = { GRADINO_SPEED: '15' }
const SENTENCES = [
  'Reached today: quarter = 132',
  'Not reached yet: the goal',
  'Tomorrow starts at quarter = 132',
]

describe('the demonstration on a terminal', () => {
  test('climbs by itself, says all along what it is, shows the closing view and goes', async () => {
    show(SILENT, FAST)
    const seen = (text: string) => pty.waitFor(text)
    await seen('Demonstration: Weir Street Overture')
    await seen('two of three in a row')
    await seen('Clean. A rung up: quarter = 138.')
    expect(pty.rows()[0]).toContain('Demonstration: Weir Street Overture')
    await seen('Stopped; not clean.')
    await seen('A rung down: quarter = 132.')
    await seen('Taken back.')
    await seen('Everything is stored.')
    expect(await pty.exit).toEqual({ code: 0, signal: 0 })
    expect(pty.state()).toEqual(UNTOUCHED)
    for (const s of SENTENCES) expect(pty.rows().join('\n')).toContain(s)
  })

  test.each(['x', '\u0003'])('the key %j of the viewer ends it', async key => {
    const folder = show([...SILENT, '--out', 'kept'], FAST)
    await pty.waitFor(/\bone of three in a row/)
    await pty.send(key)
    expect(await pty.exit).toEqual({ code: 0, signal: 0 })
    expect(pty.state()).toEqual(UNTOUCHED)
    expect(pty.rows().join('\n')).toContain('No rung was completed today.')
    const { starts } = soundsIn(join(folder, 'kept', 'demo.wav'))
    const rows: Row[] = JSON.parse(readFileSync(join(folder, 'kept', 'onsets.json'), 'utf8'))
    expect(starts).toEqual(rows.map(r => r.frame))
    expect(readFileSync(join(folder, 'kept', 'screen.txt'), 'utf8')).toMatch(/\bone of three in a row/)
  })

  test('a key before anything sounded ends it too', async () => {
    const folder = show([...SILENT, '--out', 'kept'])
    await pty.waitFor('start')
    await pty.send('x')
    expect(await pty.exit).toEqual({ code: 0, signal: 0 })
    expect(JSON.parse(readFileSync(join(folder, 'kept', 'onsets.json'), 'utf8'))).toEqual([])
    expect(readFileSync(join(folder, 'kept', 'journal.jsonl'), 'utf8')).toBe('')
  })

  test('a signal leaves neither its screen nor its temporary journal behind', async () => {
    const folder = newFolder()
    show(SILENT, { TMPDIR: folder })
    await pty.waitFor('count-in')
    expect(readdirSync(folder)).toHaveLength(1)
    process.kill(pty.pid, 'SIGTERM')
    expect(await pty.exit).toEqual({ code: 0, signal: 15 })
    expect(pty.state()).toEqual(UNTOUCHED)
    expect(readdirSync(folder)).toEqual([])
  })

  test('as plain lines', async () => {
    show([...SILENT, '--plain'], FAST)
    await pty.exit
    const lines = pty.output().split('\r\n')
    // The cautions stand before the first screen that sounds.
    expect(lines[0]).toBe('Rest five minutes in each half hour.')
    expect(lines).toContainEqual(expect.stringContaining('Demonstration: Weir Street Overture'))
    expect(lines).toContain('Clean. A rung up: quarter = 138.')
    expect(lines.slice(-4).join(' ')).toContain(SENTENCES[2])
    expect(pty.output()).not.toContain('\u001b[?1049h')
  })
})
