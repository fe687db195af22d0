import { ok, problem, type Result } from '../music/result.ts'
import { changeList } from '../repertoire/change-list.ts'
import type { Edits } from '../repertoire/edit.ts'
import type { Sources } from '../repertoire/entry.ts'
import type { Level } from '../repertoire/fields.ts'
import { KINDS, LISTS, type ListKey } from '../repertoire/lists.ts'
import type { Passage } from '../repertoire/piece.ts'
import { type EditTyped, FIELDS, type Op, optionKey, RAMP } from './edit-options.ts'

/** Whether anything but --keep and --anew was typed. */
export const saysSomething = (t: EditTyped): boolean => Object.keys(t).some(k => k !== 'keep' && k !== 'anew')

const texts = (ops: EditTyped[string], k: Op['kind']): readonly string[] =>
  Array.isArray(ops) ? (ops as readonly Op[]).filter(o => o.kind === k).map(o => o.text) : []

/** What was typed, as edits of a piece, a passage or a section; an option that is not for it is refused with `names`. */
export const editsOf = (
  t: EditTyped,
  level: Level,
  passage: Passage | null,
  names: (wanted: Level) => string,
  from: Sources,
): Result<Edits> => {
  const fields: { [key: string]: string } = {}
  for (const { flags, key, levels } of FIELDS) {
    const text = t[optionKey(flags)]
    if (typeof text !== 'string') continue
    const [wanted] = levels
    if (!levels.includes(level)) return problem(flags.split(' ')[0] ?? '', text, names(wanted as Level))
    fields[key] = text
  }
  const lists: { [K in ListKey]?: Edits['lists'][K] } = {}
  for (const list of LISTS) {
    const { name } = KINDS[list].option
    const ops = t[optionKey(`--${name} <x>`)]
    const ramps = list === 'tempos' ? texts(t[RAMP], 'put') : []
    const put = [...texts(ops, 'put'), ...ramps.map(r => `${r} ramp`)]
    const drop = texts(ops, 'drop')
    if (put.length + drop.length === 0) continue
    if (!passage || level !== 'passage')
      return problem(put.length > 0 ? `--${name}` : `--no-${name}`, put[0] ?? drop[0] ?? '', names('passage'))
    const changed = changeList(list, passage, { put, drop }, from)
    if (!changed.ok) return changed
    lists[list] = changed.value
  }
  return ok({ fields, lists })
}
