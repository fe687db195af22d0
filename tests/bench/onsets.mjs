// How far clicks stand from their exact times. node tests/bench/onsets.mjs
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { build } from 'esbuild'

const folder = mkdtempSync(join(tmpdir(), 'gradino-bench-'))
try {
  const outfile = join(folder, 'onsets.mjs')
  const entry = new URL('onsets.ts', import.meta.url).pathname
  await build({
    entryPoints: [entry],
    bundle: true,
    platform: 'node',
    format: 'esm',
    outfile,
    logLevel: 'warning',
  })
  ;(await import(pathToFileURL(outfile))).onsets()
} finally {
  rmSync(folder, { recursive: true })
}
