// node tests/bench/month.mjs [how many] [pattern]: a scripted player plays a month with other chances each time, through the commands
// and in virtual time; what the program tells is held against what the player counted. Pages whose day and command match
// the pattern are shown, as '2031-03-13 today'.
import { withBundle } from './bundled.mjs'

const MANY = Number(process.argv[2] ?? 10)
const SHOW = process.argv[3] === undefined ? null : new RegExp(process.argv[3])

const run = async ({ load }) => {
  const { monthOf } = await load()
  const all = []
  for (let seed = 1; seed <= MANY; seed++) {
    const start = performance.now()
    const m = await monthOf(seed)
    const seconds = (performance.now() - start) / 1000
    all.push({ ...m, seconds })
    for (const { title, lines } of m.pages.filter(p => SHOW?.test(p.title)))
      console.log([`--- ${title}`, ...lines, ''].join('\n'))
    console.log(
      `month ${seed}: ${m.visits} visits, ${m.clean} of ${m.verdicts} clean; visits that the journal has otherwise: ${m.lost}; ` +
        `ladders on all evenings: ${m.ceilings}, of which told otherwise than counted: ${m.wrong}; ${seconds.toFixed(1)} s`,
    )
  }
  const sum = key => all.reduce((n, m) => n + m[key], 0)
  console.log(
    `${all.length} months: ${sum('verdicts')} verdicts in ${sum('visits')} visits, ${sum('lost')} otherwise in the journal; ` +
      `${sum('ceilings')} ladders told, ${sum('wrong')} otherwise; ${sum('seconds').toFixed(0)} s`,
  )
}
await withBundle('month.ts', run, { near: true, packages: 'external', jsx: 'automatic' })
