import { readdirSync, readFileSync, statSync } from 'node:fs'
import { dirname, join, relative, resolve } from 'node:path'
import { expect, test } from 'vitest'

const SRC = resolve(import.meta.dirname, '../src')

/** Imports point down this list only. */
const FLOORS = [
  'release',
  'main',
  'cli',
  'app',
  'screens',
  'terminal',
  'sound',
  'store',
  'files',
  'score',
  'plan',
  'warm-up',
  'visit',
  'repertoire',
  'ladder',
  'click',
  'music',
]
/** Stricter than the list. */
const ONLY: Readonly<Record<string, readonly string[]>> = {
  sound: ['sound', 'click', 'music'],
  store: ['store', 'repertoire', 'ladder', 'music'],
}
/** One row is all of a field, also its hint for the player: the table is its own words. */
const TABLES_OF_FIELDS = ['repertoire/fields.ts', 'repertoire/lists.ts']
/** The words of every screen: what it is, what its keys ask, what is shown, how it is left. One screen's are not another's. */
const OF_A_SCREEN = ['State', 'Action', 'Effect', 'Step', 'Command', 'View', 'Shown', 'Left']

/** Without a shell: nothing here reads a clock, a file or the keyboard. */
const PURE = ['music', 'click', 'ladder', 'repertoire', 'visit', 'plan']
/** What a player typed is never thrown here: it comes back as a Result. */
const RETURN = [...PURE, 'warm-up', 'score', 'files']

const files = (dir: string): string[] =>
  readdirSync(dir).flatMap(name => {
    const path = join(dir, name)
    return statSync(path).isDirectory() ? files(path) : /\.tsx?$/.test(name) ? [path] : []
  })

const source = files(SRC).map(path => ({ path: relative(SRC, path), text: readFileSync(path, 'utf8') }))
const floorOf = (path: string): string => path.split(/[\\/]/)[0]?.replace(/\.tsx?$/, '') ?? ''

const imports = (text: string): string[] =>
  [...text.matchAll(/^(?:import|export|\}).*? from '([^']+)'|^import '([^']+)'|import\(\s*'([^']+)'/gm)].map(
    m => m[1] ?? m[2] ?? m[3] ?? '',
  )

/** Files of this house that a file imports, also by `import()`; presets and the program's name card (package.json) are data beside the house. */
const imported = (path: string, text: string): string[] =>
  imports(text)
    .filter(i => i.startsWith('.') && !/^(\.\.\/)+(presets\/[\w-]+|package)\.json$/i.test(i))
    .map(i => relative(SRC, resolve(dirname(join(SRC, path)), i)))
const graph = new Map(source.map(({ path, text }) => [path, imported(path, text)]))

const code = (text: string): string => text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/(^|\s)\/\/ .*$/gm, '')

test('imports point down the house only', () => {
  const wrong = [...graph].flatMap(([path, targets]) => {
    const from = floorOf(path)
    return targets
      .filter(target => {
        const to = floorOf(target)
        return FLOORS.indexOf(to) < FLOORS.indexOf(from) || (ONLY[from] && !ONLY[from].includes(to))
      })
      .map(target => `${path} => ${target}`)
  })
  expect(wrong).toEqual([])
  expect(source.length).toBeGreaterThan(50)
})

test('no circles: no file imports itself, however far around', () => {
  const reached = (from: string): Set<string> => {
    const seen = new Set<string>()
    const todo = [...(graph.get(from) ?? [])]
    for (let at = todo.pop(); at !== undefined; at = todo.pop())
      if (!seen.has(at)) {
        seen.add(at)
        todo.push(...(graph.get(at) ?? []))
      }
    return seen
  }
  const circling = [...graph.keys()].filter(path => reached(path).has(path))
  expect(circling).toEqual([])
})

test('what a player typed comes back as a Result: below the screens only a fault of the program is thrown', () => {
  const wrong = source.filter(
    ({ path, text }) =>
      RETURN.includes(floorOf(path)) && /\bthrow new (?!RangeError\b)|\bmust\(/.test(code(text)),
  )
  // `need` ends its own `attempt` by what it throws; nothing of it leaves the file.
  expect(wrong.map(f => f.path)).toEqual(['music/result.ts'])
})

/** A sentence: it begins as one, ends as one and has at least four words. */
const SENTENCE = /^(?:[A-Z"]|\$\{)[\s\S]*[.?!]$/
const sentencesIn = (text: string): string[] =>
  [...code(text).matchAll(/'((?:[^'\\\n]|\\.)*)'|`((?:[^`\\]|\\.)*)`|>\s*([A-Z][^<>{}]*[.?!])\s*</g)]
    .map(m => m[1] ?? m[2] ?? m[3] ?? '')
    .filter(s => SENTENCE.test(s) && s.split(/\s+/).length >= 4)

test('sentences for the player stand in the words.ts of their room; a command has its own in its file', () => {
  expect(sentencesIn("say('That is above the goal.')")).toHaveLength(1)
  const wrong = source.filter(
    ({ path, text }) =>
      floorOf(path) !== 'cli' && !/(?:^|[/-])words\.ts$/.test(path) && sentencesIn(text).length > 0,
  )
  expect(wrong.map(f => f.path).filter(path => !TABLES_OF_FIELDS.includes(path))).toEqual([])
})

test('a type name has one meaning, two at most', () => {
  const places = new Map<string, string[]>()
  for (const { path, text } of source)
    for (const [, name = ''] of text.matchAll(/^(?:export )?(?:type|interface) (\w+)/gm))
      if (!(OF_A_SCREEN.includes(name) && path.startsWith('screens/')))
        places.set(name, [...(places.get(name) ?? []), path])
  const many = [...places].filter(([, at]) => at.length > 2)
  expect(many).toEqual([])
})

test('a union is told apart by its kind, not by a letter; only a line on disk keeps one', () => {
  const lettered = source.filter(({ text }) => /\breadonly k:/.test(code(text)))
  expect(lettered.map(f => f.path)).toEqual([])
})

test('the rooms without a shell know no clock, no chance, no file, no process, no React', () => {
  const impure = /\bDate\.now|new Date\(\)|Math\.random|\bprocess\.|performance\.now|setTimeout|\bfetch\(/
  for (const { path, text } of source.filter(f => PURE.includes(floorOf(f.path)))) {
    expect(
      imports(text).filter(i => !i.startsWith('.') && i !== 'zod'),
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
