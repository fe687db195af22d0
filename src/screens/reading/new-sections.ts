import type { Passage, Section } from '../../repertoire/piece.ts'
import type { Stretch } from './marks.ts'

/** A name that no other section of the passage has, by a number behind it. */
const freeName = (name: string, taken: readonly string[]): string => {
  const same = (a: string): boolean => taken.some(t => t.toLowerCase() === a.toLowerCase())
  if (!same(name)) return name
  for (let n = 2; ; n++) if (!same(`${name} (${n})`)) return `${name} (${n})`
}

/**
 * A passage with stretches as further sections; one that is there already, from and to the same places, is not stored
 * twice. `id` gives a new id at each call.
 */
export const withSections = (
  p: Passage,
  all: readonly Stretch[],
  id: () => string,
): { readonly passage: Passage; readonly added: readonly Section[] } => {
  const added: Section[] = []
  for (const { name, from, to } of all) {
    const there = [...(p.sections ?? []), ...added]
    if (there.some(s => s.from === from && s.to === to)) continue
    added.push({
      id: id(),
      name: freeName(
        name,
        there.map(s => s.name),
      ),
      from,
      to,
    })
  }
  return { passage: added.length > 0 ? { ...p, sections: [...(p.sections ?? []), ...added] } : p, added }
}
