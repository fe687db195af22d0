import { longestAir } from '../click/air.ts'
import { type ClickHere, clickAt } from '../click/by-tempo.ts'
import { inLegs } from '../click/legs.ts'
import type { Role } from '../click/program.ts'
import { tempoMap } from '../click/tempo-map.ts'
import { playedForm } from '../music/changes.ts'
import { type Form, type Measure, measures } from '../music/form.ts'
import { measureLength } from '../music/meter.ts'
import { letterBehind, measureName, measureWords } from '../music/place.ts'
import { sameTempo, type Tempo } from '../music/tempo.ts'
import { rungOf, type Session, type Setup, type Sounding } from './session.ts'

/** Length of the last measure at a tempo, in seconds: the gap when the music goes on by itself. */
const measureSeconds = (s: Session, tempo: Tempo): number => {
  const bar = measures(s.setup.form).at(-1) as Measure
  return tempoMap(s.setup.form, tempo, 1).lasting(measureLength(bar.meter), bar.from)
}

/** Signals begin this long after the rest does and follow each other at this distance. Seconds. */
const FIRST_SIGNAL = 0.12
const SIGNAL_EVERY = 0.16

/** The passage as it is played at a tempo. */
export const formAt = (
  { form, goal, rhythm }: Pick<Setup, 'form' | 'goal' | 'rhythm'>,
  tempo: Tempo,
): Form => (rhythm ? form : playedForm(form, tempo, goal))

/** How the rung at a tempo is clicked. */
export const clickOf = ({ click, form, goal }: Pick<Setup, 'click' | 'form' | 'goal'>, t: Tempo): ClickHere =>
  clickAt(click, form, t, goal)

/** The next take at the ladder's rung. `rest` in seconds; none = the count-in begins at once. */
export const soundingOf = (
  s: Session,
  rest: number,
  signals: readonly Role[],
  firstSignal = FIRST_SIGNAL,
): Sounding => {
  const tempo = rungOf(s.ladder)
  const again = rest > 0 && s.current !== null && sameTempo(s.current.tempo, tempo)
  const longer = rest > 0 && s.setup.after === 'go-on'
  const played = formAt(s.setup, tempo)
  const legs = inLegs(played, tempo, {
    ...clickOf(s.setup, tempo),
    again,
    rest: longer ? Math.max(rest, measureSeconds(s, tempo)) : rest,
    signals: signals.map((role, i) => ({ role, after: firstSignal + i * SIGNAL_EVERY })),
    rate: s.setup.rate,
  })
  const waits = legs.length > 1 ? { legs: { all: legs, at: 0, held: false } } : {}
  return {
    rep: s.reps + 1,
    tempo,
    ...(s.setup.air ? { air: longestAir(played, tempo).seconds } : {}),
    program: legs[0],
    ...waits,
    entered: false,
    over: false,
    verdict: null,
  }
}

/** What a measure of the form (0 = the pick-up) is called in the part: "47", beside a rehearsal mark "47 (C+4)". */
export const numberOf = (setup: Setup, measure: number): string => {
  const index = measures(setup.form).findIndex(m => m.number === measure)
  if (!(index in setup.numbers)) return String(measure)
  return measureWords(setup.numbers, index) + letterBehind(setup.beside, measureName(setup.numbers, index))
}

/** Seconds of rest after a clean repetition, and after one that was not; between short ones never less than a breath. */
export const REST = { clean: 2, slip: 4 } as const
const BREATH = 1

/**
 * Seconds between a verdict and the count-in: as usual, but no longer than half the music takes, the count-in after a clean
 * one among it. With `asLong` as long as the whole repetition that was played, silence
 * and count-in together: the lip recovers. Common practice among brass players, no source.
 */
export const restAfter = (
  { rest, rate }: Setup,
  take: Sounding | null,
  clean: boolean,
  whole: boolean,
): number => {
  const usual = clean ? rest.clean : rest.slip
  if (!take) return usual
  // How long a note was held at a mark that waits is left out.
  const legs = take.legs?.all ?? [take.program]
  const [{ firstNote, segments }] = legs
  const counted = firstNote - (segments.find(x => x.kind === 'countIn')?.frame ?? 0)
  const music = legs.reduce((sum, p) => sum + p.end - p.firstNote, 0)
  if (rest.asLong && whole) return Math.max(usual, (music - counted) / rate)
  return Math.max(BREATH, Math.min(usual, (music / 2 - (clean ? counted : 0)) / rate))
}
