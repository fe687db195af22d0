import { readdirSync, readFileSync, statSync } from 'node:fs'
import { dirname, join, relative, resolve } from 'node:path'
import { expect, test } from 'vitest'

const SRC = resolve(import.meta.dirname, '../src')

/** Imports point down this list only. */
const FLOORS = [
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
/** Left over from the old rooms; each goes with the step that mends its file, and none may be added. */
const STILL_UPWARD = [
  'app/after-date.ts => cli/piece-edit.ts',
  'app/after-date.ts => cli/piece-tempo.ts',
  'app/beside.ts => cli/read.ts',
  'app/breath-offer.ts => cli/piece-edit.ts',
  'app/day-items.ts => cli/warmup.ts',
  'app/find-target.ts => cli/options.ts',
  'app/play-visit.ts => cli/options.ts',
  'app/preset-store.ts => cli/options.ts',
  'app/sitting.ts => cli/options.ts',
  'plan/also.ts => app/known.ts',
  'plan/breaks.ts => store/notes.ts',
  'plan/broken.ts => store/notes.ts',
  'plan/care-lines.ts => app/context.ts',
  'plan/care-lines.ts => app/known.ts',
  'plan/care-lines.ts => store/notes.ts',
  'plan/note-words.ts => store/notes.ts',
  'plan/report-figures.ts => app/known.ts',
  'plan/report-figures.ts => store/notes.ts',
  'plan/works.ts => app/context.ts',
  'plan/works.ts => app/known.ts',
  'repertoire/piece.ts => store/sources.ts',
  'visit/altered.ts => app/context.ts',
  'visit/join-target.ts => app/context.ts',
  'visit/join-target.ts => app/presets.ts',
  'visit/join-target.ts => cli/options.ts',
  'visit/joining.ts => app/context.ts',
  'visit/joining.ts => app/known.ts',
  'visit/joining.ts => app/presets.ts',
  'visit/joining.ts => plan/log.ts',
  'visit/subject.ts => app/context.ts',
  'visit/subject.ts => app/presets.ts',
  'visit/subject.ts => cli/click-options.ts',
  'visit/subject.ts => cli/options.ts',
  'visit/takes.ts => app/context.ts',
  'visit/takes.ts => app/known.ts',
  'warm-up/exercises.ts => app/context.ts',
  'warm-up/exercises.ts => store/settings.ts',
  'warm-up/in-turn.ts => app/context.ts',
]
const PURE = ['music', 'click', 'ladder', 'repertoire', 'visit', 'plan']

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

test('imports point down the house only', () => {
  const wrong = source.flatMap(({ path, text }) => {
    const from = floorOf(path)
    return (
      imports(text)
        // Presets are data beside the house.
        .filter(i => i.startsWith('.') && !/^(\.\.\/)+presets\/[\w-]+\.json$/.test(i))
        .map(i => relative(SRC, resolve(dirname(join(SRC, path)), i)))
        .filter(target => {
          const to = floorOf(target)
          return FLOORS.indexOf(to) < FLOORS.indexOf(from) || (ONLY[from] && !ONLY[from].includes(to))
        })
        .map(target => `${path} => ${target}`)
    )
  })
  expect([...new Set(wrong)].sort()).toEqual([...STILL_UPWARD].sort())
  expect(source.length).toBeGreaterThan(50)
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
