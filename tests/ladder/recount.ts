import { deepStrictEqual } from 'node:assert'
import type { Event, LadderState } from '../../src/ladder/event.ts'
import type { Rules } from '../../src/ladder/rules.ts'
import { bpm, type Ladder, tempoNow } from './live.ts'

/** What stood to be counted on a rung, oldest first; a gap is a lost line. */
type Mark = 'clean' | 'slip' | 'silent' | 'gap'

export type Happened = {
  rises: number
  falls: number
  lowest: number
  ceilings: number
  goals: number
  found: number
}

/** Taken back repetitions become lines that say nothing; so the numbers keep their gaps, and nothing more is taken back. */
export const settled = (events: readonly Event[]): readonly Event[] => {
  const taken = new Set(events.flatMap(e => (e.kind === 'takeBack' ? [e.of] : [])))
  return events.map(e => {
    const back = (e.kind === 'verdict' || e.kind === 'unjudged') && taken.has(e.id)
    return back || e.kind === 'takeBack' ? { ...e, kind: 'takeBack', of: 'nobody' } : e
  })
}

/** What one event adds to the count at a tempo. */
const marksOf = (tale: readonly Event[], i: number, tempo: number): readonly Mark[] => {
  const e = tale[i] as Event
  const gap: readonly Mark[] = e.n === (tale[i - 1] as Event).n + 1 ? [] : ['gap']
  if (e.kind !== 'verdict' && e.kind !== 'unjudged') return gap
  const judgedBefore = tale
    .slice(0, i)
    .some(o => (o.kind === 'verdict' || o.kind === 'unjudged') && o.rep === e.rep)
  if (judgedBefore) return gap
  if (e.kind === 'unjudged') return e.why === 'silent' ? [...gap, 'silent'] : gap
  if (bpm(e.tempo) !== tempo || (e.clean && !e.whole)) return gap
  return [...gap, e.clean ? 'clean' : 'slip']
}

/** How many `what` at the end, passing over `over`. */
const atTheEnd = (marks: readonly Mark[], what: Mark, over: readonly Mark[]): number => {
  let count = 0
  for (let i = marks.length - 1; i >= 0; i--) {
    const m = marks[i] as Mark
    if (m === what) count++
    else if (!over.includes(m)) break
  }
  return count
}

const row = (marks: readonly Mark[]): number => atTheEnd(marks, 'clean', [])
const slipsInRow = (marks: readonly Mark[]): number => atTheEnd(marks, 'slip', ['silent', 'gap'])

/** The rule of the rung, read off the marks since arrival. */
const met = (marks: readonly Mark[], rules: Rules, last: boolean): boolean => {
  if (last) return row(marks) >= rules.top
  if (rules.up.kind === 'row') return row(marks) >= rules.up.n
  const judged = marks.slice(marks.lastIndexOf('gap') + 1).filter(m => m !== 'silent')
  const among = rules.up.kind === 'most' ? judged.slice(-(rules.up.of ?? 0)) : judged
  return among.filter(m => m === 'clean').length >= rules.up.n
}

/**
 * Every step of a visit, counted again from the plain events since arrival on the rung, with nothing of the fold:
 * the rung rises, falls or stays, and the ceiling with it, exactly as the rules say.
 */
export const recount = (ladder: Ladder, events: readonly Event[], happened?: Happened): void => {
  const tale = settled(events)
  const opening = tale[0] as Event
  if (opening.kind !== 'visit') throw new Error('no opening')
  const { rules } = opening
  const folded = (i: number): LadderState => ladder.fold(tale.slice(0, i + 1)) as LadderState
  let now = folded(0)
  // Marks since arrival; slips are counted from the last drop, which at the lowest rung is no arrival.
  let [marks, slipsFrom]: [Mark[], number] = [[], 0]
  let [cleanSinceFall, slippedWhileFinding] = [true, false]
  const arrive = (): void => {
    marks = []
    slipsFrom = 0
  }
  for (let i = 1; i < tale.length; i++) {
    const next = folded(i)
    const e = tale[i] as Event
    const here = bpm(tempoNow(now))
    const lastRung = now.at === now.rungs.length - 1
    // Where the ladder ends short of the goal its last rung is a rung like any other.
    const goalRung = lastRung && !rules.capped
    const added = marksOf(tale, i, here)
    const [clean, slip] = [added.includes('clean'), added.includes('slip')]
    marks.push(...added)
    const expected = {
      at: now.at,
      drops: now.drops,
      ceiling: now.ceiling && bpm(now.ceiling),
      goal: now.goal,
    }
    let finding = now.finding
    if (e.kind === 'move') {
      // Where it goes is a law of its own; here it is only an arrival.
      expected.at = next.at
      if (bpm(tempoNow(next)) !== here) arrive()
    } else if (now.finding && slip) {
      expected.at = Math.max(0, now.at - 2)
      slippedWhileFinding = true
      arrive()
    } else if (now.finding && clean) {
      finding = !(slippedWhileFinding || lastRung)
      if (finding) expected.at = Math.min(now.rungs.length - 1, now.at + 3)
      else if (happened) happened.found++
      arrive()
    } else if (clean) {
      cleanSinceFall = true
      if (met(marks, rules, goalRung)) {
        if (!lastRung) expected.at++
        expected.ceiling = Math.max(expected.ceiling ?? 0, here)
        expected.goal ||= goalRung
        arrive()
        if (happened) happened[goalRung ? 'goals' : 'rises']++
        if (happened && expected.ceiling !== (now.ceiling && bpm(now.ceiling))) happened.ceilings++
      }
    } else if (slip && rules.slips > 0 && slipsInRow(marks.slice(slipsFrom)) >= rules.slips) {
      expected.drops++
      if (happened) happened[now.at === 0 ? 'lowest' : 'falls']++
      if (now.at === 0) slipsFrom = marks.length
      else {
        expected.at = Math.max(0, now.at - (cleanSinceFall ? 1 : 2))
        cleanSinceFall = false
        arrive()
      }
    }
    const [counted, slips] = now.finding ? [0, 0] : [row(marks), slipsInRow(marks.slice(slipsFrom))]
    deepStrictEqual(
      { at: next.at, drops: next.drops, ceiling: next.ceiling && bpm(next.ceiling), goal: next.goal },
      expected,
    )
    deepStrictEqual([next.row, next.slips, next.finding], [counted, slips, finding])
    now = next
  }
}
