import { access, constants, mkdir } from 'node:fs/promises'
import { dirname, join, resolve } from 'node:path'
import envPaths from 'env-paths'
import { FOLDER_MODE, syncFolder } from './durable.ts'
import { trouble } from './trouble.ts'

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

/**
 * Makes a folder and those above it, so that they outlast a power cut, and checks that it can be written.
 * Throws StoreError: `what` ("The practice journal cannot be written") and why.
 */
export const ensureFolder = async (folder: string, what: string): Promise<void> => {
  try {
    const first = await mkdir(folder, { recursive: true, mode: FOLDER_MODE })
    for (let made = folder; first && made.length >= first.length; made = dirname(made))
      await syncFolder(dirname(made))
    await access(folder, constants.W_OK)
  } catch (error) {
    throw trouble(what, folder, error)
  }
}
