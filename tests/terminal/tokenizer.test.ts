import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { tokenizer } from '../../src/terminal/tokenizer.ts'

const bytes = (s: string): Uint8Array => new TextEncoder().encode(s)
const raw = (s: string): Uint8Array => Uint8Array.from(s, c => c.charCodeAt(0))
const ids = (s: string | Uint8Array): string[] =>
  tokenizer()
    .feed(typeof s === 'string' ? bytes(s) : s, 0)
    .map(k => k.id)

/** The bytes that real terminals were measured to send under X (xterm, urxvt, kitty 0.26). */
const MEASURED: readonly (readonly [bytes: string, id: string])[] = [
  ['\x1b[5~', 'PageUp'],
  ['\x1b[6~', 'PageDown'],
  ['\x1b[A', 'Up'],
  ['\x1b[B', 'Down'],
  ['\x1b[C', 'Right'],
  ['\x1b[D', 'Left'],
  ['\x1b[H', 'Home'],
  ['\x1b[F', 'End'],
  ['\x1b[7~', 'Home'],
  ['\x1b[8~', 'End'],
  ['\x1b[2~', 'Insert'],
  ['\x1b[3~', 'Delete'],
  ['\x1bOP', 'F1'],
  ['\x1b[11~', 'F1'],
  ['\x1b[P', 'F1'],
  ['\x1b[15~', 'F5'],
  ['\x1b[24~', 'F12'],
  ['\x1b[25~', 'F13'],
  ['\x1b[26~', 'F14'],
  ['\x1b[32~', 'F18'],
  ['\x1b[45~', 'F24'],
  ['\x1b[38~', 'F24'],
  ['\x1b[57376u', 'F13'],
  ['\x1b[57387u', 'F24'],
  ['\x1b[1;2P', 'S-F1'],
  ['\x1b[1;5P', 'C-F1'],
  ['\x1b[11^', 'C-F1'],
  ['\x1b[6;2~', 'S-PageDown'],
  ['\x1b[6;5~', 'C-PageDown'],
  ['\x1b[6^', 'C-PageDown'],
  ['\x1b[57422u', 'PageDown'],
  ['\x1b[57414u', 'Enter'],
  ['\x1b[57428u', 'media-play'],
  ['\x1b[57435u', 'media-next'],
  ['\x1b[29~', 'F16'],
  ['\x1b[57363u', 'Menu'],
  ['\x1b[32u', 'Space'],
  ['\x1b[13u', 'Enter'],
  ['\x1b[97u', 'a'],
  ['\x1b[99;5u', 'C-c'],
]

/** From terminfo (xterm, rxvt-unicode, linux, tmux) and the specifications named in key-names.ts. */
const PUBLISHED: readonly (readonly [bytes: string, id: string])[] = [
  ['\x1b[1~', 'Home'],
  ['\x1b[4~', 'End'],
  ['\x1bOH', 'Home'],
  ['\x1bOF', 'End'],
  ['\x1bOA', 'Up'],
  ['\x1bOD', 'Left'],
  ['\x1bOM', 'Enter'],
  ['\x1bOp', '0'],
  ['\x1bOy', '9'],
  ['\x1bOk', '+'],
  ['\x1b[Z', 'S-Tab'],
  ['\x1b[6$', 'S-PageDown'],
  ['\x1b[6@', 'C-S-PageDown'],
  ['\x1b[a', 'S-Up'],
  ['\x1bOd', 'C-Left'],
  ['\x1b[[A', 'F1'],
  ['\x1b[[E', 'F5'],
  ['\x1b[28~', 'F15'],
  ['\x1b[34~', 'F20'],
  ['\x1b[17;2~', 'S-F6'],
  ['\x1b[1;7D', 'C-M-Left'],
  ['\x1b[27;5;99~', 'C-c'],
  ['\x1b[27;2;13~', 'S-Enter'],
  ['\x1b[97;2u', 'A'],
  ['\x1b[97:65;2u', 'A'],
  ['\x1b[49:33;2u', '!'],
  ['\x1b[97;;229u', 'å'],
  ['\x1b[105;6u', 'C-S-i'],
  ['\x1b[6;129~', 'PageDown'],
  ['\x1b[99;69u', 'C-c'],
  ['\x1b[34;81;0;1;0;1_', 'PageDown'],
  ['\x1b[67;46;3;1;8;1_', 'C-c'],
  ['\x1b[65;30;97;1;0;1_', 'a'],
  ['\x1b[65;30;65;1;16;1_', 'A'],
  ['\x1b[81;16;64;1;9;1_', '@'],
  ['\x1b\r', 'M-Enter'],
  ['\x1ba', 'M-a'],
  ['\x1bé', 'M-é'],
  ['\x00', 'C-Space'],
  ['\x08', 'Backspace'],
  ['\x7f', 'Backspace'],
  ['\x1c', 'C-\\'],
  ['\x1a', 'C-z'],
]

/** The window itself, told where it was asked for (mode 1004): no press of a key. Source: "XTerm Control Sequences". */
const WINDOW: readonly (readonly [bytes: string, id: string])[] = [
  ['\x1b[I', 'focus-gained'],
  ['\x1b[O', 'focus-lost'],
]

const TYPED: readonly (readonly [bytes: string, id: string])[] = [
  ['a', 'a'],
  ['[', '['],
  ['~', '~'],
  ['+', '+'],
  [' ', 'Space'],
  ['\r', 'Enter'],
  ['\t', 'Tab'],
  ['\x03', 'C-c'],
  ['é', 'é'],
  ['ソ', 'ソ'],
  ['𝄞', '𝄞'],
]

/** Sent by terminals, but no press of a key. */
const SILENT: readonly string[] = [
  '\x1b[6;1:3~', // release
  '\x1b[32;1:3u',
  '\x1b[1;1:3A',
  '\x1b[34;81;0;0;0;1_',
  '\x1b[16;42;0;1;16;1_', // Shift alone
  '\x1b[57441u',
  '\x1b[57358u',
  '\x1b[?1u', // replies
  '\x1b[?62;4c',
  '\x1b[>41;354;0c',
  '\x1b[0n',
  '\x1b[24;80R',
  '\x1b[24;2R',
  '\x1b[8;24;80t',
  '\x1b[?2026;1$y',
  '\x1b[4;2$y',
  '\x1b]11;rgb:0000/0000/0000\x07',
  '\x1b]11;rgb:0000/0000/0000\x1b\\',
  '\x1bP>|kitty(0.26.5)\x1b\\',
  '\x1b_Gi=1;OK\x1b\\',
  '\x1b[<0;10;5M', // mouse
  '\x1b[<0;10;5m',
  '\x1b[32;10;5M',
  '\x1b[M !"',
  '\x1b[99~', // unknown
  '\x1b[6 ~',
  '\x1b[1;9Q', // Super
  '\x1b[1;5y',
  '\x1b[!p',
  `\x1b[${'1;'.repeat(200)}~`,
  '\x1b[200~t[[[aw\r\x1b[6~é\x1b[201~', // paste
  '\x1b[201~',
]

const keys = [...MEASURED, ...PUBLISHED, ...WINDOW, ...TYPED]

describe('a key is told by one name, whatever terminal sends it', () => {
  it.each(keys)('%j is %s', (sent, id) => {
    expect(ids(sent)).toEqual([id])
  })

  it.each(SILENT.map(s => [s]))('%j is no press', sent => {
    expect(ids(sent)).toEqual([])
  })

  it('a repeat of a held key is a key like any other', () => {
    expect(ids('\x1b[6;1:2~')).toEqual(['PageDown'])
  })
})

describe('keys that arrive together or in pieces', () => {
  it('three presses in one read are three presses', () => {
    expect(ids('\x1b[6~\x1b[6~\x1b[6~')).toEqual(['PageDown', 'PageDown', 'PageDown'])
    expect(ids('aa\r\r  ')).toEqual(['a', 'a', 'Enter', 'Enter', 'Space', 'Space'])
  })

  it('a pedal press cut anywhere is one press, stamped with its first byte', () => {
    const t = tokenizer()
    expect(t.feed(raw('\x1b'), 100)).toEqual([])
    expect(t.feed(raw('['), 120)).toEqual([])
    expect(t.feed(raw('6'), 300)).toEqual([])
    expect(t.feed(raw('~'), 500)).toEqual([{ id: 'PageDown', at: 100 }])
    expect(t.due()).toBeNull()
  })

  it('the way out is heard between letters, inside broken sequences, replies and pastes', () => {
    for (const before of [
      'a',
      '\x1b',
      '\x1b[',
      '\x1b[6',
      '\x1bO',
      '\x1b]11;',
      '\x1bP',
      '\x1b[M',
      '\x1b[200~ab',
      '\xc3',
    ])
      expect(ids(raw(`${before}\x03`)).at(-1), JSON.stringify(before)).toBe('C-c')
    expect(ids('a\x03b')).toEqual(['a', 'C-c', 'b'])
  })

  it('a paste stays a paste to its end, whatever is in it', () => {
    expect(ids('\x1b[200~[\x03[\x1b\x1b[201[\x1b[201~]')).toEqual(['C-c', ']'])
    expect(ids('\x1b[200~[\x1b\x1b[201~]')).toEqual([']'])
  })

  it('a pasted line, or a file dropped into the window, is one key with its text; several lines and a whole page are nothing', () => {
    const paste = (text: string) => tokenizer().feed(raw(`\x1b[200~${text}\x1b[201~`), 5)
    expect(paste("'/home/ann/Weir Street.mxl' ")).toEqual([
      { id: 'Paste', at: 5, text: "'/home/ann/Weir Street.mxl'" },
    ])
    for (const nothing of ['', '  ', 'one\ntwo', 'a\x1b[6~', 'x'.repeat(1001)])
      expect(paste(nothing)).toEqual([])
  })

  it('an accented letter cut between reads is one letter; broken ones vanish', () => {
    const t = tokenizer()
    expect(t.feed(Uint8Array.of(0xc3), 0)).toEqual([])
    expect(t.feed(Uint8Array.of(0xa9, 0x61), 1).map(k => k.id)).toEqual(['é', 'a'])
    expect(ids(Uint8Array.of(0xc3, 0x61, 0x80, 0xff, 0xc0, 0x80, 0xed, 0xa0, 0x80, 0x62))).toEqual(['a', 'b'])
  })

  it('a sequence broken off by the next one does not take that one with it', () => {
    expect(ids('\x1b[6\x1b[6~')).toEqual(['PageDown'])
    expect(ids('\x1b]11;rgb\x1b[6~')).toEqual(['PageDown'])
    expect(ids('\x1b\x1b[6~')).toEqual(['Escape', 'PageDown'])
  })
})

describe('waiting', () => {
  it('a lone Escape is a key after 30 ms, not before, and is stamped when it was pressed', () => {
    const t = tokenizer()
    t.feed(raw('\x1b'), 1000)
    expect(t.due()).toBe(1030)
    expect(t.flush(1029)).toEqual([])
    expect(t.flush(1030)).toEqual([{ id: 'Escape', at: 1000 }])
    expect(t.due()).toBeNull()
    expect(t.feed(raw('['), 1031)).toEqual([{ id: '[', at: 1031 }])
  })

  it('a broken sequence is dropped 250 ms after its last byte', () => {
    for (const broken of ['\x1b[', '\x1b[6', '\x1bO', '\x1b]0;', '\x1b[M ']) {
      const t = tokenizer()
      t.feed(raw(broken.slice(0, 2)), 0)
      t.feed(raw(broken.slice(2)), 100)
      expect(t.due()).toBe(350)
      expect(t.flush(350)).toEqual([])
      expect(t.feed(raw('a'), 400).map(k => k.id)).toEqual(['a'])
    }
  })

  it('a paste that never ends does not lock the pedals out for ever', () => {
    const t = tokenizer()
    t.feed(raw('\x1b[200~abc'), 0)
    expect(t.due()).toBe(1000)
    expect(t.flush(1000)).toEqual([])
    expect(t.feed(raw('\x1b[6~'), 1001).map(k => k.id)).toEqual(['PageDown'])
  })
})

describe('the edges of what terminals send', () => {
  it.each(['~', '\u00a1', '\u07ff', '\u0800', '\uffee', '\u{10000}', '\u{e0100}'])(
    'the first and last letters of each length in UTF-8 are letters: %j',
    letter => {
      expect(ids(letter)).toEqual([letter])
    },
  )

  it.each([
    ['a letter in more bytes than it needs', [0xc1, 0xbf]],
    ['the first byte of another letter where one should go on', [0xc3, 0xc0]],
    ['the same in three', [0xe0, 0x9f, 0xbf]],
    ['the same in four', [0xf0, 0x8f, 0xbf, 0xbf]],
    ['what is beyond Unicode', [0xf4, 0x90, 0x80, 0x80]],
    ['a first byte of five', [0xf8, 0x88, 0x80, 0x80, 0x80]],
    ['a greater one', [0xf8, 0xbf, 0xbf, 0xbf, 0xbf]],
    ['a byte that goes on with nothing', [0xa1]],
  ])('%s is none', (_, sent) => {
    expect(ids(Uint8Array.from([...sent, 0x61]))).toEqual(['a'])
  })

  it('a letter that is broken off by a key takes nothing from the next one', () => {
    expect(ids(Uint8Array.of(0xe3, 0x82, 0x1b, 0x5b, 0x36, 0x7e, 0xbd))).toEqual(['PageDown'])
    expect(ids(Uint8Array.of(0xe3, 0x82, 0x03, 0xbd, 0x61))).toEqual(['C-c', 'a'])
  })

  it('a line of 1,000 letters may be pasted, and no more', () => {
    const pasted = (letters: number) => tokenizer().feed(raw(`\x1b[200~${'x'.repeat(letters)}\x1b[201~`), 5)
    expect(pasted(1000)).toEqual([{ id: 'Paste', at: 5, text: 'x'.repeat(1000) }])
    expect(pasted(1001)).toEqual([])
    expect(pasted(1007)).toEqual([])
    expect(pasted(5000)).toEqual([])
  })

  it('the end of a paste has its escape: without it, it is text', () => {
    const texts = tokenizer()
      .feed(raw('\x1b[200~a[201~b\x1b[201~c'), 5)
      .map(k => k.text ?? k.id)
    expect(texts).toEqual(['a[201~b', 'c'])
  })

  it('what breaks off a short sequence counts by itself', () => {
    expect(ids('\x1bO\x7fa')).toEqual(['Backspace', 'a'])
    expect(ids('\x1bO\x1b[6~')).toEqual(['PageDown'])
    expect(ids('\x1bO\ra')).toEqual(['Enter', 'a'])
    expect(ids('\x1b[6\x7fa')).toEqual(['Backspace', 'a'])
    expect(ids('\x1bO a')).toEqual(['Space', 'a'])
    expect(ids('\x1b[6\x1fa')).toEqual([...ids('\x1f'), 'a'])
    expect(ids('\x1b[6\x03~')).toEqual(['C-c', '~'])
    expect(ids('\x1b\x03[')).toEqual(['C-c', '['])
  })

  it('each key has its own time, also where Escape came before a sequence', () => {
    const t = tokenizer()
    expect(t.feed(raw('\x1b'), 10)).toEqual([])
    expect(t.feed(raw('\x1b[6~'), 40)).toEqual([
      { id: 'Escape', at: 10 },
      { id: 'PageDown', at: 40 },
    ])
  })

  it('one paste after another begins empty', () => {
    const t = tokenizer()
    const texts = t.feed(raw('\x1b[200~one\x1b[201~\x1b[200~two\x1b[201~'), 5).map(k => k.text)
    expect(texts).toEqual(['one', 'two'])
  })

  it('a way out in the middle of a paste is heard, and the line around it means nothing', () => {
    expect(ids('\x1b[200~one\x03two\x1b[201~')).toEqual(['C-c'])
  })

  it('only ~ after 200 begins a paste', () => {
    expect(ids('\x1b[200A\x1b[6~').at(-1)).toBe('PageDown')
  })

  it('F1 to F5 of the Linux console, and nothing beside them', () => {
    expect(ids('\x1b[[A\x1b[[B\x1b[[E')).toEqual(['F1', 'F2', 'F5'])
    expect(ids('\x1b[[@')).toEqual(['@'])
    expect(ids('\x1b[[F')).toEqual(['F'])
  })

  it('an old mouse report is three bytes long', () => {
    expect(ids('\x1b[M !"a')).toEqual(['a'])
    expect(ids('\x1b[M \x1b[6~')).toEqual(['PageDown'])
  })

  it('a sequence of 64 letters is still read, a longer one is passed over to its end', () => {
    const keyOf = (length: number) => ids(`\x1b[6;1${';'.repeat(length - 3)}~a`).at(-1)
    expect(keyOf(64)).toBe('a')
    expect(keyOf(65)).toBe('a')
    expect(keyOf(200)).toBe('a')
  })

  it('an Escape pressed inside a reply that never ends is a key after 30 ms', () => {
    const t = tokenizer()
    expect(t.feed(raw('\x1b]0;abc'), 0)).toEqual([])
    expect(t.feed(raw('\x1b'), 200)).toEqual([])
    expect(t.due()).toBe(230)
    expect(t.flush(229)).toEqual([])
    expect(t.flush(230)).toEqual([{ id: 'Escape', at: 200 }])
  })

  it.each([
    ['\x1b[[', 250],
    ['\x1b[M', 250],
    ['\x1bP', 250],
    ['\x1b^', 250],
    ['\x1b_', 250],
    ['\x1bX', 250],
    ['\x1b[200~', 1000],
  ])('%j waits for its end %i ms, then it is dropped', (sent, ms) => {
    const t = tokenizer()
    expect(t.feed(raw(sent), 7)).toEqual([])
    expect(t.due()).toBe(7 + ms)
    expect(t.flush(7 + ms - 1)).toEqual([])
    expect(t.due()).toBe(7 + ms)
    expect(t.flush(7 + ms)).toEqual([])
    expect(t.due()).toBeNull()
  })
})

describe('laws', () => {
  const cut = (all: Uint8Array, sizes: readonly number[]): string[] => {
    const t = tokenizer()
    const found: string[] = []
    let i = 0
    for (let n = 0; i < all.length; n += 1) {
      const size = sizes[n % sizes.length]!
      found.push(...t.feed(all.subarray(i, i + size), n).map(k => k.id))
      i += size
    }
    return found
  }
  const sizes = fc.array(fc.integer({ min: 1, max: 7 }), { minLength: 1, maxLength: 20 })
  const sent = fc.constantFrom<readonly [string, readonly string[]]>(
    ...keys.map(([s, id]) => [s, [id]] as const),
    ...SILENT.map(s => [s, []] as const),
  )

  it('however the bytes are cut, the keys are the same, and nothing else is typed', () => {
    fc.assert(
      fc.property(fc.array(sent, { minLength: 1, maxLength: 30, size: 'max' }), sizes, (list, cuts) => {
        const all = bytes(list.map(([s]) => s).join(''))
        const expected = list.flatMap(([, id]) => id)
        expect(ids(all)).toEqual(expected)
        expect(cut(all, cuts)).toEqual(expected)
      }),
      { numRuns: 1000 },
    )
  })

  const noise = fc.array(
    fc.oneof(
      fc.constantFrom(
        0x1b,
        0x5b,
        0x4f,
        0x5d,
        0x3b,
        0x3a,
        0x24,
        0x7e,
        0x75,
        0x4d,
        0x5c,
        0x07,
        0x03,
        0x36,
        0x32,
        0x30,
      ),
      fc.integer({ min: 0, max: 255 }),
    ),
    { maxLength: 60, size: 'max' },
  )
  const NAME =
    /^(?:C-)?(?:M-)?(?:S-)?(?:[A-Z][A-Za-z]+|F\d+|(?:media|volume|focus)-[a-z-]+|[\p{L}\p{M}\p{N}\p{P}\p{S}\p{Zs}])$/u

  it('any bytes at all: never an error, always well-formed names, the same for every cut', () => {
    fc.assert(
      fc.property(noise, sizes, (list, cuts) => {
        const all = Uint8Array.from(list)
        const whole = ids(all)
        for (const id of whole) expect(id).toMatch(NAME)
        expect(cut(all, cuts)).toEqual(whole)
        expect(whole.filter(id => id === 'C-c').length).toBeGreaterThanOrEqual(
          list.filter(b => b === 3).length,
        )
      }),
      { numRuns: 2000 },
    )
  })

  it('after silence nothing is left waiting and the next press is heard', () => {
    fc.assert(
      fc.property(noise, list => {
        const t = tokenizer()
        t.feed(Uint8Array.from(list), 0)
        t.flush(10_000)
        expect(t.due()).toBeNull()
        expect(t.feed(raw('\x1b[6~'), 10_001)).toEqual([{ id: 'PageDown', at: 10_001 }])
      }),
      { numRuns: 1000 },
    )
  })
})
