import { ok, problem, type Result } from '../../music/result.ts'
import { MAX_ATTRIBUTES, MAX_DEPTH, MAX_ELEMENTS } from './limits.ts'
import { clean } from './text.ts'

/*
 * Well-formed XML into a tree. Of our own because a score comes from strangers: one pass, linear in the length
 * whatever the file holds, bounded in depth and number, and no entity is ever defined, expanded or fetched.
 */
export type Element = {
  readonly name: string
  readonly attrs: ReadonlyMap<string, string>
  readonly children: readonly Element[]
  /** Its own text in one piece, as written; white space between elements is left out. */
  readonly text: string
}

type Draft = { name: string; attrs: ReadonlyMap<string, string>; children: Element[]; text: string }

const OPEN = /<([^\s/>"'<=!?&]+)/y
const ATTRIBUTE = /\s+([^\s=/>"'<]+)\s*=\s*(?:"([^"<]*)"|'([^'<]*)')/y
const OPEN_END = /\s*(\/?)>/y
const CLOSE = /<\/([^\s/>"'<=]+)\s*>/y
const SUBSET_END = /\]\s*>/y
const REFERENCE = /&(?:#(\d{1,8})|#x([0-9a-fA-F]{1,7})|([A-Za-z_:][\w.:-]*));/g
const PREDEFINED: ReadonlyMap<string, string> = new Map([
  ['amp', '&'],
  ['lt', '<'],
  ['gt', '>'],
  ['quot', '"'],
  ['apos', "'"],
])
const NO_ATTRIBUTES: ReadonlyMap<string, string> = new Map()
const NO_CHILDREN: Element[] = []

const matchAt = (re: RegExp, s: string, at: number): RegExpExecArray | null => {
  re.lastIndex = at
  return re.exec(s)
}

const character = (code: number): string =>
  code > 0x10ffff || code === 0 || (code >= 0xd800 && code < 0xe000) ? '\ufffd' : String.fromCodePoint(code)

/** Character references and the five entities of XML itself. Names of a DTD stay as written; a bare "&" gives null. */
const resolved = (raw: string): string | null => {
  if (!raw.includes('&')) return raw
  if (raw.replace(REFERENCE, '').includes('&')) return null
  return raw.replace(REFERENCE, (all, ten?: string, hex?: string, name?: string) =>
    name !== undefined
      ? (PREDEFINED.get(name) ?? all)
      : character(ten ? Number(ten) : Number.parseInt(hex ?? '', 16)),
  )
}

/** Where a document type declaration ends, or why it is refused. It is never followed. */
const skipDoctype = (s: string, from: number): number | 'entity' | 'open' => {
  for (let at = from; at < s.length; at++) {
    const c = s[at]
    if (c === '>') return at + 1
    if (c === '"' || c === "'") {
      at = s.indexOf(c, at + 1)
      if (at < 0) return 'open'
    } else if (c === '[') {
      let end = s.indexOf(']', at)
      while (end >= 0 && !matchAt(SUBSET_END, s, end)) end = s.indexOf(']', end + 1)
      if (end < 0) return 'open'
      return s.slice(at, end).includes('<!ENTITY') ? 'entity' : SUBSET_END.lastIndex
    }
  }
  return 'open'
}

/** The root element. Elements named in `skip` are checked but not kept. Problems name the line. */
export const parseXml = (s: string, file: string, skip: ReadonlySet<string> = new Set()): Result<Element> => {
  const stack: Draft[] = []
  let root: Draft | null = null
  let skipped = 0
  let count = 0
  let at = s.startsWith('\ufeff') ? 1 : 0
  const wrong = (where: number, got: string, accepted: string) => {
    const line = s.slice(0, where).split('\n').length
    return problem(`${file}, line ${line}`, clean(got).slice(0, 60), accepted)
  }
  const inside = (open: string, close: string): string | null => {
    const end = s.indexOf(close, at + open.length)
    if (end < 0) return null
    const content = s.slice(at + open.length, end)
    at = end + close.length
    return content
  }

  while (at < s.length) {
    const lt = s.indexOf('<', at)
    const raw = s.slice(at, lt < 0 ? s.length : lt)
    const top = stack.at(-1)
    if (raw.trim() !== '') {
      if (!top) return wrong(at, raw.trim(), 'an XML file that begins with "<" and has one root')
      const text = resolved(raw)
      if (text === null) return wrong(at, '&', '&amp; for an ampersand in a text')
      if (skipped === 0) top.text += text
    }
    if (lt < 0) break
    at = lt
    if (s.startsWith('<!--', at)) {
      if (inside('<!--', '-->') === null) return wrong(at, '<!--', 'a comment with its end "-->"')
    } else if (s.startsWith('<![CDATA[', at) && top) {
      const data = inside('<![CDATA[', ']]>')
      if (data === null) return wrong(at, '<![CDATA[', 'a CDATA section with its end "]]>"')
      if (skipped === 0) top.text += data
    } else if (s.startsWith('<?', at)) {
      if (inside('<?', '?>') === null) return wrong(at, '<?', 'a processing instruction with its end "?>"')
    } else if (s.startsWith('<!DOCTYPE', at) && !root) {
      const end = skipDoctype(s, at)
      if (end === 'entity') return wrong(at, 'ENTITY', 'a score that defines no entities of its own')
      if (end === 'open') return wrong(at, '<!DOCTYPE', 'a document type declaration with its end')
      at = end
    } else if (s.startsWith('</', at)) {
      const m = matchAt(CLOSE, s, at)
      if (!m || m[1] !== top?.name)
        return wrong(
          at,
          m?.[0] ?? s.slice(at, at + 20),
          top ? `</${clean(top.name)}>` : 'an opening tag first',
        )
      stack.pop()
      if (skipped > 0) skipped--
      at = CLOSE.lastIndex
    } else {
      const m = matchAt(OPEN, s, at)
      if (!m?.[1]) return wrong(at, s.slice(at, at + 20), 'the name of an element after "<"')
      if (root && !top) return wrong(at, m[0], 'one root element')
      if (++count > MAX_ELEMENTS) return wrong(at, `${count} elements`, `at most ${MAX_ELEMENTS} elements`)
      if (stack.length >= MAX_DEPTH) return wrong(at, m[0], `elements nested at most ${MAX_DEPTH} deep`)
      at = OPEN.lastIndex
      let attrs: Map<string, string> | null = null
      for (let a = matchAt(ATTRIBUTE, s, at); a?.[1]; a = matchAt(ATTRIBUTE, s, at)) {
        const value = resolved(a[2] ?? a[3] ?? '')
        if (value === null) return wrong(at, a[0], '&amp; for an ampersand in an attribute')
        attrs ??= new Map()
        if (attrs.has(a[1])) return wrong(at, a[0], 'each attribute once')
        if (attrs.size >= MAX_ATTRIBUTES) return wrong(at, a[0], `at most ${MAX_ATTRIBUTES} attributes`)
        attrs.set(a[1], value)
        at = ATTRIBUTE.lastIndex
      }
      const end = matchAt(OPEN_END, s, at)
      if (!end) return wrong(at, s.slice(at, at + 20), `attributes as name="value", then ">"`)
      at = OPEN_END.lastIndex
      const el: Draft = { name: m[1], attrs: attrs ?? NO_ATTRIBUTES, children: NO_CHILDREN, text: '' }
      root ??= el
      const dropped = skipped > 0 || skip.has(el.name)
      if (top && !dropped) {
        if (top.children === NO_CHILDREN) top.children = [el]
        else top.children.push(el)
      }
      if (end[1] === '') {
        stack.push(el)
        if (dropped) skipped++
      }
    }
  }
  const open = stack.at(-1)
  if (open) return wrong(s.length, 'the end of the file', `</${clean(open.name)}>`)
  return root ? ok(root) : problem(file, 'no element', 'an XML file')
}

/** First child of a name. */
export const child = (el: Element, name: string): Element | undefined =>
  el.children.find(c => c.name === name)
export const childrenOf = (el: Element, name: string): readonly Element[] =>
  el.children.filter(c => c.name === name)
/** Cleaned text of the first child of a name, "" where there is none. */
export const textOf = (el: Element, name: string): string => clean(child(el, name)?.text ?? '')
export const attr = (el: Element, name: string): string | undefined => el.attrs.get(name)
