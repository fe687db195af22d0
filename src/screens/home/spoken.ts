import { type Controls, keyHelp } from '../../terminal/key-table.ts'
import type { Topics } from '../../terminal/run-screen.tsx'
import { NEW_KEYS } from '../form/words.ts'
import { type Chapter, listPedals } from '../help.ts'
import { inOneBreath } from '../text-rows.ts'
import { HOME_KEYS } from './key-table.ts'
import { formOf, partsOf, type State, wayOf } from './reduce.ts'
import { hints, type Shown } from './view.ts'
import * as say from './words.ts'

/** What the pedals and the keys of the list do, and what stands in it. */
export const homeHelp = (c: Controls): readonly Chapter[] => [
  listPedals(c, 'practice the chosen passage, or open its sections'),
  { title: 'The keys', entries: keyHelp(HOME_KEYS, c.choice) },
  { title: 'The list', entries: say.LIST_WORDS },
]

/** What lies open: its title, its lines, where the cursor is among them, and what that line leads to; null = no list. */
const openList = (s: State) => {
  const row = s.rows[s.chosen]
  switch (s.view) {
    case 'list': {
      const [title = '', ...all] = say.listLines(s.rows, s.around.today)
      return { title, all, at: s.chosen, take: row && row.sections.length > 0 ? 'its sections' : 'practice' }
    }
    case 'sections': {
      const parts = partsOf(s).map(p => `${p === row ? say.WHOLE : p.place}, ${say.inShort(p)}`)
      return {
        title: row ? `${row.piece}, ${row.place}` : '',
        all: [...parts, say.TO_LIST],
        at: s.part,
        take: s.part === parts.length ? 'back' : 'practice',
      }
    }
    case 'question':
      return {
        title: say.QUESTION,
        all: say.ANSWERS.map(a => `${a.name}: ${a.says}`),
        at: s.answer,
        take: 'this one',
      }
    default:
      return null
  }
}

/** What the list says as lines: its lines once, each with a number, then where the cursor is. */
export const homeTopics = (p: Omit<Shown, 'size'>): Topics => {
  const { state: s } = p
  const open = openList(s)
  const way = wayOf(s)
  const lines = (open?.all ?? []).map((line, i) => `${i + 1}: ${line}`)
  const [pedals = '', keys = ''] = open ? hints(p, open.take) : []
  return {
    list: open ? [open.title, ...lines].join('\n') : '',
    cut: s.view === 'cut' ? say.CUT_QUESTION : '',
    form: formOf(s) ? [say.formTitle(s.view === 'quick', s.rows.length > 0), NEW_KEYS].join('\n') : '',
    note: s.note,
    line: way ? say.WAYS[way] : (lines[open?.at ?? 0] ?? ''),
    pedals: inOneBreath(pedals),
    ...(keys === '' ? {} : { keys: inOneBreath(keys) }),
  }
}
