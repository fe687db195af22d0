// Bundles the two programs: `main` (the screen and all commands) and `player` (the sound process).
import { build } from 'esbuild'

const stub = {
  name: 'no-devtools',
  setup(b) {
    b.onResolve({ filter: /^react-devtools-core$/ }, () => ({ path: 'stub', namespace: 'stub' }))
    b.onLoad({ filter: /.*/, namespace: 'stub' }, () => ({ contents: 'export default {}' }))
  },
}

await build({
  entryPoints: { main: 'src/main.ts', player: 'src/sound/player.ts' },
  outdir: 'dist',
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
