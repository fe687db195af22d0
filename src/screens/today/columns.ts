import { decimal } from '../../music/fraction.ts'
import { inUnit, type Tempo } from '../../music/tempo.ts'
import type { Item } from '../../plan/item.ts'

/** What is done, in so many signs. */
export const WHAT = 40

/** A line of the day that can be scanned: what, with the passage first, and from where to where. */
export type Columns = { readonly what: string; readonly tempo: string }

/** The end goes where there is no room: the passage stands first. */
export const fitting = (text: string, room = WHAT): string =>
  text.length <= room ? text : `${text.slice(0, room - 1).replace(/[\s,]*(?:\sm\.?)?[\s,]*$/, '')}…`

const inGoal = (t: Tempo, goal: Tempo): string => decimal(inUnit(t, goal.unit).bpm)
const at = (t: Tempo | null): string => (t ? `at ${decimal(t.bpm)}` : '')

/** How something is played, behind its name; the piece comes last, and only where there are several. */
const said = (label: string, how: string, piece: string): string => {
  const name = [label, piece].filter(Boolean).join(', ')
  if (how === '') return fitting(name)
  const room = WHAT - how.length - 2
  return `${fitting(name.length <= room ? name : label, room)}: ${how}`
}

export const columnsOf = (i: Item, pieceOf: (key: string) => string): Columns => {
  switch (i.kind) {
    case 'fundamentals':
      return { what: 'Fundamentals', tempo: '' }
    case 'rest':
      return { what: 'Rest', tempo: '' }
    case 'section': {
      const from = i.again ? 'on' : i.from ? inGoal(i.from, i.goal) : '?'
      const to = i.top ? inGoal(i.top, i.goal) : i.open ? 'open' : decimal(i.goal.bpm)
      const range = !i.top && i.goalTop && !i.open ? `-${inGoal(i.goalTop, i.goal)}` : ''
      return { what: said(i.label, '', pieceOf(i.key)), tempo: `${from} -> ${to}${range}` }
    }
    case 'seam':
      return {
        what: said(i.label, 'the seam', pieceOf(i.key)),
        tempo: i.from ? `from ${decimal(i.from.bpm)}` : '',
      }
    case 'cold':
      return { what: said(i.take.label, 'once, cold', pieceOf(i.take.key)), tempo: at(i.take.tempo) }
    case 'goal':
      return { what: said(i.take.label, 'once', pieceOf(i.take.key)), tempo: at(i.take.tempo) }
    case 'silent':
      return {
        what: said(i.take.label, `${i.times} without a sound`, pieceOf(i.take.key)),
        tempo: at(i.take.tempo),
      }
    case 'slow':
      return {
        what: said(i.take.label, `${i.times} slow ones`, pieceOf(i.take.key)),
        tempo: at(i.take.tempo),
      }
    case 'through':
    case 'run': {
      const [first, ...more] = i.takes
      const name = first ? `${first.label}${more.length > 0 ? ` and ${more.length} more` : ''}` : ''
      const how = i.kind === 'through' ? 'last time through' : i.cold ? 'once, cold' : 'one run'
      return { what: said(name, how, ''), tempo: first && more.length === 0 ? at(first.tempo) : '' }
    }
    case 'entries':
      return { what: said(i.piece, 'entrances once', ''), tempo: '' }
  }
}

/** The same to be spoken. */
export const columnWords = ({ what, tempo }: Columns): string =>
  [what, tempo.replace(' -> ', ' to ')].filter(Boolean).join(', ')
