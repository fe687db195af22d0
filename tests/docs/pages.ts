import { readdirSync, readFileSync } from 'node:fs'
import { join, resolve } from 'node:path'

export const ROOT = resolve(import.meta.dirname, '../..')

/** The pages that show commands, by their path. */
export const PAGES = [
  'README.md',
  ...readdirSync(join(ROOT, 'docs'))
    .filter(f => f.endsWith('.md'))
    .map(f => `docs/${f}`),
]
export const textOf = (page: string): string => readFileSync(join(ROOT, page), 'utf8')

/** A command as a page shows it, and where its page shows what it prints. */
type ShownCommand = { readonly words: readonly string[]; readonly output: readonly string[] | null }

/** What stands on a page in the order in which it is done: a command, or something that was played before. */
export type Doing =
  | { readonly k: 'command'; readonly command: ShownCommand; readonly line: number }
  | { readonly k: 'played'; readonly what: string }

/** A command line as a shell cuts it: quotation marks keep spaces together. */
export const wordsOf = (line: string): string[] =>
  [...line.matchAll(/(?:"([^"]*)"|'([^']*)'|[^\s"']+)+/g)].map(m => m[0].replace(/["']/g, ''))

/**
 * All commands of a page: the lines of its `sh` blocks, those after `$ ` in its `console` blocks with what they print, and
 * what an HTML comment says was done or played before (`<!-- done: gradino ... -->`, `<!-- played: three days -->`).
 */
export const doings = (text: string): Doing[] => {
  const all: Doing[] = []
  let block = ''
  let output: string[] | null = null
  for (const [i, line] of text.split('\n').entries()) {
    const add = (typed: string, shown: string[] | null): void => {
      all.push({ k: 'command', command: { words: wordsOf(typed), output: shown }, line: i })
    }
    const fence = /^```(\w*)/.exec(line)
    if (fence) {
      block = block === '' ? fence[1] || 'text' : ''
      output = null
    } else if (block === 'sh') {
      if (line.trim() !== '') add(line.replace(/\s+#.*$/, ''), null)
    } else if (block === 'console') {
      if (line.startsWith('$ ')) {
        output = []
        add(line.slice(2), output)
      } else output?.push(line)
    } else if (block === '') {
      const hidden = /^<!-- (done|played): (.*) -->$/.exec(line)
      if (hidden?.[1] === 'played') all.push({ k: 'played', what: hidden[2] ?? '' })
      else if (hidden) add(hidden[2] ?? '', null)
    }
  }
  return all
}

/** The page with what its commands print now; a last line `...` cuts what follows. */
export const withOutputs = (text: string, printed: ReadonlyMap<number, string>): string => {
  const lines = text.split('\n')
  const out: string[] = []
  let skipping = false
  let block = ''
  for (const [i, line] of lines.entries()) {
    const fence = /^```(\w*)/.exec(line)
    if (fence) block = block === '' ? fence[1] || 'text' : ''
    if (fence || line.startsWith('$ ')) skipping = false
    if (!skipping) out.push(line)
    const now = block === 'console' && line.startsWith('$ ') ? printed.get(i) : undefined
    if (now === undefined) continue
    skipping = true
    let end = i + 1
    while (end < lines.length && !/^(```|\$ )/.test(lines[end] ?? '')) end++
    const old = lines.slice(i + 1, end)
    const fresh = now.replace(/\n$/, '').split('\n')
    const kept = old.at(-1) === '...' ? [...fresh.slice(0, old.length - 1), '...'] : fresh
    out.push(...kept.map(l => l.trimEnd()))
  }
  return out.join('\n')
}

/** What stands in a line between backticks and begins as a command does. */
export const inline = (text: string): string[] =>
  [...text.replace(/^```[\s\S]*?^```/gm, '').matchAll(/`([^`\n]+)`/g)].map(m => m[1] ?? '')
