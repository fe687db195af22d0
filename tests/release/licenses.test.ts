import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import {
  type Bundle,
  compatible,
  type Lock,
  licensesPage,
  licenseText,
  shipped,
} from '../../src/release/licenses.ts'

const read = (path: string): string => readFileSync(join(import.meta.dirname, '../..', path), 'utf8')
// The bundle that the tests run says itself what went into it.
const bundle = JSON.parse(read('dist/parts.json')) as Bundle
const lock = JSON.parse(read('package-lock.json')) as Lock

test('everything shipped is under a license that lets it be shipped with a program under MIT', () => {
  const { inside, beside } = shipped(bundle, lock)
  expect([...inside, ...beside].filter(p => !compatible(p.license))).toEqual([])
  expect(inside.map(p => p.name)).toEqual(
    expect.arrayContaining(['ink', 'react', 'commander', 'zod', 'conf']),
  )
  expect(beside.map(p => p.name)).toContain('@echogarden/audio-io')
})

test('the whole text of every license is shipped, also of packages that forget theirs', () => {
  const { inside, beside } = shipped(bundle, lock)
  for (const { name, license, folder } of [...inside, ...beside]) {
    const text = licenseText(join(import.meta.dirname, '../..'), folder)
    expect(text, name).toMatch(/copyright|public domain|creative commons/i)
    if (/MIT|ISC/.test(license)) expect(text.replace(/\s+/g, ' '), name).toMatch(/permission .*granted/i)
  }
  expect(() => licenseText('.', 'src/music')).toThrow('src/release/texts/music.txt')
})

test('a license that asks for more is found: one of a choice must do, of a list each', () => {
  expect(compatible('(MIT OR GPL-3.0-only)')).toBe(true)
  expect(compatible('(MIT AND LGPL-2.1-only)')).toBe(false)
  expect(compatible('GPL-3.0-only')).toBe(false)
  expect(compatible('unknown')).toBe(false)
})

test('a package inside another is told apart by its place', () => {
  const packages = {
    'node_modules/a': { version: '1.0.0', license: 'MIT' },
    'node_modules/a/node_modules/b': { version: '2.0.0', license: 'ISC' },
  }
  const of = shipped(
    {
      inputs: { 'src/main.ts': {}, '../x/node_modules/a/i.js': {}, 'node_modules/a/node_modules/b/i.js': {} },
    },
    { packages },
  )
  expect(of.inside.map(p => [p.name, p.version])).toEqual([
    ['a', '1.0.0'],
    ['b', '2.0.0'],
  ])
})

test('docs/licenses.md is current', () => {
  expect(read('docs/licenses.md')).toBe(licensesPage(bundle, lock))
})

test('the package that is published holds the program and no tests; only what has machine code is fetched beside it', () => {
  const card = JSON.parse(read('package.json')) as Record<string, unknown>
  expect(card.private).toBeUndefined()
  expect(card.files).toEqual(['dist/*.js', 'dist/gradino.1', 'dist/licenses.txt', 'LICENSE', 'README.md'])
  expect(Object.keys(card.dependencies as object)).toEqual(['@echogarden/audio-io'])
  expect(Object.keys(card.optionalDependencies as object).sort()).toEqual([
    '@julusian/midi',
    'naudiodon',
    'speaker',
  ])
})
