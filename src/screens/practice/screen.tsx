import { render } from 'ink'
import type { Levels } from '../../click/voices.ts'
import { DYNAMICS } from '../../click/voices.ts'
import { noteValueName } from '../../music/note-value.ts'
import { sentence } from '../../music/result.ts'
import { parseTempo, type Tempo } from '../../music/tempo.ts'
import type { Sound } from '../../sound/sound.ts'
import { keyLabel } from '../../terminal/learn.ts'
import type { Terminal } from '../../terminal/open-terminal.ts'
import { ClosingView } from './closing.tsx'
import type { Conductor, Timing } from './conduct.ts'
import { HelpView, helpLines } from './help.tsx'
import { commandOf } from './keys.ts'
import { eyeRow } from './strip.ts'
import { PracticeView, type Shown, stripRow } from './view.tsx'
import { closing } from './words.ts'

/** What stays the same on the screen during a visit. */
export type Frame = Pick<Shown, 'title' | 'date' | 'music' | 'earlier'> & {
  /** Key ids of the pedals. */
  readonly pedals: { readonly right: string; readonly left: string }
}

/** Between two drawings of the traveling mark, when there is no sound to follow. Milliseconds. */
const EYE = 80
/** The press that ended the visit must not also close its last view. Milliseconds. */
const LINGER = 600

export type Left = { readonly quit: boolean; readonly lines: readonly string[] }

/**
 * The practice screen until the player leaves it. The caller opens and closes terminal, sound and journal; `tomorrow` is
 * asked at the end, `louder` after a change of loudness. Resolves with the closing lines.
 */
export const practiceScreen = (o: {
  readonly terminal: Terminal
  readonly sound: Sound
  readonly levels: Levels
  readonly timing: Timing
  readonly frame: Frame
  readonly conductor: (changed: () => void) => Conductor
  readonly tomorrow: (c: Conductor) => Promise<Tempo | null>
  readonly louder: (levels: Levels) => void
}): Promise<Left> =>
  new Promise(resolve => {
    const { terminal, sound, timing } = o
    let typing = ''
    let helping = false
    let quitting = false
    let ready = false
    let levels = o.levels
    let ended: { lines: readonly string[]; at: number } | null = null

    const keys = { right: keyLabel(o.frame.pedals.right), left: keyLabel(o.frame.pedals.left) }
    const shown = (): Shown => ({
      ...o.frame,
      session: conductor.session(),
      frame: conductor.frame(),
      seconds: conductor.seconds(),
      keys,
      sound: ready ? soundLine(sound.output(), levels) : 'the sound is being opened ...',
      typing,
      size: terminal.size(),
    })
    const view = () => {
      if (ended) return <ClosingView lines={ended.lines} size={terminal.size()} />
      if (helping) return <HelpView lines={helpLines(o.frame.pedals, conductor.session().setup.pedals)} />
      return <PracticeView {...shown()} />
    }
    const draw = (): void => ink?.rerender(view())

    const conductor = o.conductor(() => {
      draw()
      if (conductor.session().phase === 'done' && !ended) void end(quitting)
    })
    const ink: ReturnType<typeof render> | undefined = render(view(), terminal.ink)

    const end = async (quit: boolean): Promise<void> => {
      if (ended) return
      ended = { lines: [], at: timing.now() }
      await conductor.settled()
      ended = { lines: closing(conductor.session(), await o.tomorrow(conductor)), at: timing.now() }
      if (quit) leave(true)
      else draw()
    }
    const leave = (quit: boolean): void => {
      stopEye()
      for (const off of offs) off()
      conductor.close()
      ink?.unmount()
      resolve({ quit, lines: ended?.lines ?? [] })
    }

    const takeTempo = (): void => {
      const unit = conductor.session().ladder.rungs[0]?.unit
      const read = parseTempo(unit ? `${noteValueName(unit)}=${typing}` : typing, 'tempo by hand')
      typing = ''
      if (read.ok) conductor.act({ k: 'tempo', to: read.value })
      else conductor.act({ k: 'refuse', text: sentence(read.problem) })
    }
    const changeLevel = (by: 1 | -1): void => {
      const at = DYNAMICS.indexOf(levels.master) + by
      const master = DYNAMICS[at]
      if (master) levels = { ...levels, master }
      sound.levels(levels)
      o.louder(levels)
    }

    const onKey = (id: string, at: number): void => {
      if (ended) {
        if (id === 'C-c' || at - ended.at > LINGER) leave(id === 'C-c')
        return
      }
      const command = commandOf(id, o.frame.pedals, typing !== '')
      if (helping && command?.k !== 'pedal' && command?.k !== 'quit') helping = false
      else if (command) obey(command, at)
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
      else if (command.k === 'help') helping = true
      else {
        quitting = true
        conductor.act({ k: 'finish' })
      }
    }

    /** Without sound the mark travels between the beats: one row, drawn over the frame. */
    const eye = (): void => {
      if (ready && sound.output() === 'silent' && !helping && !ended) {
        const s = shown()
        const row = stripRow(s.size)
        if (row !== null) terminal.patch(row, eyeRow(s.session, s.frame, s.size.cols))
      }
      stopEye = timing.later(EYE, eye)
    }
    let stopEye = timing.later(EYE, eye)

    void sound.ready().then(() => {
      ready = true
      if (!ended) draw()
    })
    const offs = [
      terminal.onKey(key => onKey(key.id, key.at)),
      terminal.onResize(draw),
      terminal.onResume(draw),
    ]
    draw()
  })

export const soundLine = (output: string, levels: Levels): string =>
  output === 'silent'
    ? 'no sound: follow the mark by eye (gradino sound says why)'
    : levels.master === 'off'
      ? 'the click is off; + makes it louder'
      : `click ${levels.master} through ${output}`
