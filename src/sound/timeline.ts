import type { Placed, Program } from '../click/program.ts'
import { LONGEST } from '../click/voices.ts'
import { framesOf } from './stream.ts'

/** A program never begins nearer than this behind a cut: the ear needs the silence to hear a new beginning. Frames. */
export const CUT_GAP = framesOf(20)
/** A finished program stays this long, so that its last voice rings out (the longest lasts 0.4 s). Frames. */
const RING = framesOf(500)
/** No sound of an onset is longer. Frames. */
const VOICE = framesOf(1000 * LONGEST)

/** The stream of one sound process. Programs follow each other and never overlap. */
export type Timeline = {
  /** First frame not yet handed over. */
  readonly next: number
  /** In order of `at`. */
  readonly items: readonly Placed[]
  /** The highest id seen. */
  readonly last: number
}

/** What the parent is told. `cut.frame` counts from the program's start, 0 = it never began. */
export type Happening =
  | { readonly kind: 'started'; readonly id: number; readonly frame: number }
  | { readonly kind: 'cut'; readonly id: number; readonly frame: number }
  | { readonly kind: 'ended'; readonly id: number }

export type TimelineStep = { readonly timeline: Timeline; readonly happened: readonly Happening[] }

export const emptyTimeline: Timeline = { next: 0, items: [], last: 0 }

/** First frame after the program, or the frame of its cut. */
const endOf = (p: Placed): number => p.cut ?? p.at + p.program.frames

/** Cuts at the first frame not yet handed over; a program that has not begun goes away; a finished one rings out. */
const cutAll = (next: number, items: readonly Placed[]): { items: Placed[]; happened: Happening[] } => {
  const left: Placed[] = []
  const happened: Happening[] = []
  for (const p of items) {
    if (endOf(p) <= next) left.push(p)
    else {
      if (p.at < next) left.push({ ...p, cut: next })
      happened.push({ kind: 'cut', id: p.id, frame: Math.max(0, next - p.at) })
    }
  }
  return { items: left, happened }
}

/** Cuts what sounds and forgets what is queued. */
export const stop = (t: Timeline): TimelineStep => {
  const { items, happened } = cutAll(t.next, t.items)
  return { timeline: { ...t, items }, happened }
}

/**
 * Places a program: after another one exactly where that one ends, or now. Whatever lay behind the named program is
 * replaced (cut, or forgotten if it had not begun); `now`, or a program that is no longer there, replaces everything.
 * An id that is not above all earlier ones is dropped.
 */
export const place = (t: Timeline, id: number, program: Program, after: 'now' | number): TimelineStep => {
  if (id <= t.last) return { timeline: t, happened: [] }
  const split = t.items.findIndex(p => p.id === after) + 1
  const kept = t.items.slice(0, split)
  const behind = cutAll(t.next, t.items.slice(split))
  const items = [...kept, ...behind.items]
  const at = items.reduce((f, p) => Math.max(f, endOf(p) + (p.cut === undefined ? 0 : CUT_GAP)), t.next)
  return {
    timeline: { ...t, items: [...items, { id, at, program }], last: id },
    happened: behind.happened,
  }
}

/**
 * Programs that another stream has begun go on in this one, each directly behind the one before; the first one's frame 0
 * lies at frame `at`, which may be past, or before the stream.
 */
export const join = (
  t: Timeline,
  programs: readonly { readonly id: number; readonly program: Program }[],
  at: number,
): TimelineStep => {
  const placed: Placed[] = []
  let next = at
  for (const { id, program } of programs) {
    placed.push({ id, at: next, program })
    next += program.frames
  }
  const happened = placed.flatMap((p): Happening[] =>
    p.at >= t.next
      ? []
      : [
          { kind: 'started', id: p.id, frame: p.at },
          ...(endOf(p) <= t.next ? [{ kind: 'ended', id: p.id } as const] : []),
        ],
  )
  const items = [...t.items, ...placed.filter(p => endOf(p) + RING > t.next)]
  return { timeline: { ...t, items, last: Math.max(t.last, ...placed.map(p => p.id)) }, happened }
}

/** Does nothing sound in the frames from `from` to `to`, as far as is known now? */
export const silentIn = (t: Timeline, from: number, to: number): boolean =>
  t.items.every(p => {
    const end = Math.min(to, p.cut ?? to)
    const { onsets, tone } = p.program
    if (tone && p.at + tone.from < end && p.at + tone.to > from) return false
    return !onsets.some(o => p.at + o.frame < end && p.at + o.frame + VOICE > from)
  })

/** The next `frames` frames have gone to the output. */
export const handOver = (t: Timeline, frames: number): TimelineStep => {
  const next = t.next + frames
  const happened: Happening[] = []
  for (const p of t.items) {
    if (p.at >= t.next && p.at < next) happened.push({ kind: 'started', id: p.id, frame: p.at })
    if (p.cut === undefined && endOf(p) > t.next && endOf(p) <= next)
      happened.push({ kind: 'ended', id: p.id })
  }
  return { timeline: { ...t, next, items: t.items.filter(p => endOf(p) + RING > next) }, happened }
}
