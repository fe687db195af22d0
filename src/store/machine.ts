import { link, rename, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { type Chance, newName, RANDOM_NAME } from '../repertoire/names.ts'
import { FILE_MODE, syncFolder, temporary } from './durable.ts'
import { ensureFolder, type Home } from './home.ts'
import { readIfThere } from './read-file.ts'
import { StoreError, trouble } from './trouble.ts'
import { notKept } from './words.ts'

const WHAT = "Can't store the name of this machine"

const read = async (path: string): Promise<string | null> => {
  const id = (await readIfThere(path, 1000))?.trim() ?? ''
  return RANDOM_NAME.test(id) ? id : null
}

/**
 * The random name of this machine, made once; its journal folder is called so. Says nothing about machine or player.
 * Losing it is harmless: the next journal stands in a folder of its own. Throws StoreError.
 */
export const machineId = async (home: Home, chance: Chance): Promise<string> => {
  const path = join(home.config, 'machine')
  await ensureFolder(home.config, WHAT)
  const beside = temporary(path)
  try {
    const known = await read(path)
    if (known) return known
    await writeFile(beside, `${newName(chance)}\n`, { mode: FILE_MODE, flush: true })
    try {
      // A link, unlike a rename, fails when another process was first: all then use the first name.
      await link(beside, path)
    } catch {
      if (!(await read(path))) await rename(beside, path)
    }
    await syncFolder(home.config)
    const id = await read(path)
    if (!id) throw new StoreError(notKept(WHAT, path))
    return id
  } catch (error) {
    throw trouble(WHAT, path, error)
  } finally {
    await rm(beside, { force: true })
  }
}
