import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { ROOT, textOf } from './pages.ts'

const KINDS = ['standard', 'print', 'data', 'program', 'practice', 'memory', 'own']

type Row = {
  readonly what: string
  readonly kind: string
  readonly against: string
  readonly tests: readonly string[]
}
const rows: readonly Row[] = (textOf('docs/checks.md').split('\n## ')[0] ?? '')
  .split('\n')
  .filter(l => l.startsWith('| ') && !l.startsWith('| what'))
  .map(l => {
    const [, what = '', kind = '', against = '', tests = ''] = l.split('|').map(c => c.trim())
    return { what, kind, against, tests: [...tests.matchAll(/`([^`]+)`/g)].map(m => m[1] ?? '') }
  })

test('each check is of one kind, says against what, and stands in tests that are there', () => {
  expect(rows.length).toBeGreaterThan(20)
  for (const { what, kind, against, tests } of rows) {
    expect(KINDS, what).toContain(kind)
    expect(against.length, what).toBeGreaterThan(5)
    expect(tests.length, what).toBeGreaterThan(0)
    expect(
      tests.filter(t => !existsSync(join(ROOT, t))),
      what,
    ).toEqual([])
  }
})

const outside = readdirSync(join(ROOT, 'tests/outside')).filter(f => f.endsWith('.test.ts'))

test('every test against something outside stands in the table', () => {
  const named = rows.flatMap(r => r.tests)
  expect(outside.map(f => `tests/outside/${f}`).filter(f => !named.includes(f))).toEqual([])
})

test.each(outside)('%s says beside its checks where they come from', file => {
  const text = readFileSync(join(ROOT, 'tests/outside', file), 'utf8')
  const comments = [...text.matchAll(/\/\/.*|\/\*[\s\S]*?\*\//g)].map(m => m[0]).join('\n')
  expect(comments).toMatch(/Source: \S|Common practice, no source|From memory/)
})

test('the versions that are named are those that are installed', () => {
  const installed = (name: string): string =>
    JSON.parse(readFileSync(join(ROOT, 'node_modules', name, 'package.json'), 'utf8')).version
  const named = rows.flatMap(r => [
    ...r.against.matchAll(
      /(tonal|abcjs|wavefile|node-wav|musicxml-io|midi-file|[Vv]erovio|ical\.js) (\d[\d.]*\d|\d+)/g,
    ),
  ])
  expect(named.length).toBeGreaterThan(6)
  for (const [, name = '', version = ''] of named)
    expect(installed(name.toLowerCase()), name).toMatch(new RegExp(`^${version.replaceAll('.', '\\.')}`))
})

const SAID: Readonly<Record<string, RegExp>> = {
  standard: /Source: \S|\b(?:RFC|WCAG|ISO|MusicXML|Standard MIDI File)\b/,
  print: /Source: \S/,
  data: /Source: \S/,
  program: /Source: \S/,
  practice: /[Cc]ommon practice, no source/,
  memory: /[Ff]rom memory/,
  own: /^/,
}

test.each(rows)('$what: its tests name the source that the table names', ({ kind, tests }) => {
  for (const file of tests) {
    const text = readFileSync(join(ROOT, file), 'utf8')
    const comments = [...text.matchAll(/\/\/.*|\/\*[\s\S]*?\*\//g)].map(m => m[0]).join('\n')
    expect(comments, file).toMatch(SAID[kind] as RegExp)
  }
})
