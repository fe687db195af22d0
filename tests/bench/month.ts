import { ceilingOf, daysOf, verdicts } from '../month/count.ts'
import { inTheJournal, remembered } from '../month/journal-lines.ts'
import { playMonth } from '../month/month.ts'

type Told = {
  readonly sections: readonly {
    readonly key: string
    readonly ceiling: string | null
    readonly days: readonly { readonly day: string; readonly best: string | null }[]
  }[]
}

const number = (typed: string | null): number | null => (typed === null ? null : Number(typed))

/** A month with these chances: what was played, and in how many places program and player count differently. */
export const monthOf = async (seed: number) => {
  const month = await playMonth({ seed, kill: false })
  try {
    const [mine, theirs] = [remembered(month.sittings), inTheJournal(month.machines.desk.home)]
    const evenings = month.shown.filter(s => s.what === 'progress' && s.on === 'desk')
    let [ceilings, wrong] = [0, 0]
    for (const [i, s] of evenings.entries())
      for (const part of (s.json as Told).sections) {
        const own = month.sittings.filter(
          x => x.key === part.key && x.day <= s.day && (x.kind === 'section' || x.kind === 'single'),
        )
        // What the other machine has and no sync brought yet is not known here.
        if (own.some(x => x.on === 'lap') && i < evenings.length - 1) continue
        ceilings++
        const days = daysOf(own).map(d => `${d.day} ${d.best}`)
        const told = part.days.map(d => `${d.day} ${number(d.best)}`)
        if (number(part.ceiling) !== ceilingOf(own) || days.join() !== told.join()) wrong++
      }
    return {
      seed,
      ...verdicts(month.sittings),
      visits: month.sittings.length,
      lost: mine.filter((line, i) => line !== theirs[i]).length + Math.abs(mine.length - theirs.length),
      ceilings,
      wrong,
      /** Every page that was shown: on which day, by which command. */
      pages: month.shown.map(s => ({ title: `${s.day} ${s.what}`, lines: s.lines })),
    }
  } finally {
    month.clear()
  }
}
