import { spawnSync } from 'node:child_process'
import { chmodSync, mkdirSync, mkdtempSync, readdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join, relative } from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'
import { contents, nodeName, startScript } from '../../src/release/contents.ts'
import { NODE, onWindows, SYSTEMS } from '../../src/release/systems.ts'
import { startPage } from '../../src/release/words.ts'

const ROOT = join(import.meta.dirname, '../..')

const listed = (folder: string): readonly string[] => {
  const walk = (dir: string): readonly string[] =>
    readdirSync(dir, { withFileTypes: true }).flatMap(e => {
      if (dir === ROOT && (e.name === 'node_modules' || e.name.startsWith('.git'))) return []
      return e.isDirectory() ? walk(join(dir, e.name)) : [join(dir, e.name)]
    })
  return walk(join(ROOT, folder)).map(path => relative(join(ROOT, folder), path))
}

const made: string[] = []
afterAll(() => {
  for (const folder of made.splice(0)) rmSync(folder, { recursive: true, force: true })
})

describe('the archive of a system', () => {
  test('there is one each for Linux, macOS and Windows, and Node is one version that Gradino runs on', () => {
    expect(SYSTEMS.map(s => s.name)).toEqual([
      'linux-x64',
      'linux-arm64',
      'macos-arm64',
      'macos-x64',
      'windows-x64',
    ])
    expect(NODE).toMatch(/^(20|22|24)\.\d+\.\d+$/)
    for (const s of SYSTEMS) expect(s.integrity).toMatch(/^sha512-[A-Za-z0-9+/]{86}==$/)
  })

  test.each(SYSTEMS.map(s => [s.name, s] as const))(
    '%s: the program, its sound and its presets; no tests, no tools',
    (_, s) => {
      const to = contents(s, listed).map(f => f.to)
      for (const needed of [
        'program/dist/main.js',
        'program/dist/player.js',
        'program/dist/midi-process.js',
        'program/presets/ladders.json',
        'LICENSE.txt',
        `program/node_modules/@echogarden/audio-io/addons/bin/${s.sound}`,
        `program/node_modules/@julusian/midi/prebuilds/${s.midi}/node-napi-v7.node`,
      ])
        expect(to).toContain(needed)
      expect(to.filter(path => path.endsWith('.node'))).toHaveLength(2)
      expect(to.filter(path => /test|\.map$|\.d\.ts$|\.tsx?$|parts\.json|dist\/release/i.test(path))).toEqual(
        [],
      )
      expect(new Set(to).size).toBe(to.length)
      const packages = new Set(to.flatMap(path => /node_modules\/((?:@[^/]+\/)?[^/]+)/.exec(path)?.[1] ?? []))
      expect([...packages].sort()).toEqual([
        '@echogarden/audio-io',
        '@echogarden/wave-codec',
        '@julusian/midi',
        'pkg-prebuilds',
        'tslib',
      ])
    },
  )

  test.each(SYSTEMS.map(s => [s.name, s] as const))(
    '%s: the page says how to start, fits 80 columns, and is honest about what was tried',
    (_, s) => {
      const page = startPage(s, '9.9.9')
      expect(page).toContain(s.name === 'windows-x64' ? '\r\n       gradino\r\n' : '\n       ./gradino\n')
      expect(page.includes('has not been tried')).toBe(!s.tried)
      expect(page.includes('xattr')).toBe(s.name.startsWith('macos'))
      for (const line of page.split(/\r?\n/)) expect(line.length).toBeLessThanOrEqual(80)
    },
  )
})

describe('the start script', () => {
  const linux = SYSTEMS.find(s => s.name === 'linux-x64')!

  /** A folder with a blank in its name that holds the script and a "Node" that says what it was given. */
  const unpacked = (): string => {
    const above = mkdtempSync(join(tmpdir(), 'gradino archive '))
    made.push(above)
    mkdirSync(join(above, 'node'))
    writeFileSync(join(above, 'node', nodeName(linux)), '#!/bin/sh\nprintf "%s|" "$GRADINO_ARCHIVE" "$@"\n')
    writeFileSync(join(above, 'gradino'), startScript(linux).text)
    for (const name of ['gradino', `node/${nodeName(linux)}`]) chmodSync(join(above, name), 0o755)
    return above
  }
  const type = (file: string, cwd: string, ...args: string[]): readonly string[] => {
    const { stdout } = spawnSync(file, args, { cwd, encoding: 'utf8', env: { PATH: '/usr/bin:/bin' } })
    return stdout.split('|').slice(0, -1)
  }

  test('starts the program with the Node beside it, from any folder, and passes on what was typed as it is', () => {
    const here = unpacked()
    const given = type(join(here, 'gradino'), '/', 'note', 'too fast, again', '')
    expect(given).toEqual([
      '1',
      '--max-semi-space-size=1',
      '--optimize-for-size',
      `${here}/program/dist/main.js`,
      'note',
      'too fast, again',
      '',
    ])
    expect(type('./gradino', here)).toContain('./program/dist/main.js')
  })

  test('also through a link in another folder, a relative one too', () => {
    const here = unpacked()
    mkdirSync(join(here, 'bin'))
    symlinkSync(join(here, 'gradino'), join(here, 'bin', 'absolute'))
    symlinkSync('../gradino', join(here, 'bin', 'relative'))
    expect(type(join(here, 'bin', 'absolute'), '/')).toContain(`${here}/program/dist/main.js`)
    expect(type(join(here, 'bin', 'relative'), dirname(here))).toContain(
      `${here}/bin/../program/dist/main.js`,
    )
  })

  test('on Windows it is a command file with the line ends of Windows', () => {
    const windows = startScript(SYSTEMS.find(onWindows)!)
    expect(windows.name).toBe('gradino.cmd')
    expect(windows.text.replaceAll('\r\n', '')).not.toContain('\n')
    expect(windows.text).toContain('"%~dp0node\\node.exe"')
    expect(windows.text).toMatch(/%\*\r\n$/)
  })
})
