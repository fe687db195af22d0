// npm run bench -- scores FOLDER: each part of every score in a folder is imported as the whole, as its hardest passages, and
// as both: how many had a tempo, how many got an open goal, how many were asked for one, and what was refused and why.
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { basename, join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { build } from 'esbuild'

const [, , , folder] = process.argv
if (folder === undefined) {
  console.error('Say where the scores are: npm run bench -- scores FOLDER')
  process.exit(2)
}
const WAYS = { 'the whole': { whole: true }, 'hardest passages': { hard: true }, both: {} }
const bundles = mkdtempSync(join(tmpdir(), 'gradino-scores-'))
const counts = new Map()
const count = what => counts.set(what, (counts.get(what) ?? 0) + 1)

try {
  const outfile = join(bundles, 'scores.mjs')
  const entryPoints = [new URL('scores.ts', import.meta.url).pathname]
  const esm = { bundle: true, platform: 'node', target: 'node20', format: 'esm', logLevel: 'warning' }
  await build({ ...esm, entryPoints, outfile })
  const { importFrom, readScore, sentence } = await import(pathToFileURL(outfile))
  const files = readdirSync(folder, { recursive: true })
    .filter(n => /\.(xml|musicxml|mxl)$/i.test(n))
    .sort()
  let [scores, parts, ids] = [0, 0, 0]
  for (const file of files) {
    const name = basename(file)
    const score = readScore(readFileSync(join(folder, file)), name)
    if (!score.ok) {
      console.log(`refused: ${sentence(score.problem)}`)
      continue
    }
    scores++
    parts += score.value.parts.length
    for (const { id } of score.value.parts)
      for (const [way, wanted] of Object.entries(WAYS)) {
        const made = importFrom(score.value, name, { part: id, ...wanted }, () => `id${1000 + ids++}`)
        if (made.ok)
          count(`${way}: ${made.value.sure === 'open' ? 'the goal open' : `goal ${made.value.sure}`}`)
        else {
          console.log(`refused: ${id}, ${way}: ${sentence(made.problem)}`)
          count(`${way}: ${/tempo/.test(made.problem.field) ? 'asked for a tempo' : 'refused'}`)
        }
      }
  }
  console.log(`${files.length} files, ${scores} read, ${parts} parts`)
  for (const [what, n] of [...counts].sort()) console.log(`${what.padEnd(36)}${String(n).padStart(5)}`)
} finally {
  rmSync(bundles, { recursive: true, force: true })
}
