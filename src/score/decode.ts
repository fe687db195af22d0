import { ok, problem, type Result } from '../music/result.ts'
import { clean } from './text.ts'

const MARKS: readonly (readonly [readonly number[], string])[] = [
  [[0xef, 0xbb, 0xbf], 'utf-8'],
  [[0xff, 0xfe], 'utf-16le'],
  [[0xfe, 0xff], 'utf-16be'],
  // without a byte order mark: the "<" that every XML file begins with
  [[0x3c, 0x00], 'utf-16le'],
  [[0x00, 0x3c], 'utf-16be'],
]

/** Names that a declaration may give, and how such bytes are read. */
const NAMED: ReadonlyMap<string, string> = new Map([
  ['utf-8', 'utf-8'],
  ['utf8', 'utf-8'],
  ['us-ascii', 'utf-8'],
  ['ascii', 'utf-8'],
  // a file that says so but is plainly in bytes was saved again by another program
  ['utf-16', 'utf-8'],
  ['iso-8859-1', 'windows-1252'],
  ['latin1', 'windows-1252'],
  ['windows-1252', 'windows-1252'],
  ['iso-8859-15', 'iso-8859-15'],
])

/** Bytes of an XML file as text. What no encoding gives becomes U+FFFD; only an encoding we cannot read is refused. */
export const decodeXml = (bytes: Uint8Array, file: string): Result<string> => {
  const marked = MARKS.find(([mark]) => mark.every((b, i) => bytes[i] === b))?.[1]
  const head = String.fromCharCode(...bytes.subarray(0, 200))
  const declared = /^\s*<\?xml[^>]*\sencoding\s*=\s*["']([^"']*)["']/.exec(head)?.[1] ?? 'utf-8'
  const label = marked ?? NAMED.get(declared.toLowerCase())
  if (label === undefined)
    return problem(`${file}, encoding`, clean(declared), 'UTF-8, UTF-16, ISO-8859-1 or Windows-1252')
  return ok(new TextDecoder(label).decode(bytes))
}
