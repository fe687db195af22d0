import { access, readdir } from 'node:fs/promises'
import { join } from 'node:path'
import { writeDurably } from './durable.ts'
import { ensureFolder, type Home } from './home.ts'
import { readText } from './read-file.ts'
import { codeOf, type Done, StoreError, trouble, whyNot } from './trouble.ts'
import { presetThere } from './words.ts'

/** Beyond this no file is a preset. Bytes. */
const MOST = 200_000

const presetFolder = (home: Home): string => join(home.data, 'presets')

/** A preset's text and where it stands, or why it cannot be read; its content is checked by whoever knows presets. */
export type StoredPreset = { readonly path: string; readonly text: string; readonly why: string | null }

/** The player's own presets in the order of their names. Throws StoreError when the folder cannot be read. */
export const readPresets = async (home: Home): Promise<readonly StoredPreset[]> => {
  const folder = presetFolder(home)
  try {
    const names = (await readdir(folder)).filter(n => /^[^.].*\.json$/.test(n)).sort()
    const texts = names.map(async n => {
      const path = join(folder, n)
      try {
        return { path, text: await readText(path, MOST), why: null }
      } catch (error) {
        return { path, text: '', why: whyNot(path, error) ?? `${path} cannot be read` }
      }
    })
    return await Promise.all(texts)
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return []
    throw trouble("Can't read your presets", folder, error)
  }
}

/**
 * Stores a preset under its name (small letters, digits, hyphens). One that is there is kept unless it is to be
 * replaced: then the answer is the sentence that says so. Throws StoreError, RangeError for another name.
 */
export const storePreset = async (
  home: Home,
  name: string,
  text: string,
  replace: boolean,
): Promise<Done<string>> => {
  if (!/^[a-z0-9][a-z0-9-]{0,39}$/.test(name)) throw new RangeError(name)
  const what = "Can't store the preset"
  const path = join(presetFolder(home), `${name}.json`)
  await ensureFolder(presetFolder(home), what)
  try {
    await writeDurably(path, text, async () => {
      const there = await access(path).then(
        () => true,
        () => false,
      )
      if (there && !replace) throw new StoreError(presetThere(name))
    })
    return { ok: true, value: path }
  } catch (error) {
    if (error instanceof StoreError) return { ok: false, message: error.message }
    throw trouble(what, presetFolder(home), error)
  }
}
