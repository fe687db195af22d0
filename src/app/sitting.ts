import { musicKey } from '../ladder/key.ts'
import { openingTomorrow, takesOf, verdictsOn } from '../ladder/standing.ts'
import { given } from '../music/result.ts'
import { quickNotesWords } from '../music/rhythm.ts'
import { goalNumbers, type Tempo } from '../music/tempo.ts'
import { cautionsOf, firstLines } from '../plan/cautions.ts'
import type { Wrong } from '../repertoire/note.ts'
import type { Subject } from '../screens/note/note.ts'
import type { Conductor, Held } from '../screens/practice/conduct.ts'
import type { Left } from '../screens/practice/leaving.ts'
import type { Frame } from '../screens/practice/screen.ts'
import { type Ending, wrongsOf } from '../screens/practice/words.ts'
import { offerFor, offerLine } from '../visit/joining.ts'
import type { Setup } from '../visit/session.ts'
import type { SlotClock } from '../visit/slot-clock.ts'
import type { Target } from '../visit/subject.ts'
import { coldTempo } from '../visit/takes.ts'
import type { Context, Outcome } from './context.ts'
import { bows } from './instruments.ts'
import { instantOf, type Practiced, todayOf } from './now.ts'
import { dateText } from './preferences.ts'
import { type PracticeRoom, soundingIn } from './room.ts'
import { suggestions, suggestionsInDay } from './suggestions.ts'
import { coldFirst, coldTaken, goalFirst, wrongNoted, wrongTakenBack } from './words.ts'

/** Closing lines; `quit` = the player left the program (Ctrl+C), not only the visit. */
export type Visited = Outcome & { readonly quit: boolean }

/** A stay of so many minutes, in the plan of a day: its clock, and what is said of it before the first press. */
export type Slot = {
  readonly clock: SlotClock
  readonly says: string
  /** The ladder ends here, short of the goal; null = it does not. */
  readonly top: Tempo | null
  /** It begins by itself: a press said so just before. */
  readonly begins: boolean
}

/** `begins`: by itself, after the usual rest. `from`: where it was left for something else, and today's verdicts before it. */
export type ToPlay = {
  readonly setup: Setup
  readonly target: Target
  readonly short: boolean
  readonly begins?: boolean | undefined
  readonly slot?: Slot | undefined
  readonly from?: (Held & Pick<Frame, 'earlier'>) | undefined
}

/** Whether a cold take can still be one, and what is said before the first repetition of a day, or the first of all. */
const coldOf = (ctx: Context, all: Practiced, t: Target): Pick<Frame, 'cold' | 'coldIsOpen'> => {
  const done = takesOf(all, t.key).findLast(c => c.day === todayOf(ctx))
  if (done) return { cold: coldTaken(done.tempo, done.clean), coldIsOpen: false }
  const open =
    t.rhythm === null && verdictsOn(all.of(t.key), todayOf(ctx)).verdicts === 0 && !!all.of(t.key)?.ceiling
  const never = (all.of(t.key)?.visits.length ?? 0) === 0
  if (!open) return { cold: never ? goalFirst(t.goal) : '', coldIsOpen: false }
  // `C` takes the other end of a goal that is a range.
  return { cold: coldFirst(coldTempo(all, t), t.top ? coldTempo(all, t, 'other') : null), coldIsOpen: true }
}

/**
 * Keeps what went wrong beside a verdict; said a second time of the same one, it is taken back. What is said is on disk
 * before.
 */
export const wrongsKept = (room: Pick<PracticeRoom, 'note' | 'takeBack'>, key: string) => {
  const noted = new Map<string, string>()
  return async (what: Wrong, place: string | undefined, verdict: string): Promise<string> => {
    const name = `${verdict} ${what}`
    const known = noted.get(name)
    try {
      if (known !== undefined) {
        await room.takeBack(known)
        noted.delete(name)
        return wrongTakenBack(what)
      }
      const note = await room.note({ kind: 'wrong', text: '', what, key, ...(place && { place }) })
      if (note) noted.set(name, note.id)
      return wrongNoted(what)
    } catch (error) {
      return error instanceof Error ? error.message : String(error)
    }
  }
}

/** What a note is about that is made while this is practiced, however it is being played. */
const subjectOf = ({ key, title, origin }: Target): Subject => ({
  about: { ...(origin && { piece: origin.piece.id }), key: musicKey(key) },
  says: title.replaceAll(/ {2,}/g, ', '),
})

/** One visit: from its opening to finishing. A short one has no closing view. */
export const play = async (room: PracticeRoom, part: ToPlay): Promise<Left & Pick<Frame, 'earlier'>> => {
  const { setup, target, short, begins = false, from, slot } = part
  const { ctx, settings, journal } = room
  const all = room.practiced()
  const desk = await soundingIn(room)
  const { sound, lock } = desk
  const { conduct } = await import('../screens/practice/conduct.ts')
  const conductor = (changed: () => void): Conductor =>
    conduct({
      setup,
      sound,
      append: bodies => journal.append(bodies, from?.session.events[0]?.visit),
      timing: ctx.clock,
      lock,
      changed,
      ...given({ from, slot: slot?.clock }),
    })
  const tempo = setup.opening.rungs[setup.opening.at] ?? target.goal
  const first = firstLines(room.notes(), todayOf(ctx), target.key)
  const frame: Frame = {
    title: target.title,
    date: dateText(target.readyBy, todayOf(ctx)),
    music: [
      ...first,
      slot?.says ?? '',
      target.top ? `goal ${goalNumbers(target.goal, target.top)}` : '',
      target.rhythm ? quickNotesWords(tempo, target.rhythm) : '',
      target.said ?? '',
      target.music,
      ...all.notes,
      settings.note() ?? '',
    ]
      .filter(Boolean)
      .join('   '),
    earlier: from?.earlier ?? verdictsOn(all.of(target.key), todayOf(ctx)),
    ...(short ? { cold: '', coldIsOpen: false } : coldOf(ctx, all, target)),
    ...(!short && { suggests: (slot ? suggestionsInDay : suggestions)(ctx, all, target, settings.now()) }),
  }
  const ending = async (c: Conductor): Promise<Ending> => {
    const { ladder } = c.session()
    const now = room.practiced()
    const { pain, lines } = cautionsOf(now.visits, room.notes(), instantOf(ctx))
    const offer = short || slot || pain ? null : offerFor(now, target, todayOf(ctx))
    const here = ladder.rungs[ladder.at] ?? target.goal
    return {
      tomorrow: openingTomorrow(target, all, ladder.ceiling, here),
      pain,
      cautions: lines,
      ...(offer && { offer: offerLine(offer, ctx.plain) }),
    }
  }
  const shared = {
    ...desk,
    short: short || slot !== undefined,
    frame,
    conductor,
    ending,
    begins,
    keyLock: room.keys,
    subject: subjectOf(target),
    wrong: short ? null : { names: wrongsOf(bows(settings.now())), keep: wrongsKept(room, target.key) },
  }
  const { practiceScreen } = await import('../screens/practice/screen.ts')
  const left = await practiceScreen(shared)
  return { ...left, earlier: frame.earlier }
}
