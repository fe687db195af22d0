// npm run bench -- plan [players] [seed] [pattern of rules] [cells] [held-back]: days as they are planned against simple ways to divide the
// time, played by invented learners through the real plan and the real ladder. What comes out says nothing about people.
import { withBundle } from './bundled.mjs'

const [players = 72, seed = 41_000] = process.argv.slice(3, 5).map(Number)
const only = new RegExp(process.argv[5] ?? '.')
const each = process.argv.includes('cells')
const heldBack = process.argv.includes('held-back')
const mean = all => all.reduce((a, b) => a + b, 0) / all.length
const KEYS = ['clean', 'worst', 'tempo', 'worstTempo', 'minutes', 'idle', 'reached', 'ready']

await withBundle('plan.ts', async ({ load }) => {
  const { CELLS, RULES, played, ...of } = await load()
  const FAMILIES = heldBack ? of.HELD_BACK : of.FAMILIES
  const row = (name, x) =>
    console.log(
      `${name.padEnd(38)}${KEYS.map(k => x[k].toFixed(k === 'minutes' || k === 'idle' ? 1 : 3).padStart(7)).join('')}`,
    )
  const all = new Map(
    Object.keys(RULES)
      .filter(r => only.test(r))
      .map(r => [r, []]),
  )
  const start = performance.now()
  for (const family of FAMILIES)
    for (const cell of CELLS) {
      if (each) console.log(`\n${family}, ${cell[0]} days of ${cell[1]} minutes, ${cell[2]} passages`)
      for (const [rule, cells] of all) {
        const found = played(rule, cell, family, players, seed)
        const here = Object.fromEntries(KEYS.map(k => [k, mean(found.map(m => m[k]))]))
        cells.push(here)
        if (each) row(rule, here)
      }
    }
  for (const f of FAMILIES.keys())
    for (const [rule, cells] of all)
      row(
        `${FAMILIES[f]}: ${rule}`,
        Object.fromEntries(
          KEYS.map(k => [k, mean(cells.slice(f * CELLS.length, (f + 1) * CELLS.length).map(c => c[k]))]),
        ),
      )
  const count = FAMILIES.length * CELLS.length
  console.log(`\nmean of ${count} cells, ${players} players each, seed ${seed}`)
  console.log(
    `${' '.repeat(38)}${['clean', 'worst', 'tempo', 'worst', 'min', 'idle', 'goal', 'ready'].map(k => k.padStart(7)).join('')}`,
  )
  for (const [rule, cells] of all)
    row(rule, Object.fromEntries(KEYS.map(k => [k, mean(cells.map(c => c[k]))])))
  const [plan, equal] = [all.get('the plan'), all.get('equal minutes every day')]
  if (plan && equal)
    console.log(
      `the plan's worst cell against equal minutes: ${Math.min(...plan.map((c, i) => c.clean - equal[i].clean)).toFixed(3)}`,
    )
  console.log(`${((performance.now() - start) / 1000).toFixed(0)} s`)
})
