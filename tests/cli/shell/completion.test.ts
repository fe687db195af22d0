import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { version } from '../../../package.json'
import { COMMANDS } from '../../../src/cli/commands.ts'
import { programOf } from '../../../src/cli/run.ts'
import { everyCommand, tell } from '../../../src/cli/shell/told.ts'
import { player } from '../typed.ts'

const told = tell(programOf(async () => {}))
const script = async (shell: string): Promise<string> => (await player().type('completion', shell)).out

/** What bash would offer for a line that is typed so far; the last word may be empty. */
const offered = async (...words: string[]): Promise<readonly string[]> => {
  const folder = mkdtempSync(join(tmpdir(), 'gradino-tab-'))
  writeFileSync(join(folder, 'weir street.mid'), '')
  const asked = `COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _gradino; printf '%s\\n' "\${COMPREPLY[@]}"`
  const { stdout, status } = spawnSync(
    'bash',
    ['-c', `${await script('bash')}\n${asked}`, 'bash', 'gradino', ...words],
    { encoding: 'utf8', cwd: folder },
  )
  rmSync(folder, { recursive: true })
  expect(status).toBe(0)
  return stdout.split('\n').filter(w => w !== '')
}

test('the list that completions and the manual read is the one list of commands', () => {
  expect(told.under.map(t => t.path.join(' '))).toEqual([...COMMANDS.map(c => c.name.split(' ')[0]), 'help'])
  expect(everyCommand(told).find(t => t.path.join(' ') === 'piece add')?.named).toBe('<title>')
})

test('bash can read its script', async () => {
  const { status, stderr } = spawnSync('bash', ['-n'], { input: await script('bash'), encoding: 'utf8' })
  expect({ status, stderr }).toEqual({ status: 0, stderr: '' })
})

test('the Tab key completes commands, what stands under them, and their options', async () => {
  expect(await offered('pra')).toEqual(['practice'])
  expect(await offered('piece', 'sp')).toEqual(['split'])
  expect(await offered('piece', 'add', '--ready')).toEqual(['--ready-by'])
  expect(await offered('--plain', 'prog')).toEqual(['progress'])
})

test('where a file is named, files are offered, those with a space in their name too; behind a tempo nothing is', async () => {
  expect(await offered('render', '--out', 'weir')).toEqual(['weir street.mid'])
  expect(await offered('piece', 'import', 'we')).toEqual(['weir street.mid'])
  expect(await offered('practice', '--goal', '')).toEqual([])
})

test('each command and each option stands in the scripts of all three shells and in the manual', async () => {
  const [bash, zsh] = [await script('bash'), await script('zsh')]
  const [fish, man] = [await script('fish'), await script('man')]
  for (const t of everyCommand(told).slice(1)) {
    expect(bash).toContain(`'/${t.path.join('/')}')`)
    expect(zsh).toContain(`'/${t.path.join('/')}')`)
    expect(fish).toContain(`-a ${t.path.at(-1)} `)
    if (t.under.length === 0) expect(man).toContain(`.SS "gradino ${t.path.join(' ')}`)
    for (const o of t.options) {
      const long = o.spelled.find(s => s.startsWith('--')) ?? ''
      expect(fish).toContain(`-l ${long.slice(2)}`)
      for (const s of o.spelled) expect(zsh).toContain(`'${s}:`)
      if (long !== '--help') expect(man).toContain(`.B ${o.flags.replaceAll('-', '\\-')}`)
    }
  }
})

test('no line of the manual is taken for a request that troff does not know', async () => {
  const requests = new Set((await script('man')).split('\n').flatMap(l => /^[.'](\S*)/.exec(l)?.[1] ?? []))
  expect([...requests].sort()).toEqual(['B', 'SH', 'SS', 'TH', 'TP'])
})

test('--version says the version of the package', async () => {
  expect(await player().type('--version')).toEqual({ status: 0, out: `${version}\n`, err: '' })
})

test('help names a command, also one under another; a word that is none is told so', async () => {
  const you = player()
  expect((await you.type('help', 'piece', 'add')).out).toContain('Usage: gradino piece add')
  expect((await you.type('help', 'practice')).out).toContain('--slow-fast')
  expect(await you.type('help', 'piece', 'shout')).toMatchObject({
    status: 2,
    err: 'gradino: "piece shout" isn\'t a command. gradino --help lists them all.\n',
  })
  expect((await you.type('completion', 'ksh')).status).toBe(2)
})
