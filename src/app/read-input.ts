import { readFile, stat } from 'node:fs/promises'
import { problem } from '../music/result.ts'
import { codeOf } from '../store/trouble.ts'
import { must } from './context.ts'

/** Larger than any score or piece: what is larger is not read at all. */
const MOST_BYTES = 30_000_000

const WHY: Readonly<Record<string, string>> = {
  ENOENT: 'a file that is there',
  ENOTDIR: 'a path whose folders are folders',
  EACCES: 'a file that you may read',
  EPERM: 'a file that you may read',
  ENAMETOOLONG: 'a shorter name',
}

/** The bytes of a file that the player named. Throws Stop with status 2 where it cannot be read or is too large. */
export const readInput = async (path: string): Promise<Uint8Array> => {
  try {
    const found = await stat(path)
    if (!found.isFile()) return must(problem('file', path, 'a file, not a folder or a device'))
    if (found.size > MOST_BYTES)
      return must(problem('file', path, `a file of at most ${MOST_BYTES / 1_000_000} megabytes`))
    return await readFile(path)
  } catch (error) {
    const code = codeOf(error)
    if (!/^E(?!RR_)/.test(code)) throw error
    return must(problem('file', path, WHY[code] ?? `a file that the disk gives without an error (${code})`))
  }
}
