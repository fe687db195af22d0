/** A line for a page of so many columns, broken between words; what follows the first break is indented. */
export const wrapped = (text: string, columns: number, indent = 0): readonly string[] => {
  const [, lead = '', rest = ''] = /^( *)(.*)$/s.exec(text) ?? []
  const out: string[] = []
  let line = lead
  let empty = true
  for (const word of rest.split(' ')) {
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
