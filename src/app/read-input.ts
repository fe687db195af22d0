import { ok, printable, type Result, wrong } from '../music/result.ts'
import { readBytes } from '../store/read-file.ts'
import { codeOf, whyNot } from '../store/trouble.ts'
import { fileUnread } from './words.ts'

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
