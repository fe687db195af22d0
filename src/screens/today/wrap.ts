/** One space at a time: more of them stay as they are. Not between "m." and its number, nor before "%". */
const ONE = /(?<!\bm\.) (?!%)/

/** A line for a page of so many columns, broken between words; what follows the first break is indented. */
export const wrapped = (text: string, columns: number, indent = 0): readonly string[] => {
  const [, lead = '', rest = ''] = /^( *)(.*)$/s.exec(text) ?? []
  const out: string[] = []
  let line = lead
  let empty = true
  for (const word of rest.split(ONE)) {
    if (!empty && line.length + 1 + word.length > columns) {
      out.push(line)
      line = ' '.repeat(indent)
      empty = true
    }
    line += empty ? word : ` ${word}`
    empty = false
  }
  return [...out, line]
}

const COMMAND = 'gradino '

/**
 * A line of a command in a window of so many columns, broken between words; a command to be copied stays whole, in a row of
 * its own. Absent = no window, nothing is broken.
 */
export const inWindow = (line: string, columns: number | undefined): readonly string[] => {
  if (columns === undefined || line.length <= columns) return [line]
  const indent = line.search(/\S/) + 2
  const at = line.indexOf(COMMAND)
  if (at < 0) return wrapped(line, columns, indent)
  const before = line.slice(0, at).trimEnd()
  return before === '' ? [line] : [...wrapped(before, columns, indent), ' '.repeat(indent) + line.slice(at)]
}
