import type { Context, Outcome } from '../app/context.ts'
import { todayOf } from '../app/now.ts'
import { sectionKey } from '../ladder/key.ts'
import { printable, problem, wrong } from '../music/result.ts'
import { NOTED, noteText } from '../plan/note-words.ts'
import {
  NOTE_LENGTH,
  type NoteAbout,
  type NoteBody,
  noteDay,
  WRONGS,
  type Wrong,
} from '../repertoire/note.ts'
import { addNotes, takeBackNote } from '../store/notes.ts'
import { repertoire } from '../store/repertoire.ts'
import { must } from './command.ts'
import type { Typed } from './commands.ts'
import { readKnown } from './notes.ts'

const FLAGS = ['tomorrow', 'teacher', 'pain', 'wrong'] as const
type Flag = (typeof FLAGS)[number]

const LONGEST_PLACE = 20

const kindOf = (t: Typed<'note'>): Flag | 'note' => {
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
  if (place.length > LONGEST_PLACE) must(problem('at', place, 'a measure, or measure and beat like 43.2'))
  return { what: found, ...(place !== '' && { place }) }
}

/** What a note is about: a piece, or the ladder of a passage or section. */
const subjectOf = async (ctx: Context, name: string | undefined): Promise<NoteAbout> => {
  if (name === undefined) return {}
  const found = must(await repertoire(ctx.home).find(name, true))
  const part = found.section ?? found.passage
  return { piece: found.in.piece.id, ...(part && { key: sectionKey(part.id) }) }
}

/** Takes a note back, and says which: the latest of today, or one by its id. */
const takeBack = async (ctx: Context, t: Typed<'note'>, words: readonly string[]): Promise<Outcome> => {
  const { takeBack: id, ...rest } = t
  const [other] = Object.keys(rest)
  if (words.length > 0 || other !== undefined)
    must(problem('--take-back', other ? `--${other}` : words.join(' '), 'it alone, or with the id of a note'))
  const { notes, about, letters } = await readKnown(ctx)
  const found =
    id === true ? notes.slice(-1).find(n => noteDay(n) === todayOf(ctx)) : notes.find(n => n.id === id)
  if (!found)
    return must(
      id === true
        ? wrong('You have no note from today. To take back another: --take-back ID (gradino notes --ids).')
        : problem('--take-back', id ?? '', 'an id from gradino notes --ids'),
    )
  await takeBackNote(ctx.home, { ...ctx.clock, chance: ctx.chance }, found.id)
  const of = about(found) && ` (${about(found)})`
  return {
    lines: [`Taken back: ${noteText(found, letters)}${of}.`],
    json: { takenBack: { ...found, day: noteDay(found) } },
  }
}

/** Keeps one of the player's own notes, or takes one back. */
export const noteCommand = async (
  ctx: Context,
  words: readonly string[],
  t: Typed<'note'>,
): Promise<Outcome> => {
  if (t.takeBack !== undefined) return takeBack(ctx, t, words)
  const k = kindOf(t)
  if (t.at !== undefined && k !== 'wrong')
    must(wrong('--at says where it went wrong. Add --wrong notes, rhythm, breath or sound.'))
  const text = textOf(words, k)
  const said = k === 'wrong' ? { kind: k, ...wrongOf(t.wrong, t.at) } : { kind: k }
  const body: NoteBody = { ...said, text, ...(await subjectOf(ctx, t.for)) }
  const [note] = await addNotes(ctx.home, { ...ctx.clock, chance: ctx.chance }, [body])
  return { lines: [NOTED[k]], json: note && { ...note, day: noteDay(note) } }
}
