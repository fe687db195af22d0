import { ok, problem, type Result } from '../music/result.ts'

/** What was counted on a rung: clean in a row and in all, and its verdicts, the latest last (20 at most). */
export type Counted = {
  readonly row: number
  readonly total: number
  readonly recent: readonly boolean[]
}

const word = (n: number): string =>
  ['none', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight'][n] ?? String(n)

type Numbers = { readonly n: number; readonly of?: number }

/** One rule by which a rung is done: how it is typed and kept, how it is said on screen, and when it is met. */
type UpRule = {
  readonly like: string
  readonly typed: RegExp
  readonly text: (u: Numbers) => string
  readonly words: (u: Numbers) => string
  readonly met: (u: Numbers, counted: Counted) => boolean
  /** It looks at so many of the latest repetitions. */
  readonly windowed?: true
}

/** All rules by which a rung can be done. A new one is a line here, a preset and a test. */
const UP_RULES = {
  row: {
    like: '3-in-a-row',
    typed: /^(\d{1,2})-in-a-row$/,
    text: u => `${u.n}-in-a-row`,
    words: u => `${word(u.n)} in a row`,
    met: (u, { row }) => row >= u.n,
  },
  total: {
    like: '8-in-all',
    typed: /^(\d{1,2})-in-all$/,
    text: u => `${u.n}-in-all`,
    words: u => `${word(u.n)} in all`,
    met: (u, { total }) => total >= u.n,
  },
  most: {
    like: '4-of-5',
    typed: /^(\d{1,2})-of-(\d{1,2})$/,
    text: u => `${u.n}-of-${u.of}`,
    words: u => `${word(u.n)} of the last ${word(u.of ?? u.n)}`,
    met: (u, { recent }) => recent.slice(-(u.of ?? u.n)).filter(Boolean).length >= u.n,
    windowed: true,
  },
} as const satisfies Readonly<Record<string, UpRule>>

type UpKind = keyof typeof UP_RULES
export const UP_KINDS = Object.keys(UP_RULES) as UpKind[]
const ruleOf = (k: UpKind): UpRule => UP_RULES[k]

/** When a rung is done: a rule and its numbers. */
export type Up = Numbers & { readonly kind: UpKind }

/** Whether a rule that was kept has all its numbers. */
export const isUp = (u: Up): boolean => u.of !== undefined || !ruleOf(u.kind).windowed

export const isMet = (u: Up, counted: Counted): boolean => ruleOf(u.kind).met(u, counted)

export type Rules = {
  readonly up: Up
  /** Slips in a row that lower the rung; 0 = never. */
  readonly slips: number
  /** Clean in a row on the last rung, whatever `up` says. */
  readonly top: number
  /** The first visit without a known start looks for one; until found there are no ceilings. */
  readonly find?: true
  /** The last rung is not the goal but where it ends shortly before a date: done as any other, and it stays there. */
  readonly capped?: true
}

/** 3 clean in a row, one rung down after 2 slips, 5 in a row on the last rung. */
export const DEFAULT_RULES: Rules = { up: { kind: 'row', n: 3 }, slips: 2, top: 5 }

/** How a player, or a passage, wants a ladder climbed, as texts that the parsers here read; what is absent is as usual. */
export type Climb = {
  readonly clean?: string
  readonly step?: string
  readonly slips?: string
  readonly dayStart?: string
}

/** "3-in-a-row, 8-in-all or 4-of-5" */
export const UP_TYPED = UP_KINDS.map(k => ruleOf(k).like)
  .join(', ')
  .replace(/, ([^,]*)$/, ' or $1')
const MOST = 20

/** "3-in-a-row", "8-in-all", "4-of-5", also with spaces; "3" is in a row. */
export const parseUp = (s: string, field = 'clean repetitions'): Result<Up> => {
  const text = s.trim().toLowerCase().replace(/\s+/g, '-').replace(/^\d+$/, '$&-in-a-row')
  for (const k of UP_KINDS) {
    const [found, first, second] = ruleOf(k).typed.exec(text) ?? []
    const [n, of] = [Number(first), Number(second ?? first)]
    if (found === undefined || n < 1 || of < n || of > MOST) continue
    return ok(second === undefined ? { kind: k, n } : { kind: k, n, of })
  }
  return problem(field, s, `${UP_TYPED} (numbers from 1 to ${MOST})`)
}

export const upText = (u: Up): string => ruleOf(u.kind).text(u)

/** How the rule is said on screen: "three in a row". */
export const upWords = (u: Up): string => ruleOf(u.kind).words(u)
const NEVER = 'never'

/** How many slips in a row lead a rung back: "2", or "never" (0). */
export const parseSlips = (s: string, field = 'slips'): Result<number> => {
  const text = s.trim().toLowerCase()
  if (text === NEVER) return ok(0)
  return /^\d$/.test(text) ? ok(Number(text)) : problem(field, s, `a number from 1 to 9, or ${NEVER}`)
}

export const slipsText = (slips: number): string => (slips === 0 ? NEVER : String(slips))

/** At which share of the ceiling a day begins: "97%" is 0.97. */
export const parseDayStart = (s: string, field = 'day start'): Result<number> => {
  const n = Number(/^(\d{2,3}) ?%?$/.exec(s.trim())?.[1] ?? 0)
  return n >= 80 && n <= 100
    ? ok(n / 100)
    : problem(field, s, 'a share of the ceiling from 80% to 100%, like 97%')
}

export const dayStartText = (share: number): string => `${Math.round(share * 100)}%`
