import { noteValueName } from '../../music/note-value.ts'
import { sentence } from '../../music/result.ts'
import { parseTempo } from '../../music/tempo.ts'
import type { Wrong } from '../../repertoire/note.ts'
import { judge, type Pedal } from '../../visit/pedal-table.ts'
import { rungOf, type Session, type Action as VisitAction } from '../../visit/session.ts'
import { type FootAt, footStep } from '../choosing.ts'
import type { Command, Open } from './key-table.ts'
import type { How } from './leaving.ts'
import { type Choice, type ChoosingAt, choicesOf, type Next, type Offers, offerOf } from './offers.ts'
import { asksWhat, NOTHING_ASKED, UNKNOWN_KEY } from './words.ts'

export type State = ChoosingAt & {
  /** Digits of a tempo that is being typed. */
  readonly typing: string
  readonly how: How
  /** Where the foot stands among the choices, and since when. Monotonic ms. */
  readonly choice: FootAt
  /** What was last said of what went wrong, so that the same key takes it back. */
  readonly said: { readonly index: number; readonly text: string }
  readonly wrongs: readonly Wrong[] | null
}

export type Action =
  | Exclude<Command, { kind: 'digit' | 'louder' }>
  | { readonly kind: 'digit'; readonly text: string }
  | { readonly kind: 'session'; readonly session: Session; readonly at: number }
  /** A pedal where something is to be chosen by one, or is offered to two. */
  | { readonly kind: 'foot'; readonly pedal: Pedal; readonly at: number; readonly offers: Offers }
  | { readonly kind: 'unknown' }
  /** The visit ends for what comes next. */
  | { readonly kind: 'go'; readonly next: Next }
  | { readonly kind: 'noted'; readonly index: number; readonly text: string }
  | {
      readonly kind: 'ended'
      readonly lines: readonly string[]
      readonly joins: boolean
      readonly how: How
      readonly at: number
    }
  | { readonly kind: 'close'; readonly quit: boolean }

export type Effect =
  | { readonly kind: 'visit'; readonly action: VisitAction }
  | { readonly kind: 'wrong'; readonly index: number; readonly what: Wrong }
  | { readonly kind: 'lock' | 'yes' | 'join' | 'ending' | 'leave' }
  | { readonly kind: 'next'; readonly what: Command & { kind: 'next' } }

type Step = { readonly state: State; readonly effects: readonly Effect[] }

const only = (state: State, ...effects: Effect[]): Step => ({ state, effects })
const visit = (action: VisitAction): Effect => ({ kind: 'visit', action })

export const openOf = (s: State): Open =>
  s.ended ? 'closing' : s.typing !== '' ? 'typing' : s.session.setup.ends ? 'apart' : 'ladder'

/** A tempo typed by hand, in the note value of the ladder; or the sentence that says why not. */
const byHand = (s: Session, typed: string): VisitAction => {
  const unit = s.ladder.rungs[0]?.unit
  const read = parseTempo(unit ? `${noteValueName(unit)}=${typed}` : typed, 'tempo by hand')
  return read.ok ? { kind: 'tempo', to: read.value } : { kind: 'refuse', text: sentence(read.problem) }
}

/** Two pedals: one takes what is offered, the other goes on without it. */
const takenOrLeft = (s: State, pedal: Pedal, offer: Choice): Step => {
  if (judge('offered', pedal, 2) === 'take') return reduce(s, offer.does as Action)
  if (pedal === 'both') return only(s)
  if (s.ended) return only(s, { kind: 'leave' })
  const passed = [...s.passed, offer.text]
  return only({ ...s, passed }, visit({ kind: 'pedal', pedal, frame: null }))
}

const foot = (s: State, { pedal, at, offers: o }: Action & { kind: 'foot' }): Step => {
  const offer = offerOf(s, o)
  if (offer) return takenOrLeft(s, pedal, offer)
  if (pedal === 'both') return only(s)
  const choices = choicesOf(s, o)
  const { choice, takes } = footStep(s.choice, choices.length, at)
  if (takes === null) return only({ ...s, choice })
  const chosen = choices[takes]
  return chosen ? reduce({ ...s, choice }, chosen.does as Action) : only(s)
}

/** Ends the visit; what is not yet judged is noted first. */
const finish = (s: State, how: How): Step => only({ ...s, how }, visit({ kind: 'finish' }))

const wrong = (s: State, index: number): Step => {
  const { note } = s.session
  const again = index === s.said.index && note.kind === 'refused' && note.text === s.said.text
  const what = asksWhat(note) || again ? s.wrongs?.[index] : undefined
  return what
    ? only(s, { kind: 'wrong', index, what })
    : only(s, visit({ kind: 'refuse', text: NOTHING_ASKED }))
}

const seen = (s: State, session: Session, at: number): Step => {
  const came = session.phase !== s.session.phase || session.asks !== s.session.asks
  const { kind } = session.note
  const isNew = session.note !== s.session.note && (kind === 'place' || kind === 'suggest')
  const now: State = {
    ...s,
    session,
    ...(isNew ? { passed: [] } : {}),
    ...(came ? { choice: { at: 0, since: at } } : {}),
  }
  return session.phase === 'done' && !s.ended
    ? only({ ...now, ended: { lines: [], joins: false } }, { kind: 'ending' })
    : only(now)
}

/** The practice screen's next state, and what is to be done beside it. The visit itself has its own. */
export const reduce = (s: State, a: Action): Step => {
  switch (a.kind) {
    case 'session':
      return seen(s, a.session, a.at)
    case 'foot':
      return foot(s, a)
    case 'visit':
      return only(s, visit(a.action))
    case 'digit':
      return only({ ...s, typing: (s.typing + a.text).slice(0, 7) })
    case 'erase':
      return only({ ...s, typing: s.typing.slice(0, -1) })
    case 'drop':
      return only({ ...s, typing: '' })
    case 'enter':
      return only({ ...s, typing: '' }, visit(byHand(s.session, s.typing)))
    case 'lock':
      return only({ ...s, typing: '' }, { kind: 'lock' })
    case 'finish':
      return finish(s, { quit: false, left: true })
    case 'quit':
      return finish(s, { quit: true, left: true })
    case 'join':
      if (!s.ended) return only(s, { kind: 'join' })
      return only(
        { ...s, how: { ...s.how, next: { kind: 'join', rung: rungOf(s.session.ladder) } } },
        { kind: 'leave' },
      )
    case 'go':
      return finish(s, { quit: false, left: false, next: a.next })
    case 'yes':
      return only(s, { kind: 'yes' })
    case 'next':
      return only(s, { kind: 'next', what: a })
    case 'wrong':
      return wrong(s, a.index)
    case 'noted':
      return only({ ...s, said: { index: a.index, text: a.text } }, visit({ kind: 'refuse', text: a.text }))
    case 'unknown':
      return only(s, visit({ kind: 'refuse', text: UNKNOWN_KEY }))
    case 'ended':
      return only({
        ...s,
        how: a.how,
        ended: { lines: a.lines, joins: a.joins },
        choice: { at: 0, since: a.at },
      })
    case 'close':
      return only(a.quit ? { ...s, how: { ...s.how, quit: true } } : s, { kind: 'leave' })
  }
}
