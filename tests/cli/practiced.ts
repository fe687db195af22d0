import type { Body } from '../../src/ladder/event.ts'
import { DEFAULT_RULES } from '../../src/ladder/rules.ts'
import { tempo } from '../../src/music/tempo.ts'
import { homeAt } from '../../src/store/home.ts'
import { openJournal } from '../../src/store/journal.ts'

const RUNGS = [92, 96, 100, 104, 108].map(t => tempo(t))

/** A visit as it would have been played: one press each so many seconds, C clean, N not clean, S no verdict. */
export type Played = {
  readonly key: string
  /** UTC: "2031-03-12T17:00:00Z"; minutes east of it. */
  readonly at: string
  readonly offset?: number
  readonly presses: string
  readonly seconds?: number
  /** Rung of all presses, 0 = 92. */
  readonly rung?: number
}

let name = 0

/** Puts visits into the journal of a home, each in a session of its own. */
export const practiced = async (home: string, all: readonly Played[]): Promise<void> => {
  for (const { key, at, offset = 60, presses, seconds = 20, rung = 0 } of all) {
    let now = Date.parse(at)
    const chance = () => `played${String(++name).padStart(4, '0')}`
    const journal = await openJournal(homeAt(home), { wall: () => now, offset: () => offset, chance })
    await journal.append([{ kind: 'visit', key, rungs: RUNGS.slice(rung), at: 0, rules: DEFAULT_RULES }])
    let here = rung
    let row = 0
    for (const [i, press] of [...presses].entries()) {
      now += seconds * 1000
      const t = RUNGS[here] as (typeof RUNGS)[number]
      const body: Body =
        press === 'S'
          ? { kind: 'unjudged', rep: i + 1, tempo: t, why: 'silent' }
          : { kind: 'verdict', rep: i + 1, tempo: t, whole: true, clean: press === 'C' }
      await journal.append([body])
      row = press === 'C' ? row + 1 : 0
      if (row === 3 && here < RUNGS.length - 1) [here, row] = [here + 1, 0]
    }
    await journal.close()
  }
}
