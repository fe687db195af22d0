import { lnGain, planningCeiling } from '../../../src/ladder/log.ts'
import { cleanColds, secure } from '../../../src/ladder/ready.ts'
import { compareTempo, type Tempo } from '../../../src/music/tempo.ts'
import { type Day, dayOf } from '../../../src/plan/day.ts'
import type { Work } from '../../../src/plan/work.ts'
import {
  dateOf,
  isReady,
  logOfPassage,
  night,
  openingOf,
  type Passage,
  rest,
  take,
  usualSeconds,
  visit,
  type Week,
} from './week.ts'

/** The passage as the plan is told of it in the morning. */
const workOf = (w: Week, p: Passage): Work => {
  const log = logOfPassage(p)
  const ceiling = planningCeiling(log, p.goal)
  const open = openingOf(w, p)
  const cold = p.takes.at(-1)
  const daysAgo = (day: string | undefined): number | null =>
    day === undefined ? null : Math.round((Date.parse(dateOf(w.day)) - Date.parse(day)) / 86_400_000)
  return {
    key: p.key,
    label: p.key,
    piece: 'Weir Street Overture',
    goal: p.goal,
    ceiling,
    secure: secure(p.takes),
    next: open.find ? null : (open.rungs[open.at] as Tempo),
    readyBy: dateOf(w.days),
    priority: 1,
    minutesSoFar: p.seconds / 60,
    lnGainSoFar: lnGain(log),
    lastPlayedDaysAgo: p.visits.length === 0 ? null : daysAgo(p.visits.at(-1)?.time.slice(0, 10)),
    secondsPerRepetition: usualSeconds(p, ceiling ?? p.start),
    ready: isReady(p),
    cleanColds: cleanColds(p.takes, p.goal),
    oneAbove: ceiling && (open.rungs.find(t => compareTempo(t, ceiling) > 0) ?? null),
    coldDaysAgo: daysAgo(cold?.day),
  }
}

/** Plays each day as it was planned in the morning. `look` sees every plan. */
export const asPlanned =
  (look: (w: Week, day: Day, works: readonly Work[]) => void = () => {}) =>
  (w: Week): void => {
    for (let d = 0; d < w.days; d++) {
      const works = w.passages.map(p => workOf(w, p))
      const day = dayOf(works, [], { date: dateOf(w.day), minutes: w.minutes, played: [] })
      look(w, day, works)
      const of = (key: string): Passage => w.passages.find(p => p.key === key) as Passage
      for (const i of day.items) {
        if (i.kind === 'section') visit(w, of(i.key), i.minutes, { top: i.top, over: true })
        else if (i.kind === 'cold') take(w, of(i.take.key), 'cold', i.take.tempo ?? of(i.take.key).start)
        else if (i.kind === 'goal' || i.kind === 'silent')
          for (let n = 0; n < (i.kind === 'silent' ? i.times : 1); n++)
            take(w, of(i.take.key), i.kind, i.take.tempo ?? of(i.take.key).start)
        else if (i.kind === 'through' || i.kind === 'run')
          for (const t of i.takes)
            take(w, of(t.key), i.kind === 'run' ? 'entry' : 'through', t.tempo ?? of(t.key).start)
        else if (i.kind === 'slow')
          for (let n = 0; n < i.times; n++)
            take(w, of(i.take.key), 'slow', i.take.tempo ?? of(i.take.key).start)
        else if (i.kind === 'rest') rest(w)
      }
      w.idle[d] = w.minutes - Math.max(0, ...day.items.map(i => i.at + i.minutes))
      night(w)
    }
  }
