import { parseUp, upWords } from '../../ladder/rules.ts'
import { dayText } from '../../music/day-words.ts'
import { count } from '../../music/words.ts'
import type { Against, OneRule, Outlook } from '../../plan/outlook.ts'

const days = (n: number): string => count(n, 'day')
const percent = (share: number): string => `${Math.round(share * 1000) / 10} %`
const span = (low: number, high: number): string => (low === high ? `${low}` : `${low} to ${high}`)
const rungs = (n: number): string => count(Math.round(n * 10) / 10, 'rung')

/** "1.3 rungs a day", "a rung a day", "a rung in 4 days": nobody climbs a tenth of a rung. */
const rungPace = (aDay: number): string => {
  const each = Math.floor(1 / aDay + 1e-9)
  if (aDay > 1) return `${rungs(aDay)} a day`
  return each === 1 ? 'a rung a day' : `a rung in ${days(each)}`
}

/** "about 4 to 5 more days of practice at this pace; could be 3 to 11" */
const rangeText = (o: Outlook & { kind: 'early' | 'range' }): string => {
  const about = o.middle ? `about ${span(...o.middle)} more days of practice at this pace; ` : ''
  if (o.high === null)
    return about
      ? `${about}at least ${o.low}, and too early to say more`
      : `at least ${o.low} days of practice; too early to say more`
  return about ? `${about}could be ${span(o.low, o.high)}` : `${span(o.low, o.high)} more days of practice`
}

const AGAINST = {
  'ready early': 'ready early, if it goes on like this',
  'on the day': 'ready on the day, perhaps',
  'not by then': 'not by then, if it goes on like this',
} as const

const dateSaid = (against: Against | null, today: string, readyBy: string | null): string =>
  against && readyBy ? ` For ${dayText(readyBy, today)}: ${AGAINST[against]}.` : ''

/**
 * What may be said of the goal; never a single day alone. `ready` = clean cold takes on two days; `range` = the goal has
 * two ends.
 */
export const outlookText = (
  o: Outlook,
  today: string,
  readyBy: string | null,
  ready: boolean,
  range = false,
): string => {
  const ends = range ? ' at each end' : ''
  switch (o.kind) {
    case 'reached':
      return ready
        ? `Ready: the goal is reached, with a clean first take on two days${ends}.`
        : `The goal is reached. What is left: a clean first take on two days${ends}.`
    case 'pace': {
      if (o.gap === null) return 'No ceiling yet.'
      const left = `To the goal: ${percent(o.gap)}${o.rungs === null ? '' : `, ${rungs(o.rungs)}`}`
      const pace =
        o.perDay === null || o.days === null
          ? ''
          : ` Needed: ${percent(o.perDay)} a day for ${days(o.days)}${o.rungsPerDay === null ? '' : `, ${rungPace(o.rungsPerDay)}`}.`
      return `${left}.${pace} Too early to look ahead.`
    }
    case 'level':
      return 'Level for three days. Try a smaller section, an altered rhythm, or another time of day.'
    case 'early':
      return `Ahead (early to say): ${rangeText(o)}.`
    case 'open':
      return `Ahead: too early to say.${dateSaid(o.against, today, readyBy)}`
    case 'range':
      return `Ahead: ${rangeText(o)}.${dateSaid(o.against, today, readyBy)}`
  }
}

const ruleText = (rule: string): string => {
  const up = parseUp(rule)
  return up.ok ? upWords(up.value) : rule
}

/** "2 days are left out: their rungs were done by another rule (two in a row)."; empty where none are. */
export const leftOutText = ({ leftOut, rules }: Pick<OneRule, 'leftOut' | 'rules'>): string =>
  leftOut === 0
    ? ''
    : `${days(leftOut)} ${leftOut === 1 ? 'is' : 'are'} left out: ${leftOut === 1 ? 'its' : 'their'} rungs were done by another rule (${rules.map(ruleText).join('; ')}).`

/** What was counted of a section. */
export type Counted = {
  readonly days: number
  readonly minutes: number
  readonly clean: number
  readonly verdicts: number
  readonly takes: number
  readonly cleanTakes: number
  readonly secure: string | null
}

/** "5 days of practice, 42 minutes, 61 of 74 clean (82 %), cold takes: 1 of 2 clean, secure 104" */
export const countedText = (c: Counted): string =>
  [
    `${days(c.days)} of practice`,
    // Times may be missing; repetitions never are.
    c.minutes < 1 ? count(c.verdicts, 'repetition') : count(Math.round(c.minutes), 'minute'),
    c.verdicts === 0
      ? ''
      : `${c.clean} of ${c.verdicts} clean (${Math.round((100 * c.clean) / c.verdicts)} %)`,
    c.takes === 0 ? '' : `cold takes: ${c.cleanTakes} of ${c.takes} clean`,
    c.secure === null ? '' : `secure ${c.secure}`,
  ]
    .filter(Boolean)
    .join(', ')
