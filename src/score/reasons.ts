import { count } from '../music/words.ts'
import type { MeasureHardness } from './hardness.ts'

/** Pitch classes as they are usually spelled, from C. */
const SPELLED: readonly string[] = ['C', 'C♯', 'D', 'E♭', 'E', 'F', 'F♯', 'G', 'A♭', 'A', 'B♭', 'B']
const noteName = (semitones: number): string => {
  const n = Math.round(semitones)
  return `${SPELLED[((n % 12) + 12) % 12]}${Math.floor(n / 12)}`
}

const INTERVALS: readonly (readonly [number, string])[] = [
  [24, 'leaps over two octaves'],
  [13, 'leaps wider than an octave'],
  [12, 'octave leaps'],
  [10, 'leaps of a seventh'],
  [8, 'leaps of a sixth'],
]

/** From this much on a fact is worth a word. */
const NAMED = 0.35
const MOST_WORDS = 3

/** One line in a musician's words: what is hard in these measures, the most important first. */
export const reasonOf = (run: readonly MeasureHardness[]): string => {
  const most = (of: (m: MeasureHardness) => number): number => Math.max(...run.map(of))
  const sum = (of: (m: MeasureHardness) => number): number => run.reduce((n, m) => n + of(m), 0)
  const quickest = most(m => m.perSecond ?? 0)
  const highest = most(m => m.highest ?? 0)
  const widest = most(m => m.widest)
  const said: readonly (readonly [number, string])[] = [
    [most(m => m.speed), quickest > 0 ? `${quickest.toFixed(quickest < 9.95 ? 1 : 0)} notes a second` : ''],
    [most(m => m.shape), INTERVALS.find(([n]) => widest >= n)?.[1] ?? 'back and forth'],
    [
      most(m => m.accidentals),
      sum(m => m.foreign) > 0
        ? count(
            sum(m => m.foreign),
            'accidental',
          )
        : '',
    ],
    [most(m => m.register), highest > 0 ? `up to ${noteName(highest)}` : ''],
    [most(m => m.rhythm), sum(m => m.syncopations) > 1 ? 'syncopation' : 'changing rhythm'],
    [most(m => m.chords), 'full chords'],
  ]
  return [...said]
    .sort((a, b) => b[0] - a[0])
    .filter(([, text]) => text !== '')
    .filter(([n], i) => i === 0 || n >= NAMED)
    .slice(0, MOST_WORDS)
    .map(([, text]) => text)
    .join(', ')
}
