import type { Body, Event, LadderState } from '../../src/ladder/event.ts'
import { DEFAULT_RULES, type Rules } from '../../src/ladder/rules.ts'
import { frac, toNumber } from '../../src/music/fraction.ts'
import { quarters, type Tempo } from '../../src/music/tempo.ts'

/** What the laws are asked of: the fold of the house, or one with a planted fault. */
export type Ladder = {
  readonly fold: (visit: readonly Event[]) => LadderState | null
  readonly ceilings: (visits: readonly (readonly Event[])[]) => ReadonlyMap<string, Tempo>
}

/** How a visit opens: rungs and first rung in quarters a minute. */
export type Opening = { readonly rungs: readonly number[]; readonly at: number; readonly rules: Rules }

/**
 * What a player does with one repetition or between two:
 * C clean, N not clean, M not clean and cut short, S never answered, I interrupted, V both pedals (unclear),
 * U the latest verdict is taken back, X it is corrected to the opposite, R its line reaches the file twice,
 * ~ a line gets lost; a tempo by hand at rest, or (late) while a repetition runs that is judged afterwards.
 */
type Letter = 'C' | 'N' | 'M' | 'S' | 'I' | 'V' | 'U' | 'X' | 'R' | '~'
export type Action = Letter | { readonly to: number; readonly late?: 'C' | 'N' }

/** Events each once and in order; `written` also holds repeated lines; the state after each action. */
export type Run = {
  readonly events: readonly Event[]
  readonly written: readonly Event[]
  readonly states: readonly LadderState[]
}

export const at = (bpm: number): Tempo => ({ unit: frac(1, 4), bpm: frac(Math.round(bpm * 10), 10) })
export const bpm = (t: Tempo): number => toNumber(quarters(t))
export const tempoNow = (s: LadderState): Tempo => s.rungs[s.at] as Tempo

/** `C C N [112] C`, a tempo by hand in brackets; `[112>C]` while a repetition runs, then its verdict. */
export const script = (text: string): readonly Action[] =>
  [...text.matchAll(/\[(\d+(?:\.\d)?)(?:>([CN]))?\]|([CNMSIVUXR~])|(\S)/g)].map(
    ([, to, late, letter, other]) => {
      if (other !== undefined) throw new Error(`no action: ${other}`)
      if (letter !== undefined) return letter as Letter
      return { to: Number(to), ...(late === undefined ? {} : { late: late as 'C' | 'N' }) }
    },
  )

/** A clock that is often wrong and steps back: no count may depend on it. */
const MINUTES = Array.from({ length: 60 }, (_, m) => new Date(Date.UTC(2031, 4, 7, 9, m)).toISOString())
const label = (n: number): string => MINUTES[(n * 37) % 60] as string

export const numbered = (body: Body, session: string, n: number, visit: string): Event => ({
  ...body,
  id: `${session}-${n}`,
  session,
  n,
  visit,
  time: label(n),
  offset: 120,
})

export const openingBody = (o: Opening, key = 'weir-street/2'): Body => ({
  kind: 'visit',
  key,
  rungs: o.rungs.map(at),
  at: o.at,
  rules: o.rules,
})

const WHY = { S: 'silent', I: 'interrupted', V: 'unclear' } as const

/** Plays a script in front of a small practice screen that folds after every action, as the real one does. */
export const play = (
  ladder: Ladder,
  opening: Opening,
  actions: readonly Action[],
  from: { readonly session: string; readonly n: number; readonly key?: string } = { session: 's', n: 1 },
): Run => {
  const events: Event[] = []
  const written: Event[] = []
  const visit = `${from.session}-${from.n}`
  let [n, rep] = [from.n, 0]
  const write = (body: Body): void => {
    const e = numbered(body, from.session, n++, visit)
    events.push(e)
    written.push(e)
  }
  const judge = (tempo: Tempo, clean: boolean, whole = true, of = ++rep): void =>
    write({ kind: 'verdict', rep: of, tempo, whole, clean })
  const latest = (): (Event & { kind: 'verdict' }) | undefined => {
    const takenBack = new Set(events.flatMap(e => (e.kind === 'takeBack' ? [e.of] : [])))
    return events.findLast(
      (e): e is Event & { kind: 'verdict' } => e.kind === 'verdict' && !takenBack.has(e.id),
    )
  }
  const act = (a: Action, now: LadderState): void => {
    const tempo = tempoNow(now)
    if (typeof a === 'object') {
      write({ kind: 'move', to: at(a.to) })
      if (a.late) judge(tempo, a.late === 'C')
    } else if (a === 'C' || a === 'N') judge(tempo, a === 'C')
    else if (a === 'M') judge(tempo, false, false)
    else if (a === 'S' || a === 'I' || a === 'V') write({ kind: 'unjudged', rep: ++rep, tempo, why: WHY[a] })
    else if (a === 'R') written.push(events.at(-1) as Event)
    else if (a === '~') n++
    else {
      const last = latest()
      // A repetition that was cut cannot become clean.
      if (!last || (a === 'X' && !last.whole)) return
      write({ kind: 'takeBack', of: last.id })
      if (a === 'X') judge(last.tempo, !last.clean, true, last.rep)
    }
  }
  const folded = (): LadderState => {
    const s = ladder.fold(written)
    if (!s) throw new Error('the visit did not open')
    return s
  }
  write(openingBody(opening, from.key))
  const states = [folded()]
  for (const a of actions) {
    act(a, states.at(-1) as LadderState)
    states.push(folded())
  }
  return { events, written, states }
}

export const rules = (other: Partial<Rules> = {}): Rules => ({ ...DEFAULT_RULES, ...other })
