import { CHORD } from './chord.ts'
import type { Pedal, Repeat } from './lock.ts'

/** A sentence for the last row, and a shorter one for a window of 40 columns. */
export type Notice = readonly [long: string, short: string]

export const NOT_IN_FRONT: Notice = [
  "Another window is in front: the pedal can't reach Gradino.",
  "The pedal can't reach Gradino now.",
]
export const OTHER_TERMINAL: Notice = [
  'No pedal yet. You taught it in another terminal; set-up can teach it here.',
  'No pedal yet: teach it here in set-up.',
]

/** The one sentence about a fault in the program itself. */
export const faultOfItsOwn = (what: string): string =>
  `Gradino stopped because of a fault of its own (${what}). What you confirmed is on disk.`

/** The key at the beginning of a sentence: 'Page Down', 'The key t'. */
const subject = (id: string): string => {
  const label = keyLabel(id)
  return [...id].length === 1 ? `The key ${label}` : label.slice(0, 1).toUpperCase() + label.slice(1)
}

export const NO_ESCAPE = "Escape can't be a pedal: terminals send it at the beginning of other keys."
export const noModifiers = (id: string): string =>
  `${subject(id)} can't be a pedal: keys with Ctrl or Alt belong to the terminal and the program.`
export const sameKey = (id: string, pedal: Pedal): string =>
  `${subject(id)} is already the ${pedal} pedal: the two pedals need different keys.`
export const alreadyMeans = (id: string, meaning: string): string =>
  `${subject(id)} is used here: ${meaning}; switch the pedal to another mode.`
export const twoKeys = (first: string, second: string, presses: number): string =>
  `Two different keys arrived (${subject(first)}, then ${keyLabel(second)}): press the same pedal ${presses} times.`
export const stillHeld = (id: string): string =>
  `${subject(id)} is still down or came too soon: lift your foot, then press again.`
export const ofPresses = (id: string, n: number, all: number): string => `${subject(id)}, ${n} of ${all}.`
export const nowHold = (id: string): string =>
  `${subject(id)} it is. Now hold it down for two seconds, then lift.`
export const HOLDING = 'Keep it down.'
export const HOLD_LONGER = 'That was too short: hold it down until two seconds are over.'

const tenths = (ms: number): string => (ms / 1000).toFixed(ms < 100 ? 2 : 1)

export const learned = (id: string, pedal: Pedal, repeat: Repeat): string =>
  `${subject(id)} is the ${pedal} pedal.${
    repeat === null
      ? ''
      : ` Held down it repeats after ${tenths(repeat.delay)} s: within that time it counts once.`
  }`

/** Keys that write when another window is in front. */
export const caution = (id: string): string =>
  id === 'Enter' || id === 'Space' || id === CHORD || [...id].length === 1
    ? ` Careful: ${keyLabel(id)} also types into whatever window is in front.`
    : ''

export const NOTHING_ARRIVES =
  'Nothing arrives. Is the pedal awake and connected, the screen awake, and this window in front? Media keys, mouse ' +
  "modes and Shift with Page Up or Page Down don't reach most terminals: choose another mode of the pedal, best Page " +
  'Down and Page Up or the arrows.'

const LABELS: Readonly<Record<string, string>> = {
  PageDown: 'Page Down',
  PageUp: 'Page Up',
  Left: 'left arrow',
  Right: 'right arrow',
  Up: 'up arrow',
  Down: 'down arrow',
  Space: 'the space bar',
  Begin: 'keypad 5',
  [CHORD]: 'several keys at once',
}
const MIDI_PEDALS: Readonly<Record<string, string>> = {
  64: 'damper pedal',
  66: 'sostenuto pedal',
  67: 'soft pedal',
}

/** A key as a player reads it: 'Page Down', 'Ctrl+c', 'media play', 'MIDI damper pedal'. */
export const keyLabel = (id: string): string => {
  const [, midi, number = ''] = /^midi-(cc|note)(\d+)(?:-low)?$/.exec(id) ?? []
  if (midi === 'note') return `MIDI note ${number}`
  if (midi === 'cc') return `MIDI ${MIDI_PEDALS[number] ?? `controller ${number}`}`
  const [, modifiers = '', name = ''] = /^((?:[CMS]-)*)(.+)$/su.exec(id) ?? []
  const held = modifiers.replace('C-', 'Ctrl+').replace('M-', 'Alt+').replace('S-', 'Shift+')
  return held + (LABELS[name] ?? (name.length > 1 ? name.replaceAll('-', ' ') : name))
}
