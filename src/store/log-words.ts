import { count } from '../music/words.ts'
import type { LogName, Skipped } from './log.ts'

const linesOf = (name: LogName, n: number): string => `${count(n, 'line')} of the ${name}`

/** One sentence for each kind of line of a log that was not counted; empty when all is well. */
export const skippedLines = (name: LogName, { damaged, unknown }: Skipped): readonly string[] => {
  const [first, ...more] = damaged
  const have = name === 'notes' ? 'have' : 'has'
  const places = more.length === 0 ? 'a damaged place that was' : `${damaged.length} damaged places that were`
  const where = first?.line === 0 ? ", which can't be read as a file" : `, line ${first?.line}`
  return [
    ...(first
      ? [
          `The ${name} ${have} ${places} skipped${more.length > 0 ? '; the first' : ''}: ${first.file}${where}.`,
        ]
      : []),
    ...(unknown > 0
      ? [`${linesOf(name, unknown)} came from a newer Gradino and did not count here; nothing is lost.`]
      : []),
  ]
}

/** Lines of the journal whose visit has lost its opening. */
export const unopenedText = (lines: number): string =>
  `${linesOf('journal', lines)} did not count: the opening of their visit is lost.`
