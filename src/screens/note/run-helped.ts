import type { PlainTerminal } from '../../terminal/open-plain.ts'
import type { Terminal } from '../../terminal/open-terminal.ts'
import { type Screen, speaks } from '../../terminal/run-screen.tsx'
import { type Help, withHelp } from '../help.ts'
import type { Timing } from '../slept.ts'
import type { Subject } from './reduce.ts'
import { type Notebook, runNoted } from './run-noted.ts'
import type { Written } from './words.ts'

/** Runs a screen with its help and its notes; see `Notes`. */
export const runHelped = <S, A, E, R>(
  terminal: Terminal | PlainTerminal,
  timing: Timing,
  screen: Screen<S, A, E, R>,
  help: Omit<Help<S>, 'size' | 'speaks'>,
  notes: {
    readonly notebook: Notebook | undefined
    readonly subject: (s: S) => Subject | null
    readonly stops?: (s: S) => NoInfer<A> | null
    readonly asks?: (e: NoInfer<E>) => Written | null
    readonly kept?: NoInfer<A>
  },
): Promise<R> =>
  runNoted(
    terminal,
    timing,
    withHelp(screen, { ...help, size: terminal.size, speaks: speaks(terminal) }),
    notes.notebook,
    {
      controls: help.controls,
      table: help.table,
      on: s => help.on(s.state),
      subject: s => (s.page === null ? notes.subject(s.state) : null),
      stops: s => {
        const action = notes.stops?.(s.state) ?? null
        return action === null ? null : ({ kind: 'screen', action } as const)
      },
      ...(notes.asks ? { asks: notes.asks } : {}),
      ...(notes.kept === undefined ? {} : { kept: { kind: 'screen', action: notes.kept } as const }),
    },
  )
