/** An element as it is read: its own text in one piece, without white space at its ends and between elements. */
export type Element = {
  readonly name: string
  readonly attrs: Readonly<Record<string, string>>
  readonly children: readonly Element[]
  readonly text: string
}

type Open = { name: string; attrs: Record<string, string>; children: Open[]; text: string }

/** `from` and `to`: where it stands in the text. */
export type Taker = (el: Element, parent: Element, from: number, to: number) => boolean

export type Rules = {
  readonly depth: number
  readonly attributes: number
  readonly tags: number
  /** Elements that are checked, then left out with all that is inside. */
  readonly skip: ReadonlySet<string>
  /** Attributes that are left out. */
  readonly leave: ReadonlySet<string>
  /** Whoever takes an element that ends at this depth (1 = the root) spares the tree to keep it. */
  readonly taken?: { readonly depth: number; readonly by: Taker }
}

/** Why this is no well-formed XML and where it shows; that its end comes inside of something; or a limit that it breaks. */
type Fault =
  | { readonly kind: 'broken'; readonly at: number; readonly reason: string }
  | { readonly kind: 'early' }
  | { readonly kind: 'limit'; readonly got: string; readonly accepted: string }
export type Tree = { readonly root: Element } | { readonly fault: Fault }

const ENTITIES: Readonly<Record<string, string>> = { lt: '<', gt: '>', amp: '&', quot: '"', apos: "'" }
const REFERENCE = /&(?:#(\d{1,7})|#x([\da-fA-F]{1,6})|(lt|gt|amp|quot|apos));/g
/** How an & has to go on. A name that only another file would define stays as it is written. */
const AFTER_AMPERSAND = /&(?:#\d+|#x[\da-fA-F]+|\w{1,20});/y

/** Characters that XML 1.0 knows (section 2.2). */
const allowed = (code: number): boolean =>
  code >= 0x20
    ? code < 0xd800 || (code > 0xdfff && code < 0xfffe) || code > 0xffff
    : [9, 10, 13].includes(code)

const decoded = (text: string): string =>
  text.includes('&')
    ? text.replace(REFERENCE, (whole, decimal?: string, hex?: string, name = '') => {
        if (name !== '') return ENTITIES[name] ?? whole
        const code = decimal === undefined ? Number.parseInt(hex ?? '', 16) : Number(decimal)
        if (code > 0x10ffff) return whole
        return allowed(code) ? String.fromCodePoint(code) : ''
      })
    : text

const [TAB, LINE, RETURN, SPACE] = [0x09, 0x0a, 0x0d, 0x20]
const [BANG, QUOTE, APOSTROPHE, SLASH] = [0x21, 0x22, 0x27, 0x2f]
const [LESS, EQUALS, GREATER, QUESTION] = [0x3c, 0x3d, 0x3e, 0x3f]
const [OPENING, CLOSING, ORDER_MARK] = [0x5b, 0x5d, 0xfeff]

const isSpace = (c: number): boolean => c === SPACE || c === LINE || c === TAB || c === RETURN

/** Names of XML 1.0 (section 2.3), as far as the planes that scores use. */
const NAME =
  /^[:A-Za-z_\u00c0-\u00d6\u00d8-\u00f6\u00f8-\u02ff\u0370-\u037d\u037f-\u1fff\u200c-\u200d\u2070-\u218f\u2c00-\u2fef\u3001-\ud7ff\uf900-\ufdcf\ufdf0-\ufffd][-.:\w\u00b7\u00c0-\u00d6\u00d8-\u00f6\u00f8-\u037d\u037f-\u1fff\u200c-\u200d\u203f-\u2040\u2070-\u218f\u2c00-\u2fef\u3001-\ud7ff\uf900-\ufdcf\ufdf0-\ufffd]*$/
/** Names that mean something to every object here. */
const RESERVED: ReadonlySet<string> = new Set(['__proto__', 'constructor', 'prototype'])
const NO_ATTRS: Record<string, string> = Object.freeze({})
const NO_CHILDREN: Open[] = []

/** Index of the > that ends a document type, -1 where none does: those in quotes and in square brackets do not. */
const endOfType = (s: string, from: number): number => {
  let depth = 0
  for (let i = from; i < s.length; i++) {
    const c = s.charCodeAt(i)
    if (c === QUOTE || c === APOSTROPHE) {
      i = s.indexOf(c === QUOTE ? '"' : "'", i + 1)
      if (i < 0) return -1
    } else if (c === LESS && depth === 0) return -1
    else if (c === OPENING) depth++
    else if (c === CLOSING) depth--
    else if (c === GREATER && depth === 0) return i
  }
  return -1
}

/** Where a name that begins here ends. */
const endOfName = (s: string, from: number): number => {
  for (let i = from; ; i++) {
    const c = s.charCodeAt(i)
    // NaN behind the end
    if (!(c > SPACE) || c === GREATER || c === SLASH || c === EQUALS || c === LESS) return i
    if (c === QUOTE || c === APOSTROPHE) return i
  }
}

const pastSpace = (s: string, from: number): number => {
  let i = from
  while (isSpace(s.charCodeAt(i))) i++
  return i
}

/**
 * The tree of a well-formed XML text, in one pass: what is not well-formed gives the fault that shows first. It defines
 * no entities; comments, instructions and document types are passed over.
 */
export const treeOf = (s: string, rules: Rules): Tree => {
  const { skip, leave, taken } = rules
  /** Names of all open elements, and those of them that are kept. */
  const path: string[] = []
  const open: Open[] = []
  const names = new Map<string, string>()
  /** Attributes of the tag in hand. */
  const seen: string[] = []
  let root: Open | null = null
  let tags = 0
  /** Where the last element at the depth of the taker began. */
  let began = 0
  let fault: Fault | null = null
  const broken = (at: number, reason: string): number => {
    fault = { kind: 'broken', at, reason }
    return -1
  }
  const early = (): number => {
    fault = { kind: 'early' }
    return -1
  }
  const tooMuch = (got: string, accepted: string): number => {
    fault = { kind: 'limit', got, accepted }
    return -1
  }
  const tooManyTags = (): number => tooMuch('more tags', `at most ${rules.tags} tags`)

  /** A name, one string for all that are equal; "" where it is none. */
  const nameAt = (from: number, to: number): string => {
    const name = s.slice(from, to)
    const known = names.get(name)
    if (known !== undefined) return known
    if (!NAME.test(name)) return ''
    names.set(name, name)
    return name
  }

  /** Reads attributes into the element, if it is kept; gives the place of the / or > behind them. */
  const attributes = (from: number, el: Open | null): number => {
    seen.length = 0
    for (let at = from; ; ) {
      const begins = pastSpace(s, at)
      const c = s.charCodeAt(begins)
      if (c === GREATER || c === SLASH) return begins
      if (Number.isNaN(c)) return early()
      const ends = endOfName(s, begins)
      const name = nameAt(begins, ends)
      if (name === '') return broken(begins, `Attribute '${s.slice(begins, ends)}' is an invalid name`)
      if (begins === at) return broken(begins, `Attribute '${name}' has no space before it`)
      const equals = pastSpace(s, ends)
      if (s.charCodeAt(equals) !== EQUALS) return broken(begins, `Attribute '${name}' is without value`)
      const opens = pastSpace(s, equals + 1)
      const quote = s.charCodeAt(opens)
      if (quote !== QUOTE && quote !== APOSTROPHE)
        return broken(begins, `Attribute '${name}' is without value in quotes`)
      const closes = s.indexOf(quote === QUOTE ? '"' : "'", opens + 1)
      if (closes < 0) return early()
      if (seen.includes(name)) return broken(begins, `Attribute '${name}' is repeated`)
      if (seen.push(name) > rules.attributes)
        return tooMuch('an element with more attributes', `at most ${rules.attributes} attributes`)
      if (el && !leave.has(name)) {
        if (RESERVED.has(name)) return broken(begins, `${name} is a reserved name`)
        if (el.attrs === NO_ATTRS) el.attrs = {}
        el.attrs[name] = decoded(s.slice(opens + 1, closes).trim())
      }
      at = closes + 1
    }
  }

  /** A tag that opens at `<`: gives the place behind it. */
  const start = (at: number): number => {
    if (++tags > rules.tags) return tooManyTags()
    const ends = endOfName(s, at + 1)
    const name = nameAt(at + 1, ends)
    if (name === '') {
      if (at + 1 >= s.length) return early()
      return broken(at, ends === at + 1 ? "Invalid space after '<'" : `'${s.slice(at + 1, ends)}' is no name`)
    }
    if (root && path.length === 0) return broken(at, 'one root element')
    if (path.length >= rules.depth) return tooMuch('elements nested deeper', `at most ${rules.depth} deep`)
    const kept = open.length === path.length && !skip.has(name)
    if (kept && RESERVED.has(name)) return broken(at, `${name} is a reserved name`)
    const el: Open | null = kept ? { name, attrs: NO_ATTRS, children: NO_CHILDREN, text: '' } : null
    const tail = attributes(ends, el)
    if (tail < 0) return tail
    const alone = s.charCodeAt(tail) === SLASH
    const last = alone ? tail + 1 : tail
    if (last >= s.length) return early()
    if (s.charCodeAt(last) !== GREATER) return broken(at, `Tag '${name}' has a / inside`)
    const parent = open.at(-1)
    if (el && parent) {
      if (parent.children === NO_CHILDREN) parent.children = [el]
      else parent.children.push(el)
    }
    root ??= el ?? { name, attrs: NO_ATTRS, children: NO_CHILDREN, text: '' }
    path.push(name)
    if (taken && path.length === taken.depth) began = at
    if (el) open.push(el)
    if (alone) close(last + 1)
    return last + 1
  }

  const close = (to: number): void => {
    if (open.length === path.length) {
      const el = open.pop() as Open
      const parent = open.at(-1)
      if (taken && parent && path.length === taken.depth && taken.by(el, parent, began, to))
        parent.children.pop()
    }
    path.pop()
  }

  /** A tag that closes. */
  const end = (at: number): number => {
    if (++tags > rules.tags) return tooManyTags()
    const name = path.at(-1)
    const ends = at + 2 + (name ?? '').length
    if (name !== undefined && s.startsWith(name, at + 2)) {
      const last = pastSpace(s, ends)
      if (s.charCodeAt(last) === GREATER) {
        close(last + 1)
        return last + 1
      }
      if (last >= s.length) return early()
    }
    const other = s.slice(at + 2, endOfName(s, at + 2))
    if (name === undefined) return broken(at, `Closing tag '${other}' has not been opened`)
    return broken(at, `Expected closing tag '${name}' instead of '${other}'`)
  }

  let ampersand = s.indexOf('&')
  /** Text up to the next tag. */
  const say = (at: number): number => {
    const found = s.indexOf('<', at)
    const next = found < 0 ? s.length : found
    if (path.length === 0)
      return broken(at, root ? 'Extra text at the end' : `char '${s[at]}' is not expected`)
    for (; ampersand >= 0 && ampersand < next; ampersand = s.indexOf('&', ampersand + 1)) {
      AFTER_AMPERSAND.lastIndex = ampersand
      if (ampersand >= at && !AFTER_AMPERSAND.test(s)) return broken(ampersand, "char '&' is not expected")
    }
    const here = open.length === path.length ? open.at(-1) : undefined
    if (here) here.text += decoded(s.slice(at, next).trimEnd())
    return next
  }

  const past = (mark: string, from: number): number => {
    const at = s.indexOf(mark, from)
    return at < 0 ? early() : at + mark.length
  }
  const beginning = s.charCodeAt(0) === ORDER_MARK ? 1 : 0
  /** What begins with <! or <?. */
  const aside = (at: number): number => {
    if (s.charCodeAt(at + 1) === QUESTION) {
      if (at > beginning && /^<\?xml[\s?]/.test(s.slice(at, at + 6)))
        return broken(at, 'XML declaration allowed only at the start of the document')
      return past('?>', at + 2)
    }
    if (s.startsWith('<!--', at)) return past('-->', at + 4)
    if (s.startsWith('<![CDATA[', at) && path.length > 0) {
      const ends = past(']]>', at + 9)
      const here = open.length === path.length ? open.at(-1) : undefined
      if (ends >= 0 && here) here.text += s.slice(at + 9, ends - 3).trim()
      return ends
    }
    if (!s.startsWith('<!DOCTYPE', at) || root) return broken(at, "'<!' is not expected")
    const ends = endOfType(s, at + 9)
    return ends < 0 ? broken(at, 'a document type does not end') : ends + 1
  }

  let at = pastSpace(s, beginning)
  while (at >= 0 && at < s.length) {
    if (s.charCodeAt(at) !== LESS) at = say(at)
    else {
      const second = s.charCodeAt(at + 1)
      if (second === SLASH) at = end(at)
      else at = second === BANG || second === QUESTION ? aside(at) : start(at)
    }
    if (at >= 0) at = pastSpace(s, at)
  }
  if (!fault && path.length > 0) early()
  if (!fault && !root) broken(s.length, 'Start tag expected')
  return fault ? { fault } : { root: root as unknown as Element }
}
