import { sectionKey } from '../ladder/key.ts'
import { printable, problem } from '../music/result.ts'
import { PAIN_TEXT } from '../plan/care.ts'
import { findPiece } from '../store/find-piece.ts'
import { addNotes, NOTE_LENGTH, type NoteBody, noteDay, WRONGS, type Wrong } from '../store/notes.ts'
import { repertoire } from '../store/repertoire.ts'
import { type Context, must, type Outcome } from './context.ts'

const FLAGS = ['tomorrow', 'teacher', 'pain', 'wrong'] as const
type Flag = (typeof FLAGS)[number]

export type NoteTyped = {
  readonly tomorrow?: boolean
  readonly teacher?: boolean
  readonly pain?: boolean
  readonly wrong?: string
  readonly at?: string
  readonly for?: string
}

const SAID: Readonly<Record<Flag | 'note', string>> = {
  note: 'Noted.',
  tomorrow: 'Noted for tomorrow.',
  teacher: 'Noted for the teacher.',
  pain: `Noted. ${PAIN_TEXT}`,
  wrong: 'Noted.',
}

const LONGEST_PLACE = 20

const kindOf = (t: NoteTyped): Flag | 'note' => {
  const [kind, other] = FLAGS.filter(f => t[f] !== undefined)
  if (other) must(problem('kind of note', `--${kind} --${other}`, `one of --${FLAGS.join(', --')}`))
  return kind ?? 'note'
}

const textOf = (words: readonly string[], kind: Flag | 'note'): string => {
  const text = printable(words.join(' ')).trim()
  if (text === '' && kind !== 'pain' && kind !== 'wrong') must(problem('note', '', 'a word or a sentence'))
  if (text.length > NOTE_LENGTH)
    must(problem('note', `${text.slice(0, 40)}...`, `text of at most ${NOTE_LENGTH} characters`))
  return text
}

const wrongOf = (what: string | undefined, at: string | undefined): { what: Wrong; place?: string } => {
  const found = WRONGS.find(w => w === what) ?? must<never>(problem('wrong', what ?? '', WRONGS.join(', ')))
  const place = printable(at ?? '').trim()
  if (place.length > LONGEST_PLACE) must(problem('at', place, 'a measure, or measure and beat as 43.2'))
  return { what: found, ...(place === '' ? {} : { place }) }
}

/** What a note is about: a piece, or the ladder of a passage or section. */
const aboutOf = async (
  ctx: Context,
  name: string | undefined,
): Promise<{ readonly piece?: string; readonly key?: string }> => {
  if (name === undefined) return {}
  const { pieces } = await repertoire(ctx.home).list()
  const found = must(findPiece(pieces, name, true))
  const part = found.section ?? found.passage
  return { piece: found.in.piece.id, ...(part ? { key: sectionKey(part.id) } : {}) }
}

/** Keeps one of the player's own notes. */
export const noteCommand = async (ctx: Context, words: readonly string[], t: NoteTyped): Promise<Outcome> => {
  const k = kindOf(t)
  if (t.at !== undefined && k !== 'wrong') must(problem('--at', t.at, '--at together with --wrong'))
  const text = textOf(words, k)
  const said = k === 'wrong' ? { k, ...wrongOf(t.wrong, t.at) } : { k }
  const body: NoteBody = { ...said, text, ...(await aboutOf(ctx, t.for)) }
  const [note] = await addNotes(ctx.home, { ...ctx.clock, chance: ctx.chance }, [body])
  return { lines: [SAID[k]], json: note && { ...note, day: noteDay(note) } }
}
