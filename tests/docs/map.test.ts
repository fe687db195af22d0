import { existsSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import pack from '../../package.json'
import { doings, inline, ROOT, textOf } from './pages.ts'

const text = textOf('DEVELOPERS.md')
const named = inline(text)

test('every file and folder of the map is there', () => {
  const paths = named.filter(n => /^(src|tests|presets|docs)\/[\w./-]*$/.test(n))
  expect(paths.length).toBeGreaterThan(50)
  expect(paths.filter(p => !existsSync(join(ROOT, p)))).toEqual([])
})

test('every room is on the map, in the order in which they may import', () => {
  const rooms = [...text.matchAll(/^\| `src\/([\w-]+)\/` \|/gm)].map(m => m[1])
  const there = readdirSync(join(ROOT, 'src'), { withFileTypes: true })
    .filter(d => d.isDirectory())
    .map(d => d.name)
  expect([...rooms].sort()).toEqual(there.sort())
})

test('a screen has the four files that are said', () => {
  const files = readdirSync(join(ROOT, 'src/screens/click'))
  for (const file of ['reduce.ts', 'key-table.ts', 'view.ts', 'screen.ts']) expect(files).toContain(file)
})

test('every npm script that is named is there', () => {
  const typed = doings(text).flatMap(d => (d.k === 'command' ? [d.command.words.join(' ')] : []))
  const scripts = [...typed, ...named].flatMap(c => /^npm run (\w+)/.exec(c)?.[1] ?? [])
  expect(scripts.length).toBeGreaterThan(2)
  expect(scripts.filter(s => !(s in pack.scripts))).toEqual([])
})
