import type { Event } from '../../src/ladder/event.ts'
import { type Histories, historiesOf, summary } from '../../src/ladder/history.ts'

/** The history of every key, from all events of a journal at once: what no command reads. */
export const histories = (visits: readonly (readonly Event[])[]): Histories =>
  historiesOf(visits.flatMap(v => summary(v) ?? []))

/** To be compared: what each key comes to. */
export const byKey = (all: Histories): ReadonlyMap<string, unknown> =>
  new Map(all.visits.map(v => [v.key, all.of(v.key)]))
