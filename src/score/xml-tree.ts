import { SaxesParser } from 'saxes'

/** An element as it is read: its own text in one piece, without white space at its ends and between elements. */
export type Element = {
  readonly name: string
  readonly attrs: Readonly<Record<string, string>>
  readonly children: readonly Element[]
  readonly text: string
}

type Open = { name: string; attrs: Readonly<Record<string, string>>; children: Open[]; text: string }

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

/**
 * Its `fail` makes an Error of each fault: millions of unknown names would take a minute. More than seven listeners, and
 * the engine no longer knows by heart where its properties are: it would be four times as slow.
 */
class Reader extends SaxesParser<{ xmlns: false; position: false }> {
  failed: (message: string) => void = () => {}
  override fail(message: string): this {
    this.failed(message)
    return this
  }
}

/** Why this is no well-formed XML and where it shows; that its end comes inside of something; or a limit that it breaks. */
type Fault =
  | { readonly kind: 'broken'; readonly at: number; readonly reason: string }
  | { readonly kind: 'early' }
  | { readonly kind: 'limit'; readonly got: string; readonly accepted: string }
export type Tree = { readonly root: Element } | { readonly fault: Fault }

const NO_ATTRS: Readonly<Record<string, string>> = Object.freeze({})
const NO_CHILDREN: Open[] = []
/** So much is read at once: behind a fault no more than that. */
const PIECE = 65_536
/** What nobody listens to: the declaration and instructions. */
const BETWEEN = /^(?:\s|<\?.*?\?>)*/s
/** An & that begins no reference. */
const BARE = /&(?![^\s&<;]+;)/
const NUMBERED = /^&#(?:\d+|x[\da-fA-F]+);$/

/**
 * The tree of a well-formed XML text, built while saxes reads and checks it; what is not well-formed gives the fault
 * that shows first. It defines no entities: a name that only another file would define stays as it is written. Control
 * characters are let through, for real scores hold some, and a text for people is cleaned of them.
 */
export const treeOf = (s: string, rules: Rules): Tree => {
  const { skip, leave, taken } = rules
  const parser = new Reader({ xmlns: false, position: false })
  /** Those of the open elements that are kept. */
  const open: Open[] = []
  let root: Open | null = null
  let [depth, tags, attributes] = [0, 0, 0]
  /** Of the element that is being read: whether an attribute is not left out. */
  let some = false
  /** Where the last element at the depth of the taker began. */
  let began = 0
  /** Behind the last tag, comment or the like: only text, or what has not ended yet. */
  let past = 0
  let closed = ''
  let ending = false
  let fault: Fault | null = null
  const tooMuch = (got: string, accepted: string): void => {
    fault ??= { kind: 'limit', got, accepted }
  }
  const count = (): void => {
    if (++tags > rules.tags) tooMuch('more tags', `at most ${rules.tags} tags`)
  }
  const say = (text: string): void => {
    const el = open.length === depth ? open.at(-1) : undefined
    if (el) el.text += text.trim()
  }
  const mark = (): void => {
    past = parser.position
  }

  parser.on('opentag', ({ name, attributes: attrs }) => {
    if (fault) return
    mark()
    count()
    if (depth >= rules.depth) tooMuch('elements nested deeper', `at most ${rules.depth} deep`)
    const kept = open.length === depth && !skip.has(name)
    depth++
    if (taken?.depth === depth) began = s.lastIndexOf('<', past - 1)
    if (kept) {
      const el: Open = {
        name,
        attrs: some ? own(attrs, leave) : NO_ATTRS,
        children: NO_CHILDREN,
        text: '',
      }
      const parent = open.at(-1)
      if (parent?.children === NO_CHILDREN) parent.children = [el]
      else parent?.children.push(el)
      open.push(el)
      root ??= el
    }
    root ??= { name, attrs: NO_ATTRS, children: NO_CHILDREN, text: '' }
    attributes = 0
    some = false
  })
  parser.on('closetag', ({ name, isSelfClosing }) => {
    if (fault) return
    mark()
    if (!isSelfClosing) count()
    closed = name
    if (open.length === depth) {
      const el = open.pop()
      const parent = open.at(-1)
      if (el && parent && taken?.depth === depth && taken.by(el, parent, began, past)) parent.children.pop()
    }
    depth--
  })
  parser.on('attribute', ({ name }) => {
    if (++attributes > rules.attributes)
      tooMuch('an element with more attributes', `at most ${rules.attributes} attributes`)
    some ||= !leave.has(name)
  })
  parser.on('text', say)
  parser.on('cdata', text => {
    mark()
    say(text)
  })
  parser.on('doctype', mark)
  parser.on('comment', () => {
    // Its > is still to come.
    past = parser.position + 1
  })
  const broken = (at: number, reason: string): void => {
    fault = { kind: 'broken', at, reason }
  }
  const harmless = (message: string, at: number): boolean =>
    message === 'undefined entity.' ||
    (message === 'disallowed character.' && s[at] !== '<') ||
    (message === 'malformed character entity.' && NUMBERED.test(s.slice(s.lastIndexOf('&', at), at + 1)))
  const fail = (message: string): void => {
    const at = parser.position - 1
    if (fault || harmless(message, at)) return
    past += (BETWEEN.exec(s.slice(past)) as RegExpExecArray)[0].length
    const rest = s.slice(past)
    const bare = ending || message.includes('entity') ? rest.search(BARE) : -1
    const reason = message.replace(/\.$/, '')
    // Inside of a comment or the like an & means nothing.
    if (bare >= 0 && !/<[!?]/.test(rest.slice(0, bare))) broken(past + bare, "char '&' is not expected")
    else if (ending && (root || rest.trim() !== '')) fault = { kind: 'early' }
    else if (reason === 'unexpected close tag')
      broken(s.lastIndexOf('<', at), `Expected closing tag '${closed}'`)
    else if (reason.startsWith('unmatched')) broken(s.lastIndexOf('<', at), reason)
    else if (reason.startsWith('text data'))
      broken(past + rest.search(/\S/), 'text outside of the root element')
    else broken(at, reason)
  }
  parser.failed = fail

  for (let at = 0; at < s.length && !fault; at += PIECE) parser.write(s.slice(at, at + PIECE))
  ending = true
  if (!fault) parser.close()
  return fault ? { fault } : { root: root as unknown as Element }
}

/** Attributes that count, without white space at their ends. They know no names but their own. */
const own = (attrs: Record<string, string>, leave: ReadonlySet<string>): Readonly<Record<string, string>> => {
  for (const name in attrs) {
    if (leave.has(name)) delete attrs[name]
    else attrs[name] = (attrs[name] as string).trim()
  }
  return attrs
}
