import type { Tempo } from '../../music/tempo.ts'
import type { Load } from '../../plan/load.ts'
import { manyWords, someWords, wayWords } from './words.ts'

/** A way out where it is too much for the days that are left, and what it changes. */
export type Way = {
  readonly text: string
  readonly does:
    | { readonly k: 'minutes'; readonly minutes: number }
    | { readonly k: 'lower'; readonly share: number }
    | { readonly k: 'some' }
    | { readonly k: 'later' }
}

type Named = (o: { readonly key: string; readonly label: string }) => string

const whole = (t: Tempo): number => Math.round(t.bpm.n / t.bpm.d)

/** The ways out, each with its number; none where it is not too much. */
export const waysOf = (load: Load | null, named: Named): readonly Way[] => {
  if (!load?.offers) return []
  const { minutes, share, ready, lower } = load.offers
  return [
    ...(minutes === null
      ? []
      : [{ text: wayWords.minutes(minutes), does: { k: 'minutes', minutes } as const }]),
    { text: wayWords.lower(Math.floor(share * 100)), does: { k: 'lower', share } },
    {
      text: someWords(
        ready.map(r => named(r)),
        lower.map(l => manyWords(named(l), whole(l.tempo))),
      ),
      does: { k: 'some' },
    },
    { text: wayWords.later, does: { k: 'later' } },
  ]
}
