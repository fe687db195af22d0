import type { Visit } from '../ladder/history.ts'
import { decodeKey, sameMusic, takeKey } from '../ladder/key.ts'
import type { Item, Unplaced } from './item.ts'

/** What the player made of the plan of one day; names are those of `named`. */
export type Made = {
  /** As the player arranged it; empty = as planned. */
  readonly order: readonly string[]
  readonly skipped: readonly string[]
  /** What is over, and when it began: minutes after midnight. */
  readonly over: readonly {
    readonly name: string
    readonly at: number
    readonly minutes?: number | undefined
  }[]
}

/** A line of the day. `begun` = minutes after midnight, where that is known. */
export type DayLine = {
  readonly name: string
  readonly item: Item
  readonly state: 'open' | 'done' | 'skipped'
  readonly begun: number | null
}

/** A slot counts as played when so much of it, and of the earlier ones on the same section, was played today. */
const MOST_OF_IT = 0.75

/** What a task is about: the key of its music, or its piece; empty where it is about none. */
export const subject = (i: Unplaced['task']): string => {
  if (i.kind === 'section' || i.kind === 'seam') return i.key
  if ('take' in i) return i.take.key
  return i.kind === 'run' || i.kind === 'entries' ? i.piece : ''
}

/** What a name says: "section weir even #2" is the second turn of that day on it. */
export const placeOf = (
  name: string,
): { readonly what: string; readonly kind: string; readonly key: string; readonly n: number } => {
  const [, what = name, n = '1'] = /^(.*) #(\d+)$/.exec(name) ?? []
  const [k = ''] = what.split(' ', 1)
  return { what, kind: k, key: what.slice(k.length + 1), n: Number(n) }
}

/** Each item with a name that stays the same when the plan of the day is made again: what it is, of what, which one. Those of `taken` are not given again. */
export const named = (
  items: readonly Item[],
  taken: readonly string[] = [],
): readonly { readonly name: string; readonly item: Item }[] => {
  const seen = new Map<string, number>()
  for (const name of taken) {
    const { what, n } = placeOf(name)
    seen.set(what, Math.max(n, seen.get(what) ?? n))
  }
  return items.map(item => {
    const what = `${item.kind} ${subject(item)}`.trim()
    const n = (seen.get(what) ?? 0) + 1
    seen.set(what, n)
    return { name: `${what} #${n}`, item }
  })
}

/** In even rhythm and in all others: seconds of today. */
const secondsOn = (visits: readonly Visit[], key: string): number =>
  visits.filter(v => sameMusic(v.key, key)).reduce((sum, v) => sum + v.seconds, 0)

const once = (visits: readonly Visit[], key: string): boolean =>
  visits.some(v => v.key === key && v.played > 0)

/** Whether the journal of today shows that an item was played. A rest leaves nothing there. */
const playedBy = (items: readonly Item[], at: number, today: readonly Visit[]): boolean => {
  const i = items[at] as Item
  switch (i.kind) {
    case 'fundamentals':
      return today.some(v => v.played > 0 && decodeKey(v.key).kind === 'warm-up')
    case 'rest':
      return false
    case 'section':
    case 'seam': {
      const same = items.slice(0, at + 1).filter(x => x.kind === i.kind && x.key === i.key)
      const minutes = same.reduce((sum, x) => sum + x.minutes, 0)
      return secondsOn(today, i.key) >= minutes * 60 * MOST_OF_IT
    }
    case 'cold':
    case 'slow':
    case 'goal':
    case 'silent':
      return once(today, takeKey(i.kind, i.take.key))
    case 'through':
      return i.takes.every(t => once(today, takeKey('through', t.key)))
    case 'run':
      return i.takes.every(t => once(today, takeKey('entry', t.key)))
    case 'entries':
      return i.spots.every(s => once(today, takeKey('entry', s.key)))
  }
}

/** Names as the player arranged them; what is new in the plan comes after what it follows there. */
const arranged = (planned: readonly string[], order: readonly string[]): readonly string[] => {
  const out = order.filter(n => planned.includes(n))
  planned.forEach((name, i) => {
    if (out.includes(name)) return
    // The first one follows nothing.
    out.splice(out.indexOf(planned[i - 1] as string) + 1, 0, name)
  })
  return out
}

/** Lines as the player arranged them. */
export const inOrder = (lines: readonly DayLine[], order: readonly string[]): readonly DayLine[] => {
  const by = new Map(lines.map(l => [l.name, l]))
  return arranged([...by.keys()], order).map(name => by.get(name) as DayLine)
}

/** The day as it stands: what was planned, what the player made of it, and what the journal of today says. */
export const linesOf = (items: readonly Item[], made: Made, today: readonly Visit[]): readonly DayLine[] => {
  const all = named(items)
  const lines = all.map(({ name, item }, i): DayLine => {
    const over = made.over.find(o => o.name === name)
    const done = over !== undefined || playedBy(items, i, today)
    const state = done ? 'done' : made.skipped.includes(name) ? 'skipped' : 'open'
    return { name, item, state, begun: over?.at ?? null }
  })
  return inOrder(lines, made.order)
}

/** When each line begins, minutes after midnight: what is open follows on from now, what is over began when it did. */
export const timesOf = (lines: readonly DayLine[], now: number): readonly (number | null)[] => {
  let at = now
  return lines.map(l => {
    if (l.state !== 'open') return l.begun
    const begins = at
    at += l.item.minutes
    return begins
  })
}

/** When all that is open would be over. */
export const endOf = (lines: readonly DayLine[], now: number): number =>
  lines.reduce((sum, l) => sum + (l.state === 'open' ? l.item.minutes : 0), now)

/** One line an open place earlier (-1) or later (1); what is over stays where it is. */
export const moved = (lines: readonly DayLine[], name: string, by: 1 | -1): readonly DayLine[] => {
  const at = lines.findIndex(l => l.name === name)
  const line = lines[at]
  if (line?.state !== 'open') return lines
  const open = (l: DayLine): boolean => l.state === 'open'
  const to = by < 0 ? lines.slice(0, at).findLastIndex(open) : lines.findIndex((l, i) => i > at && open(l))
  if (to < 0) return lines
  const rest = lines.filter(l => l !== line)
  return [...rest.slice(0, to), line, ...rest.slice(to)]
}

/** The next open line from a place on, then from the beginning; null = all is over. */
export const nextOpen = (lines: readonly DayLine[], from: number): number | null => {
  const after = lines.findIndex((l, i) => i >= from && l.state === 'open')
  const any = after >= 0 ? after : lines.findIndex(l => l.state === 'open')
  return any >= 0 ? any : null
}
