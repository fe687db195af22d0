import { daysBetween } from '../music/day.ts'

/** No key is to stay untouched for longer. Days. */
export const WITHIN = 14
/** So many days may lie between two warm-ups without breaking that. */
const AWAY = 3

/** That a key was played on a day ("2026-03-14"). */
export type PlayedKey = { readonly key: string; readonly day: string }

/** Days from one warm-up to the next, as it was in the last two weeks. */
const usualGap = (played: readonly PlayedKey[], today: string): number => {
  const days = new Set(played.map(p => p.day).filter(d => d < today && daysBetween(d, today) <= WITHIN))
  return days.size === 0 ? 1 : daysBetween([...days].sort()[0] as string, today) / days.size
}

/**
 * The keys for today: the longest untouched first, as many as are needed so that none is untouched for more than 14
 * days, at the pace of the last two weeks; and surely all that would not wait for another three days. What was played
 * today changes nothing until tomorrow. A key that is past its 14 days comes as soon as the others allow, not all at once.
 * One that was never played counts from the day before the first of all.
 */
export const keysOfDay = (
  keys: readonly string[],
  played: readonly PlayedKey[],
  today: string,
): readonly string[] => {
  const ours = played.filter(p => keys.includes(p.key) && p.day < today)
  const first = ours.map(p => p.day).sort()[0] ?? today
  const age = (key: string): number =>
    ours.reduce(
      (a, p) => (p.key === key ? Math.min(a, daysBetween(p.day, today)) : a),
      daysBetween(first, today) + 1,
    )
  const oldest = keys.map(key => ({ key, age: age(key) })).sort((a, b) => b.age - a.age)
  const gap = usualGap(ours, today)
  const inTime = (many: number): boolean =>
    oldest.every((k, i) => i < many || (k.age > WITHIN ? 0 : k.age) + Math.floor(i / many) * gap <= WITHIN)
  let many = 1
  while (many < keys.length && !inTime(many)) many++
  const pressing = oldest.filter(k => k.age <= WITHIN && k.age + AWAY > WITHIN)
  const chosen = new Set([...oldest.slice(0, many), ...pressing].map(k => k.key))
  return oldest.map(k => k.key).filter(k => chosen.has(k))
}
