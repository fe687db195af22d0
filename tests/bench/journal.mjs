// npm run bench: ten years of practice, 500,000 repetitions in month files, opened without the snapshot, with it, and
// after one more visit; side by side with a database (better-sqlite3) that is asked the same in the same run, where that
// is installed:  npm install --prefix FOLDER better-sqlite3@12.11.1  and then  GRADINO_SQLITE=FOLDER npm run bench
import { execFileSync } from 'node:child_process'
import { statSync } from 'node:fs'
import { createRequire } from 'node:module'
import { join, resolve } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { withBundle } from './bundled.mjs'

const RUNS = 3
const FLAGS = ['--max-semi-space-size=1', '--optimize-for-size']
const SELF = fileURLToPath(import.meta.url)

const database = path => {
  try {
    const Database = createRequire(resolve(process.env.GRADINO_SQLITE ?? '.', 'x.js'))('better-sqlite3')
    return new Database(path)
  } catch {
    return null
  }
}

/** One question in a process of its own, as at a start of the program; prints milliseconds and a hash of the answers. */
const ask = async (bundle, question, root) => {
  const bench = await import(pathToFileURL(bundle))
  const of = question.startsWith('from') ? database(join(root, 'practice.sqlite')) : root
  console.log(JSON.stringify(await bench[question](of)))
}

const measure = async ({ path, folder, load }) => {
  const { tenYears, oneMore, forget, intoDatabase } = await load()
  const db = database(join(folder, 'practice.sqlite'))
  const add = db ? intoDatabase(db) : () => {}
  tenYears(folder, add)
  db?.close()

  /** The middle of some runs; `before` each of them something happens to the files. */
  const line = (what, question, { before = () => {}, flags = [] } = {}) => {
    const runs = Array.from({ length: RUNS }, () => {
      before()
      const args = [...flags, SELF, path, question, folder]
      return JSON.parse(execFileSync(process.execPath, args, { encoding: 'utf8' }))
    })
    const { ms, mb, visits, hash } = runs.sort((a, b) => a.ms - b.ms)[Math.floor(RUNS / 2)]
    console.log(
      `${what.padEnd(62)}${ms.toFixed(0).padStart(7)} ms${mb.toFixed(0).padStart(6)} MB   ${visits} visits, ${hash}`,
    )
    return hash
  }

  console.log(
    `Node ${process.version}, ten years, 500,000 repetitions in 120 month files, middle of ${RUNS} runs\n`,
  )
  const first = line('files, without the snapshot', 'files', { before: () => forget(folder) })
  const same = [
    line('the same with the memory limits of the program', 'files', {
      before: () => forget(folder),
      flags: FLAGS,
    }),
    line('files, with the snapshot', 'files'),
    line('the same with the memory limits of the program', 'files', { flags: FLAGS }),
    line('files, all events in memory at once (as the tests do)', 'plainly'),
  ]
  if (db) {
    same.push(
      line('better-sqlite3: all events in order, folded', 'fromEvents'),
      line('better-sqlite3: a table of what each visit came to', 'fromVisits'),
    )
    console.log(`the database takes ${(statSync(join(folder, 'practice.sqlite')).size / 1e6).toFixed(0)} MB`)
  } else console.log('better-sqlite3: not installed (see the first lines of tests/bench/journal.mjs)')
  line('files, with the snapshot, after one more visit each time', 'files', { before: () => oneMore(folder) })
  if (same.some(hash => hash !== first)) throw new Error('the answers differ')
}

if (process.argv[2]) await ask(...process.argv.slice(2))
else await withBundle('journal.ts', measure)
