/** Days as they are said to the player. Days are texts ("2026-03-14"), in English as all words of the program. */

const format = (o: Intl.DateTimeFormatOptions): ((day: string) => string) => {
  const f = new Intl.DateTimeFormat('en-GB', { ...o, timeZone: 'UTC' })
  return day => f.format(Date.parse(`${day}T00:00:00Z`))
}

/** "Saturday" */
export const weekday = format({ weekday: 'long' })
const dayAndMonth = format({ day: 'numeric', month: 'long' })

/** "28 March", with the year when it is not this one. */
export const dayText = (day: string, today: string): string =>
  day.slice(0, 4) === today.slice(0, 4) ? dayAndMonth(day) : `${dayAndMonth(day)} ${day.slice(0, 4)}`

/** "today", "tomorrow", "in 4 days", "yesterday", "3 days ago". */
export const daysAway = (days: number): string => {
  if (days === 0) return 'today'
  if (Math.abs(days) === 1) return days > 0 ? 'tomorrow' : 'yesterday'
  return days > 0 ? `in ${days} days` : `${-days} days ago`
}
