import { constants, type FileHandle, open } from 'node:fs/promises'
import { codeOf } from './trouble.ts'

/** Larger than any file of ours: what is larger is none, and is not read. Bytes. */
export const MOST_BYTES = 100_000_000

const no = (code: 'EISDIR' | 'EFTYPE' | 'EFBIG', path: string): Error =>
  Object.assign(new Error(`${code}: ${path}`), { code })

/**
 * Opens a regular file of at most so many bytes. A pipe, a device or a folder is refused at once: nobody waits for the
 * other end of a pipe. Throws an error with the system's code (EFTYPE = no file, EFBIG = too large).
 */
export const openFile = async (
  path: string,
  flags: number = constants.O_RDONLY,
  most = MOST_BYTES,
  mode?: number,
): Promise<{ readonly handle: FileHandle; readonly size: number }> => {
  const handle = await open(path, flags | (constants.O_NONBLOCK ?? 0), mode).catch(error => {
    // A socket, or a pipe that nobody reads.
    throw codeOf(error) === 'ENXIO' ? no('EFTYPE', path) : error
  })
  try {
    const found = await handle.stat()
    if (found.isDirectory()) throw no('EISDIR', path)
    if (!found.isFile()) throw no('EFTYPE', path)
    if (found.size > most) throw no('EFBIG', path)
    return { handle, size: found.size }
  } catch (error) {
    await handle.close()
    throw error
  }
}

/** The one place where files are read: all bytes of a regular file of at most so many. Throws as above. */
export const readBytes = async (path: string, most = MOST_BYTES): Promise<Buffer> => {
  const { handle } = await openFile(path, constants.O_RDONLY, most)
  try {
    return await handle.readFile()
  } finally {
    await handle.close()
  }
}

export const readText = async (path: string, most = MOST_BYTES): Promise<string> =>
  (await readBytes(path, most)).toString()

/** The text of a file, null where there is none. Throws as above. */
export const readIfThere = async (path: string, most = MOST_BYTES): Promise<string | null> => {
  try {
    return await readText(path, most)
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return null
    throw error
  }
}
