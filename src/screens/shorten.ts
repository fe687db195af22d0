/** A name in so many characters: shortened in its middle, since names of a kind begin alike and differ at their ends. */
export const shortened = (name: string, width: number): string => {
  const all = [...name]
  if (all.length <= width) return name
  const front = Math.ceil((width - 1) / 2)
  const back = Math.floor((width - 1) / 2)
  return `${all.slice(0, front).join('').trimEnd()}…${all
    .slice(all.length - back)
    .join('')
    .trimStart()}`
}
