/** A name in so many characters: shortened in its middle, since names of a kind begin alike and differ at their ends. */
const shortened = (name: string, width: number): string => {
  const all = [...name]
  if (all.length <= width) return name
  const front = Math.ceil((width - 1) / 2)
  const back = Math.floor((width - 1) / 2)
  return `${all.slice(0, front).join('').trimEnd()}…${all
    .slice(all.length - back)
    .join('')
    .trimStart()}`
}

/**
 * Title and date as one row. Where both do not fit, first the day of the date goes ("in 4 days" stays), then the date,
 * then the middle of the piece's name: the place, and what is played of it, are read last of all.
 */
export const heading = (title: string, date: string, width: number): string => {
  const dates = [...new Set([date, date.split(', ').at(-1) ?? ''])].filter(d => d !== '')
  const fitting = dates.find(d => title.length + 2 + d.length <= width)
  if (fitting !== undefined) return title + fitting.padStart(width - title.length)
  if (title.length <= width) return title
  const [piece = '', ...others] = title.split(/ {3}/)
  const rest = ['', ...others].join('   ')
  const room = width - rest.length - 1
  return room > 2 ? `${shortened(piece, room + 1)}${rest}` : `…${title.slice(title.length - width + 1)}`
}
