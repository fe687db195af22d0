import { ALT, character, csiKey, ss3Key } from './key-names.ts'

/**
 * One key press as the terminal told it. `at` is when its first byte arrived, on the clock given to `feed`. A short line of
 * text that was pasted, or a file dropped into the window, is one key, `PASTE`, with its `text`.
 */
export type Key = { id: string; at: number; text?: string }

export const PASTE = 'Paste'

export type Tokenizer = {
  /** Bytes that arrived at time `t` (ms); how they are cut into reads makes no difference. */
  feed(bytes: Uint8Array, t: number): Key[]
  /** When `flush` is wanted (ms), or null while nothing is half-received. */
  due(): number | null
  /** Ends what waited too long: a lone Escape becomes a key, a broken sequence is dropped. */
  flush(t: number): Key[]
}

type Mode = 'ground' | 'escape' | 'csi' | 'console' | 'ss3' | 'mouse' | 'string' | 'stringEscape' | 'paste'

/** How long each unfinished thing may wait after its last byte, in ms. Ground never waits. */
const PATIENCE: Readonly<Record<Mode, number | null>> = {
  ground: null,
  escape: 30,
  csi: 250,
  console: 250,
  ss3: 250,
  mouse: 250,
  string: 250,
  stringEscape: 30,
  paste: 1000,
}

const ESC = 0x1b
const CTRL_C = 0x03
const PASTE_END = '\x1b[201~'
const LONGEST_SEQUENCE = 64
/** Bytes of a pasted line that may count; a page that was pasted by mistake does nothing. */
const LONGEST_PASTE = 1000

/** What was pasted, where it is one line of text; null = anything else, which means nothing. */
const lineIn = (bytes: Uint8Array): string | null => {
  const text = new TextDecoder().decode(bytes).trim()
  return text === '' || bytes.length > LONGEST_PASTE || /[\p{Cc}\ufffd]/u.test(text) ? null : text
}

/** A path that leads from somewhere and ends like a file, in quotes or not. */
const PATH = /^(['"]?)(?:file:\/\/|~?\/|[a-z]:[\\/]|\\\\).*\.[a-z0-9]{2,8}\1$/i

/**
 * A file that was dropped into the window of a terminal that does not tell a paste: a whole path in one read, which no hand
 * types. Null = anything else.
 */
export const droppedIn = (bytes: Uint8Array): string | null => {
  // Keys come a few bytes at a time; this is asked at each of them.
  if (bytes.length < 6) return null
  const text = new TextDecoder().decode(bytes).trim()
  return PATH.test(text) && !/[\p{Cc}\ufffd]/u.test(text) ? text : null
}

/** Turns the bytes of a terminal into keys. Without timers: the caller asks `due` and calls `flush`. */
export const tokenizer = (): Tokenizer => {
  let mode: Mode = 'ground'
  let keys: Key[] = []
  let first = 0
  let last = 0
  let collected = ''
  let pasted: number[] = []
  let wide = { left: 0, code: 0, least: 0, modifiers: 0 }

  const emit = (id: string | null): void => {
    if (id !== null) keys.push({ id, at: first })
  }
  const turn = (to: Mode): void => {
    mode = to
    collected = ''
  }
  /** Leaves a broken sequence; the byte that broke it counts by itself. */
  const restart = (b: number): void => {
    turn('ground')
    steps.ground(b)
  }
  /** A character's first byte; UTF-8 tells in it how many follow and the least code they may make. */
  const begin = (b: number, modifiers: number): void => {
    wide.left = 0
    if (b < 0x80) emit(character(b, modifiers))
    else if (b >= 0xc0 && b < 0xe0) wide = { left: 1, code: b & 0x1f, least: 0x80, modifiers }
    else if (b >= 0xe0 && b < 0xf0) wide = { left: 2, code: b & 0x0f, least: 0x800, modifiers }
    else if (b >= 0xf0 && b < 0xf8) wide = { left: 3, code: b & 0x07, least: 0x10000, modifiers }
  }
  const proceed = (b: number): void => {
    if (wide.left === 0) return
    wide.left -= 1
    wide.code = (wide.code << 6) | (b & 0x3f)
    if (wide.left === 0 && wide.code >= wide.least) emit(character(wide.code, wide.modifiers))
  }

  const steps: Record<Mode, (b: number) => void> = {
    ground(b) {
      if (b >= 0x80 && b < 0xc0) return proceed(b)
      first = last
      if (b !== ESC) return begin(b, 0)
      wide.left = 0
      turn('escape')
    },
    escape(b) {
      const c = String.fromCharCode(b)
      if (c === '[') turn('csi')
      else if (c === 'O') turn('ss3')
      else if (']P_^X'.includes(c)) turn('string')
      else if (b === ESC) {
        emit('Escape')
        first = last
      } else {
        turn('ground')
        begin(b, ALT)
      }
    },
    csi(b) {
      const c = String.fromCharCode(b)
      if (collected === '' && c === '[') turn('console')
      else if (collected === '' && c === 'M') turn('mouse')
      // urxvt ends Shift and a key with `$`, which is an intermediate byte anywhere else.
      else if (b >= 0x20 && b < 0x40 && !(c === '$' && /^\d+$/.test(collected))) {
        if (collected.length <= LONGEST_SEQUENCE) collected += c
      } else if (b >= 0x20 && b < 0x7f) {
        const parameters = collected
        turn(parameters === '200' && c === '~' ? 'paste' : 'ground')
        pasted = []
        if (parameters.length <= LONGEST_SEQUENCE) emit(csiKey(parameters, c))
      } else restart(b)
    },
    /** F1 to F5 on the Linux console: `CSI [ A` to `CSI [ E`. */
    console(b) {
      if (b < 0x41 || b > 0x45) return restart(b)
      turn('ground')
      emit(`F${b - 0x40}`)
    },
    ss3(b) {
      const c = String.fromCharCode(b)
      if (/\d/.test(c) && collected.length < 3) collected += c
      else if (b > 0x20 && b < 0x7f) {
        const digits = collected
        turn('ground')
        emit(ss3Key(digits, c))
      } else restart(b)
    },
    /** The oldest mouse report: three bytes, each at least 0x20, that would read as text. */
    mouse(b) {
      if (b < 0x20) return restart(b)
      collected += '.'
      if (collected.length === 3) turn('ground')
    },
    /** Replies of many kinds, up to BEL or ESC \. */
    string(b) {
      if (b === ESC) {
        first = last
        turn('stringEscape')
      } else if (b === 0x07) turn('ground')
    },
    stringEscape(b) {
      if (b === 0x5c) turn('ground')
      else {
        turn('escape')
        steps.escape(b)
      }
    },
    paste(b) {
      const next = collected + String.fromCharCode(b)
      if (pasted.length <= LONGEST_PASTE + PASTE_END.length) pasted.push(b)
      if (next === PASTE_END) {
        turn('ground')
        const text = lineIn(Uint8Array.from(pasted.slice(0, -PASTE_END.length)))
        if (text !== null) keys.push({ id: PASTE, at: first, text })
      } else collected = PASTE_END.startsWith(next) ? next : b === ESC ? '\x1b' : ''
    },
  }

  const due = (): number | null => {
    const patience = PATIENCE[mode]
    return patience === null ? null : last + patience
  }
  const taken = (): Key[] => {
    const all = keys
    keys = []
    return all
  }

  return {
    feed(bytes, t) {
      last = t
      for (const b of bytes) {
        if (b === CTRL_C) {
          // The way out, whatever is underway; a paste goes on being a paste.
          if (mode !== 'paste') turn('ground')
          wide.left = 0
          pasted.push(b)
          keys.push({ id: 'C-c', at: t })
        } else steps[mode](b)
      }
      return taken()
    },
    due,
    flush(t) {
      const end = due()
      if (end === null || t < end) return []
      if (mode === 'escape' || mode === 'stringEscape') emit('Escape')
      turn('ground')
      return taken()
    },
  }
}
