import { access, constants, mkdir, stat } from 'node:fs/promises'
import { dirname, join, resolve } from 'node:path'
import envPaths from 'env-paths'
import { FOLDER_MODE, syncFolder } from './durable.ts'
import { codeOf, trouble } from './trouble.ts'

/** The three folders. `cache` may be deleted at any time and is never worth copying. */
export type Home = { readonly data: string; readonly config: string; readonly cache: string }

/** All under one folder where one was named (`--home`, else `GRADINO_HOME`), else the platform's places. */
export const homeAt = (named: string | undefined, env: NodeJS.ProcessEnv = process.env): Home => {
  const one = named || env.GRADINO_HOME
  if (!one) {
    const { data, config, cache } = envPaths('gradino', { suffix: '' })
    return { data, config, cache }
  }
  const root = resolve(one)
  return { data: join(root, 'data'), config: join(root, 'config'), cache: join(root, 'cache') }
}

/** One after another from above: the recursive call of the system library never returns where a parent can't be made. */
const make = async (folder: string): Promise<void> => {
  const above = dirname(folder)
  const isThere = await stat(folder).then(
    () => true,
    () => false,
  )
  if (isThere || above === folder) return
  await make(above)
  // Another program may have made it in between.
  await mkdir(folder, { mode: FOLDER_MODE }).catch(error => {
    if (codeOf(error) !== 'EEXIST') throw error
  })
  await syncFolder(above)
}

/**
 * Makes a folder and those above it, so that they outlast a power cut, and checks that it can be written.
 * Throws StoreError: `what` ("Can't write the practice journal") and why.
 */
export const ensureFolder = async (folder: string, what: string): Promise<void> => {
  try {
    await make(folder)
    if (!(await stat(folder)).isDirectory())
      throw Object.assign(new Error('not a folder'), { code: 'ENOTDIR' })
    await access(folder, constants.W_OK)
  } catch (error) {
    throw trouble(what, folder, error)
  }
}
