import type { Role } from '../../click/program.ts'
import type { Character } from '../../click/voices.ts'
import type { Offset } from '../../sound/offset.ts'

export const ROW_WORDS: Readonly<Partial<Record<Role | 'character' | 'master', string>>> = {
  character: 'the click',
  master: 'all of it',
  downbeat: 'downbeat',
  group: 'start of a group',
  beat: 'beat',
  sub: 'subdivision',
  countIn: 'count-in',
  rest: 'counted rests',
  guide: 'rhythm guide',
  breath: 'breath',
}

export const CHARACTER_WORDS: Readonly<Record<Character, string>> = {
  wood: 'wood: low, under a flute or a violin',
  bright: 'bright: a thin high tick, above a trumpet',
  unpitched: 'unpitched: noise, no note to tune to',
}

export const CHOOSE_TITLE = 'The click, by ear'
export const CHOOSE_HINT = 'up, down: another line   + - (or right, left): change it   f: done, all is kept'

/** Shown and spoken while presses are counted. */
export const OFFSET_TITLE = 'How late do you hear it?'
export const OFFSET_ASKS =
  'Listen to four clicks. Then press your pedal, or any key, with each of the next twenty. Escape leaves.'
export const pressedLine = (count: number, of: number): string => `${Math.min(count, of)} of ${of}`

export const NOTHING_CHANGED = 'Nothing was changed.'
export const FEW_PRESSES = `Too few presses to tell. ${NOTHING_CHANGED}`
export const NO_SOUND_TO_PRESS_WITH =
  "Nothing sounds here, so there's nothing to press with. Is the device on and free?"

/** Presses that lie further apart than this say little, ms. */
const UNEVEN = 60

export const offsetLines = (o: Offset, device: string | null): readonly string[] => [
  o.ms === 0
    ? `You press with the click: no offset for ${device ?? 'this device'}.`
    : `You hear it ${o.ms} ms late through ${device ?? 'this device'}. From now on the screen waits for it.`,
  ...(o.spread > UNEVEN ? ['Your presses were far apart. Try once more for a better answer.'] : []),
]
