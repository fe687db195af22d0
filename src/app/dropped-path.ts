import { fileURLToPath } from 'node:url'

/** A path as a terminal writes it when a file is dropped into it: in quotes, with escaped spaces, or as a file:// address. */
export const droppedPath = (typed: string): string => {
  const text = typed.trim()
  const quoted = /^(['"])(.*)\1$/.exec(text)?.[2]
  const path = quoted ?? text
  if (/^file:\/\//i.test(path)) {
    try {
      return fileURLToPath(path.replace(/^file:\/\/localhost/i, 'file://'))
    } catch {
      return path
    }
  }
  // A backslash is an escape where there are no drive letters and no other use of it.
  return quoted === undefined && !/^[A-Za-z]:\\|^\\\\/.test(path) ? path.replace(/\\(.)/g, '$1') : path
}
