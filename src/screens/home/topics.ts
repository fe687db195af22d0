import type { Controls } from '../../terminal/key-table.ts'
import { NEW_KEYS } from '../form/words.ts'
import { inOneBreath } from '../page.ts'
import type { Walk } from '../walk.ts'
import { hints, WAYS } from './hints.tsx'
import { formOf, partsOf, type State, wayOf } from './reduce.ts'
import { ANSWERS, CUT_QUESTION, formTitle, inShort, listLines, QUESTION, TO_LIST, WHOLE } from './words.ts'

const numbered = (lines: readonly string[]): readonly string[] => lines.map((l, i) => `${i + 1}: ${l}`)

/** Each section with its numbers, the whole passage, and the way back. */
const partLines = (s: State): readonly string[] => [
  ...partsOf(s).map(p => `${p === s.rows[s.chosen] ? WHOLE : p.place}, ${inShort(p)}`),
  TO_LIST,
]

/** What the list says as lines: its lines once, each with a number, then where the cursor is. */
export const homeTopics = (
  s: State,
  controls: Controls,
  walk: Walk,
  now: number,
): Readonly<Record<string, string>> => {
  const row = s.rows[s.chosen]
  const said: Partial<
    Record<State['view'], { title: string; all: readonly string[]; at: number; take: string }>
  > = {
    list: {
      title: listLines(s.rows, s.around.today)[0] ?? '',
      all: listLines(s.rows, s.around.today).slice(1),
      at: s.chosen,
      take: row && row.sections.length > 0 ? 'its sections' : 'practice',
    },
    sections: {
      title: row ? `${row.piece}, ${row.place}` : '',
      all: partLines(s),
      at: s.part,
      take: s.part === partsOf(s).length ? 'back' : 'practice',
    },
    question: {
      title: QUESTION,
      all: ANSWERS.map(a => `${a.name}: ${a.says}`),
      at: s.answer,
      take: 'this one',
    },
  }
  const open = said[s.view]
  const way = wayOf(s)
  const lines = open ? numbered(open.all) : []
  const [pedals = '', keys = ''] = open ? hints({ state: s, controls, walk, now, take: open.take }) : []
  const filled = formOf(s)
  return {
    list: open ? [open.title, ...lines].join('\n') : '',
    cut: s.view === 'cut' ? CUT_QUESTION : '',
    form: filled ? [formTitle(s.view === 'quick', s.rows.length > 0), NEW_KEYS].join('\n') : '',
    note: s.note,
    line: way ? WAYS[way] : (lines[open?.at ?? 0] ?? ''),
    pedals: inOneBreath(pedals),
    ...(keys === '' ? {} : { keys: inOneBreath(keys) }),
  }
}
