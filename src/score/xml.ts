import { ok, problem, type Result } from '../music/result.ts'
import { MAX_ATTRIBUTES, MAX_DEPTH, MAX_TAGS } from './limits.ts'
import { clean } from './text.ts'
import { type Element, type Rules, type Taker, treeOf } from './xml-tree.ts'

export type { Element, Taker }

/** Where on the page something stands: a third of a score's size, and nothing is read of it. */
const PLACES: ReadonlySet<string> = new Set(['default-x', 'default-y', 'relative-x', 'relative-y'])
const NOTHING: ReadonlySet<string> = new Set()
/** So much of a line is shown before the place of a fault. */
const BEFORE = 12

/** What is left out of the tree, and who takes parts of it as they come. */
type Wanted = { readonly skip?: ReadonlySet<string>; readonly taken?: Rules['taken'] }

/**
 * The root element of well-formed XML. Nothing is fetched, and a file that defines entities is refused, so that nothing
 * can be expanded. Elements named in `skip` are checked but not kept. Where there is a fault the problem names the line.
 */
export const parseXml = (
  s: string,
  file: string,
  { skip = NOTHING, taken }: Wanted = {},
): Result<Element> => {
  if (s.includes('<!ENTITY')) return problem(file, 'ENTITY', 'a score that defines no entities of its own')
  const limits = { depth: MAX_DEPTH, attributes: MAX_ATTRIBUTES, tags: MAX_TAGS }
  const tree = treeOf(s, { ...limits, skip, leave: PLACES, ...(taken ? { taken } : {}) })
  if ('root' in tree) return ok(tree.root)
  const { fault } = tree
  if (fault.kind === 'limit') return problem(file, fault.got, fault.accepted)
  // Cut inside a tag or a text, or elements are open at the end.
  const cut = s.trimStart().startsWith('<') && !s.trimEnd().endsWith('>')
  if (cut || fault.kind === 'early') return problem(file, 'a file that ends too early', 'a whole XML file')
  const { at, reason } = fault
  const begins = s.lastIndexOf('\n', at - 1) + 1
  const ends = s.indexOf('\n', at)
  const line = s.slice(Math.max(begins, at + 1 - BEFORE), ends < 0 ? s.length : ends)
  return problem(
    `${file}, line ${s.slice(0, begins).split('\n').length}`,
    clean(line).slice(0, 60),
    `well-formed XML (${clean(reason)})`,
  )
}

/** First child of a name. */
export const child = (el: Element, name: string): Element | undefined => {
  for (const c of el.children) if (c.name === name) return c
  return undefined
}
export const childrenOf = (el: Element, name: string): readonly Element[] =>
  el.children.filter(c => c.name === name)
/** Cleaned text of the first child of a name, "" where there is none. */
export const textOf = (el: Element, name: string): string => clean(child(el, name)?.text ?? '')
export const attr = (el: Element, name: string): string | undefined => el.attrs[name]
