// npm run bench -- hard-places [drawings]: how far the weights of the proposals hold for parts that they were not chosen on.
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { build } from 'esbuild'

const folder = mkdtempSync(join(tmpdir(), 'gradino-hard-places-'))
try {
  const bundle = join(folder, 'hard-places.mjs')
  await build({
    entryPoints: [new URL('./hard-places.ts', import.meta.url).pathname],
    bundle: true,
    platform: 'node',
    target: 'node20',
    format: 'esm',
    outfile: bundle,
    logLevel: 'warning',
    // The scores stand beside the tests, not beside the bundle.
    define: { 'import.meta.url': JSON.stringify(new URL('../outside/hard-hits.ts', import.meta.url).href) },
  })
  const { crossCheck } = await import(pathToFileURL(bundle))
  for (const line of crossCheck(Number(process.argv[3] ?? 40))) console.log(line)
} finally {
  rmSync(folder, { recursive: true, force: true })
}
