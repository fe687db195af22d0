import { sub, toNumber } from '../music/fraction.ts'
import { compareTempo, type Tempo, tempoRatio } from '../music/tempo.ts'
import type { Measure, TempoMark } from './score.ts'

/** Steps no further apart than this many measures belong together. */
const NEAR = 2.1
/** A metronome mark alone, without a heading, is a step too where it is one of several and this small. */
const PRINTED_STEP = 0.09
const FEWEST_PRINTED = 3
/** A step that is smaller, without a word beside it, is none that a musician plays. */
const SMALL = 0.04
const FEWEST = 2

/**
 * Steps that only playback takes: two or more in one direction close together become one slide from the tempo before,
 * and a single small one is left out. `spoken` says whether a word about the tempo stands there.
 */
export const withoutSteps = (
  line: readonly TempoMark[],
  measures: readonly Measure[],
  spoken: (m: TempoMark) => boolean,
  heads: (m: TempoMark) => boolean,
): readonly TempoMark[] => {
  const small = (a: Tempo, b: Tempo) => Math.abs(tempoRatio(a, b) - 1) <= PRINTED_STEP
  const step = (m: TempoMark, tempo: Tempo, before: Tempo): boolean =>
    !m.printed || (m.from === 'mark' && !heads(m) && small(tempo, before))

  const out: TempoMark[] = []
  let running: Tempo | null = null
  const close = (a: TempoMark, b: TempoMark): boolean => {
    const length = toNumber((measures[a.measure] as Measure).length)
    return toNumber(sub(b.at, a.at)) <= NEAR * Math.max(length, 1 / 4)
  }
  for (let i = 0; i < line.length; i++) {
    const mark = line[i] as TempoMark
    if (!mark.tempo || !running || !step(mark, mark.tempo, running)) {
      out.push(mark)
      running = mark.tempo ?? running
      continue
    }
    const before: Tempo = running
    const direction = compareTempo(mark.tempo, before)
    let k = i
    // Equal tempos make no slide, however many there are.
    for (let next = line[k + 1]; direction !== 0 && next?.tempo; next = line[k + 1]) {
      const here = line[k] as TempoMark
      const tempo = here.tempo as Tempo
      if (
        !step(next, next.tempo, tempo) ||
        !close(here, next) ||
        compareTempo(next.tempo, tempo) !== direction
      )
        break
      k++
    }
    const last = line[k] as TempoMark
    const printed = line.slice(i, k + 1).some(m => m.printed)
    if (direction !== 0 && k - i + 1 >= (printed ? FEWEST_PRINTED : FEWEST)) {
      out.push({ ...mark, tempo: before, ramp: true }, last)
      i = k
      running = last.tempo
    } else if (mark.printed || spoken(mark) || Math.abs(tempoRatio(mark.tempo, before) - 1) > SMALL) {
      out.push(mark)
      running = mark.tempo
    }
  }
  return out
}
