import { Box, render, Text } from 'ink'
import type { ReactElement } from 'react'
import { decimal } from '../../music/fraction.ts'
import { noteValueName } from '../../music/note-value.ts'
import { spoken } from '../../music/tempo.ts'
import type { Sound } from '../../sound/sound.ts'
import { pedalLock } from '../../terminal/lock.ts'
import type { Terminal } from '../../terminal/open-terminal.ts'
import { bigNumber } from '../glyphs.ts'
import type { Timing } from '../practice/conduct.ts'
import { commandOf } from '../practice/keys.ts'
import { theme } from '../theme.ts'
import {
  current,
  type Exercise,
  newWarmUp,
  step,
  tempoOf,
  turnProgram,
  turnsOf,
  type WarmUpAction,
  type WarmUpState,
} from './warmup.ts'

const HINT = 'right pedal: next exercise   left pedal: this one again   w wait   f finish'

/** `beat`: what is heard now, "count-in 3" or "measure 2, beat 1"; empty when nothing sounds. */
export const WarmUpView = (p: {
  title: string
  state: WarmUpState
  beat: string
  size: { cols: number }
}): ReactElement => {
  const { state: s } = p
  const e = current(s)
  const tempo = tempoOf(s)
  const turns = `turn ${Math.min(s.turn + 1, turnsOf(e))} of ${turnsOf(e)}`
  const place = `exercise ${s.exercise + 1} of ${s.exercises.length}`
  return (
    <Box
      flexDirection="column"
      width={Math.min(78, p.size.cols)}
      marginLeft={Math.max(0, Math.floor((p.size.cols - 78) / 2))}
    >
      <Text wrap="truncate">{` ${p.title}   ${place}`}</Text>
      <Text> </Text>
      <Text bold>{` ${e.name}`}</Text>
      <Box marginLeft={1}>
        <Text wrap="wrap">{e.words}</Text>
      </Box>
      <Text> </Text>
      {p.size.cols >= 78 ? (
        bigNumber(decimal(tempo.bpm)).map((row, i) => (
          <Text
            key={i}
            bold
            wrap="truncate"
          >{`     ${row}${i === 6 ? `   ${noteValueName(tempo.unit).replaceAll('-', ' ')}` : ''}`}</Text>
        ))
      ) : (
        <Text bold>{` ${spoken(tempo)}`}</Text>
      )}
      <Text> </Text>
      <Text>{`     ${turns}`}</Text>
      <Text
        bold
        color={theme.mark}
      >{`     ${p.beat === '' ? (s.phase === 'going' ? ' ' : 'either pedal starts') : p.beat}`}</Text>
      <Text> </Text>
      <Text wrap="wrap" color={theme.soft}>{` ${HINT}`}</Text>
    </Box>
  )
}

export type WarmUpTold = { readonly lines: readonly string[] }

/** Plays a warm-up until its last exercise or until the player leaves. No verdicts, nothing to fail. */
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
  readonly rate: number
}): Promise<WarmUpTold> =>
  new Promise(resolve => {
    const { terminal, sound, timing } = o
    const lock = pedalLock()
    let s = newWarmUp(o.exercises)
    let id: number | null = null
    let program = turnProgram(s, o.rate, true)
    let cancel = (): void => {}
    let told = ''

    const beat = (): string => {
      const frame = id === null || s.phase !== 'going' ? null : sound.frameAt(id, timing.now())
      const at =
        frame === null
          ? undefined
          : program.onsets.findLast(x => x.frame <= frame && x.beat > 0 && x.role !== 'sub')
      if (!at) return ''
      return at.measure < 0 ? `count-in ${at.beat}` : `measure ${at.measure}, beat ${at.beat}`
    }
    const view = (): ReactElement => (
      <WarmUpView title={o.title} state={s} beat={beat()} size={terminal.size()} />
    )
    const ink = terminal.ink && render(view(), terminal.ink)
    const draw = (): void => {
      ink?.rerender(view())
      const line = `${current(s).name}: ${spoken(tempoOf(s))}, turn ${s.turn + 1} of ${turnsOf(current(s))}`
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
    const play = (first: boolean): void => {
      program = turnProgram(s, o.rate, first)
      id = sound.play(program, 'now')
      watch()
    }
    const act = (a: WarmUpAction): void => {
      const before = s
      s = step(s, a)
      if (s.phase === 'hold') sound.stop()
      else if (s.phase === 'going' && (s !== before || a === 'again')) play(before.phase !== 'going')
      if (s.phase === 'done') leave()
      else draw()
    }
    const leave = (): void => {
      cancel()
      sound.stop()
      for (const off of offs) off()
      ink?.unmount()
      const done = s.exercises.slice(0, s.exercise + 1).map(e => e.name)
      resolve({ lines: [`Warmed up with: ${done.join(', ')}.`] })
    }
    const offs = [
      sound.on(e => {
        if (e.k === 'started') watch()
        else if (e.k === 'trouble' && e.kind !== 'underrun' && s.phase === 'going') act('wait')
      }),
      terminal.onResize(draw),
      terminal.onKey(key => {
        const command = commandOf(key.id, o.pedals, false)
        if (command?.k === 'quit' || command?.k === 'finish') act('finish')
        else if (command?.k === 'pedal' && lock.press(command.pedal, key.at) === 'accepted')
          act(s.phase !== 'going' ? 'start' : command.pedal === 'right' ? 'next' : 'again')
        else if (command?.k === 'act' && command.action.k === 'wait') act('wait')
      }),
    ]
    draw()
  })
