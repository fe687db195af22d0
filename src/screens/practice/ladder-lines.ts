import { compareHard, directionOf, harder } from '../../ladder/direction.ts'
import { decimal } from '../../music/fraction.ts'
import { inUnit, sameTempo, type Tempo } from '../../music/tempo.ts'
import type { Session } from '../../visit/session.ts'

type Rung = { readonly tempo: Tempo; readonly text: string; readonly here: boolean; readonly passed: boolean }

/** The ladder, top first, at most `most` lines: the goal, what lies around the present rung, the start. */
export const ladderLines = (s: Session, most: number): readonly Rung[] => {
  const { rungs, at, ceiling: today } = s.ladder
  const { top, goal } = s.setup
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
      ? 'goal'
      : i === rungs.length - 1 && (rungs.length > 1 || capped)
        ? capped
          ? 'for now'
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
    return { tempo, text, here: i === at, passed }
  })
  const around = new Set([
    rungs.length - 1,
    0,
    at,
    ...all.flatMap((r, i) => (ceiling && sameTempo(r.tempo, ceiling) ? [i] : [])),
  ])
  const above: readonly Rung[] = capped
    ? [
        {
          tempo: goal,
          text: `${'goal'.padStart(8)}   ${decimal(goal.bpm).padStart(6)}`,
          here: false,
          passed: false,
        },
      ]
    : []
  const room = most - above.length
  for (let d = 1; around.size < Math.min(room, all.length); d++)
    for (const i of [at + d, at - d]) if (i >= 0 && i < all.length && around.size < room) around.add(i)
  return [...above, ...all.filter((_, i) => around.has(i)).reverse()]
}
