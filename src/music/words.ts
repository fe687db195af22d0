/** Among several things that were typed one was left out. */
export const partMissing = (field: string, accepted: string): string =>
  `${field}: something is missing. Type ${accepted}.`

export const isMissing = (field: string, accepted: string): string =>
  `${field.startsWith('-') ? field : `The ${field}`} is missing. Type ${accepted}.`

/** `isnt` = what it should have been: "a meter". */
export const isWrong = (got: string, accepted: string, isnt: string | undefined): string =>
  `"${got}" ${isnt ? `isn't ${isnt}` : "doesn't work"}. Try ${accepted}.`
