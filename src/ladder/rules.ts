import { ok, problem, type Result } from '../music/result.ts'
import type { Rules, Up } from './event.ts'

/** 3 clean in a row, one rung down after 2 slips, 5 in a row on the last rung. */
export const DEFAULT_RULES: Rules = { up: { k: 'row', n: 3 }, slips: 2, top: 5 }

const ACCEPTED = '3-in-a-row, 8-in-all or 4-of-5 (numbers from 1 to 20)'
const MOST = 20

/** "3-in-a-row", "8-in-all", "4-of-5". */
export const parseUp = (s: string): Result<Up> => {
  const m = /^(\d{1,2})-(in-a-row|in-all|of-(\d{1,2}))$/.exec(s.trim())
  const n = Number(m?.[1])
  const of = Number(m?.[3] ?? n)
  if (!m || n < 1 || n > MOST || of > MOST || of < n) return problem('clean repetitions', s, ACCEPTED)
  if (m[3] !== undefined) return ok({ k: 'most', n, of })
  return ok({ k: m[2] === 'in-all' ? 'total' : 'row', n })
}

export const upText = (up: Up): string =>
  up.k === 'most' ? `${up.n}-of-${up.of}` : `${up.n}-in-${up.k === 'row' ? 'a-row' : 'all'}`

/** How the rule is said on screen: "three in a row". */
export const upWords = (up: Up): string => {
  const word = (n: number) =>
    ['none', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight'][n] ?? String(n)
  if (up.k === 'most') return `${word(up.n)} of the last ${word(up.of)}`
  return up.k === 'row' ? `${word(up.n)} in a row` : `${word(up.n)} in all`
}
