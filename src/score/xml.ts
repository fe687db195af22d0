import { XMLValidator } from 'fast-xml-parser'
import { ok, problem, type Result } from '../music/result.ts'
import { MAX_ATTRIBUTES, MAX_DEPTH, MAX_TAGS } from './limits.ts'
import { clean } from './text.ts'
import { type Element, treeOf } from './xml-tree.ts'

export type { Element }

/** Where on the page something stands: a third of a score's size, and nothing is read of it. */
const PLACES = /^(default|relative)-[xy]$/
/** So much of a line is shown before the place of a fault. */
const BEFORE = 12
/** A tag with too many values in quotes, or with too much outside of them. */
const CROWDED = new RegExp(`<(?:[^<>"']*(?:"[^"]*"|'[^']*')){${MAX_ATTRIBUTES + 1}}|["'<][^<>"']{100000}`)

/**
 * The root element of well-formed XML. Nothing is fetched, and a file that defines entities is refused, so that nothing
 * can be expanded. Elements named in `skip` are checked but not kept. Where the validator finds a fault the problem
 * names the line.
 */
export const parseXml = (s: string, file: string, skip: ReadonlySet<string> = new Set()): Result<Element> => {
  const refused = (where: string, got: string, reason: string) =>
    problem(where, clean(got).slice(0, 60), `well-formed XML (${clean(reason).replace(/\.$/, '')})`)
  const over = overLimits(s)
  if (over) return problem(file, over.got, over.accepted)
  const valid = XMLValidator.validate(s)
  if (valid !== true) {
    const { msg, line, col = 1 } = valid.err
    // Cut inside a tag, or elements are open at the end: then the library lists them all.
    const cut = s.trimStart().startsWith('<') && !s.trimEnd().endsWith('>')
    if (cut || /^(Unclosed tag|Invalid '\[)/.test(msg))
      return problem(file, 'a file that ends too early', 'a whole XML file')
    const there = s.split('\n', line).at(-1) ?? ''
    return refused(`${file}, line ${line}`, there.slice(Math.max(0, col - BEFORE)), msg)
  }
  try {
    const [root, another] = treeOf(s, { depth: MAX_DEPTH, skip, leave: PLACES })
    if (another) return refused(file, another.name, 'one root element')
    return root ? ok(root) : refused(file, 'no element', 'one root element')
  } catch (error) {
    if (!(error instanceof RangeError)) throw error
    return refused(file, 'this file', error.message)
  }
}

/** What would fill the memory before the library could say a word. */
const overLimits = (s: string): { readonly got: string; readonly accepted: string } | null => {
  if (s.includes('<!ENTITY'))
    return { got: 'ENTITY', accepted: 'a score that defines no entities of its own' }
  if (CROWDED.test(s))
    return { got: 'an element with more attributes', accepted: `at most ${MAX_ATTRIBUTES} attributes` }
  let tags = 0
  for (let at = s.indexOf('<'); at >= 0; at = s.indexOf('<', at + 1)) tags++
  return tags > MAX_TAGS ? { got: `${tags} tags`, accepted: `at most ${MAX_TAGS} tags` } : null
}

/** First child of a name. */
export const child = (el: Element, name: string): Element | undefined =>
  el.children.find(c => c.name === name)
export const childrenOf = (el: Element, name: string): readonly Element[] =>
  el.children.filter(c => c.name === name)
/** Cleaned text of the first child of a name, "" where there is none. */
export const textOf = (el: Element, name: string): string => clean(child(el, name)?.text ?? '')
export const attr = (el: Element, name: string): string | undefined => el.attrs[name]
