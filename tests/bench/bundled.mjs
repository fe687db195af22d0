import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { basename, join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { build } from 'esbuild'

const DIST = join(import.meta.dirname, '../../dist')

/**
 * Bundles a TypeScript file, named from this folder, and hands `use` its path, a function that loads it, and the folder in
 * which it lies, which is gone afterwards. `near`: beside the packages that it needs. The rest are options of esbuild.
 */
export const withBundle = async (entry, use, { near = false, ...options } = {}) => {
  const folder = mkdtempSync(join(near ? DIST : tmpdir(), 'gradino-bench-'))
  try {
    const path = join(folder, basename(entry).replace(/\.ts$/, '.mjs'))
    await build({
      entryPoints: [join(import.meta.dirname, entry)],
      outfile: path,
      bundle: true,
      platform: 'node',
      target: 'node20',
      format: 'esm',
      logLevel: 'warning',
      ...options,
    })
    return await use({ path, folder, load: () => import(pathToFileURL(path).href) })
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}
