import { placeWords } from '../../music/place.ts'
import type { Sound } from '../../sound/sound.ts'
import { type Controls, keyHints, keyOf, type Pressed, pressed } from '../../terminal/key-table.ts'
import { LINGER, type Pedal } from '../../terminal/lock.ts'
import { type Screen, type ScreenRun, speaks } from '../../terminal/run-screen.tsx'
import type { Key } from '../../terminal/tokenizer.ts'
import { choosing } from '../../visit/pedal-table.ts'
import { rungOf } from '../../visit/session.ts'
import { choiceWakes } from '../choosing.ts'
import { loudness, type SoundingDesk } from '../desk.ts'
import { JOIN_KEY, NOTE_ROW } from '../key-rows.ts'
import type { Subject } from '../note/note.ts'
import { type Overlay, runCovered } from '../overlay.ts'
import { keyNames } from '../words.ts'
import type { Conductor } from './conduct.ts'
import type { KeyLock } from './key-lock.ts'
import { type Command, PRACTICE_KEYS } from './key-table.ts'
import { closingSheet, howLeft, type Left } from './leaving.ts'
import { movesIn } from './now.ts'
import { choicesOf, nextOf, type Offers, offerOf, type Suggestions, stuckPlace } from './offers.ts'
import { type Action, type Effect, openOf, reduce, type State } from './reduce.ts'
import { practiceHelp, visitTopics } from './spoken.ts'
import { beatAlone, practiceSheet, type Shown } from './view.ts'
import * as say from './words.ts'

/** What stays the same on the screen during a visit. */
export type Frame = Pick<Shown, 'title' | 'date' | 'music' | 'earlier' | 'cold'> & {
  /** `c` still leads to a cold take. */
  readonly coldIsOpen: boolean
  /** What is offered beside the ladder; absent in what is played once and apart. */
  readonly suggests?: Suggestions
}

/** Said once in a sitting, which plays all of its visits through one sound. */
const told = new WeakSet<Sound>()

/**
 * Its help, and notes while something is practiced: neither while other keys are locked. What sounds waits, as with the key
 * for that, and its repetition is not counted; a verdict that is asked for stays asked for.
 */
export const practiceOverlay = (o: {
  readonly controls: Controls
  readonly keyLock: KeyLock
  readonly subject?: Subject
}): Overlay<State, Action, Effect> => ({
  table: PRACTICE_KEYS,
  on: openOf,
  chapters: practiceHelp(o.controls),
  sounds: s => s.session.phase === 'going',
  locked: o.keyLock.locked,
  subject: s => {
    if (s.ended?.lines.length === 0) return null
    // Where the music stopped, if it did in the latest repetition.
    const verdict = s.session.events.findLast(e => e.kind === 'verdict')
    const place = verdict?.kind === 'verdict' && verdict.place ? placeWords(verdict.place) : ''
    return { about: {}, says: '', ...o.subject, ...(place === '' ? {} : { place }) }
  },
  stops: ({ session: s }) =>
    s.phase === 'going' && s.current?.over === false ? { kind: 'visit', action: { kind: 'wait' } } : null,
})

type PracticeRun = ScreenRun<State, Action, Left>

/**
 * The practice screen, drawn or as lines, until the player leaves it. The caller opens and closes terminal, sound and
 * journal; `ending` is asked at the end. Resolves with the closing lines.
 */
export const practiceScreen = (
  o: SoundingDesk & {
    readonly frame: Frame
    /** Knows the same feet. */
    readonly conductor: (changed: () => void) => Conductor
    readonly ending: (c: Conductor) => Promise<say.Ending>
    /** Null where nothing is kept. */
    readonly wrong: say.Wrongs | null
    readonly keyLock: KeyLock
    /** Without a closing view: what comes next follows at once. */
    readonly short?: boolean
    /** It begins by itself, after the usual rest. */
    readonly begins?: boolean
    /** What a note is about. */
    readonly subject?: Subject
  },
): Promise<Left> => {
  const { terminal, sound, timing, frame, controls, keyLock } = o
  const plain = speaks(terminal)
  const stuck = stuckPlace(frame.suggests)
  const keys = keyNames(controls)
  const wrongs = o.wrong ? say.wrongWords(o.wrong.names, controls.choice) : null
  const loud = loudness(o)
  let unlocked = ''
  let tell = (): void => {}
  const conductor = o.conductor(() => tell())
  const session = conductor.session()

  const offers = (): Offers => ({
    cold: frame.coldIsOpen,
    yes: stuck.asks(conductor.session()),
    join: frame.suggests ? frame.suggests.join(conductor.session()) : say.NOTHING_ASKED,
  })
  /** What the pedals choose now, in words; empty where a press has one meaning. */
  const choice = (s: State): string => {
    const offer = offerOf(s, offers())
    if (offer) return say.offerHint(offer.text, s.ended !== null, keys)
    const all = s.session.phase === 'going' ? [] : choicesOf(s, offers())
    const [first] = all
    const { moment } = choosing(timing.now() - s.choice.since)
    const now = all[s.choice.at] ?? first
    return first && now && all.length > 1
      ? say.choiceHint({ now: now.text, first: first.text, moment }, keys.right)
      : ''
  }
  const shown = (s: State): Shown => ({
    ...frame,
    motion: o.motion,
    session: conductor.session(),
    frame: conductor.frame(),
    seconds: conductor.seconds(),
    minutesLeft: conductor.minutesLeft(),
    keys,
    hints: keyHints(PRACTICE_KEYS, openOf(s) === 'typing' ? 'ladder' : openOf(s), controls.choice),
    choice: choice(s),
    wrongs: keyLock.locked() ? null : wrongs,
    locked: keyLock.locked(),
    beside: stuck.line(conductor.session()),
    sound: loud.line(),
    typing: s.typing,
    size: terminal.size(),
  })

  const chooses = (s: State): boolean => offerOf(s, offers()) !== null || choicesOf(s, offers()).length > 1
  const foot = (s: State, pedal: Pedal, at: number): Action | null => {
    const press = o.lock.press(pedal, at)
    // A press that was meant for what came before an offer takes nothing.
    if (press === 'held' || (offerOf(s, offers()) && at - s.choice.since < LINGER)) return null
    return { kind: 'foot', pedal: press === 'both' ? 'both' : pedal, at, offers: offers() }
  }
  const onKey = (s: State, key: Key, run: PracticeRun): Action | null => {
    const was = keyLock.locked()
    if (!keyLock.passes(key.id, controls)) {
      unlocked = was && !keyLock.locked() ? say.UNLOCKED : ''
      run.changed()
      return null
    }
    const press = pressed(PRACTICE_KEYS, openOf(s), key.id, controls)
    if (s.ended) return onClosing(s, key, press, run)
    if (press?.kind === 'pedal') {
      if (chooses(s)) return foot(s, press.pedal, key.at)
      conductor.pedal(press.pedal, key.at)
      return null
    }
    if (!press) return s.session.phase === 'ready' ? { kind: 'unknown' } : null
    if (press.does.kind === 'digit') return { kind: 'digit', text: press.id }
    if (press.does.kind !== 'louder') return press.does
    if (loud.change(press.does.by)) run.changed()
    return null
  }
  /** Any key closes; where there is something to choose, the foot chooses. */
  const onClosing = (s: State, key: Key, press: Pressed<Command> | null, run: PracticeRun): Action | null => {
    if (key.id === 'C-c') return { kind: 'close', quit: true }
    if (key.at - run.since() <= LINGER || s.ended?.lines.length === 0) return null
    if (press?.kind === 'key' && press.does.kind === 'join' && s.ended?.joins) return { kind: 'join' }
    return press?.kind === 'pedal' && chooses(s)
      ? foot(s, press.pedal, key.at)
      : { kind: 'close', quit: false }
  }

  const end = async (run: PracticeRun): Promise<void> => {
    await conductor.settled()
    const how = howLeft(run.state().how, conductor)
    const ending = await o.ending(conductor)
    const lines = say.closing(conductor.session(), ending)
    run.act({ kind: 'ended', lines, joins: ending.offer !== undefined, how, at: timing.now() })
    if (plain || how.quit || how.next || o.short) leave(run)
  }
  const leave = (run: PracticeRun): void => {
    const { how, ended } = run.state()
    const held = { session: conductor.session(), seconds: conductor.seconds() }
    conductor.close()
    run.end({ ...how, held, lines: ended?.lines ?? [] })
  }
  const perform = async (e: Effect, run: PracticeRun): Promise<void> => {
    const s = conductor.session()
    switch (e.kind) {
      case 'visit':
        return conductor.act(e.action)
      case 'lock':
        keyLock.lock()
        return run.changed()
      case 'next': {
        const next = nextOf(s, e.what, frame.coldIsOpen)
        return next ? run.act({ kind: 'go', next }) : undefined
      }
      case 'join': {
        const no = offers().join
        if (no !== null) return conductor.act({ kind: 'refuse', text: no })
        return run.act({ kind: 'go', next: { kind: 'join', rung: rungOf(s.ladder) } })
      }
      case 'yes': {
        const { text, form } = await stuck.yes(s)
        return conductor.act(form ? { kind: 'music', form, text } : { kind: 'refuse', text })
      }
      case 'wrong': {
        const verdict = s.events.findLast(x => x.kind === 'verdict')
        const place = verdict?.kind === 'verdict' ? verdict.place : undefined
        const text = await o.wrong?.keep(e.what, place, verdict?.id ?? '')
        return text === undefined ? undefined : run.act({ kind: 'noted', index: e.index, text })
      }
      case 'ending':
        return end(run)
      case 'leave':
        return leave(run)
    }
  }

  const opening = [frame.date === '' ? frame.title : `${frame.title}, ${frame.date}`, frame.music, frame.cold]
  if (plain) for (const line of opening) if (line !== '') terminal.line(line)
  const saysSound = !told.has(sound)
  const screen: Screen<State, Action, Effect, Left> = {
    state: {
      session,
      typing: '',
      how: { quit: false, left: false },
      ended: null,
      choice: { at: 0, since: timing.now() },
      passed: [],
      said: { index: -1, text: '' },
      wrongs: o.wrong?.names ?? null,
    },
    reduce,
    key: onKey,
    perform,
    shows: s => `${openOf(s) === 'closing'} ${s.ended?.lines.length ?? 0}`,
    open: run => {
      tell = () => {
        stuck.see(conductor.session())
        run.act({ kind: 'session', session: conductor.session(), at: timing.now() })
      }
      loud.open(() => {
        told.add(sound)
        run.changed()
        if (o.begins) conductor.act({ kind: 'begin' })
      })
      return []
    },
    wakes: (s, now) => (choicesOf(s, offers()).length < 2 ? null : choiceWakes(s.choice.since, now)),
    resumed: { kind: 'visit', action: { kind: 'interrupted', text: say.STOPPED } },
    view: s => {
      if (s.ended)
        return closingSheet({
          lines: s.ended.lines,
          joins: s.ended.joins ? keyOf(JOIN_KEY, controls.choice) : '',
          choice: choice(s),
          locked: keyLock.locked(),
          note: o.notebook ? keyOf(NOTE_ROW, controls.choice) : '',
          size: terminal.size(),
        })
      return practiceSheet(shown(s))
    },
    topics: s => ({
      ...visitTopics({ ...shown(s), wrongs }),
      locked: keyLock.locked() ? say.LOCKED : unlocked,
      sound: saysSound || loud.changed() ? loud.said() : '',
    }),
    typing: s => s.typing || null,
    eye: s => {
      if (s.ended || o.motion !== 'glide') return null
      const now = { session: conductor.session(), frame: conductor.frame(), motion: o.motion }
      const next = movesIn(now.session, now.frame, now.session.setup.rate)
      const drawn = next === null ? null : beatAlone({ ...now, size: terminal.size() })
      return drawn && next !== null ? { ...drawn, in: next } : null
    },
  }
  return runCovered(o, screen, practiceOverlay(o))
}
