import * as z from 'zod'
import { BREATH_KINDS, type BreathKind, MAY_WAIT, ONLY_THESE_WAIT } from '../music/form.ts'
import { noteValueName, parseLength } from '../music/note-value.ts'
import { END, type Letters, placeWords } from '../music/place.ts'
import { attempt, given, problem } from '../music/result.ts'
import { parseTempo, spoken, typed } from '../music/tempo.ts'
import { type EntryKind, musicText, parts, place, tempo, textUpTo, yes } from './kinds.ts'

const SLOW = 'slow'
const WAITS = 'waits'
const BEFORE = 'before'
const kindNamed = (word: string): BreathKind | null =>
  word === SLOW ? 'slow-breath' : (BREATH_KINDS.find(k => k === word) ?? null)

/** Kinds that may take time of their own. */
const ADDING: readonly BreathKind[] = ['slow-breath', 'caesura', 'fermata']

const ONLY_FERMATAS = 'leaving it out: only a fermata stands on a note'

const BREATH = `a place, like 42.4; after it ${BREATH_KINDS.join(', ').replace('slow-breath', SLOW)}; adds=half, below=96, ${WAITS}; for a fermata note=half or ${BEFORE}; and at the end word=your own text`

/** What stands behind a mark's place: its kind, and what is said with "=". */
const marked = (
  rest: readonly string[],
): { kind: BreathKind; said: ReadonlyMap<string, string>; waits: boolean; before: boolean } | null => {
  const [first] = rest
  const kind = first === undefined ? 'breath' : kindNamed(first)
  const said = new Map<string, string>()
  const words = rest.slice(kind && first !== undefined ? 1 : 0)
  for (const word of words.filter(w => w !== WAITS && w !== BEFORE)) {
    const two = parts(word)
    if (!two || !['adds', 'below', 'note'].includes(two[0]) || said.has(two[0])) return null
    said.set(two[0], two[1])
  }
  return { kind: kind ?? 'breath', said, waits: words.includes(WAITS), before: words.includes(BEFORE) }
}

/**
 * A breath or another mark in the music. It comes before the note that begins at its place; a fermata is on that note,
 * and holds at its end.
 */
export type WrittenBreath = {
  readonly at: string
  readonly kind: BreathKind
  /** Length; a beat where it is not said. */
  readonly adds?: string
  readonly below?: string
  /** A caesura or fermata that waits for the pedal. */
  readonly waits?: boolean
  /** Length of the note on which a fermata stands; a beat where it is not said. */
  readonly note?: string
  /** A fermata on the note that ends at the place, however long it is. */
  readonly before?: boolean
  readonly word?: string
}

const mark: z.ZodType<WrittenBreath> = z
  .looseObject({
    at: place,
    kind: z.enum(BREATH_KINDS, BREATH_KINDS.join(', ')),
    adds: musicText(parseLength).exactOptional(),
    below: musicText(parseTempo).exactOptional(),
    waits: yes.exactOptional(),
    note: musicText(parseLength).exactOptional(),
    before: yes.exactOptional(),
    word: textUpTo(60).exactOptional(),
  })
  .superRefine((b, ctx) => {
    if (b.kind === 'slow-breath' && b.below === undefined)
      ctx.addIssue({ code: 'custom', path: ['below'], message: 'the tempo below which you take it' })
    for (const key of ['note', 'before'] as const)
      if (b[key] !== undefined && b.kind !== 'fermata')
        ctx.addIssue({ code: 'custom', path: [key], message: ONLY_FERMATAS })
    if (b.waits && !MAY_WAIT.includes(b.kind))
      ctx.addIssue({ code: 'custom', path: ['waits'], message: ONLY_THESE_WAIT })
  })

const SAYS: { readonly [K in BreathKind]: string } = {
  breath: 'breathe before',
  'slow-breath': 'breathe before',
  caesura: 'caesura before',
  fermata: 'holds the note on',
  bow: 'new bow at',
  turn: 'page turn before',
  mute: 'mute before',
  instrument: 'change of instrument before',
  look: 'look up before',
}

/** "holds the note on m. 63"; "breathe before m. 58, beat 2, below quarter = 96". */
const inWords = (b: WrittenBreath, letters?: Letters | null): string => {
  const end = b.at === END
  const place = b.kind === 'fermata' && end ? 'the last note' : placeWords(b.at, letters)
  const what =
    b.kind !== 'fermata' ? SAYS[b.kind] : end ? 'holds' : b.before ? 'holds the note before' : SAYS.fermata
  const below = b.below === undefined ? null : parseTempo(b.below)
  const long = (text: string | undefined, say: (name: string) => string): string => {
    const read = text === undefined ? null : parseLength(text)
    return read?.ok ? say(noteValueName(read.value).replaceAll('-', ' ')) : ''
  }
  return [
    `${what} ${place}`,
    long(b.note, name => `a ${name}`),
    below?.ok ? `below ${spoken(below.value)}` : '',
    b.waits ? 'until your pedal' : long(b.adds, name => `for a ${name} more`),
  ]
    .filter(Boolean)
    .join(', ')
}

export const breaths: EntryKind<WrittenBreath> = {
  schema: mark,
  most: 2000,
  label: 'breath',
  all: 'breaths and marks',
  hint: '42.4: breathe before it; or 43 slow below=96, 44 caesura adds=half, bow, turn, mute, instrument, look. 44 fermata holds the note that begins there, a beat or note=half, until the pedal with waits. At the end, word=your own text.',
  behind: 'ends',
  option: ['breath', '<mark>', '<place>', 'a breath or another mark: 42.4, or "43 slow below=96"'],
  by: 'place',
  known: b => b.at,
  sort: b => (b.before ? `${b.kind} ${BEFORE}` : b.kind),
  text: (b, felt) =>
    [
      b.at,
      b.kind === 'breath' ? '' : b.kind === 'slow-breath' ? SLOW : b.kind,
      b.below === undefined ? '' : `below=${tempo.show(b.below, felt)}`,
      b.adds === undefined ? '' : `adds=${b.adds}`,
      b.note === undefined ? '' : `note=${b.note}`,
      b.before ? BEFORE : '',
      b.waits ? WAITS : '',
      b.word === undefined ? '' : `word=${b.word}`,
    ]
      .filter(Boolean)
      .join(' '),
  says: inWords,
  read: (s, field, { felt }) =>
    attempt(need => {
      const no = (at: string, got: string, accepted: string) =>
        need<never>(problem(field + at, got, accepted))
      const [, head = s, word] = /^(.*?)(?:\s+word=(.*))?$/s.exec(s) ?? []
      const [at = '', ...rest] = head.trim().split(/\s+/)
      const found = marked(rest)
      if (!found || at === '' || word?.trim() === '') return no('', s, BREATH)
      const { kind, said, waits, before } = found
      const [adds, below, note] = [said.get('adds'), said.get('below'), said.get('note')]
      if (adds !== undefined && !ADDING.includes(kind))
        no(', adds', adds, 'leaving it out: only slow breaths, caesuras and fermatas add time')
      if (below !== undefined && kind !== 'slow-breath')
        no(', below', below, 'leaving it out: only a slow breath is taken below a tempo')
      if ((before || note !== undefined) && kind !== 'fermata')
        no(`, ${before ? BEFORE : 'note'}`, note ?? kind, ONLY_FERMATAS)
      if (before && note !== undefined)
        no(', note', note, `leaving it out: with "${BEFORE}" it is the note that ends there`)
      if (waits && !MAY_WAIT.includes(kind)) no(`, ${WAITS}`, kind, ONLY_THESE_WAIT)
      const long = (text: string | undefined, what: string) =>
        text === undefined ? undefined : noteValueName(need(parseLength(text, `${field}, ${what}`)))
      const [added, held] = [long(adds, 'adds'), long(note, 'note')]
      if (kind === 'slow-breath' && below === undefined)
        no(', below', '', 'the tempo below which you take it, like 43 slow below=96')
      return given({
        at,
        kind,
        adds: added,
        below: below === undefined ? undefined : typed(need(parseTempo(below, `${field}, below`, felt))),
        note: held,
        before: before || undefined,
        waits: waits || undefined,
        word: word?.trim(),
      })
    }),
}
