import { measures } from '../music/form.ts'
import { add, compare, min } from '../music/fraction.ts'
import { measureName, placeAt } from '../music/place.ts'
import { beatAt } from '../music/sections.ts'
import type { Tempo } from '../music/tempo.ts'
import { musicOf } from '../repertoire/ladder-of.ts'
import type { Done, Suggestions } from '../screens/practice/offers.ts'
import type { Stretch } from '../screens/reading/marks.ts'
import type { Settings } from '../store/settings.ts'
import { type Offer, offerFor, offerText, withReached } from '../visit/joining.ts'
import type { Session } from '../visit/session.ts'
import type { Target } from '../visit/subject.ts'
import { breathOffer } from './breath-offer.ts'
import type { Context } from './context.ts'
import { type Practiced, todayOf } from './now.ts'
import {
  JOINS_ARE_LINES,
  NO_SECTIONS,
  NOT_JOINED_YET,
  SAVE_FIRST,
  sectionMade,
  sectionThere,
  stoppedThrice,
} from './words.ts'

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
