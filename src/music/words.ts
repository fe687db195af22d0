/** "1 day", "12 days". */
export const count = (n: number, one: string): string => `${n} ${one}${n === 1 ? '' : 's'}`

/** Where, and what of it: `passage 1, breath 2, at` is `at`; what is numbered, or a file, is only a place. */
const placed = (field: string): { inside: string; thing: string } => {
  const [, where = '', thing = ''] = /^(.*(?:\d|\.\w+)$|(?:.*(?=, ))?)(?:, )?(.*)$/.exec(field) ?? []
  return { inside: where && `In ${where}, `, thing }
}
/** Options, and labels that are no nouns. */
const NO_ARTICLE = /^(?:-.*|at|ends|from|goals are|matters|ready by|subdivide|to)$/
const the = (thing: string): string => (NO_ARTICLE.test(thing) ? thing : `the ${thing}`)

export const isMissing = (field: string, accepted: string): string => {
  const { inside, thing } = placed(field)
  const what = inside ? `${inside}${thing || 'something'}` : the(thing).replace(/^t/, 'T')
  return `${what} is missing. Type ${accepted}.`
}

/** `isnt` = what it should have been: "a meter". */
export const isWrong = (field: string, got: string, accepted: string, isnt: string | undefined): string => {
  const { inside, thing } = placed(field)
  const typed = !isnt && inside && thing ? `${thing} "${got}"` : `"${got}"`
  const is = isnt ? `isn't ${isnt}` : `doesn't work${inside ? '' : ` for ${the(thing)}`}`
  return `${inside}${typed} ${is}. Try ${accepted}.`
}
