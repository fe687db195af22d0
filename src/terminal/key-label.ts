import { CHORD } from './chord.ts'

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
