import type { Levels } from '../../click/voices.ts'
import { noteValueName } from '../../music/note-value.ts'
import { sentence } from '../../music/result.ts'
import { parseTempo } from '../../music/tempo.ts'
import type { Wrong } from '../../repertoire/note.ts'
import { DROPS_TO_SUGGEST } from '../../visit/answer.ts'
import { choosing, judge, type Pedal } from '../../visit/pedal-table.ts'
import { rungOf, type Session, type Action as VisitAction } from '../../visit/session.ts'
import { askedChoices } from '../../visit/slot.ts'
import { louder } from '../loudness.ts'
import type { Command, Open } from './key-table.ts'
import type { How, Left } from './left.ts'
import { asksWhat, CHOICE_WORDS, NOTHING_ASKED, UNKNOWN_KEY } from './words.ts'

/** What is known of the offers beside the ladder, as far as a choice depends on it. */
export type Offers = {
  /** `c` still leads to a cold take. */
  readonly cold: boolean
  /** Something is asked that `y` answers. */
  readonly yes: string
  /** Why `j` leads nowhere; null = it joins. */
  readonly join: string | null
}

export type State = {
  readonly session: Session
  /** Digits of a tempo that is being typed. */
  readonly typing: string
  /** The page of the help that is open. */
  readonly help: number | null
  readonly levels: Levels
  readonly how: How
  /** The closing view; its lines are empty while they are being found. */
  readonly ended: { readonly lines: readonly string[]; readonly joins: boolean } | null
  /** Where the foot stands among the choices, and since when. Monotonic ms. */
  readonly choice: { readonly at: number; readonly since: number }
  /** What two pedals have left of what is offered, until something new comes up. */
  readonly passed: readonly string[]
  /** What was last said of what went wrong, so that the same key takes it back. */
  readonly said: { readonly index: number; readonly text: string }
  readonly wrongs: readonly Wrong[] | null
}

export type Action =
  | Exclude<Command, { kind: 'digit' }>
  | { readonly kind: 'digit'; readonly text: string }
  | { readonly kind: 'session'; readonly session: Session; readonly at: number }
  /** A pedal where something is to be chosen by one, or is offered to two. */
  | { readonly kind: 'foot'; readonly pedal: Pedal; readonly at: number; readonly offers: Offers }
  | { readonly kind: 'page'; readonly pages: number; readonly back: boolean }
  | { readonly kind: 'unknown' }
  /** The visit ends for what comes next. */
  | { readonly kind: 'go'; readonly next: NonNullable<Left['next']> }
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
  | { readonly kind: 'louder'; readonly levels: Levels }
  | { readonly kind: 'wrong'; readonly index: number; readonly what: Wrong }
  | { readonly kind: 'lock' | 'yes' | 'join' | 'ending' | 'leave' }
  | { readonly kind: 'next'; readonly what: Command & { kind: 'next' } }

type Step = { readonly state: State; readonly effects: readonly Effect[] }

const only = (state: State, ...effects: Effect[]): Step => ({ state, effects })
const visit = (action: VisitAction): Effect => ({ kind: 'visit', action })

export const openOf = (s: State): Open =>
  s.ended
    ? 'closing'
    : s.help !== null
      ? 'help'
      : s.typing !== ''
        ? 'typing'
        : s.session.setup.ends
          ? 'apart'
          : 'ladder'

/** A tempo typed by hand, in the note value of the ladder; or the sentence that says why not. */
const byHand = (s: Session, typed: string): VisitAction => {
  const unit = s.ladder.rungs[0]?.unit
  const read = parseTempo(unit ? `${noteValueName(unit)}=${typed}` : typed, 'tempo by hand')
  return read.ok ? { kind: 'tempo', to: read.value } : { kind: 'refuse', text: sentence(read.problem) }
}

/** What comes next at the press of a key, or null where it can't: a cold take only before the first repetition of a day. */
export const nextOf = (
  s: Session,
  { what, other }: Command & { kind: 'next' },
  coldIsOpen: boolean,
): Left['next'] | null =>
  s.setup.rhythm !== null || s.setup.ends || (what === 'cold' && !(coldIsOpen && s.phase === 'ready'))
    ? null
    : { kind: what, rung: rungOf(s.ladder), ...(other ? { other } : {}) }

/** Something that one pedal can choose, and what that does. */
export type Choice = { readonly text: string; readonly does: Command | 'press' | 'more' | 'close' }

/**
 * What the right one of two pedals takes, where an offer stands, nothing else is asked and nothing sounds; the left one
 * leaves it.
 */
export const offerOf = (s: State, o: Offers): Choice | null => {
  const { session: at } = s
  if (at.setup.pedals === 1 || s.help !== null || (s.ended ? !s.ended.joins : at.phase !== 'hold' || at.asks))
    return null
  const W = CHOICE_WORDS
  const round: Command = { kind: 'next', what: 'round' }
  const stuck = at.ladder.drops >= DROPS_TO_SUGGEST && nextOf(at, round, false)
  const all: readonly Choice[] = s.ended
    ? [{ text: W.join, does: { kind: 'join' } }]
    : [
        ...(o.yes === '' ? [] : [{ text: W.yes, does: { kind: 'yes' } as const }]),
        ...(o.join === null ? [{ text: W.join, does: { kind: 'join' } as const }] : []),
        ...(stuck ? [{ text: W.round, does: round }] : []),
      ]
  return all.find(c => !s.passed.includes(c.text)) ?? null
}

/**
 * What one pedal can choose while nothing sounds, the usual thing first; none where a press has one meaning only. Two
 * pedals take or leave what is offered.
 */
export const choicesOf = (s: State, o: Offers): readonly Choice[] => {
  const { session } = s
  if (session.setup.pedals === 2) return []
  const W = CHOICE_WORDS
  if (s.ended)
    return s.ended.joins
      ? [
          { text: W.close, does: 'close' },
          { text: W.join, does: { kind: 'join' } },
        ]
      : []
  if (session.phase === 'hold' && session.asks) {
    const { on, stay } = askedChoices(session.asks, session.slot)
    return [
      { text: on, does: 'press' },
      { text: stay, does: 'more' },
    ]
  }
  const round: Command = { kind: 'next', what: 'round' }
  if (session.phase === 'ready')
    return o.cold
      ? [
          { text: W.start, does: 'press' },
          { text: W.cold, does: { kind: 'next', what: 'cold' } },
        ]
      : []
  if (session.phase !== 'hold') return []
  return [
    { text: W.goOn, does: 'press' },
    ...(o.yes === '' ? [] : [{ text: W.yes, does: { kind: 'yes' } as const }]),
    ...(o.join === null ? [{ text: W.join, does: { kind: 'join' } as const }] : []),
    ...(nextOf(session, round, false) ? [{ text: W.round, does: round }] : []),
    { text: W.finish, does: { kind: 'finish' } },
  ]
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
  const { moment } = choosing(at - s.choice.since)
  if (moment === 'passing' && choices.length > 1)
    return only({ ...s, choice: { at: (s.choice.at + 1) % choices.length, since: at } })
  // After a while the first, which is the usual thing.
  const chosen = moment === 'standing' ? choices[s.choice.at] : choices[0]
  const now: State = { ...s, choice: { at: 0, since: at } }
  if (!chosen) return only(s)
  switch (chosen.does) {
    case 'press':
      return only(now, visit({ kind: 'pedal', pedal: 'right', frame: null }))
    case 'more':
      return only(now, visit({ kind: 'wait' }))
    case 'close':
      return only(now, { kind: 'leave' })
    default:
      return reduce(now, chosen.does as Action)
  }
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
    ? only({ ...now, help: null, ended: { lines: [], joins: false } }, { kind: 'ending' })
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
      return only({ ...s, help: null }, visit(a.action))
    case 'digit':
      return only({ ...s, typing: (s.typing + a.text).slice(0, 7) })
    case 'erase':
      return only({ ...s, typing: s.typing.slice(0, -1) })
    case 'drop':
      return only({ ...s, typing: '' })
    case 'enter':
      return only({ ...s, typing: '' }, visit(byHand(s.session, s.typing)))
    case 'help':
      return only({ ...s, help: 0 })
    case 'page': {
      const at = (s.help ?? 0) + 1
      return only({ ...s, help: a.back || at >= a.pages ? null : at })
    }
    case 'louder': {
      const levels = louder(s.levels, a.by)
      return levels === s.levels ? only(s) : only({ ...s, levels }, { kind: 'louder', levels })
    }
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
