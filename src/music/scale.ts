/**
 * The traditional tempo scale: 39 marks from 40 to 208 beats a minute, about 4 % apart. Not a standard; a custom.
 * Source: the list in "Metronome 'Scale'", Horn mailing list, University of Memphis, May 2009; checked in
 * tests/outside.
 */
export const MARKS: readonly number[] = [
  40, 42, 44, 46, 48, 50, 52, 54, 56, 58, 60, 63, 66, 69, 72, 76, 80, 84, 88, 92, 96, 100, 104, 108, 112, 116,
  120, 126, 132, 138, 144, 152, 160, 168, 176, 184, 192, 200, 208,
]

const UPPER = MARKS.filter(m => m > 104)

/** The scale carried on for any tempo: steps of 2 below 40; above 208 the marks above 104 doubled, and doubled again. */
export const EXTENDED_MARKS: readonly number[] = [
  ...Array.from({ length: 19 }, (_, i) => 2 + 2 * i),
  ...MARKS,
  ...[2, 4, 8].flatMap(by => UPPER.map(m => m * by)).filter(m => m <= 999),
]

/** Highest mark at or below a number of beats a minute (2 at least). */
export const markAtOrBelow = (bpm: number): number => EXTENDED_MARKS.findLast(m => m <= bpm) ?? 2

/** The mark nearest to a number of beats a minute, by ratio. */
export const nearestMark = (bpm: number): number =>
  EXTENDED_MARKS.reduce(
    (best, m) => (Math.abs(Math.log(m / bpm)) < Math.abs(Math.log(best / bpm)) ? m : best),
    2,
  )
