import { render } from 'ink'
import type { ReactElement } from 'react'
import type { Program } from '../../click/program.ts'
import type { Levels } from '../../click/voices.ts'
import type { WarmedUp } from '../../ladder/key.ts'
import { spoken, type Tempo, typed } from '../../music/tempo.ts'
import type { Sound } from '../../sound/sound.ts'
import { backLine, brokeOffLine } from '../../sound/words.ts'
import type { PedalLock } from '../../terminal/lock.ts'
import type { Terminal } from '../../terminal/open-terminal.ts'
import type { SlotClock } from '../../visit/slot-clock.ts'
import {
  current,
  type Exercise,
  firstTempo,
  newWarmUp,
  step,
  tempoOf,
  turnProgram,
  type WarmUpAction,
} from '../../warm-up/turns.ts'
import { louder } from '../loudness.ts'
import { commandOf } from '../practice/keys.ts'
import { type Timing, watchSleep } from '../slept.ts'
import { plannedWords, turnWords, WarmUpView } from './view.tsx'

/** Where what was played is kept: each exercise once in one key and from one tempo, and each turn heard to its end. */
export type WarmUpLog = {
  readonly begin: (w: WarmedUp) => Promise<void>
  readonly turn: (number: number, tempo: Tempo) => Promise<void>
}

/** `quit` = the player left the program (Ctrl+C), not only the warm-up. */
export type WarmUpTold = { readonly lines: readonly string[]; readonly quit: boolean }

/**
 * Plays a warm-up until its last exercise or until the player leaves. No verdicts, nothing to fail. What the log
 * refuses is said on screen, and the warm-up goes on.
 */
export const warmUpScreen = (o: {
  readonly terminal: Pick<Terminal, 'onKey' | 'size' | 'onResize'> & {
    readonly ink: Terminal['ink'] | null
    readonly line?: (text: string) => void
  }
  readonly sound: Sound
  readonly timing: Timing
  readonly title: string
  readonly exercises: readonly Exercise[]
  readonly pedals: { readonly right: string; readonly left: string }
  readonly lock: PedalLock
  readonly rate: number
  readonly log: WarmUpLog
  readonly levels: Levels
  readonly louder: (levels: Levels) => void
  /** Keeps the warm-up with the tempos at which it is played now; resolves with what to say, and where it is. null = not here. */
  readonly save: ((name: string) => Promise<string>) | null
  /** The minutes that the plan of the day has for it. Nothing ends with them. */
  readonly slot?: SlotClock
}): Promise<WarmUpTold> =>
  new Promise(resolve => {
    const { terminal, sound, timing, lock } = o
    let s = newWarmUp(o.exercises)
    let id: number | null = null
    let program = turnProgram(s, o.rate, null)
    let cancel = (): void => {}
    let told = ''
    let trouble = ''
    let levels = o.levels
    let naming: string | null = null
    let quit = false
    /** What the log was last told to have begun, and the turns since. */
    let begun: { readonly as: string; turns: number } = { as: '', turns: 0 }
    const refused = (error: unknown): void => {
      trouble = error instanceof Error ? error.message : String(error)
    }

    const beat = (): string => {
      const frame = id === null || s.phase !== 'going' ? null : sound.frameAt(id, timing.now())
      const at =
        frame === null
          ? undefined
          : program.onsets.findLast(x => x.frame <= frame && x.beat > 0 && x.role !== 'sub')
      if (!at) return ''
      return at.measure < 0 ? `count-in ${at.beat}` : `measure ${at.measure}, beat ${at.beat}`
    }
    const planned = (): string => (o.slot ? plannedWords(o.slot.minutesLeft()) : '')
    const view = (): ReactElement => (
      <WarmUpView
        title={o.title}
        state={s}
        planned={planned()}
        beat={beat()}
        trouble={trouble}
        {...(o.save ? { naming } : {})}
        size={terminal.size()}
      />
    )
    const ink = terminal.ink && render(view(), terminal.ink)
    const draw = (): void => {
      ink?.rerender(view())
      const e = current(s)
      const key = e.heading === '' ? '' : `, ${[e.heading, ...e.notes].join(': ')}`
      const over = o.slot?.minutesLeft() === 0 ? `. ${planned()}` : ''
      const line = `${e.item}${key}: ${spoken(tempoOf(s))}, ${turnWords(s)}${over}${trouble === '' ? '' : `. ${trouble}`}`
      if (terminal.line && line !== told) terminal.line(line)
      told = line
    }

    /** Wakes at the next beat and at the end of the turn. */
    const watch = (): void => {
      cancel()
      if (id === null || s.phase !== 'going') return
      const now = sound.frameAt(id, timing.now()) ?? -1
      const next =
        program.onsets.find(x => x.frame > now + 1 && x.beat > 0 && x.role !== 'sub')?.frame ?? program.end
      const at = sound.heardAt(id, next)
      if (at === null) return
      cancel = timing.later(Math.max(1, at - timing.now()), () => {
        if ((sound.frameAt(id ?? 0, timing.now()) ?? 0) >= program.end - 48) act('over')
        else {
          draw()
          watch()
        }
      })
    }
    const play = (before: Program | null): void => {
      o.slot?.begin()
      const { warmUp, item, key } = current(s)
      const tempo = firstTempo(s)
      const as = `${s.exercise} ${typed(tempo)}`
      if (begun.as !== as) {
        begun = { as, turns: 0 }
        o.log.begin({ warmUp, item, key, tempo }).catch(refused)
      }
      program = turnProgram(s, o.rate, before)
      id = sound.play(program, 'now')
      watch()
    }
    const act = (a: WarmUpAction): void => {
      const was = s
      if (a === 'over') o.log.turn(begun.turns++, tempoOf(s)).catch(refused)
      s = step(s, a, program.end / o.rate)
      if (s.phase === 'hold' && was.phase === 'going') sound.stop()
      else if (s.phase === 'going' && (s !== was || a === 'again')) play(a === 'over' ? program : null)
      if (s.phase === 'done') leave()
      else draw()
    }
    /** Every character is part of the name, until Enter or Escape. */
    const write = (id: string): void => {
      const name = naming ?? ''
      if (id === 'Escape') naming = null
      else if (id === 'Backspace') naming = name.slice(0, -1)
      else if (id === 'Enter' && name !== '') {
        naming = null
        o.save?.(name).then(say, error => say(error instanceof Error ? error.message : String(error)))
      } else if ([...id].length === 1) naming = (name + id.toLowerCase()).slice(0, 40)
      draw()
    }
    const say = (text: string): void => {
      trouble = text
      if (s.phase !== 'done') draw()
    }
    const ask = (): void => {
      act('wait')
      naming = ''
      trouble = ''
      draw()
      terminal.line?.('Name of the preset, then Enter; Escape leaves it.')
    }
    const changeLevel = (by: 1 | -1): void => {
      const next = louder(levels, by)
      if (next === levels) return
      levels = next
      sound.levels(levels)
      o.louder(levels)
      trouble = `click ${levels.master}`
      draw()
    }
    const leave = (): void => {
      cancel()
      sound.stop()
      for (const off of offs) off()
      ink?.unmount()
      const done = s.exercises.slice(0, s.exercise + 1)
      const named = done.map(e => (e.heading === '' ? e.item : `${e.item} in ${e.heading}`))
      const lines = [`Warmed up with: ${named.join(', ')}.`]
      resolve({ lines: trouble === '' ? lines : [...lines, trouble], quit })
    }
    const offs = [
      watchSleep(timing, () => {
        if (s.phase !== 'going') return
        trouble = 'The computer slept; a pedal goes on.'
        act('wait')
      }),
      sound.on(e => {
        if (e.k === 'started') watch()
        // It goes on by itself, in time.
        else if (e.k === 'trouble' && e.kind !== 'underrun') say(brokeOffLine(false))
        else if (e.k === 'output' && trouble === brokeOffLine(false)) say(backLine(e.name, false))
      }),
      terminal.onResize(draw),
      ...(o.slot ? [o.slot.watch(() => s.phase !== 'done' && draw())] : []),
      terminal.onKey(key => {
        const command = commandOf(key.id, o.pedals, false)
        if (naming !== null && command?.k !== 'quit') write(key.id)
        else if (key.id === 'o') act('tone')
        else if (key.id === 'p' && o.save) ask()
        else if (command?.k === 'louder') changeLevel(command.by)
        else if (command?.k === 'act' && command.action.k === 'nextRung')
          act(command.action.by > 0 ? 'faster' : 'slower')
        else if (command?.k === 'quit' || command?.k === 'finish') {
          quit = command.k === 'quit'
          act('finish')
        } else if (command?.k === 'pedal' && lock.press(command.pedal, key.at) === 'accepted')
          act(s.phase !== 'going' ? 'start' : command.pedal === 'right' ? 'next' : 'again')
        else if (command?.k === 'act' && command.action.k === 'wait') act('wait')
      }),
    ]
    draw()
  })
