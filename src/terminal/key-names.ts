/**
 * What terminals send for a key, and our one name for it.
 *
 * Names: 'PageDown', 'Left', 'F13', 'media-play', or the character itself ('a', '[', 'é'; the space bar is
 * 'Space'). Modifiers stand before it in one order: 'C-' (Ctrl), 'M-' (Alt), 'S-' (Shift).
 *
 * Sources: "XTerm Control Sequences" and the terminfo entries xterm, rxvt-unicode and linux; the kitty
 * keyboard protocol (functional key table); the win32-input-mode specification of Windows Terminal.
 */

/** Told by the window, not by a key: it got the keyboard, or another window did (`CSI I`, `CSI O`). */
const FOCUS_GAINED = 'focus-gained'
export const FOCUS_LOST = 'focus-lost'
export const isFocus = (id: string): boolean => id === FOCUS_GAINED || id === FOCUS_LOST

const SHIFT = 1
export const ALT = 2
const CTRL = 4
const SUPER_OR_HYPER = 8 | 16
const META = 32

/** `CSI 1;m X` and `SS3 X`: the final byte names the key. */
const FINALS: Readonly<Record<string, string>> = {
  A: 'Up',
  B: 'Down',
  C: 'Right',
  D: 'Left',
  E: 'Begin',
  F: 'End',
  G: 'Begin',
  H: 'Home',
  P: 'F1',
  Q: 'F2',
  R: 'F3',
  S: 'F4',
}

/** `SS3 X` on the keypad in its application mode. */
const KEYPAD: Readonly<Record<string, string>> = {
  M: 'Enter',
  X: '=',
  j: '*',
  k: '+',
  l: ',',
  m: '-',
  n: '.',
  o: '/',
  ...Object.fromEntries([...'pqrstuvwxy'].map((final, digit) => [final, `${digit}`])),
}

const URXVT_ARROWS: Readonly<Record<string, string>> = { a: 'Up', b: 'Down', c: 'Right', d: 'Left' }
const URXVT_MODIFIERS: Readonly<Record<string, number>> = { $: SHIFT, '^': CTRL, '@': CTRL | SHIFT }

const numbered = (first: number, names: readonly string[]): [number, string][] =>
  names.map((name, i) => [first + i, name])
const functionKeys = (first: number, from: number, to: number): [number, string][] =>
  Array.from({ length: to - from + 1 }, (_, i) => [first + i, `F${from + i}`])

/** `CSI n ~`. 35-38 are F21-F24 of urxvt, 42-45 those of xterm. */
const TILDES: ReadonlyMap<number, string> = new Map([
  ...numbered(1, ['Home', 'Insert', 'Delete', 'End', 'PageUp', 'PageDown', 'Home', 'End']),
  ...functionKeys(11, 1, 5),
  ...functionKeys(17, 6, 10),
  ...functionKeys(23, 11, 14),
  ...functionKeys(28, 15, 16),
  ...functionKeys(31, 17, 24),
  ...functionKeys(42, 21, 24),
  [57427, 'Begin'],
])

/** `CSI n u` beyond characters. Lock and modifier keys have no name: alone they mean nothing. */
const FUNCTIONAL: ReadonlyMap<number, string> = new Map([
  ...numbered(57363, ['Menu', ...functionKeys(0, 1, 35).map(([, name]) => name)]),
  ...numbered(57399, [...'0123456789./*-+', 'Enter', '=', ',']),
  ...numbered(57417, ['Left', 'Right', 'Up', 'Down', 'PageUp', 'PageDown', 'Home', 'End']),
  ...numbered(57425, ['Insert', 'Delete', 'Begin', 'media-play', 'media-pause', 'media-play-pause']),
  ...numbered(57431, ['media-reverse', 'media-stop', 'media-fast-forward', 'media-rewind', 'media-next']),
  ...numbered(57436, ['media-previous', 'media-record', 'volume-down', 'volume-up', 'volume-mute']),
])

/** Windows virtual-key codes (winuser.h). */
const VIRTUAL_KEYS: ReadonlyMap<number, string> = new Map([
  ...numbered(8, ['Backspace', 'Tab']),
  [13, 'Enter'],
  [27, 'Escape'],
  ...numbered(32, ['Space', 'PageUp', 'PageDown', 'End', 'Home', 'Left', 'Up', 'Right', 'Down']),
  ...numbered(45, ['Insert', 'Delete']),
  ...functionKeys(112, 1, 24),
  ...numbered(173, ['volume-mute', 'volume-down', 'volume-up', 'media-next', 'media-previous']),
  ...numbered(178, ['media-stop', 'media-play-pause']),
])

/** The id of a named key, or null with a modifier that belongs to the window system. */
const named = (name: string | undefined, modifiers: number): string | null => {
  if (name === undefined || modifiers & SUPER_OR_HYPER) return null
  const ctrl = modifiers & CTRL ? 'C-' : ''
  const alt = modifiers & (ALT | META) ? 'M-' : ''
  return ctrl + alt + (modifiers & SHIFT ? 'S-' : '') + name
}

/** The id of a character, or null if it cannot be seen. Shift is part of the character itself ('A', not 'S-a'). */
export const character = (code: number, modifiers: number): string | null => {
  if (code < 0x20 || code === 0x7f) return control(code, modifiers)
  if (code === 0x20) return named('Space', modifiers)
  const char = code > 0x10ffff ? '' : String.fromCodePoint(code)
  if (!/^[\p{L}\p{M}\p{N}\p{P}\p{S}\p{Zs}]$/u.test(char)) return null
  if (modifiers & CTRL) return named(char.toLowerCase(), modifiers)
  const capital = char.toUpperCase()
  // Without a capital of one character (digits, ß) the shifted character is the keyboard's secret.
  const known = /^\p{Lu}$/u.test(capital)
  return modifiers & SHIFT && known ? named(capital, modifiers & ~SHIFT) : named(char, modifiers)
}

/** The id of a control byte: 0x0d is 'Enter', 0x01 is 'C-a'. */
const control = (byte: number, modifiers: number): string | null => {
  if (byte === 0x08 || byte === 0x7f) return named('Backspace', modifiers)
  if (byte === 0x09) return named('Tab', modifiers)
  if (byte === 0x0a || byte === 0x0d) return named('Enter', modifiers)
  if (byte === 0x1b) return named('Escape', modifiers)
  return named(byte === 0 ? 'Space' : String.fromCharCode(byte | 0x40).toLowerCase(), modifiers | CTRL)
}

const modifiersOf = (field: string): number => Math.max(0, Number(field || 1) - 1)

/** The id of `ESC O final`; digits before the final byte are an old form of the modifiers. */
export const ss3Key = (digits: string, final: string): string | null => {
  const arrow = URXVT_ARROWS[final]
  if (arrow !== undefined) return named(arrow, CTRL)
  return named(FINALS[final] ?? KEYPAD[final], modifiersOf(digits))
}

/** The id of `CSI parameters final`; null for replies, mouse, focus, key releases and whatever is unknown. */
export const csiKey = (parameters: string, final: string): string | null => {
  if (!/^[\d;:]*$/.test(parameters)) return null
  if (final === '_') return win32Key(parameters)
  const [first = '', second = '', third = ''] = parameters.split(';')
  const [bits = '', event = ''] = second.split(':')
  if (event === '3') return null
  const modifiers = modifiersOf(bits)

  if (final === '~' && first === '27') return coded(Number(third), modifiers)
  if (final === '~') return named(TILDES.get(Number(first)), modifiers)
  const urxvt = URXVT_MODIFIERS[final]
  if (urxvt !== undefined) return named(TILDES.get(Number(first)), urxvt)
  if (final === 'u') return kittyKey(first, modifiers, third)
  if (parameters === '' && final === 'I') return FOCUS_GAINED
  if (parameters === '' && final === 'O') return FOCUS_LOST
  if (final === 'Z') return named('Tab', modifiers | SHIFT)
  if (first !== '' && first !== '1') return null
  return parameters === '' && final in URXVT_ARROWS
    ? named(URXVT_ARROWS[final], SHIFT)
    : named(FINALS[final], modifiers)
}

const coded = (code: number, modifiers: number): string | null =>
  code > 0 ? character(code, modifiers) : null

/** `code:shifted:base` and the text it typed, if the terminal tells. */
const kittyKey = (codes: string, modifiers: number, text: string): string | null => {
  const [code = 0, shifted = 0] = codes.split(':').map(Number)
  const name = FUNCTIONAL.get(code)
  if (name !== undefined) return named(name, modifiers)
  const typed = Number(text.split(':')[0]) || (modifiers & SHIFT ? shifted : 0)
  if (typed > 0x20 && !(modifiers & (CTRL | ALT))) return character(typed, modifiers & ~SHIFT)
  return coded(code, modifiers)
}

/** `Vk;Sc;Uc;Kd;Cs;Rc`: virtual key, scan code, UTF-16 unit, key down, control state, repeat count. */
const win32Key = (parameters: string): string | null => {
  const [vk = 0, , unit = 0, down = 0, state = 0] = parameters.split(';').map(Number)
  if (down === 0) return null
  const alt = (state & 3) !== 0
  const ctrl = (state & 12) !== 0
  const modifiers = (state & 16 ? SHIFT : 0) | (alt ? ALT : 0) | (ctrl ? CTRL : 0)
  const name = VIRTUAL_KEYS.get(vk)
  if (name !== undefined) return named(name, modifiers)
  if (unit === 0) return null
  if (unit < 0x20) return control(unit, modifiers & ~SHIFT)
  // Right Alt is reported as Ctrl and Alt together when it makes a character.
  return character(unit, alt && ctrl ? 0 : modifiers & ~SHIFT)
}
