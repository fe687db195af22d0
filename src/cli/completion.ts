import type { Command } from 'commander'
import { version } from '../../package.json'
import type { Context, Outcome } from '../app/context.ts'
import { must } from './command.ts'
import { oneOf } from './options.ts'
import { manPage } from './shell/man.ts'
import { bashCompletion, fishCompletion, zshCompletion } from './shell/scripts.ts'
import { type Told, tell } from './shell/told.ts'

const PAGES: Readonly<Record<'bash' | 'zsh' | 'fish' | 'man', (told: Told) => string>> = {
  bash: bashCompletion,
  zsh: zshCompletion,
  fish: fishCompletion,
  man: told => manPage(told, version),
}

/** `gradino completion bash`: a script for the shell, or the manual page, from the commands that the parser knows. */
export const completionCommand = (_: Context, page: string, __: unknown, command: Command): Outcome => {
  const make = PAGES[must(oneOf(page, 'completion', Object.keys(PAGES) as (keyof typeof PAGES)[]))]
  return {
    lines: make(tell(command.parent ?? command))
      .trimEnd()
      .split('\n'),
  }
}
