// How far clicks stand from their exact times. node tests/bench/onsets.mjs
import { withBundle } from './bundled.mjs'

await withBundle('onsets.ts', async ({ load }) => (await load()).onsets())
