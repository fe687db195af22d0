import type { TakeKind } from '../ladder/key.ts'
import { openingOf } from '../ladder/standing.ts'
import { attemptLater, given, type Result } from '../music/result.ts'
import { clickFor, type Rhythm } from '../music/rhythm.ts'
import { compareTempo, type Tempo } from '../music/tempo.ts'
import type { Left } from '../screens/practice/leaving.ts'
import { RATE } from '../sound/stream.ts'
import { altered, fits } from '../visit/altered.ts'
import { fastAfter } from '../visit/fast.ts'
import { joiningOf, type Offer, offerFor } from '../visit/joining.ts'
import type { Setup } from '../visit/session.ts'
import type { Target } from '../visit/subject.ts'
import { checkEnd, type End, takeOf } from '../visit/takes.ts'
import type { Context } from './context.ts'
import { instantOf, type Now, todayOf } from './now.ts'
import type { Manner } from './preferences.ts'
import { rhythmNamed, usualRhythms } from './presets.ts'
import { inPracticeRoom, type PracticeRoom, type Stage } from './room.ts'
import { play, type Slot, type ToPlay, type Visited } from './sitting.ts'
import { airIsKnown } from './suggestions.ts'

/** One rhythm of a round: two clean ones or four tries at one tempo. */
const ROUND = { clean: 2, tries: 4 }

const setupOf = (room: PracticeRoom, target: Target): Setup => {
  const all = room.practiced()
  const { key, form, numbers, beside, open, goal, top, rhythm, click, longRests, fast, rules } = target
  const opening = room.need(openingOf(target, all, instantOf(room.ctx)))
  const settings = room.settings.now()
  return {
    ...given({ key, form, numbers, beside, open, goal, top, rhythm, click, longRests }),
    opening: {
      rungs: opening.rungs,
      at: opening.at,
      rules: { ...rules, ...(opening.find && { find: true }) },
    },
    ceiling: all.of(key)?.ceiling ?? null,
    ...(fast && { fast }),
    ...(airIsKnown(target, settings) && { air: true as const }),
    pedals: settings.pedals,
    after: room.after,
    rest: room.rest,
    rate: RATE,
  }
}

/** The ladder of a visit ends at a tempo, or where it begins, short of the goal. */
const cappedAt = (s: Setup, top: Tempo | null): Setup => {
  const { rungs, at, rules } = s.opening
  if (top === null || rules.find) return s
  const low = rungs.filter((t, i) => i <= at || compareTempo(t, top) <= 0)
  return low.length === rungs.length
    ? s
    : { ...s, opening: { rungs: low, at, rules: { ...rules, capped: true } } }
}

/** A few repetitions at one tempo: until so many are clean, or tried. */
const atOnce = (setup: Setup, tempo: Tempo, ends: NonNullable<Setup['ends']>): Setup => {
  const rules = { up: { kind: 'row', n: ends.clean }, slips: 0, top: ends.clean } as const
  return { ...setup, opening: { rungs: [tempo], at: 0, rules }, ends }
}

/** The same music in a rhythm, at the click at which its quick notes run as the even ones did. */
const roundPart = (room: PracticeRoom, even: Target, rung: Tempo, r: Rhythm): ToPlay => {
  const target = room.need(altered(even, r))
  const setup = setupOf(room, { ...target, fast: null })
  return { target, short: true, setup: atOnce(setup, clickFor(rung, r), ROUND) }
}

/** One repetition apart from the ladder: its key, music, click and tempo are those of the take. */
const takePart = (
  room: PracticeRoom,
  target: Target,
  kind: TakeKind,
  rung: Tempo | null,
  end: End,
): ToPlay => {
  const all = room.practiced()
  const take = takeOf(kind, target, all, rung, end)
  const { longRests, ...alone } = setupOf(room, { ...target, fast: null })
  const setup = {
    ...alone,
    form: take.form,
    numbers: take.numbers,
    click: take.click,
    // Another form has other measures.
    ...(longRests && take.form === alone.form && { longRests }),
  }
  return {
    target: {
      ...target,
      key: take.key,
      title: take.title,
      said: [take.says, target.said].filter(Boolean).join('   '),
    },
    short: true,
    setup: atOnce({ ...setup, key: take.key, ceiling: all.of(take.key)?.ceiling ?? null }, take.tempo, {
      clean: 1,
      tries: 1,
    }),
  }
}

/** A round: the passage in each of its rhythms, at the click at which the quick notes run as now. */
const round = async (room: PracticeRoom, target: Target, rung: Tempo): Promise<Left | null> => {
  if (target.direction === 'down') return null
  const chosen = target.rhythms.length > 0 ? target.rhythms : usualRhythms(await room.presets())
  for (const r of chosen.filter(c => fits(target, c))) {
    const left = await play(room, roundPart(room, target, rung, r))
    if (left.left) return left
  }
  return null
}

export const take = async (
  room: PracticeRoom,
  target: Target,
  kind: TakeKind,
  rung: Tempo | null = null,
  end: End = null,
  begins = false,
): Promise<Left> => play(room, { ...takePart(room, target, kind, rung, end), begins })

/**
 * The visit; and as often as the player asks, or the rule of slow and fast says, a take or a round of rhythms. After it
 * the same visit goes on where it was.
 */
export const sit = async (
  room: PracticeRoom,
  target: Target,
  first: TakeKind | null,
  end: End,
  slot?: Slot,
): Promise<Left> => {
  const once = first && (await take(room, target, first, null, end))
  if (once?.quit) return once
  let held: ToPlay['from']
  let begins = slot?.begins ?? false
  for (;;) {
    const setup = held?.session.setup ?? cappedAt(setupOf(room, target), slot?.top ?? null)
    const left = await play(room, { setup, target, short: false, begins, slot, from: held })
    const { next } = left
    if (left.quit || !next || next.kind === 'join') return left
    held = { ...left.held, earlier: left.earlier }
    // By the rule, not by a key: then it also goes on by itself.
    begins = fastAfter(left.held.session)?.kind === next.kind
    const then =
      next.kind === 'round'
        ? await round(room, target, next.rung)
        : await take(room, target, next.kind, next.rung, next.other ? 'other' : null, begins)
    if (then?.quit) return then
  }
}

/** Where the two meet, at the tempo at which they will begin as one, until two are clean, at most four tries. */
const seamPart = (room: PracticeRoom, seam: Target, rung: Tempo): ToPlay => {
  const setup = setupOf(room, { ...seam, fast: null })
  return { target: seam, short: true, setup: atOnce(setup, rung, ROUND) }
}

/**
 * The seam, then both as one, from the tempo at which they will begin. Where the player leaves the seam, or the time of the
 * slot is over with it, that is all.
 */
export const joinAcross = async (room: PracticeRoom, o: Offer, slot?: Slot): Promise<Left> => {
  const { seam, join } = room.need(joiningOf(o, rhythmNamed(await room.presets()), room.practiced().usual))
  const { opening } = setupOf(room, join)
  const from = opening.rungs[opening.at] ?? join.goal
  const across = await play(room, {
    ...seamPart(room, seam, from),
    slot,
    begins: slot?.begins,
  })
  if (across.quit || across.left || (slot && slot.clock.is() !== 'left')) return across
  return sit(room, join, null, null, slot && { ...slot, begins: false })
}

/** A visit; and where the player goes on to what is joined, first the seam, then both as one. */
const sitting = async (
  room: PracticeRoom,
  first: Target,
  kind: TakeKind | null,
  end: End,
  joining: boolean,
): Promise<Left | null> => {
  let left = joining ? null : await sit(room, first, kind, end)
  for (let target = first; left === null || left.next?.kind === 'join'; ) {
    const offer = offerFor(room.practiced(), target, todayOf(room.ctx))
    if (!offer) return left
    target = room.need(joiningOf(offer, rhythmNamed(await room.presets()), room.practiced().usual)).join
    left = await joinAcross(room, offer)
  }
  return left
}

/**
 * One sitting with one passage or section: the visit, and what the player asks for beside it. `joining`: it begins with
 * what is ready to be joined in the target's passage.
 */
export const visit = (
  ctx: Context,
  now: Now,
  target: Target,
  how: Manner & { readonly take?: TakeKind; readonly end?: End } = {},
  stage?: Stage,
  joining = false,
): Promise<Result<Visited>> =>
  attemptLater(async need => {
    const end = need(checkEnd(how.end ?? null, target))
    need(openingOf(target, now.practiced, instantOf(ctx)))
    const visited = inPracticeRoom(ctx, now, { how, stage }, async room => {
      const left = await sitting(room, target, how.take ?? null, end, joining)
      return { lines: left?.lines ?? [], quit: left?.quit ?? false }
    })
    return need(await visited)
  })
