import type { Wrong } from '../../repertoire/note.ts'
import type { Conductor } from './conduct.ts'
import { asksWhat } from './words.ts'

/** Keeps what went wrong, and where. */
export type Wrongs = {
  readonly names: readonly Wrong[]
  /** Of the same verdict a second time: takes it back. Resolves with what to say. */
  readonly keep: (what: Wrong, place: string | undefined, verdict: string) => Promise<string>
}

/**
 * After a slip the digits say what went wrong; while what was said of the latest one stands, the same digit takes it
 * back. Whether the key was one of them; `wrongs` = null where nothing is kept.
 */
export const wrongDigits = (wrongs: Wrongs | null) => {
  let said = { id: '', text: '' }
  return (id: string, conductor: Conductor): boolean => {
    const s = conductor.session()
    const asks = asksWhat(s.note) || (id === said.id && s.note.k === 'refused' && s.note.text === said.text)
    const what = asks ? wrongs?.names[Number(id) - 1] : undefined
    if (!what || !wrongs) return false
    const verdict = s.events.findLast(e => e.k === 'verdict')
    void wrongs
      .keep(what, verdict?.k === 'verdict' ? verdict.place : undefined, verdict?.id ?? '')
      .then(text => {
        said = { id, text }
        conductor.act({ k: 'refuse', text })
      })
    return true
  }
}
