import { type BreathLimit, breathLimit, type MoreBreath, moreBreath } from '../click/air.ts'
import { airOf, longestClean } from '../ladder/air.ts'
import { takenFrom } from '../ladder/key.ts'
import type { Form } from '../music/form.ts'
import { add, equal, type Frac, zero } from '../music/fraction.ts'
import { parsePlace, placeWords } from '../music/place.ts'
import type { Tempo } from '../music/tempo.ts'
import { type AirWord, breathes, breathMark } from '../repertoire/breath-advice.ts'
import { musicOf } from '../repertoire/ladder-of.ts'
import { cutPassage, lettersOfPassage, type PassageForm } from '../repertoire/passage-form.ts'
import type { Passage } from '../repertoire/piece.ts'
import type { Done } from '../screens/practice/offers.ts'
import { NOTHING_ASKED as NOTHING } from '../screens/practice/words.ts'
import type { Settings } from '../store/settings.ts'
import { rungOf, type Session } from '../visit/session.ts'
import type { Target } from '../visit/subject.ts'
import type { Context } from './context.ts'
import { airWord } from './instruments.ts'
import type { Practiced } from './now.ts'
import { breatheAt, breathStored, breathTooLong, oneMore } from './words.ts'

/** Whether the places to breathe are marked in a target, or in the passage from which it is cut. */
export const airIsKnown = (t: Target, s: Pick<Settings, 'instrument'>): boolean =>
  airWord(s) !== null && (breathes(t.form) || (!!t.origin && breathes(musicOf(t.origin.passage).form)))

/** One more breath where the longest stretch at a rung is too long for one. */
export const breathOffer = (
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
    if (!stored.ok) return { text: stored.message }
    const passage = stored.value.passages.find(p => p.id === origin.passage.id)
    if (!passage) return { text: NOTHING }
    const whole: PassageForm = musicOf(passage)
    const { form } = cutPassage(whole, origin.from, add(origin.from, t.form.length))
    const { place, below } = inPassage(o, at, passage, word)
    return { form, text: breathStored(word, place, below) }
  }

  return { line, asks, store }
}
