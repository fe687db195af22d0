/** The number of a line as it is typed: digits that follow each other are one number where the list is that long. */
export const newNumber = () => {
  let typed = ''
  /** The action with the line that was meant; anything but a digit begins anew. `count` = lines that have a number. */
  return <A extends { readonly kind: string }>(a: A, count: number): A => {
    if (!isTo(a)) {
      typed = ''
      return a
    }
    const digit = String(a.at + 1)
    const both = typed + digit
    typed = typed !== '' && Number(both) <= count ? both : digit
    return { ...a, at: Number(typed) - 1 }
  }
}

const isTo = <A extends { readonly kind: string }>(a: A): a is A & { readonly at: number } => a.kind === 'to'
