import type { Body } from '../ladder/event.ts'
import { warmUpKey } from '../ladder/key.ts'
import { DEFAULT_RULES } from '../ladder/rules.ts'
import type { WarmUpLog } from '../screens/warmup/screen.ts'
import type { Journal } from '../store/journal.ts'

/** An exercise is a visit of its own, its turns are repetitions that nobody judged. */
export const warmUpLog = (journal: Pick<Journal, 'append'>): WarmUpLog => {
  const put = async (body: Body): Promise<void> => {
    await journal.append([body])
  }
  return {
    begin: w => put({ kind: 'visit', key: warmUpKey(w), rungs: [w.tempo], at: 0, rules: DEFAULT_RULES }),
    turn: (rep, tempo) => put({ kind: 'unjudged', rep, tempo, why: 'silent' }),
  }
}
