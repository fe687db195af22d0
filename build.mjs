// Bundles the two programs: `main` (the screen and all commands) and `player` (the sound process).
import { mkdir, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises'
import { basename, join } from 'node:path'
import { build } from 'esbuild'

const OUT = 'dist'
const PROGRAMS = ['main', 'player']
const PART = /part-[A-Z0-9]+\.js/g

const reached = async (file, seen = new Set()) => {
  if (seen.has(file)) return seen
  seen.add(file)
  const text = await readFile(join(OUT, file), 'utf8').catch(() => '')
  for (const part of text.match(PART) ?? []) await reached(part, seen)
  return seen
}

/** A program that runs still loads parts of the build it was started from: they stay for one build more. */
const before = new Set()
for (const name of PROGRAMS) await reached(`${name}.js`, before)

const stub = {
  name: 'no-devtools',
  setup(b) {
    b.onResolve({ filter: /^react-devtools-core$/ }, () => ({ path: 'stub', namespace: 'stub' }))
    b.onLoad({ filter: /.*/, namespace: 'stub' }, () => ({ contents: 'export default {}' }))
  },
}

const { outputFiles } = await build({
  entryPoints: { main: 'src/main.ts', player: 'src/sound/player.ts' },
  outdir: OUT,
  write: false,
  bundle: true,
  platform: 'node',
  target: 'node20',
  format: 'esm',
  jsx: 'automatic',
  // In chunks, so that a command loads what it needs: `ladder` no screen, a screen no settings writer.
  splitting: true,
  chunkNames: 'part-[hash]',
  minifySyntax: true,
  minifyWhitespace: true,
  define: { 'process.env.NODE_ENV': '"production"' },
  external: ['naudiodon', 'speaker', '@echogarden/audio-io'],
  plugins: [stub],
  banner: {
    js: "import { createRequire as __createRequire } from 'node:module'; const require = __createRequire(import.meta.url);",
  },
  logLevel: 'warning',
})

// Parts first, each program at one go: whoever starts it meanwhile gets the old one or the new one, whole.
const isProgram = file => PROGRAMS.includes(basename(file.path, '.js'))
await mkdir(OUT, { recursive: true })
for (const { path, contents } of [...outputFiles].sort((a, b) => isProgram(a) - isProgram(b))) {
  const unfinished = `${path}.${process.pid}`
  // As npm makes its link to a program: it can be started by its name.
  await writeFile(unfinished, contents, { mode: isProgram({ path }) ? 0o755 : 0o644 })
  await rename(unfinished, path)
}

const now = new Set(outputFiles.map(f => basename(f.path)))
for (const file of await readdir(OUT))
  if (new RegExp(`^${PART.source}$`).test(file) && !now.has(file) && !before.has(file))
    await rm(join(OUT, file), { force: true })
