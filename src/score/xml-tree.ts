/** An element as it is read: its own text in one piece, without white space at its ends and between elements. */
export type Element = {
  readonly name: string
  readonly attrs: Readonly<Record<string, string>>
  readonly children: readonly Element[]
  readonly text: string
}

/** One that is still open; a skipped one keeps nothing. */
type Open = { name: string; attrs: Record<string, string>; children: Open[]; text: string }

type Limits = {
  readonly depth: number
  /** Elements that are left out with all that is inside. */
  readonly skip: ReadonlySet<string>
  /** Attributes that are left out. */
  readonly leave: RegExp
}

const ENTITIES: Readonly<Record<string, string>> = { lt: '<', gt: '>', amp: '&', quot: '"', apos: "'" }
const REFERENCE = /&(?:#(\d{1,7})|#x([\da-fA-F]{1,6})|(lt|gt|amp|quot|apos));/g

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

const [QUOTE, APOSTROPHE, GREATER, OPENING, CLOSING, SLASH] = [0x22, 0x27, 0x3e, 0x5b, 0x5d, 0x2f]

/** Index of the > that ends a tag or a document type, -1 where none does: those in quotes and in square brackets do not. */
const endOf = (s: string, from: number): number => {
  let depth = 0
  for (let i = from; i < s.length; i++) {
    const c = s.charCodeAt(i)
    if (c === QUOTE || c === APOSTROPHE) {
      i = s.indexOf(c === QUOTE ? '"' : "'", i + 1)
      if (i < 0) return -1
    } else if (c === OPENING) depth++
    else if (c === CLOSING) depth--
    else if (c === GREATER && depth <= 0) return i
  }
  return -1
}

const ATTRIBUTE = /([^\s=]+)\s*=\s*(?:"([^"]*)"|'([^']*)')/g
const NAME = /[^\s/>]+/y
const NONE: Record<string, string> = Object.freeze({})
/** Names that mean something to every object here. */
const RESERVED: ReadonlySet<string> = new Set(['__proto__', 'constructor', 'prototype'])

/** Elements at the top of XML that a validator has found well-formed. Throws RangeError with a reason for what it can't take. */
export const treeOf = (s: string, { depth, skip, leave }: Limits): readonly Element[] => {
  const top: Open = { name: '', attrs: NONE, children: [], text: '' }
  const open: Open[] = [top]
  /** How deep inside of something skipped. */
  let skipped = 0
  const names = new Map<string, string>()
  const known = (name: string): string => {
    const there = names.get(name)
    if (there === undefined) names.set(name, name)
    return there ?? name
  }
  const attrsIn = (inside: string): Record<string, string> => {
    if (!inside.includes('=')) return NONE
    const attrs: Record<string, string> = {}
    let any = false
    for (const [, name = '', double, single] of inside.matchAll(ATTRIBUTE)) {
      if (leave.test(name)) continue
      if (RESERVED.has(name)) throw new RangeError(`${name} is a reserved name`)
      any = true
      attrs[known(name)] = decoded((double ?? single ?? '').trim())
    }
    return any ? attrs : NONE
  }
  const say = (text: string): void => {
    const here = open.at(-1)
    if (skipped === 0 && here && text !== '') here.text += text
  }
  const past = (mark: string, from: number): number => {
    const at = s.indexOf(mark, from)
    if (at < 0) throw new RangeError(mark === '-->' ? 'Comment is not closed' : `${mark} is missing`)
    return at + mark.length
  }

  let at = 0
  for (let next = s.indexOf('<'); next >= 0; next = s.indexOf('<', at)) {
    if (next > at) say(decoded(s.slice(at, next).trim()))
    const second = s[next + 1]
    if (second === '/') {
      at = past('>', next)
      if (skipped > 0) skipped--
      else if (open.length > 1) open.pop()
    } else if (second === '?') at = past('?>', next)
    else if (s.startsWith('<!--', next)) at = past('-->', next)
    else if (s.startsWith('<![CDATA[', next)) {
      at = past(']]>', next)
      say(s.slice(next + 9, at - 3).trim())
    } else {
      const end = endOf(s, next + 1)
      if (end < 0) throw new RangeError('a tag does not end')
      at = end + 1
      if (second === '!') continue
      const alone = s.charCodeAt(end - 1) === SLASH
      NAME.lastIndex = next + 1
      const name = known(NAME.exec(s)?.[0] ?? '')
      if (open.length + skipped > depth) throw new RangeError('Maximum nested tags exceeded')
      if (skipped > 0 || skip.has(name)) {
        if (!alone) skipped++
        continue
      }
      if (RESERVED.has(name)) throw new RangeError(`${name} is a reserved name`)
      const inside = s.slice(next + 1 + name.length, alone ? end - 1 : end)
      const element: Open = { name, attrs: attrsIn(inside), children: [], text: '' }
      open.at(-1)?.children.push(element)
      if (!alone) open.push(element)
    }
  }
  return top.children
}
