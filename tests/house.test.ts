import { readdirSync, readFileSync, statSync } from 'node:fs'
import { dirname, join, relative, resolve } from 'node:path'
import { expect, test } from 'vitest'

const SRC = resolve(import.meta.dirname, '../src')

/** Imports point down this list only. */
const FLOORS = [
  'main',
  'commands',
  'screens',
  'terminal',
  'sound',
  'store',
  'exchange',
  'plan',
  'ladder',
  'click',
  'music',
]
/** Stricter than the list. */
const ONLY: Readonly<Record<string, readonly string[]>> = {
  sound: ['sound', 'click', 'music'],
  store: ['store', 'ladder', 'music'],
}
const PURE = ['music', 'click', 'ladder', 'plan']

const files = (dir: string): string[] =>
  readdirSync(dir).flatMap(name => {
    const path = join(dir, name)
    return statSync(path).isDirectory() ? files(path) : /\.tsx?$/.test(name) ? [path] : []
  })

const source = files(SRC).map(path => ({ path: relative(SRC, path), text: readFileSync(path, 'utf8') }))
const floorOf = (path: string): string => path.split(/[\\/]/)[0]?.replace(/\.tsx?$/, '') ?? ''

const imports = (text: string): string[] =>
  [...text.matchAll(/(?:from|import)\s*\(?\s*'([^']+)'/g)].map(m => m[1] ?? '')

test('imports point down the house only', () => {
  const wrong = source.flatMap(({ path, text }) => {
    const from = floorOf(path)
    return (
      imports(text)
        // Presets are data beside the house.
        .filter(i => i.startsWith('.') && !/^(\.\.\/)+presets\/[\w-]+\.json$/.test(i))
        .map(i => floorOf(relative(SRC, resolve(dirname(join(SRC, path)), i))))
        .filter(to => FLOORS.indexOf(to) < FLOORS.indexOf(from) || (ONLY[from] && !ONLY[from].includes(to)))
        .map(to => `${path} imports ${to}`)
    )
  })
  expect(wrong).toEqual([])
  expect(source.length).toBeGreaterThan(50)
})

test('music, click, ladder and plan know no clock, no chance, no file, no process, no React', () => {
  const impure = /\bDate\.now|new Date\(\)|Math\.random|\bprocess\.|performance\.now|setTimeout|\bfetch\(/
  for (const { path, text } of source.filter(f => PURE.includes(floorOf(f.path)))) {
    expect(
      imports(text).filter(i => !i.startsWith('.')),
      path,
    ).toEqual([])
    expect(impure.exec(text)?.[0], path).toBeUndefined()
  }
})

test('only the terminal writes escapes', () => {
  for (const { path, text } of source.filter(f => floorOf(f.path) !== 'terminal'))
    expect(/\\u001b|\\x1b|\\e\[|\\033/i.exec(text)?.[0], path).toBeUndefined()
})

test('the sound process loads no React and nothing from screens', () => {
  const seen = new Set<string>()
  const visit = (path: string): void => {
    if (seen.has(path)) return
    seen.add(path)
    const text = source.find(f => f.path === path)?.text
    if (text === undefined) return
    expect(
      imports(text).filter(i => /^(react|ink)\b/.test(i)),
      path,
    ).toEqual([])
    for (const i of imports(text).filter(x => x.startsWith('.')))
      visit(relative(SRC, resolve(dirname(join(SRC, path)), i)))
  }
  visit('sound/player.ts')
  expect(seen.size).toBeGreaterThan(5)
})

test('no network: nothing opens a connection to another machine', () => {
  for (const { path, text } of source)
    for (const i of imports(text))
      expect(/^(node:)?(http|https|http2|tls|dgram|dns)$/.test(i), `${path}: ${i}`).toBe(false)
})

test('no default exports, and no file too long to read at one go', () => {
  for (const { path, text } of source) {
    expect(/^export default/m.test(text), path).toBe(false)
    expect(text.split('\n').length, path).toBeLessThanOrEqual(320)
  }
})
