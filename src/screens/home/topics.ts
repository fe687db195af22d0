import type { Controls } from '../../terminal/key-table.ts'
import type { Walk } from '../walk.ts'
import { helpLines, hints } from './hints.tsx'
import { partsOf, type State, wayOf } from './reduce.ts'
import { ANSWERS, listLines, QUESTION } from './words.ts'

const numbered = (lines: readonly string[]): readonly string[] => lines.map((l, i) => `${i + 1}: ${l}`)

/** What the list says as lines: its lines once, each with a number, then where the cursor is. */
export const homeTopics = (
  s: State,
  controls: Controls,
  walk: Walk,
  now: number,
): Readonly<Record<string, string>> => {
  const [headline = '', ...rows] = listLines(s.rows, s.around.today)
  const parts = partsOf(s).map(p => p.place)
  const answers = ANSWERS.map(a => `${a.name}: ${a.says}`)
  const said: Partial<Record<State['view'], { all: readonly string[]; at: number }>> = {
    list: { all: rows, at: s.chosen },
    sections: { all: parts, at: s.part },
    question: { all: answers, at: s.answer },
  }
  const open = said[s.view]
  const way = wayOf(s)
  return {
    list: open ? [s.view === 'question' ? QUESTION : headline, ...numbered(open.all)].join('\n') : '',
    note: s.note,
    line: way ?? open?.all[open.at] ?? '',
    pedals: open ? hints({ state: s, controls, walk, now, take: 'practice' })[0] : '',
    help: s.view === 'help' ? helpLines(controls).join('\n') : '',
  }
}
