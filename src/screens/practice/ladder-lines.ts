import { compareHard, directionOf, harder } from '../../ladder/direction.ts'
import { decimal } from '../../music/fraction.ts'
import { inUnit, sameTempo, type Tempo } from '../../music/tempo.ts'
import type { Session } from '../../visit/session.ts'

type Rung = { readonly text: string; readonly here: boolean; readonly passed: boolean }

/** A row that says how many rungs have none. */
const leftOut = (n: number): Rung => ({
  text: `${''.padStart(8)}   ${'...'.padStart(6)}  ${n} more`,
  here: false,
  passed: false,
})

/** Those rungs, and as many around the present one as have room; where rungs are left out a row says so. */
const shown = (always: ReadonlySet<number>, at: number, count: number, room: number): ReadonlySet<number> => {
  const rows = (kept: ReadonlySet<number>): number => {
    const order = [...kept].sort((a, b) => a - b)
    return order.length + order.filter((n, i) => i > 0 && n - (order[i - 1] ?? n) > 1).length
  }
  let kept = always
  for (let d = 1; d < count; d++)
    for (const i of [at + d, at - d]) {
      const more = new Set([...kept, i])
      if (i >= 0 && i < count && rows(more) <= room) kept = more
    }
  return kept
}

/** The last rung, where it is not the goal, or the goal is open. */
const FOR_NOW = 'for now'

/** The ladder, top first, at most `most` lines: the goal, what lies around the present rung, the start; what is left out is counted. */
export const ladderLines = (s: Session, most: number): readonly Rung[] => {
  const { rungs, at, ceiling: today } = s.ladder
  const { top, goal, open } = s.setup
  const capped = s.setup.opening.rules.capped === true
  const last = rungs.at(-1) as Tempo
  // What is played apart has one rung, which may be neither end of a range.
  const ranged = top !== undefined && rungs.some(t => sameTempo(t, s.setup.goal) || sameTempo(t, top))
  const direction = directionOf(rungs)
  const ceiling =
    today && s.setup.ceiling ? harder(today, s.setup.ceiling, direction) : (today ?? s.setup.ceiling)
  const all = rungs.map((tempo, i): Rung => {
    const passed = today !== null && compareHard(tempo, today, direction) <= 0
    const isCeiling = ceiling !== null && sameTempo(tempo, ceiling)
    // What is played apart from the ladder has one rung, at which the goal need not be.
    const isGoal = !capped && sameTempo(tempo, ranged || rungs.length === 1 ? s.setup.goal : last)
    const before = isGoal
      ? open
        ? FOR_NOW
        : 'goal'
      : i === rungs.length - 1 && (rungs.length > 1 || capped)
        ? capped
          ? FOR_NOW
          : 'upper'
        : i === at
          ? 'here'
          : isCeiling
            ? 'ceiling'
            : i === 0
              ? 'start'
              : ''
    const on = isGoal && top && i === rungs.length - 1 ? `to ${decimal(inUnit(top, tempo.unit).bpm)}` : ''
    const after = isCeiling && before !== 'ceiling' ? 'ceiling' : passed && i !== at ? 'passed' : on
    const text = `${before.padStart(8)} ${i === at ? '>' : ' '} ${decimal(tempo.bpm).padStart(6)}  ${after}`
    return { text, here: i === at, passed }
  })
  const around = new Set([
    rungs.length - 1,
    0,
    at,
    ...rungs.flatMap((t, i) => (ceiling && sameTempo(t, ceiling) ? [i] : [])),
  ])
  const above: readonly Rung[] = capped
    ? [
        {
          text: `${(open ? 'open' : 'goal').padStart(8)}   ${decimal(goal.bpm).padStart(6)}`,
          here: false,
          passed: false,
        },
      ]
    : []
  const room = most - above.length
  const kept = [...shown(around, at, all.length, room)].sort((a, b) => b - a)
  return [
    ...above,
    ...kept.flatMap((i, k) => {
      const left = (kept[k - 1] ?? i + 1) - i - 1
      const rung = all[i]
      return [...(left > 0 ? [leftOut(left)] : []), ...(rung ? [rung] : [])]
    }),
  ]
}
