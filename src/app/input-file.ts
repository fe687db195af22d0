import { existsSync } from 'node:fs'
import { readdir } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { ok, printable, problem, type Result, wrong } from '../music/result.ts'
import { nearest } from '../repertoire/find-piece.ts'
import { titleIn } from '../score/read-score.ts'
import { readBytes } from '../store/read-file.ts'
import { codeOf, whyNot } from '../store/trouble.ts'
import { fileUnread } from './words.ts'

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

/** Larger than any score or piece: what is larger is not read at all. */
const MOST_BYTES = 30_000_000

/** In the player's words, where those of the store speak of its own files. */
const WHY: Readonly<Record<string, string>> = {
  ENOENT: 'is not there. Check its name and folder',
  ENOTDIR: 'is not there. Check its name and folder',
  EISDIR: 'is a folder. Name a file in it',
  EFTYPE: 'is a pipe or a device. Save what it holds as a file first',
  EFBIG: 'is too large. Name a smaller file',
  ELOOP: 'is a link that leads back to itself. Name the file itself',
  EACCES: "can't be opened by you. Change its permissions",
  ENAMETOOLONG: 'has too long a name. Give it a shorter one',
}

/** The bytes of a file that the player named. */
export const readInput = async (path: string, most = MOST_BYTES): Promise<Result<Uint8Array>> => {
  try {
    return ok(await readBytes(path, most))
  } catch (error) {
    const why = WHY[codeOf(error) === 'EPERM' ? 'EACCES' : codeOf(error)]
    if (why) return wrong(`${printable(path)} ${why}.`)
    const said = whyNot(path, error)
    if (said === null) throw error
    return wrong(fileUnread(said))
  }
}

export const SCORES: readonly string[] = ['musicxml', 'xml', 'mxl']
export const PIECE_ENDING = 'json'

export const endingOf = (name: string): string => /\.([a-z]+)$/i.exec(name)?.[1]?.toLowerCase() ?? ''

/** So many files are opened to read their titles, and so many are listed. */
const MOST_OPENED = 40
const MOST_LISTED = 8

/**
 * The path itself where something stands there; else the score beside it that has the text in its name, or in its title.
 * Without any, the path as it was typed.
 */
export const scoreNear = async (path: string): Promise<Result<string>> => {
  const [folder, typed] = [dirname(path), basename(path)]
  if (typed === '' || existsSync(path)) return ok(path)
  const entries = await readdir(folder, { withFileTypes: true }).catch(() => [])
  const scores = entries
    .filter(e => e.isFile() && SCORES.includes(endingOf(e.name)))
    .map(e => e.name)
    .sort()
  const near = nearest(scores, typed, name => name)
  const found = near.length > 0 ? near : await called(folder, scores, typed)
  if (found[0] && found.length === 1) return ok(join(folder, found[0]))
  if (found.length === 0) return ok(path)
  const more = found.length - MOST_LISTED
  const listed = found.slice(0, MOST_LISTED).map(printable).join(', ') + (more > 0 ? ` and ${more} more` : '')
  return problem('file', typed, `one of ${listed}`)
}

/** Files whose title has the text in it. */
const called = async (
  folder: string,
  names: readonly string[],
  typed: string,
): Promise<readonly string[]> => {
  const titled: { readonly name: string; readonly title: string }[] = []
  for (const name of names.slice(0, MOST_OPENED)) {
    const bytes = await readInput(join(folder, name))
    const title = bytes.ok ? titleIn(bytes.value, name) : bytes
    if (title.ok) titled.push({ name, title: title.value })
  }
  return nearest(titled, typed, t => t.title).map(t => t.name)
}
