import { constants, open, rename, rm, writeFile } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import { codeOf } from './trouble.ts'

/** Only the player reads what the player practiced. */
export const FILE_MODE = 0o600
export const FOLDER_MODE = 0o700

/** Puts a folder's list of names on disk. Windows and some network disks have no such call. */
export const syncFolder = async (folder: string): Promise<void> => {
  if (process.platform === 'win32') return
  const handle = await open(folder, constants.O_RDONLY)
  try {
    await handle.sync()
  } catch (error) {
    if (!['EINVAL', 'ENOTSUP', 'EOPNOTSUPP'].includes(codeOf(error))) throw error
  } finally {
    await handle.close()
  }
}

let count = 0

/** A name beside `path` that no other process and no other call uses. */
export const temporary = (path: string): string =>
  join(dirname(path), `.${basename(path)}.${process.pid}-${++count}.tmp`)

/**
 * Replaces a file in one step: whoever reads sees the old text or the new one, whole, and so after a power cut.
 * `last` has the last look before that step and may throw. Throws its error or the system's; the old file is then as
 * it was and no temporary file is left.
 */
export const writeDurably = async (
  path: string,
  text: string,
  last: () => Promise<void> = async () => {},
): Promise<void> => {
  const beside = temporary(path)
  try {
    await writeFile(beside, text, { mode: FILE_MODE, flush: true })
    await last()
    await rename(beside, path)
  } catch (error) {
    await rm(beside, { force: true })
    throw error
  }
  await syncFolder(dirname(path))
}
