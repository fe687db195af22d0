import { type Endless, endless, type Steady } from '../../click/endless.ts'
import { beatsOf, type Program } from '../../click/program.ts'
import type { Sound } from '../../sound/sound.ts'
import type { Timing } from '../desk.ts'
import type { Heard } from '../spread.ts'

/** A program is at least so long, that no beginning is overtaken by the next one. Seconds. */
const SHORTEST = 0.6
/** So much is always queued behind the program that is being handed over: the screen may be held up so long. Milliseconds. */
const AHEAD = 4000
/** A program that is handed over sooner than this is no longer replaced: word of it may be under way. Milliseconds. */
const MARGIN = 250
/** Programs behind the present one whose times are still of use. */
const REMEMBERED = 4

type Item = {
  readonly id: number
  readonly program: Program
  readonly click: Steady
  readonly source: Endless
  /** Index of the measure behind it; 0 = it is the count-in. */
  readonly next: number
  /** When its first frame was handed over; null = not yet. Monotonic ms. */
  handed: number | null
}

/** What is heard: the click that was asked for, and the frame of its program. */
export type HeardClick = Heard & { readonly click: Steady }

export type Feed = {
  readonly start: (click: Steady, countIn: number) => void
  /** Another click from the next bar line on; in the count-in, or before anything sounds, everything begins anew. */
  readonly change: (click: Steady) => void
  readonly stop: () => void
  readonly heard: () => HeardClick | null
  readonly close: () => void
}

const milliseconds = (p: Program): number => (p.frames * 1000) / p.rate

/**
 * Keeps an endless click sounding: programs of some measures, one queued behind the other whenever one begins.
 * `beat` is called at each beat that is heard and when the click changes.
 */
export const feed = (o: {
  readonly sound: Sound
  readonly timing: Timing
  readonly rate: number
  readonly beat: () => void
}): Feed => {
  const { sound, timing, rate } = o
  let items: Item[] = []
  let counts = 0
  let cancel = (): void => {}

  /** Queues measures from an index on, `from` null = the count-in. */
  const lay = (click: Steady, source: Endless, from: number | null, after: 'now' | number): void => {
    const count = Math.max(1, Math.ceil(SHORTEST / source.seconds))
    const counted = from === null ? source.countIn(counts) : null
    const program = counted ?? source.measures(from ?? 0, count)
    const next = counted ? 0 : (from ?? 0) + count
    items.push({ id: sound.play(program, after), program, click, source, next, handed: null })
  }
  /** Queues until enough lies behind the program that is being handed over. */
  const fill = (): void => {
    const begun = items.findLastIndex(i => i.handed !== null)
    items = items.slice(Math.max(0, begun - REMEMBERED))
    let ahead = items.filter(i => i.handed === null).reduce((s, i) => s + milliseconds(i.program), 0)
    for (let last = items.at(-1); last && ahead < AHEAD; last = items.at(-1)) {
      lay(last.click, last.source, last.next, last.id)
      ahead += milliseconds((items.at(-1) as Item).program)
    }
    watch()
  }
  const begin = (click: Steady): void => {
    items = []
    lay(click, endless(click, rate, 0), null, 'now')
    fill()
  }

  const current = (): { item: Item; frame: number } | null => {
    for (const item of [...items].reverse()) {
      const frame = item.handed === null ? null : sound.frameAt(item.id, timing.now())
      if (frame !== null && frame >= 0) return { item, frame }
    }
    return null
  }

  /** Wakes at the next beat that is heard. */
  const watch = (): void => {
    cancel()
    const now = current()
    const item = now?.item ?? items.find(i => i.handed !== null)
    if (!item) return
    const frame = beatsOf(item.program).find(b => b.frame > (now?.frame ?? -2) + 1)?.frame
    const at = sound.heardAt(item.id, frame ?? item.program.frames)
    if (at === null || (frame === undefined && now && now.frame >= item.program.frames)) return
    cancel = timing.later(Math.max(1, at - timing.now()), () => {
      o.beat()
      watch()
    })
  }

  /** The last program that can't be replaced any more; undefined while nothing has been handed over. */
  const bound = (): Item | undefined => {
    const from = items.findLastIndex(i => i.handed !== null)
    let ends = items[from]?.handed
    if (ends == null) return undefined
    for (const item of items.slice(from)) {
      ends += milliseconds(item.program)
      if (ends > timing.now() + MARGIN) return item
    }
    return items.at(-1)
  }

  const unlisten = sound.on(e => {
    if (e.kind !== 'started') return
    const item = items.find(i => i.id === e.id)
    if (!item) return
    item.handed = timing.now()
    fill()
    o.beat()
  })

  return {
    start: (click, countIn) => {
      counts = countIn
      begin(click)
    },
    change: click => {
      const last = bound()
      if (!last || last.next === 0) return begin(click)
      items = items.slice(0, items.indexOf(last) + 1)
      lay(click, endless(click, rate, last.next), last.next, last.id)
      fill()
    },
    stop: () => {
      cancel()
      items = []
      sound.stop()
    },
    heard: () => {
      const now = current()
      return now && { click: now.item.click, program: now.item.program, frame: now.frame }
    },
    close: () => {
      cancel()
      unlisten()
    },
  }
}
