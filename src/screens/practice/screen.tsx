import { render } from 'ink'
import type { Levels } from '../../click/voices.ts'
import type { Sound } from '../../sound/sound.ts'
import { keyLabel } from '../../terminal/learn.ts'
import type { Terminal } from '../../terminal/open-terminal.ts'
import { rungOf } from '../../visit/session.ts'
import { travels } from '../eye.ts'
import { louder, soundLine } from '../loudness.ts'
import type { Timing } from '../slept.ts'
import { type Beside, NOTHING, stuckPlace } from './beside.ts'
import { ClosingView } from './closing.tsx'
import type { Conductor } from './conduct.ts'
import { HelpView, helpPages } from './help.tsx'
import type { KeyLock } from './key-lock.ts'
import { byHand, commandOf, nextOf, UNKNOWN_KEY } from './keys.ts'
import { type How, howLeft, type Left } from './left.ts'
import { eyeRow } from './strip.ts'
import { PracticeView, type Shown, stripRow } from './view.tsx'
import { closing, type Ending } from './words.ts'
import { type Wrongs, wrongDigits } from './wrongs.ts'

/** What stays the same on the screen during a visit. */
export type Frame = Pick<Shown, 'title' | 'date' | 'music' | 'earlier' | 'cold'> & {
  /** `c` still leads to a cold take. */
  readonly coldIsOpen: boolean
  /** What is offered beside the ladder; absent in what is played once and apart. */
  readonly beside?: Beside
  /** Key ids of the pedals. */
  readonly pedals: { readonly right: string; readonly left: string }
}

/** The press that ended the visit must not also close its last view. Milliseconds. */
const LINGER = 600

/** After Ctrl+Z and fg. */
const STOPPED = 'The program was stopped; that repetition does not count.'

/**
 * The practice screen until the player leaves it. The caller opens and closes terminal, sound and journal; `ending` is
 * asked at the end, `louder` after a change of loudness. Resolves with the closing lines.
 */
export const practiceScreen = (o: {
  readonly terminal: Terminal
  readonly sound: Sound
  readonly levels: Levels
  readonly timing: Timing
  readonly frame: Frame
  readonly conductor: (changed: () => void) => Conductor
  readonly ending: (c: Conductor) => Promise<Ending>
  readonly louder: (levels: Levels) => void
  /** Null where nothing is kept. */
  readonly wrong: Wrongs | null
  readonly lock: KeyLock
  /** Without a closing view: what comes next follows at once. */
  readonly short?: boolean
  /** It begins by itself, after the usual rest. */
  readonly begins?: boolean
}): Promise<Left> =>
  new Promise(resolve => {
    const { terminal, sound, timing } = o
    let typing = ''
    /** The page of the help that is open. */
    let helping: number | null = null
    let how: How = { quit: false, left: false }
    let ready = false
    let levels = o.levels
    let ended: { lines: readonly string[]; at: number; joins: boolean } | null = null
    const stuck = stuckPlace(o.frame.beside)

    const keys = { right: keyLabel(o.frame.pedals.right), left: keyLabel(o.frame.pedals.left) }
    const shown = (): Shown => ({
      ...o.frame,
      session: conductor.session(),
      frame: conductor.frame(),
      seconds: conductor.seconds(),
      minutesLeft: conductor.minutesLeft(),
      keys,
      wrongs: o.wrong?.names ?? null,
      locked: o.lock.locked(),
      beside: stuck.line(conductor.session()),
      sound: soundLine(ready ? sound.output() : null, levels),
      typing,
      size: terminal.size(),
    })
    const view = () => {
      if (ended) return <ClosingView {...ended} locked={o.lock.locked()} size={terminal.size()} />
      if (helping !== null) return <HelpView pages={pages()} at={Math.min(helping, pages().length - 1)} />
      return <PracticeView {...shown()} />
    }
    const pages = () => helpPages(o.frame.pedals, conductor.session().setup.pedals, terminal.size())
    const draw = (): void => ink?.rerender(view())

    const conductor = o.conductor(() => {
      stuck.see(conductor.session())
      draw()
      if (conductor.session().phase === 'done' && !ended) void end()
    })
    const ink: ReturnType<typeof render> | undefined = render(view(), terminal.ink)

    const end = async (): Promise<void> => {
      ended = { lines: [], at: timing.now(), joins: false }
      await conductor.settled()
      how = howLeft(how, conductor)
      const ending = await o.ending(conductor)
      const lines = closing(conductor.session(), ending)
      ended = { lines, at: timing.now(), joins: ending.offer !== undefined }
      if (how.quit || how.next || o.short) leave()
      else draw()
    }
    const leave = (): void => {
      for (const off of offs) off()
      const held = { session: conductor.session(), seconds: conductor.seconds() }
      conductor.close()
      ink?.unmount()
      resolve({ ...how, held, lines: ended?.lines ?? [] })
    }
    /** Ends the visit; what is not yet judged is noted first. */
    const finish = (as: How): void => {
      how = as
      conductor.act({ k: 'finish' })
    }

    const join = (): void => {
      const no = o.frame.beside ? o.frame.beside.join(conductor.session()) : NOTHING
      if (no !== null) conductor.act({ k: 'refuse', text: no })
      else finish({ quit: false, left: false, next: { k: 'join', rung: rungOf(conductor.session().ladder) } })
    }
    const yes = (): void =>
      void stuck
        .yes(conductor.session())
        .then(({ text, form }) => conductor.act(form ? { k: 'music', form, text } : { k: 'refuse', text }))
    const takeTempo = (): void => {
      conductor.act(byHand(conductor.session(), typing))
      typing = ''
    }
    const changeLevel = (by: 1 | -1): void => {
      levels = louder(levels, by)
      sound.levels(levels)
      o.louder(levels)
    }

    const noteWrong = wrongDigits(o.wrong)

    const onKey = (id: string, at: number): void => {
      if (!o.lock.passes(id, o.frame.pedals)) {
        draw()
        return
      }
      if (ended) {
        if (id === 'C-c') how = { ...how, quit: true }
        const later = at - ended.at > LINGER
        if (later && id === 'j' && ended.joins)
          how = { ...how, next: { k: 'join', rung: rungOf(conductor.session().ladder) } }
        if (id === 'C-c' || later) leave()
        return
      }
      if (typing === '' && noteWrong(id, conductor)) return
      const command = commandOf(id, o.frame.pedals, typing !== '')
      // A verdict is never kept from being given: while something sounds a pedal stays a pedal.
      const foot = command?.k === 'pedal' && conductor.session().phase === 'going'
      if (helping !== null && !foot && command?.k !== 'quit')
        helping = id === 'Escape' || helping + 1 >= pages().length ? null : helping + 1
      else if (command) {
        helping = null
        obey(command, at)
      } else if (conductor.session().phase === 'ready') conductor.act({ k: 'refuse', text: UNKNOWN_KEY })
      draw()
    }
    const obey = (command: NonNullable<ReturnType<typeof commandOf>>, at: number): void => {
      if (command.k === 'pedal') conductor.pedal(command.pedal, at)
      else if (command.k === 'act') conductor.act(command.action)
      else if (command.k === 'digit') typing = (typing + command.text).slice(0, 7)
      else if (command.k === 'erase') typing = typing.slice(0, -1)
      else if (command.k === 'leave') typing = ''
      else if (command.k === 'take') takeTempo()
      else if (command.k === 'louder') changeLevel(command.by)
      else if (command.k === 'help') helping = 0
      else if (command.k === 'lock') {
        typing = ''
        o.lock.lock()
      } else if (command.k === 'finish') finish({ quit: false, left: true })
      else if (command.k === 'quit') finish({ quit: true, left: true })
      else if (command.k === 'join') join()
      else if (command.k === 'yes') yes()
      else if (command.k === 'next') {
        const next = nextOf(conductor.session(), command, o.frame.coldIsOpen)
        if (next) finish({ quit: false, left: false, next })
      }
    }

    /** Without sound the mark travels between the beats: one row, drawn over the frame. */
    const eye = (): void => {
      if (!ready || sound.output() !== 'silent' || helping !== null || ended) return
      const s = shown()
      const row = stripRow(s.size)
      if (row !== null) terminal.patch(row, eyeRow(s.session, s.frame, s.size.cols))
    }

    void sound.ready().then(() => {
      ready = true
      if (!ended) draw()
      if (o.begins) conductor.act({ k: 'begin' })
    })
    const offs = [
      travels(timing, eye),
      terminal.onKey(key => onKey(key.id, key.at)),
      terminal.onResize(draw),
      terminal.onResume(() => conductor.act({ k: 'interrupted', text: STOPPED })),
    ]
    draw()
  })
