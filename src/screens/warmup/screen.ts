import { beatsOf } from '../../click/program.ts'
import { type WarmedUp, warmUpKey } from '../../ladder/key.ts'
import { spoken, type Tempo, typed } from '../../music/tempo.ts'
import { backLine, brokeOffLine } from '../../sound/words.ts'
import { type Controls, keyHelp, keyHints, pressed } from '../../terminal/key-table.ts'
import type { Screen, ScreenRun } from '../../terminal/run-screen.tsx'
import type { Key } from '../../terminal/tokenizer.ts'
import type { SlotClock } from '../../visit/slot-clock.ts'
import type { Exercise } from '../../warm-up/exercises.ts'
import { current, firstTempo, newWarmUp, tempoOf, turnProgram } from '../../warm-up/turns.ts'
import { placeLasts } from '../beat.ts'
import { choiceWakes } from '../choosing.ts'
import { loudness, type SoundingDesk, watchSleep } from '../desk.ts'
import type { Chapter } from '../help.ts'
import type { Subject } from '../note/note.ts'
import { runCovered } from '../overlay.ts'
import type { Layout } from '../sizes.ts'
import { WARM_UP_KEYS } from './key-table.ts'
import { type Action, type Effect, newState, reduce, type State } from './reduce.ts'
import { field, type Shown, warmUpSheet } from './view.ts'
import { NAME_IT, pedalLines, pedalWords, plannedWords, SLEPT, turnWords, warmedUpWith } from './words.ts'

/** Where what was played is kept: each exercise once in one key and from one tempo, and each turn heard to its end. */
export type WarmUpLog = {
  readonly begin: (w: WarmedUp) => Promise<void>
  readonly turn: (number: number, tempo: Tempo) => Promise<void>
}

/** `quit` = the player left the program (Ctrl+C), not only the warm-up. */
export type WarmUpTold = { readonly lines: readonly string[]; readonly quit: boolean }

type Running = ScreenRun<State, Action, WarmUpTold>

/** What lies open. */
const openOf = (s: State): string => (s.naming === null ? 'turns' : 'naming')

/** The exercise; what is only played once, and belongs to no warm-up, is about nothing here. */
const subjectOf = ({ warmUp: w }: State): Subject => {
  const { warmUp, item, key } = current(w)
  return {
    about: warmUp === '' ? {} : { key: warmUpKey({ warmUp, item, key, tempo: firstTempo(w) }) },
    says: item,
  }
}

/** What the pedals and the keys of a warm-up do. */
export const warmUpHelp = (c: Controls): readonly Chapter[] => [
  { title: 'The pedals', entries: pedalLines(c) },
  { title: 'The keys', entries: keyHelp(WARM_UP_KEYS, c.choice) },
]

/**
 * Plays a warm-up until its last exercise or until the player leaves. No verdicts, nothing to fail. What the log
 * refuses is said on screen, and the warm-up goes on.
 */
export const warmUpScreen = (
  o: SoundingDesk & {
    readonly title: string
    readonly exercises: readonly Exercise[]
    readonly rate: number
    readonly log: WarmUpLog
    /** Keeps the warm-up with the tempos at which it is played now; resolves with what to say, and where it is. null = not here. */
    readonly save: ((name: string) => Promise<string>) | null
    /** The minutes that the plan of the day has for it. Nothing ends with them. */
    readonly slot?: SlotClock
  },
): Promise<WarmUpTold> => {
  const { terminal, sound, timing, controls, lock } = o
  const loud = loudness(o)
  let id: number | null = null
  let program = turnProgram(newWarmUp(o.exercises), o.rate, null)
  let cancel = (): void => {}
  /** How it was drawn last. */
  let drawn: { readonly beatAt: number | null; readonly layout: Layout | null } = {
    beatAt: null,
    layout: null,
  }
  /** What the log was last told to have begun, and the turns since. */
  let begun: { readonly as: string; turns: number } = { as: '', turns: 0 }
  const why = (error: unknown): string => (error instanceof Error ? error.message : String(error))

  const heard = ({ warmUp }: State): Shown['heard'] => {
    const frame = id === null || warmUp.phase !== 'going' ? null : sound.frameAt(id, timing.now())
    return frame === null ? null : { program, frame }
  }
  const planned = (): string => (o.slot ? plannedWords(o.slot.minutesLeft()) : '')
  const shown = (s: State): Shown => ({
    title: o.title,
    state: s.warmUp,
    heard: heard(s),
    planned: planned(),
    trouble: s.trouble,
    pedals: hint(s),
    keys: keyHints(WARM_UP_KEYS, 'turns', controls.choice),
    ...(o.save ? { naming: s.naming } : {}),
    motion: o.motion,
    size: terminal.size(),
  })
  const hint = (s: State): string => pedalWords(s, controls, timing.now())

  /** Wakes at the next beat and at the end of the turn. */
  const watch = (run: Running): void => {
    cancel()
    if (id === null || run.state().warmUp.phase !== 'going') return
    const now = sound.frameAt(id, timing.now()) ?? -1
    const next =
      program.onsets.find(x => x.frame > now + 1 && x.beat > 0 && x.role !== 'sub')?.frame ?? program.end
    const at = sound.heardAt(id, next)
    if (at === null) return
    cancel = timing.later(Math.max(1, at - timing.now()), () => {
      if ((sound.frameAt(id ?? 0, timing.now()) ?? 0) >= program.end - 48)
        run.act({ kind: 'step', step: 'over', seconds: program.end / o.rate })
      else {
        run.changed()
        watch(run)
      }
    })
  }
  const play = (run: Running, onward: boolean): void => {
    const s = run.state().warmUp
    o.slot?.begin()
    const { warmUp, item, key } = current(s)
    const tempo = firstTempo(s)
    const as = `${s.exercise} ${typed(tempo)}`
    if (begun.as !== as) {
      begun = { as, turns: 0 }
      o.log.begin({ warmUp, item, key, tempo }).catch(error => run.act({ kind: 'say', text: why(error) }))
    }
    program = turnProgram(s, o.rate, onward ? program : null)
    id = sound.play(program, 'now')
    watch(run)
  }
  const perform = (e: Effect, run: Running): void => {
    const refused = (error: unknown): void => run.act({ kind: 'say', text: why(error) })
    if (e.kind === 'stop') sound.stop()
    else if (e.kind === 'play') play(run, e.onward)
    else if (e.kind === 'heard') o.log.turn(begun.turns++, tempoOf(e.of)).catch(refused)
    else if (e.kind === 'save') o.save?.(e.name).then(text => run.act({ kind: 'say', text }), refused)
    else {
      cancel()
      sound.stop()
      const { warmUp, trouble, quit } = run.state()
      const done = warmUp.exercises.slice(0, warmUp.exercise + 1)
      const named = done.map(x => (x.heading === '' ? x.item : `${x.item} in ${x.heading}`))
      const lines = [warmedUpWith(named)]
      run.end({ lines: trouble === '' ? lines : [...lines, trouble], quit })
    }
  }
  const key = (s: State, { id: key, at }: Key): Action | null => {
    const on = openOf(s)
    const press = pressed(WARM_UP_KEYS, on, key, controls, { feet: on === 'turns' })
    if (press?.kind === 'pedal')
      return lock.press(press.pedal, at) === 'accepted'
        ? { kind: 'foot', pedal: press.pedal, pedals: controls.pedals, at }
        : null
    const does = press?.does
    if (does?.kind === 'quit' || does?.kind === 'leave') return { kind: 'leave', quit: does.kind === 'quit' }
    if (on === 'naming') return { kind: 'write', id: key }
    if (does?.kind === 'name') return o.save ? { kind: 'ask' } : null
    if (does?.kind === 'louder') {
      const levels = loud.change(does.by)
      return levels && { kind: 'say', text: `click ${levels.master}` }
    }
    return does?.kind === 'step' ? does : null
  }

  const screen: Screen<State, Action, Effect, WarmUpTold> = {
    state: newState(o.exercises),
    reduce,
    key,
    perform,
    wakes: (s, now) =>
      controls.pedals === 1 && s.warmUp.phase === 'hold' ? choiceWakes(s.choice.since, now) : null,
    open: run => [
      watchSleep(timing, () => {
        if (run.state().warmUp.phase !== 'going') return
        run.act({ kind: 'say', text: SLEPT })
        run.act({ kind: 'step', step: 'wait' })
      }),
      sound.on(e => {
        const { trouble } = run.state()
        if (e.kind === 'started') {
          watch(run)
          run.changed()
        }
        // It goes on by itself, in time.
        else if (e.kind === 'trouble' && e.what !== 'underrun')
          run.act({ kind: 'say', text: brokeOffLine(false) })
        else if (e.kind === 'output' && trouble === brokeOffLine(false))
          run.act({ kind: 'say', text: backLine(e.name, false) })
      }),
      ...(o.slot ? [o.slot.watch(() => run.changed())] : []),
      () => cancel(),
    ],
    view: s => {
      const sheet = warmUpSheet(shown(s))
      drawn = sheet
      return sheet.rows
    },
    eye: s => {
      const { beatAt, layout } = drawn
      const now = heard(s)
      if (o.motion !== 'glide' || !now || beatAt === null || layout === null) return null
      const lasts = placeLasts(beatsOf(program), now.frame, program.end, o.rate)
      return { row: beatAt, text: field(shown(s), layout).join('\n'), in: lasts }
    },
    topics: s => {
      const e = current(s.warmUp)
      const key = e.heading === '' ? '' : `, ${[e.heading, ...e.notes].join(': ')}`
      const over = o.slot?.minutesLeft() === 0 ? `. ${planned()}` : ''
      return {
        turn: `${e.item}${key}: ${spoken(tempoOf(s.warmUp))}, ${turnWords(s.warmUp)}${over}${s.trouble === '' ? '' : `. ${s.trouble}`}`,
        naming: s.naming === null ? '' : NAME_IT,
        pedals: hint(s),
      }
    },
  }
  return runCovered(o, screen, {
    table: WARM_UP_KEYS,
    on: openOf,
    chapters: warmUpHelp(controls),
    sounds: s => s.warmUp.phase === 'going',
    subject: s => (s.naming === null ? subjectOf(s) : null),
    stops: s => (s.warmUp.phase === 'going' ? ({ kind: 'step', step: 'wait' } as const) : null),
  })
}
