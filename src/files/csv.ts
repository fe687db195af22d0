/** What a spreadsheet would take for a formula when a cell begins with it (OWASP, CSV injection), full-width forms too. */
const FORMULA = /^[=+\-@\t\r\n\uff1d\uff0b\uff0d\uff20]/

/** Words are made harmless by an apostrophe in front, which spreadsheets do not show; numbers stay numbers. */
const cell = (value: string | number | null): string => {
  if (value === null) return ''
  const text = typeof value === 'string' && FORMULA.test(value) ? `'${value}` : String(value)
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text
}

/**
 * A table as RFC 4180 has it: commas, lines that end in CR LF, quotation marks where they are needed. It begins with the
 * mark by which spreadsheets know UTF-8.
 */
export const csvText = (
  head: readonly string[],
  rows: readonly (readonly (string | number | null)[])[],
): string => `\ufeff${[head, ...rows].map(row => `${row.map(cell).join(',')}\r\n`).join('')}`
