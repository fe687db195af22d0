import { existsSync } from 'node:fs'
import { readdir } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import { ok, printable, problem, type Result } from '../music/result.ts'
import { nearest } from '../repertoire/find-piece.ts'
import { titleIn } from '../score/read-score.ts'
import { readInput } from './read-input.ts'

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
