import { printable } from '../music/result.ts'

/** Each of these continues what could not be done: "Can't store the settings". */
export const notOpened = (cannot: string): string => `${cannot}: its visit was not opened.`
export const notKept = (cannot: string, path: string): string =>
  `${cannot}: ${printable(path)} does not hold what was written.`
export const notReadBack = (cannot: string): string =>
  `${cannot}: what was written did not read back (is the disk full?).`
export const newerWroteThem = (cannot: string): string =>
  `${cannot}: a newer Gradino wrote them, and this one would lose a part of them.`
export const changedAlways = (cannot: string): string => `${cannot}: another program keeps changing them.`

export const practiceIsOpen = (place: string): string =>
  `A practice screen is already open for ${printable(place)}; close it first, or name another folder with --home.`

export const presetThere = (name: string): string =>
  `You have a preset ${name} already; --replace puts this one in its place.`

export const settingsDamaged = (why: string, aside: string, lastGood: boolean): string =>
  `The settings were damaged (${why}): they are kept as ${printable(aside)}, and ${lastGood ? 'the last good ones' : 'the usual ones'} are used.`
export const SETTINGS_NEWER =
  'The settings were written by a newer Gradino: they are used as far as possible and left as they are.'

/** Of two files of one piece, by their paths. */
export const twoCopies = (spare: string, used: string): string =>
  `${printable(spare)} holds the same piece as ${printable(used)} and is not used; compare the two and move one away.`

const quoted = (title: string): string => `"${printable(title)}"`
export const pieceChanged = (title: string): string =>
  `${quoted(title)} has changed on disk in the meantime, so nothing was overwritten. Look at it again and repeat your change.`
export const pieceThere = (title: string): string =>
  `${quoted(title)} was not stored: you already have a piece with its id.`
export const pieceGone = (title: string): string =>
  `${quoted(title)} was not stored: its file was removed or damaged since it was read.`
export const notInRepertoire = (title: string): string => `${quoted(title)} is not in the repertoire.`
