import type { Program } from '../click/program.ts'

type Upcoming = { readonly id: number; readonly program: Program }

/**
 * What was asked for and has neither ended nor been cut, in the order in which it is heard: enough to go on elsewhere
 * when an output is lost or found.
 */
export const askedFor = () => {
  let all: Upcoming[] = []
  return {
    all: (): readonly Upcoming[] => all,
    /** As the player does it: behind another program, in place of what lay there; or now, in place of everything. */
    play: (id: number, program: Program, after: 'now' | number): void => {
      const split = all.findIndex(a => a.id === after) + 1
      all = [...all.slice(0, split), { id, program }]
    },
    over: (id: number): void => {
      all = all.filter(a => a.id !== id)
    },
    clear: (): void => {
      all = []
    },
  }
}
