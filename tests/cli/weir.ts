import { DEFAULT_RULES } from '../../src/ladder/rules.ts'
import { type Tempo, tempo } from '../../src/music/tempo.ts'
import { homeAt } from '../../src/store/home.ts'
import { openJournal } from '../../src/store/journal.ts'
import { sources } from '../store/scene.ts'
import { player, words } from './typed.ts'

export const WEIR = 'Weir Street Overture'
export const RUN = `${WEIR}/run at the weir`

let sessions = 0

/** The day before: three clean ones under a key at a tempo, the middle rung of three. */
export const climb = async (home: string, key: string, at: Tempo = tempo(116)): Promise<void> => {
  const yesterday = sources(`visit${++sessions}x`, Date.parse('2031-03-14T12:00:00Z'))
  const journal = await openJournal(homeAt(home, {}), yesterday)
  const faster: Tempo = { unit: at.unit, bpm: { n: at.bpm.n + 4 * at.bpm.d, d: at.bpm.d } }
  const rungs = [tempo(30, at.unit), at, faster]
  await journal.append([
    { kind: 'visit', key, rungs, at: 1, rules: DEFAULT_RULES },
    ...[1, 2, 3].map(rep => ({ kind: 'verdict' as const, rep, tempo: at, whole: true, clean: true })),
  ])
  await journal.close()
}

/** A player with one passage, measures 41 to 44 of the overture, goal 138. */
export const atTheWeir = async () => {
  const p = player()
  await p.type(`piece add "${WEIR}" --passage "run at the weir" --in 41-44 --goal 138 --start 80`)
  return {
    ...p,
    /** The passage as `piece show --json` has it. */
    passage: async () => (await p.json('piece', 'show', WEIR)).passages[0],
    edit: (...typed: string[]) => p.type('piece', 'edit', RUN, ...words(typed)),
    practiced: async (id: string, at?: Tempo) => climb(p.home, `section ${id} even`, at),
  }
}
