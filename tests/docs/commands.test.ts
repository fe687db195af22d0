import { cpSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Command } from 'commander'
import { afterAll, describe, expect, test } from 'vitest'
import pack from '../../package.json'
import { programOf } from '../../src/cli/run.ts'
import { sectionKey } from '../../src/ladder/key.ts'
import { practiced } from '../cli/practiced.ts'
import { player } from '../cli/typed.ts'
import { doings, inline, PAGES, ROOT, textOf, withOutputs, wordsOf } from './pages.ts'

// Commands are typed in an empty folder with what the program brings: its scores and pages.
const before = process.cwd()
const folder = mkdtempSync(join(tmpdir(), 'gradino-docs-'))
mkdirSync(join(folder, 'docs'))
cpSync(join(ROOT, 'docs'), join(folder, 'docs'), { recursive: true })
process.chdir(folder)
afterAll(() => {
  process.chdir(before)
  rmSync(folder, { recursive: true, force: true })
})

type Player = ReturnType<typeof player>

/** What was played before a page shows its commands; day 15 is today. */
const PLAYED: Readonly<Record<string, (p: Player) => Promise<void>>> = {
  'three days': async p => {
    const { passages } = await p.json('piece', 'show', 'Weir Street Overture')
    const [{ id, sections = [] }] = passages
    const keys = [id, ...sections.map((s: { id: string }) => s.id)].map(one => sectionKey(one))
    const on = (day: number, minutes: number) => `2031-03-${day}T17:${String(minutes).padStart(2, '0')}:00Z`
    await practiced(p.home, [
      { key: keys[0] as never, at: on(12, 0), presses: 'CCCNCCC' },
      { key: keys[0] as never, at: on(13, 0), presses: 'CCCCCCNC', rung: 1 },
      { key: keys[0] as never, at: on(14, 0), presses: 'CCCNCCC', rung: 2 },
    ])
  },
}

/** Commands that open a screen: here they must come as far as asking for a terminal, so all that is typed is right. */
const opensScreen = (said: { status: number; err: string }): boolean =>
  said.status === 2 && said.err.includes('needs a terminal')

describe.each(PAGES)('%s', page => {
  test('every command shown can be typed, and prints what is shown', async () => {
    const text = textOf(page)
    const p = player()
    const printed = new Map<number, string>()
    for (const doing of doings(text)) {
      if (doing.k === 'played') {
        await PLAYED[doing.what]?.(p)
        expect(Object.keys(PLAYED)).toContain(doing.what)
        continue
      }
      const { words, output } = doing.command
      const [name = '', ...typed] = words
      if (name === 'npm') {
        const script = typed[0] === 'run' ? typed[1] : typed[0]
        if (!['ci', 'link'].includes(script ?? '')) expect(Object.keys(pack.scripts)).toContain(script)
        continue
      }
      expect(name, `line ${doing.line + 1}`).toMatch(/^(\.\/)?gradino$/)
      // As lines a screen would read this very keyboard.
      const said = await p.type(...typed.filter(w => w !== '--plain'))
      if (!opensScreen(said)) expect(said, words.join(' ')).toMatchObject({ status: 0, err: '' })
      if (output !== null) printed.set(doing.line, said.out)
    }
    await expect(withOutputs(text, printed)).toMatchFileSnapshot(join(ROOT, page))
  })

  test('every command and option that is named is there', () => {
    const program = programOf(async () => {})
    const has = (at: Command, option: string): boolean =>
      at.options.some(o => o.long === option || o.short === option)
    const all = (at: Command): Command[] => [at, ...at.commands.flatMap(all)]
    const wrong: string[] = []
    for (const code of inline(textOf(page))) {
      // The benchmarks have options of their own.
      if (/^--[a-z-]+/.test(code) && page !== 'docs/benchmarks.md') {
        for (const [option] of code.matchAll(/--[a-z][a-z-]*/g))
          if (!all(program).some(c => has(c, option)) && option !== '--help') wrong.push(code)
      } else if (/^gradino /.test(code)) {
        let at = program
        for (const word of wordsOf(code).slice(1)) {
          const under = at.commands.find(c => c.name() === word)
          if (under) at = under
          else if (word.startsWith('--') && word !== '--help' && !has(at, word) && !has(program, word))
            wrong.push(code)
        }
        const first = wordsOf(code)[1] ?? ''
        if (at === program && !/^-|^[A-Z]/.test(first)) wrong.push(code)
      }
    }
    expect(wrong).toEqual([])
  })

  test('every page, picture and file that it points to is there', async () => {
    const { existsSync } = await import('node:fs')
    const targets = [...textOf(page).matchAll(/\]\(([^)#\s]+)[^)]*\)|src="([^"]+)"/g)].map(
      m => m[1] ?? m[2] ?? '',
    )
    const lost = targets.filter(t => !/^https?:/.test(t) && !existsSync(join(ROOT, page, '..', t)))
    expect(lost).toEqual([])
  })
})

test('no example has a date that can pass', () => {
  const dated = PAGES.flatMap(page =>
    doings(textOf(page)).flatMap(d => (d.k === 'command' ? [d.command.words.join(' ')] : [])),
  ).filter(c => /\b20\d\d-\d\d/.test(c))
  expect(dated).toEqual([])
})
