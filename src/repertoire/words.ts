/** `what` is the kind of thing, `have` names what there is. */
export const noSuch = (what: string, name: string, have: string): string =>
  `No ${what} is called "${name}". You have ${have}.`

export const noPiecesYet = (name: string, why: string): string =>
  `You have no pieces yet, so no "${name}"${why}. A first one: gradino piece add TITLE --in 41-44 --goal 120`

export const passageTaken = (title: string, name: string): string =>
  `${title} already has a passage called "${name}". Give this one another name.`
