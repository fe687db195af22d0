import type { Levels } from '../../click/voices.ts'
import type { Sound } from '../../sound/sound.ts'
import { keyLabel } from '../../terminal/learn.ts'
import type { PlainTerminal } from '../../terminal/open-plain.ts'
import { momentOf } from '../../visit/moment.ts'
import { rungOf, type Session } from '../../visit/session.ts'
import { louder, soundSaid } from '../loudness.ts'
import { NOTHING, stuckPlace } from './beside.ts'
import type { Conductor } from './conduct.ts'
import { helpLines } from './help.tsx'
import { type KeyLock, LOCKED } from './key-lock.ts'
import { byHand, commandOf, nextOf, UNKNOWN_KEY } from './keys.ts'
import { type How, howLeft, type Left } from './left.ts'
import type { Frame } from './screen.tsx'
import { restNow } from './strip.ts'
import {
  asksWhat,
  clickedLine,
  closing,
  type Ending,
  noteText,
  pedalHint,
  rowWords,
  tempoLine,
} from './words.ts'
import { type Wrongs, wrongDigits } from './wrongs.ts'

/** What is worth a line: the rung, the row, and what was understood. */
const state = (s: Session): string => `${tempoLine(s, rungOf(s.ladder))}: ${rowWords(s)}`

/** Said once in a sitting, which plays all of its visits through one sound. */
const told = new WeakSet<Sound>()

/** The practice screen as lines: one for each thing that changed, none for what only moves. */
export const practicePlain = (o: {
  readonly terminal: PlainTerminal
  readonly sound: Sound
  readonly levels: Levels
  readonly louder: (levels: Levels) => void
  /** Null where nothing is kept. */
  readonly wrong: Wrongs | null
  readonly frame: Frame
  readonly conductor: (changed: () => void) => Conductor
  readonly ending: (c: Conductor) => Promise<Ending>
  readonly begins?: boolean
  readonly lock: KeyLock
}): Promise<Left> =>
  new Promise(resolve => {
    const { terminal, frame } = o
    const keys = { right: keyLabel(frame.pedals.right), left: keyLabel(frame.pedals.left) }
    let said = ''
    let note = ''
    let clicked = ''
    let counted = ''
    let beside = ''
    const stuck = stuckPlace(frame.beside)
    let typing = ''
    let ended = false
    let asked = false
    let levels = o.levels
    const noteWrong = wrongDigits(o.wrong)
    let how: How = { quit: false, left: false }

    const tell = (): void => {
      const s = conductor.session()
      stuck.see(s)
      const aside = stuck.line(s)
      if (aside !== '' && aside !== beside) terminal.line(aside)
      beside = aside
      const text = noteText(s.note)
      if (text !== '' && text !== note && s.note.k !== 'heard') terminal.line(text)
      note = text
      // Once in a visit: the digits stay the same.
      if (!asked && o.wrong && asksWhat(s.note)) {
        asked = true
        terminal.line(`What went wrong? ${o.wrong.names.map((w, i) => `${i + 1} ${w}`).join(', ')}.`)
      }
      const now = state(s)
      if (now !== said && s.phase !== 'done') terminal.line(now)
      said = now
      const click = clickedLine(s, rungOf(s.ladder))
      if (click !== clicked && s.phase !== 'done') terminal.line(`Click: ${click || 'every beat'}.`)
      clicked = click
      const rest = restNow(s, conductor.frame())
      if (rest !== counted && rest !== '') terminal.line(rest)
      counted = rest
      if (s.phase === 'done') void end()
    }
    const end = async (): Promise<void> => {
      if (ended) return
      ended = true
      await conductor.settled()
      const lines = closing(conductor.session(), await o.ending(conductor))
      const held = { session: conductor.session(), seconds: conductor.seconds() }
      conductor.close()
      resolve({ ...howLeft(how, conductor), held, lines })
    }
    const conductor = o.conductor(tell)

    terminal.line(`${frame.title}${frame.date === '' ? '' : `, ${frame.date}`}`)
    if (frame.music !== '') terminal.line(frame.music)
    terminal.line(pedalHint(momentOf(conductor.session(), null), conductor.session().setup.pedals, keys))
    if (frame.cold) terminal.line(frame.cold)
    tell()
    if (o.begins) conductor.act({ k: 'begin' })
    const finish = (as: How): void => {
      how = as
      conductor.act({ k: 'finish' })
    }
    const join = (): void => {
      const no = frame.beside ? frame.beside.join(conductor.session()) : NOTHING
      if (no !== null) conductor.act({ k: 'refuse', text: no })
      else finish({ quit: false, left: false, next: { k: 'join', rung: rungOf(conductor.session().ladder) } })
    }
    const yes = (): void =>
      void stuck
        .yes(conductor.session())
        .then(({ text, form }) => conductor.act(form ? { k: 'music', form, text } : { k: 'refuse', text }))
    const changeLevel = (by: 1 | -1): void => {
      levels = louder(levels, by)
      o.sound.levels(levels)
      o.louder(levels)
      terminal.line(soundSaid(o.sound.output(), levels))
    }
    if (o.lock.locked()) terminal.line(LOCKED)
    void o.sound.ready().then(() => {
      if (ended || told.has(o.sound)) return
      told.add(o.sound)
      terminal.line(soundSaid(o.sound.output(), levels))
    })
    terminal.onKey(key => {
      const was = o.lock.locked()
      if (!o.lock.passes(key.id, frame.pedals)) {
        if (was && !o.lock.locked()) terminal.line('The other keys count again.')
        return
      }
      if (typing === '' && noteWrong(key.id, conductor)) return
      const command = commandOf(key.id, frame.pedals, typing !== '')
      if (command?.k === 'pedal') conductor.pedal(command.pedal, key.at)
      else if (command?.k === 'act') conductor.act(command.action)
      else if (command?.k === 'louder') changeLevel(command.by)
      else if (command?.k === 'digit') typing += command.text
      else if (command?.k === 'erase' || command?.k === 'leave') typing = ''
      else if (command?.k === 'take') {
        conductor.act(byHand(conductor.session(), typing))
        typing = ''
      } else if (command?.k === 'help')
        for (const line of helpLines(frame.pedals, conductor.session().setup.pedals)) terminal.line(line)
      else if (command?.k === 'lock') {
        typing = ''
        o.lock.lock()
        terminal.line(LOCKED)
      } else if (command?.k === 'finish') finish({ quit: false, left: true })
      else if (command?.k === 'join') join()
      else if (command?.k === 'yes') yes()
      else if (command?.k === 'next') {
        const next = nextOf(conductor.session(), command, frame.coldIsOpen)
        if (next) finish({ quit: false, left: false, next })
      } else if (command?.k === 'quit') finish({ quit: true, left: true })
      else if (command === null && conductor.session().phase === 'ready')
        conductor.act({ k: 'refuse', text: UNKNOWN_KEY })
    })
  })
