// npm run bench -- outlook [learners] [seed]: what is said of the days to come, held against what invented learners made of
// them, who practice each day or every second one, and forget on days without it or not. It says nothing about people.
import { withBundle } from './bundled.mjs'

const [learners = 200, seed = 770_000] = process.argv.slice(3, 5).map(Number)

await withBundle('../plan/looks.ts', async ({ load }) => {
  const { counts, DAILY, FORGETFUL, SECOND, WEEKDAYS, watched } = await load()
  const row = (name, looks) => {
    const c = counts(looks)
    const said = [c.early, c.perhaps, c.not].map(s => `${s.true.toFixed(2)} of ${s.said}`)
    const shares = [c.stated, c.holds, c.open, c.named, c.sooner, c.spoken].map(s => s.toFixed(2))
    console.log(
      `${name.padEnd(26)}${[c.looks, ...shares, ...said].map(s => String(s).padStart(12)).join('')}`,
    )
  }
  const heads = [
    'looks',
    'stated',
    'holds',
    'end open',
    'both named',
    'sooner',
    'date spoken',
    'early',
    'perhaps',
    'not',
  ]
  console.log(`${' '.repeat(26)}${heads.map(h => h.padStart(12)).join('')}`)
  const all = [
    ['each day', DAILY],
    ['every second day', SECOND],
    ['every second, forgetting', FORGETFUL],
    ['mon to fri, forgetting', WEEKDAYS],
  ].map(([name, habit]) => {
    const looks = Array.from({ length: learners }, (_, i) => watched(seed + i, habit)).flatMap(l => l.looks)
    row(name, looks)
    return looks
  })
  row('every second day, both', [...all[1], ...all[2]])
})
