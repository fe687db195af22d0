/** One line of text and the place in it where typing goes, in characters. */
export type Line = { readonly text: string; readonly cursor: number }

export type LineAction =
  | { readonly kind: 'type'; readonly text: string }
  | { readonly kind: 'erase' | 'delete' | 'start' | 'end' }
  | { readonly kind: 'cursor'; readonly by: 1 | -1 }

/** Typed at the end of the line. */
export const lineOf = (text: string): Line => ({ text, cursor: [...text].length })

/** A line after a key; never longer than `longest` characters. */
export const editLine = ({ text, cursor }: Line, a: LineAction, longest: number): Line => {
  const all = [...text]
  const [before, after] = [all.slice(0, cursor), all.slice(cursor)]
  const put = (left: readonly string[], right: readonly string[]): Line => ({
    text: [...left, ...right].slice(0, longest).join(''),
    cursor: Math.min(left.length, longest),
  })
  switch (a.kind) {
    case 'type':
      return put([...before, ...a.text], after)
    case 'erase':
      return put(before.slice(0, -1), after)
    case 'delete':
      return put(before, after.slice(1))
    case 'start':
      return { text, cursor: 0 }
    case 'end':
      return { text, cursor: all.length }
    case 'cursor':
      return { text, cursor: Math.max(0, Math.min(all.length, cursor + a.by)) }
  }
}

const KEYS: Readonly<Record<string, LineAction>> = {
  Left: { kind: 'cursor', by: -1 },
  Right: { kind: 'cursor', by: 1 },
  Home: { kind: 'start' },
  End: { kind: 'end' },
  Backspace: { kind: 'erase' },
  Delete: { kind: 'delete' },
  Space: { kind: 'type', text: ' ' },
}

/** What a key does to the line that is typed, if anything: every character is text. */
export const lineAction = (id: string): LineAction | null =>
  [...id].length === 1 ? { kind: 'type', text: id } : (KEYS[id] ?? null)

/**
 * A line in `room` columns: what stands before the place where typing goes, a mark for it, and what stands after; of a
 * long line what is around that place. Without a cursor its beginning.
 */
export const lineShown = (
  text: string,
  cursor: number | null,
  room: number,
): readonly [string, string, string] => {
  const all = [...text]
  if (cursor === null) return [all.length > room ? `${all.slice(0, room - 1).join('')}…` : text, '', '']
  const from = Math.max(0, cursor - room + 2)
  const after = all.slice(cursor, from + room - 1)
  return [all.slice(from, cursor).join(''), cursor === all.length ? '_' : '|', after.join('')]
}
