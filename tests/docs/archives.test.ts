import { expect, test } from 'vitest'
import pack from '../../package.json'
import { archiveName, SYSTEMS } from '../../src/release/systems.ts'
import { textOf } from './pages.ts'

test('the README names each archive as the release makes it, and says where it was tried', () => {
  const rows = textOf('README.md')
    .split('\n')
    .filter(l => l.includes('`gradino-'))
  expect(rows).toEqual(
    SYSTEMS.map(
      s => `| ${s.called} | \`${archiveName(s, pack.version)}\` | ${s.tried ? 'yes' : 'not yet'} |`,
    ),
  )
})
