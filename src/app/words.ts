import { decimal } from '../music/fraction.ts'
import { stretchWords } from '../music/place.ts'
import { printable } from '../music/result.ts'
import { spoken, type Tempo } from '../music/tempo.ts'
import { type AirWord, tenths } from '../repertoire/breath-advice.ts'

const listed = (all: readonly string[]): string =>
  all.length < 2 ? all.join('') : `${all.slice(0, -1).join(', ')} and ${all.at(-1)}`

/** "The run (goal, meter) is no longer the music you practiced" */
export const otherMusicText = (moved: readonly { name: string; what: readonly string[] }[]): string =>
  `${listed(moved.map(m => `${m.name} (${m.what.join(', ')})`))} ${moved.length === 1 ? 'is' : 'are'} no longer the music you practiced`

/** What became of the history of music that changed. */
export const historyText = (names: readonly string[], stays: boolean): string =>
  stays
    ? `The history stays: ${listed(names)}.`
    : `Begins anew: ${listed(names)}. You can still see the old ceiling (gradino piece show).`

export const trueTempoText = (title: string, ratio: number): string =>
  `${title}, as the conductor takes it: all goals times ${Math.round(ratio * 1000) / 1000}. Your history stays.`

/** `said` of a breath that is too long now; `fitted` = it was not before. */
export const tooLongText = (said: string, fitted: boolean, advice: string): string =>
  `${said}. ${fitted ? 'The planned breaths no longer fit' : 'The planned breaths did not fit before either'}: ${advice}.`

export const GONE = 'That is no longer in the repertoire.'
export const PASSAGE_CHANGED =
  'Someone changed or removed this passage in the meantime. Nothing was stored; open it again.'

/** What was kept of what was said after a date. */
export const keptText = (said: readonly string[]): string =>
  said.length > 0 ? `Kept: ${said.join(', ')}.` : "You left it blank. You won't be asked again."

export const noPassageYet = (title: string): string =>
  `${title} has no passage yet. Add one with gradino piece add.`
export const SAY_WHAT =
  'Say what to practice: gradino practice PIECE/PASSAGE, or --goal TEMPO for a quick ladder.'

/** What is told before the first press of a turn. */
export const SEAM_FIRST = 'The seam, then as one.'
export const toPassText = (ceiling: string, time: string): string => `To pass ${ceiling}: ${time}.`
export const nothingAbove = (top: string): string => `Nothing above ${top} now.`
export const NO_WARM_UPS = 'You have no warm-ups; gradino presets lists them.'
export const ONCE = 'Once, and leave it. Nobody counts.'

/** What may be told before the first repetition of a day. */
export const coldTaken = (tempo: Tempo, clean: boolean): string =>
  `Cold take today at ${spoken(tempo)}: ${clean ? 'clean' : 'not clean'}.`
export const coldFirst = (tempo: Tempo, other: Tempo | null): string =>
  `A cold take first? c: once, at ${spoken(tempo)}.${other ? `   C: at ${spoken(other)}.` : ''}`
export const goalFirst = (goal: Tempo): string =>
  `Hear the goal first? l: its click at ${spoken(goal)}, once.`

/** What went wrong beside a verdict was noted, or is taken back. */
export const wrongNoted = (what: string): string => `Noted: ${what}. The same key takes it back.`
export const wrongTakenBack = (what: string): string => `Taken back: ${what}.`

/** Sections and joins, suggested while a passage is practiced. */
type Ends = Parameters<typeof stretchWords>[0]

export const SAVE_FIRST = 'Save this as a passage first; then it can have sections.'
export const sectionThere = (s: Ends): string => `You already have a section: ${stretchWords(s)}.`
export const sectionMade = (name: string, s: Ends): string =>
  `Section ${name} is made, ${stretchWords(s)}: it has its own ladder from now on.`
export const stoppedThrice = (measure: string, canCut: boolean): string =>
  `Stopped three times in m. ${measure}${canCut ? ': y makes a section from one measure before' : ''}.`
export const NO_SECTIONS = 'Nothing here to join: from the list, c cuts this into sections.'
export const NOT_JOINED_YET = 'Not yet: a section joins when both neighbors are at 85 % of their goals.'
export const WARM_UP_SKIPPED =
  'The warm-up is skipped; its minutes go to the music. To bring it back: s on its line.'
export const JOINS_ARE_LINES = "In the day's plan each join is a line of its own."

/** "This breath lasts 12 s, you have 8." `said` = the player said how long one lasts. */
export const breathTooLong = (word: AirWord, seconds: number, has: number, said: boolean): string =>
  `This ${word} lasts ${tenths(seconds)} s, ${said ? 'you have' : 'your longest clean is'} ${tenths(has)}.`
const under = (below: Tempo | null): string => (below ? ` below ${decimal(below.bpm)}` : '')
export const oneMore = (below: Tempo | null): string => `It takes one more${under(below)}.`
export const breatheAt = (word: AirWord, place: string, below: Tempo | null): string =>
  `y: ${word === 'bow' ? 'change bow' : 'breathe'} at ${place}${below ? ` while${under(below)}` : ''}`
export const breathStored = (word: AirWord, place: string, below: Tempo | null): string =>
  `Stored: ${word === 'bow' ? 'a new bow' : 'a breath'} at ${place}${below ? `, taken${under(below)}` : ''}.`

/** Of presets. */
export const isBuiltInText = (name: string): string =>
  `${name} comes with Gradino; give the preset another name.`
export const presetUnread = (why: string): string => `A preset is not used: ${why}.`
export const presetUnused = (path: string, why: string): string => `${printable(path)} is not used. ${why}`

export const fileUnread = (why: string): string => `The file can't be read: ${why}.`

/** Of a score that is imported once more. */
export const alreadyHad = (passages: number): string =>
  passages === 1
    ? 'You already had 1 passage; it stays as it is.'
    : `You already had ${passages} passages; they stay as they are.`

/** How an open goal is closed. */
export const noTempoYet = (title: string): string =>
  `${title} has no tempo yet. After the rehearsal: gradino piece tempo "${title}" 96 (your number)`

/** After the date of a piece was changed. */
export const ownDatesKept = (passages: readonly string[]): string =>
  `  ${passages.join(', ')}: a date of ${passages.length === 1 ? 'its' : 'their'} own stays. gradino piece edit PIECE/PASSAGE --ready-by changes that.`
