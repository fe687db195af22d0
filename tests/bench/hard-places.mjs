// npm run bench -- hard-places [drawings]: how far the weights of the proposals hold for parts that they were not chosen on.
import { withBundle } from './bundled.mjs'

// The scores stand beside the tests, not beside the bundle.
const scores = JSON.stringify(new URL('../outside/hard-hits.ts', import.meta.url).href)
await withBundle(
  'hard-places.ts',
  async ({ load }) => {
    const { crossCheck } = await load()
    for (const line of crossCheck(Number(process.argv[3] ?? 40))) console.log(line)
  },
  { define: { 'import.meta.url': scores } },
)
