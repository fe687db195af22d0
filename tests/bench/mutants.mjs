// npm run bench -- mutants [room ...] [--count=60] [--seed=1] [--in=FILE] [--list] [--again]: do the tests bite? Small wrong changes are planted in the source, one at
// a time and in memory only, and each is run against the tests of its own room that can reach it. One warm process; each
// mutant stops at the first test that fails. Those that change nothing stand in mutants-same.json, each with its reason.
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { basename, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { build } from 'esbuild'
import { createVitest } from 'vitest/node'
import { entered, functionsOf, mutantsOf, mutated, sampleOf } from './mutate.mjs'

const ROOT = fileURLToPath(new URL('../..', import.meta.url))
const SAME = JSON.parse(readFileSync(new URL('mutants-same.json', import.meta.url), 'utf8'))

/** Where a room's source is, and where its tests are. */
const room = (name, { source = /\.ts$/, tests = [] } = {}) => ({
  source: p => p.startsWith(`src/${name}/`) && source.test(p) && basename(p) !== 'words.ts',
  tests: [`tests/${name}/`, ...tests],
})
const outside = (...names) => names.map(n => `tests/outside/${n}.test.ts`)
const cli = (...names) => names.map(n => `tests/cli/${n}.test.ts`)
const ROOMS = {
  music: room('music', { tests: outside('meter', 'scales', 'tempo-arithmetic', 'tempo-scale') }),
  click: room('click', { tests: outside('onset-tables', 'passages', 'wav-readers') }),
  ladder: room('ladder'),
  visit: room('visit', {
    tests: ['air', 'plain', 'sentences'].map(n => `tests/screens/practice/${n}.test.ts`),
  }),
  plan: room('plan', { tests: cli('diary', 'report') }),
  score: room('score', {
    tests: [...outside('as-played', 'musicxml'), ...cli('piece-import', 'several-movements')],
  }),
  store: room('store', { tests: cli('diary') }),
  terminal: room('terminal', { source: /\/(lock|tokenizer|chord|feet)\.ts$/ }),
}
/** Real time and devices stay out; so do the faults of the ladder, which are found or not whatever its source says. */
const LEFT_OUT = ['tests/ladder/mutants.test.ts']
const isLeftOut = p => /\.(terminal|sound)\.test\./.test(p) || LEFT_OUT.includes(p)

/** So many times the processor time of the tests as they are, and so many seconds: then it is an endless loop. */
const [TIMES, SECONDS] = [2, 10]
/** So many seconds with next to no processor time: then something waits for what never comes. */
const WAITING = 20

const option = (name, usual) =>
  Number(process.argv.find(a => a.startsWith(`--${name}=`))?.split('=')[1] ?? usual)
const [count, seed] = [option('count', 60), option('seed', 1)]
/** A part of a path: only the files that have it are drawn from. */
const inside = process.argv.find(a => a.startsWith('--in='))?.slice(5) ?? ''
const asked = process.argv.slice(2).filter(a => a in ROOMS)
const [listed, again, wordy] = ['--list', '--again', '--why'].map(flag => process.argv.includes(flag))

const under = folder => readdirSync(join(ROOT, folder), { recursive: true }).map(p => `${folder}/${p}`)
const sources = under('src').filter(p => /\.tsx?$/.test(p))
const inTests = under('tests')
const everyFile = [...sources, ...inTests.filter(p => /\.tsx?$/.test(p))]
const testFiles = inTests.filter(p => /\.test\.tsx?$/.test(p) && !isLeftOut(p))
const text = path => readFileSync(join(ROOT, path), 'utf8')

/** Which source files each test file reaches by its imports. */
const reachedBy = async tests => {
  const { metafile } = await build({
    absWorkingDir: ROOT,
    entryPoints: tests,
    bundle: true,
    packages: 'external',
    platform: 'node',
    format: 'esm',
    outdir: 'nowhere',
    write: false,
    metafile: true,
    logLevel: 'error',
  })
  return new Map(
    tests.map(test => {
      const reached = new Set([test])
      for (const p of reached)
        for (const i of metafile.inputs[p]?.imports ?? []) if (!i.external) reached.add(i.path)
      return [test, reached]
    }),
  )
}

const home = mkdtempSync(join(tmpdir(), 'gradino-mutants-'))
process.env.HOME = home
const hits = join(home, 'hits')
process.env.GRADINO_HITS = hits
let planted = null
let watched = new Map()

/** Tests stop at the first failure, in the order in which they were given. */
class AsGiven {
  sort = all => all
  shard = all => all
}
const opened = async () => {
  const vitest = await createVitest(
    'test',
    {
      root: ROOT,
      config: false,
      watch: true,
      pool: 'forks',
      isolate: false,
      fileParallelism: false,
      maxWorkers: 1,
      execArgv: ['--max-old-space-size=700'],
      bail: 1,
      silent: true,
      reporters: [{}],
      testTimeout: 600_000,
      include: ['tests/**/*.test.{ts,tsx}'],
      env: { CI: 'false' },
      setupFiles: ['tests/tidy.ts', 'tests/bench/mutants-setup.ts'],
      sequence: { sequencer: AsGiven },
    },
    {
      server: { watch: null },
      plugins: [
        {
          name: 'planted',
          enforce: 'pre',
          load: id => {
            const path = id.slice(ROOT.length)
            if (planted?.path === path) return planted.text
            return watched.has(path) ? entered(text(path), watched.get(path), path) : null
          },
        },
      ],
    },
  )
  await vitest.standalone()
  return vitest
}
let vitest = await opened()
/** Which test files enter which functions of these files: in one run of all of them. */
const watch = paths => {
  watched = new Map(paths.map(path => [path, functionsOf(text(path), path)]))
  for (const path of paths) vitest.invalidateFile(join(ROOT, path))
}
const enteredBy = () => {
  const lines = existsSync(hits) ? readFileSync(hits, 'utf8').trim().split('\n') : []
  rmSync(hits, { force: true })
  return new Map(
    lines.map(l => JSON.parse(l)).map(([test, names]) => [test.slice(ROOT.length), new Set(names)]),
  )
}
const plant = mutant => {
  const path = (mutant ?? planted).path
  planted = mutant
  vitest.invalidateFile(join(ROOT, path))
}

/** The processes under this one, and the processor time of each in seconds. */
const children = (of = process.pid) => {
  try {
    const own = readFileSync(`/proc/${of}/task/${of}/children`, 'utf8').trim()
    return (own ? own.split(' ').map(Number) : []).flatMap(pid => [pid, ...children(pid)])
  } catch {
    return []
  }
}
const seconds = pid => {
  try {
    const [user, system] = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')[1].split(' ').slice(11, 13)
    return (Number(user) + Number(system)) / 100
  } catch {
    return 0
  }
}
const spent = () => children().reduce((sum, pid) => sum + seconds(pid), 0)

const whyFailed = module => {
  const [test] = module.children.allTests('failed')
  const errors = test?.result().errors ?? module.errors()
  return `${module.moduleId.slice(ROOT.length)}: ${test?.fullName ?? ''}: ${errors[0]?.message?.split('\n')[0] ?? ''}`
}

/** Nothing of the run before is kept: modules that took values from a planted one are evaluated anew as well. */
const forget = () => {
  vitest.state.filesMap.clear()
  for (const p of everyFile) vitest.watcher.invalidates.add(join(ROOT, p))
}

/** The tests, one file after another; a process that takes too much processor time, or none any more, is ended. */
const run = async (tests, most) => {
  forget()
  const start = spent()
  let endless = false
  let moved = { at: performance.now(), spent: start }
  const clock = setInterval(() => {
    const now = { at: performance.now(), spent: spent() }
    if (now.spent - moved.spent > WAITING / 50) moved = now
    if (now.spent - start < most && now.at - moved.at < 1000 * WAITING) return
    endless = true
    const [busiest] = children().sort((a, b) => seconds(b) - seconds(a))
    if (busiest) process.kill(busiest, 'SIGKILL')
  }, 500)
  try {
    const specifications = tests.map(t => vitest.projects[0].createSpecification(join(ROOT, t)))
    const { testModules, unhandledErrors } = await vitest.runTestSpecifications(specifications, false)
    const failed = testModules.find(m => m.state() === 'failed')
    const times = new Map(
      testModules.map(m => [
        m.moduleId.slice(ROOT.length),
        m.diagnostic().duration + m.diagnostic().collectDuration,
      ]),
    )
    if (endless) return { kind: 'endless', times }
    if (failed) return { kind: 'found', by: whyFailed(failed), times }
    return { kind: unhandledErrors.length > 0 ? 'found' : 'survived', by: 'an error', times }
  } finally {
    clearInterval(clock)
  }
}

/**
 * The tests that can find a mutant: those that enter the function in which it stands, or import its file where it stands in
 * none. First the one that mirrors the file, then those that take the least time.
 */
const inTurn = ({ path, start, end }, tests, reached, { times, entries }) => {
  const own = basename(path).replace(/\.tsx?$/, '')
  const rank = t => (basename(t).startsWith(`${own}.test`) ? -1 : (times.get(t) ?? 0))
  const inside = functionsOf(text(path), path).findLast(f => f.start <= start && end <= f.end)
  const finds = t => (inside ? entries.get(t)?.has(inside.name) : reached.get(t).has(path))
  return tests.filter(finds).sort((a, b) => rank(a) - rank(b))
}

/** Where the survivors of a room are kept, to be tried again once there are tests against them. */
const left = name => join(tmpdir(), `gradino-mutants-${name}.json`)

const isKnown = name => m => SAME[name]?.some(s => s.path === m.path && s.was === m.was && s.is === m.is)
const said = m => `  ${m.path}:${m.line} ${m.kind}\n    - ${m.was}\n    + ${m.is}`

const tryRoom = async name => {
  const start = performance.now()
  const tests = testFiles.filter(t => ROOMS[name].tests.some(folder => t.startsWith(folder)))
  const reached = await reachedBy(tests)
  const own = sources.filter(ROOMS[name].source)
  const reaching = tests.filter(t => own.some(p => reached.get(t).has(p)))
  const all = own.filter(path => path.includes(inside)).flatMap(path => mutantsOf(text(path), path))
  const isSame = isKnown(name)
  for (const s of SAME[name] ?? [])
    if (s.path.includes(inside) && !all.some(m => s.path === m.path && s.was === m.was && s.is === m.is))
      console.log(`  mutants-same.json names none any more: ${s.path}: ${s.is}`)
  const isOne = m => s => s.path === m.path && s.was === m.was && s.is === m.is
  const sample = again
    ? all.filter(m => JSON.parse(readFileSync(left(name), 'utf8')).some(isOne(m)))
    : sampleOf(all, count, seed)
  if (listed) return console.log(sample.map(said).join('\n'))
  watch(own)
  const before = spent()
  const plain = await run(reaching, Number.POSITIVE_INFINITY)
  const most = SECONDS + TIMES * (spent() - before)
  plain.entries = enteredBy()
  watch([])
  for (const path of own) vitest.invalidateFile(join(ROOT, path))
  if (process.argv.includes('--times'))
    console.log([...plain.times].map(([t, ms]) => `  ${Math.round(ms)} ms ${t}`).join('\n'))
  if (plain.kind !== 'survived') throw new Error(`${name}: its tests fail as they are: ${plain.by}`)
  const survivors = []
  let latest = []
  const kinds = { found: 0, endless: 0, survived: 0, same: 0 }
  for (const m of sample) {
    if (isSame(m)) {
      kinds.same++
      continue
    }
    plant({ path: m.path, text: mutated(text(m.path), m) })
    const turn = inTurn(m, reaching, reached, plain)
    const { kind, by } = turn.length > 0 ? await run(turn, most) : { kind: 'survived' }
    plant(null)
    if (turn.length > 0) latest = turn
    kinds[kind]++
    if (wordy) console.log(`${said(m)}\n    ${kind} ${by ?? ''}`)
    if (kind === 'survived') {
      survivors.push(m)
      console.log(said(m))
    }
    if (kind === 'endless') {
      await vitest.close()
      vitest = await opened()
    }
  }
  const after = await run(latest, Number.POSITIVE_INFINITY)
  if (after.kind !== 'survived') throw new Error(`${name}: something was left planted: ${after.by}`)
  writeFileSync(left(name), JSON.stringify(survivors))
  const { found, endless, survived, same } = kinds
  const tried = found + endless + survived
  console.log(
    `${name}: ${((found + endless) / tried).toFixed(2)} (${found} found, ${endless} endless, ${survived} survived, ` +
      `${same} the same; ${sample.length} of ${all.length}, seed ${seed}; ${Math.round((performance.now() - start) / 1000)} s)`,
  )
}

try {
  for (const name of asked.length > 0 ? asked : Object.keys(ROOMS)) await tryRoom(name)
} finally {
  await vitest.close()
  rmSync(home, { recursive: true, force: true })
}
process.exit()
