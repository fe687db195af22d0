import type { Beat } from '../click/program.ts'

/** How the mark of the beat moves: on between the beats, from beat to beat, or not at all. */
export const MOTIONS = ['glide', 'step', 'still'] as const
export type Motion = (typeof MOTIONS)[number]

/**
 * WCAG 2.2, success criterion 2.3.1: nothing flashes more than three times in any second. A flash is a pair of opposing
 * changes; held here for every cell, however small the area.
 */
const FLASHES = 3

/** Whether in any second there are at most so many of these moments; frames, in order. */
const atMost = (frames: readonly number[], most: number, rate: number): boolean =>
  frames.every((f, i) => (frames[i + most] ?? Infinity) - f >= rate)

/** Where the measures of a program begin. */
const measureStarts = (beats: readonly Beat[]): readonly number[] =>
  beats.filter((b, i) => b.measure !== beats[i - 1]?.measure).map(b => b.frame)

/** Within a beat, at least; as many again where there is time for them. */
const PLACES = 8

/** Milliseconds until the mark stands elsewhere; `end` = the written end. */
export const placeLasts = (beats: readonly Beat[], frame: number, end: number, rate: number): number => {
  const i = beats.findLastIndex(b => b.frame <= frame)
  const here = beats[i]
  if (!here) return 60
  const lasts = (((beats[i + 1]?.frame ?? end) - here.frame) * 1000) / rate
  return Math.max(16, Math.min(60, lasts / PLACES))
}

/** What moves of a beat: the mark in its row, and the number of the beat. */
type Moves = { readonly mark: Motion; readonly number: boolean }

const known = new WeakMap<readonly Beat[], { readonly mark: boolean; readonly number: boolean }>()

/**
 * What may move over these beats. The mark is at each place of its row once a measure: one flash. A number that is
 * replaced at each beat may light the same cell at every second one: two changes, one flash.
 */
export const moves = (wanted: Motion, beats: readonly Beat[], rate: number): Moves => {
  const slow = known.get(beats) ?? {
    mark: atMost(measureStarts(beats), FLASHES, rate),
    number: atMost(
      beats.map(b => b.frame),
      2 * FLASHES,
      rate,
    ),
  }
  known.set(beats, slow)
  return { mark: slow.mark ? wanted : 'still', number: slow.number && wanted !== 'still' }
}
