import { printable } from '../music/result.ts'

/** A page of text that does not know yet how it will be written. Rows of a table are as long as its head. */
export type PageElement =
  | { readonly kind: 'title' | 'heading' | 'text'; readonly text: string }
  | { readonly kind: 'list'; readonly items: readonly string[] }
  | {
      readonly kind: 'table'
      readonly head: readonly string[]
      readonly rows: readonly (readonly string[])[]
    }

/**
 * Words as CommonMark and its tables show them, letter for letter: every mark that could begin emphasis, code, a link,
 * HTML, a cell or (in front) another block has a backslash before it.
 */
const literal = (s: string): string =>
  printable(s)
    .trim()
    .replace(/[\\`*_[\]<>&|~$]/g, '\\$&')
    .replace(/:(?=\/\/)|@/g, '\\$&')
    .replace(/\b(www)\./gi, '$1\\.')
    .replace(/^([#+\-=])/, '\\$1')
    .replace(/^(\d+)([.)])/, '$1\\$2')

const tableRow = (cells: readonly string[]): string => `| ${cells.map(literal).join(' | ')} |`

const SIGNS = { title: '# ', heading: '## ', text: '' } as const
const markdown = (b: PageElement): string => {
  if (b.kind === 'list') return b.items.map(i => `- ${literal(i)}`).join('\n')
  if (b.kind !== 'table') return SIGNS[b.kind] + literal(b.text)
  return [tableRow(b.head), `|${b.head.map(() => ' --- |').join('')}`, ...b.rows.map(tableRow)].join('\n')
}

/** Columns as wide as their longest cell, two spaces apart. */
const columns = (rows: readonly (readonly string[])[]): string => {
  const clean = rows.map(row => row.map(cell => printable(cell).trim()))
  const widths = (clean[0] ?? []).map((_, i) => Math.max(...clean.map(row => [...(row[i] ?? '')].length)))
  return clean
    .map(row =>
      row
        .map((cell, i) => cell + ' '.repeat((widths[i] ?? 0) - [...cell].length))
        .join('  ')
        .trimEnd(),
    )
    .join('\n')
}

const plain = (b: PageElement): string => {
  if (b.kind === 'list') return b.items.map(i => `- ${printable(i).trim()}`).join('\n')
  return b.kind === 'table' ? columns([b.head, ...b.rows]) : printable(b.text).trim()
}

/** The page as Markdown (CommonMark, with the tables of GFM). */
export const markdownText = (page: readonly PageElement[]): string => `${page.map(markdown).join('\n\n')}\n`

/** The page as plain text. */
export const plainText = (page: readonly PageElement[]): string => `${page.map(plain).join('\n\n')}\n`
