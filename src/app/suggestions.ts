import { type BreathLimit, breathLimit, type MoreBreath, moreBreath } from '../click/air.ts'
import { airOf, longestClean } from '../ladder/history.ts'
import { takenFrom } from '../ladder/key.ts'
import { type Form, measures } from '../music/form.ts'
import { add, compare, equal, type Frac, min, zero } from '../music/fraction.ts'
import { measureName, parsePlace, placeAt, placeWords } from '../music/place.ts'
import { sentence } from '../music/result.ts'
import { beatAt } from '../music/sections.ts'
import type { Tempo } from '../music/tempo.ts'
import { type AirWord, breathes, breathMark } from '../repertoire/breath-advice.ts'
import { musicOf } from '../repertoire/ladder-of.ts'
import { cutPassage, lettersOfPassage, type PassageForm } from '../repertoire/passage-form.ts'
import type { Passage } from '../repertoire/piece.ts'
import type { Done, Suggestions } from '../screens/practice/offers.ts'
import { NOTHING_ASKED as NOTHING } from '../screens/practice/words.ts'
import type { Stretch } from '../screens/reading/marks.ts'
import type { Settings } from '../store/settings.ts'
import { type Offer, offerFor, offerText, withReached } from '../visit/joining.ts'
import { rungOf, type Session } from '../visit/session.ts'
import type { Target } from '../visit/subject.ts'
import type { Context } from './context.ts'
import { airWord } from './instruments.ts'
import { type Practiced, todayOf } from './now.ts'
import {
  breatheAt,
  breathStored,
  breathTooLong,
  JOINS_ARE_LINES,
  NO_SECTIONS,
  NOT_JOINED_YET,
  oneMore,
  SAVE_FIRST,
  sectionMade,
  sectionThere,
  stoppedThrice,
} from './words.ts'

/** Whether the places to breathe are marked in a target, or in the passage from which it is cut. */
export const airIsKnown = (t: Target, s: Pick<Settings, 'instrument'>): boolean =>
  airWord(s) !== null && (breathes(t.form) || (!!t.origin && breathes(musicOf(t.origin.passage).form)))

/** One more breath where the longest stretch at a rung is too long for one. */
const breathOffer = (
  ctx: Context,
  all: Pick<Practiced, 'visits'>,
  t: Target,
  settings: Pick<Settings, 'instrument' | 'breath'>,
) => {
  const word = airWord(settings)
  const known = airIsKnown(t, settings)
  const before = longestClean(all.visits) ?? 0

  const limitOf = (s: Session): BreathLimit | null => {
    const here = takenFrom(t.key).take === 'silent' ? 0 : (airOf(s.events) ?? 0)
    return breathLimit(settings.breath, known ? Math.max(before, here) : null)
  }

  // The screen asks at every beat.
  let last: { form: Form; at: Tempo; limit: number; offer: MoreBreath | null } | null = null
  const offerOf = (s: Session): MoreBreath | null => {
    const limit = word && t.rhythm === null ? limitOf(s) : null
    if (!limit) return null
    const { form } = s.setup
    const at = rungOf(s.ladder)
    if (last?.form !== form || last.at !== at || last.limit !== limit.seconds)
      last = { form, at, limit: limit.seconds, offer: moreBreath({ form, goal: t.goal }, at, limit, t.notes) }
    return last.offer
  }

  /** In the passage that it stands in. */
  const inPassage = (o: MoreBreath, at: Frac, p: Passage, word: AirWord) => {
    const whole = musicOf(p)
    const from = t.origin?.from ?? zero
    const mark = breathMark(o, { form: t.form, whole, from }, word)
    /** Whether it takes the place of a mark that is there. */
    const replaces = (b: NonNullable<Passage['breaths']>[number] | undefined): boolean => {
      const there = b?.kind === 'slow-breath' && o.instead ? parsePlace(b.at, whole) : null
      return there?.ok === true && equal(there.value, add(from, at))
    }
    return {
      place: placeWords(mark?.place ?? '', lettersOfPassage(p)),
      text: mark?.text ?? '',
      replaces,
      below: o.below,
    }
  }

  const line = (s: Session): string => {
    const o = offerOf(s)
    if (!o || !word) return ''
    const { air, limit, below } = o
    const what =
      t.origin && o.at
        ? breatheAt(word, inPassage(o, o.at, t.origin.passage, word).place, below)
        : oneMore(below)
    return `${breathTooLong(word, air.seconds, limit.seconds, limit.said)} ${what}`
  }

  const asks = (s: Session): boolean => !!t.origin && !!offerOf(s)?.at

  const store = async (s: Session): Promise<Done> => {
    const o = offerOf(s)
    const { origin } = t
    if (!o?.at || !word || !origin) return { text: NOTHING }
    const { at } = o
    // What edits a piece is loaded when it is asked for: a visit begins sooner without.
    const [{ changePassage }, { editPiece }, { linesOf }, { aroundOf }] = await Promise.all([
      import('./change-passage.ts'),
      import('../repertoire/edit.ts'),
      import('../repertoire/change-list.ts'),
      import('./edit-piece.ts'),
    ])
    const around = await aroundOf(ctx)
    const stored = await changePassage(ctx, origin.piece, origin.passage.id, (piece, p) => {
      const { text, replaces } = inPassage(o, at, p, word)
      const kept = linesOf('breaths', p).filter((_, i) => !replaces(p.breaths?.[i]))
      const lists = { breaths: [...kept, { text }] }
      return editPiece(piece, { passage: p.id }, { fields: {}, lists }, around)
    })
    if (!stored.ok) return { text: sentence(stored.problem) }
    const passage = stored.value.passages.find(p => p.id === origin.passage.id)
    if (!passage) return { text: NOTHING }
    const whole: PassageForm = musicOf(passage)
    const { form } = cutPassage(whole, origin.from, add(origin.from, t.form.length))
    const { place, below } = inPassage(o, at, passage, word)
    return { form, text: breathStored(word, place, below) }
  }

  return { line, asks, store }
}

type Origin = NonNullable<Target['origin']>

/** From one measure before a measure of the target to its end, over the first beat of the next one. */
const sectionAround = (t: Target, o: Origin, measure: string): Stretch | null => {
  const index = t.numbers.findIndex(
    (_, i) => measureName(t.numbers, i) === measure || t.numbers[i] === measure,
  )
  const bar = measures(t.form)[index]
  if (!bar) return null
  const whole = musicOf(o.passage)
  const bars = measures(whole.form)
  const start = add(o.from, bar.from)
  const at = bars.findLastIndex(m => compare(m.from, start) <= 0)
  const [before, here] = [Math.max(0, at - 1), bars[at]]
  const from = bars[before]?.from
  if (!from || !here) return null
  const to = min(whole.form.length, add(here.to, beatAt(whole.form, here.to)))
  const names = [before, at].map(i => measureName(whole.numbers, i))
  return { name: [...new Set(names)].join('-'), from: placeAt(from, whole), to: placeAt(to, whole) }
}

/** Stores the section around a measure where it was stopped three times. */
const makeSection = async (ctx: Context, t: Target, measure: string): Promise<Done> => {
  const stretch = t.origin && sectionAround(t, t.origin, measure)
  if (!t.origin || !stretch) return { text: SAVE_FIRST }
  const { storeSections } = await import('./change-passage.ts')
  const stored = await storeSections(ctx, t.origin.piece)({ id: t.origin.passage.id }, [stretch])
  if (!stored.ok) return { text: stored.message }
  const [name] = stored.value
  return { text: name === undefined ? sectionThere(stretch) : sectionMade(name, stretch) }
}

/** The offer of a join while one passage is practiced: asked at every change of the screen, found anew only after a rung. */
const offerWithin = (ctx: Context, all: Practiced, t: Target) => {
  const found = (reached: Tempo | null, today: string) => ({
    reached,
    today,
    offer: offerFor(withReached(all, t.key, reached), t, today),
  })
  let last: ReturnType<typeof found> | null = null
  return ({ ladder: { ceiling } }: Session): Offer | null => {
    const today = todayOf(ctx)
    if (last?.today !== today || last.reached !== ceiling) last = found(ceiling, today)
    return last.offer
  }
}

/** What is suggested while a passage, a section or a join is practiced. */
export const suggestions = (ctx: Context, all: Practiced, t: Target, settings: Settings): Suggestions => {
  const offer = offerWithin(ctx, all, t)
  const breath = breathOffer(ctx, all, t, settings)
  return {
    line: s => {
      const now = offer(s)
      return breath.line(s) || (now ? `${offerText(now)}: j` : '')
    },
    stuck: measure => stoppedThrice(measure, !!t.origin),
    asks: breath.asks,
    join: s => {
      if (offer(s)) return null
      return t.origin?.passage.sections === undefined ? NO_SECTIONS : NOT_JOINED_YET
    },
    yes: (s, stuck) => (stuck === null ? breath.store(s) : makeSection(ctx, t, stuck)),
  }
}

/** The same within the plan of a day, where joins are lines of their own. */
export const suggestionsInDay = (
  ctx: Context,
  all: Practiced,
  t: Target,
  settings: Settings,
): Suggestions => ({
  ...suggestions(ctx, all, t, settings),
  line: breathOffer(ctx, all, t, settings).line,
  join: () => JOINS_ARE_LINES,
})
