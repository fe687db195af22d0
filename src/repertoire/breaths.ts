import * as z from 'zod'
import { BREATH_KINDS, type BreathKind, MAY_WAIT, ONLY_THESE_WAIT } from '../music/form.ts'
import { noteValueName, parseLength } from '../music/note-value.ts'
import { ok, problem } from '../music/result.ts'
import { parseTempo, typed } from '../music/tempo.ts'
import { type Kind, parts, place, yes } from './entry.ts'
import { musicText, textUpTo } from './kinds.ts'

const SLOW = 'slow'
const WAITS = 'waits'
const kindNamed = (word: string): BreathKind | null =>
  word === SLOW ? 'slow-breath' : (BREATH_KINDS.find(k => k === word) ?? null)

/** Kinds that may take time of their own. */
const ADDING: readonly BreathKind[] = ['slow-breath', 'caesura', 'fermata']

const BREATH = `a place, like 42.4; behind it ${BREATH_KINDS.join(', ').replace('slow-breath', SLOW)}; adds=half, below=96, ${WAITS}, and last word=and what it says`

/** What stands behind a mark's place: its kind, and what is said with "=". */
const marked = (
  rest: readonly string[],
): { kind: BreathKind; said: ReadonlyMap<string, string>; waits: boolean } | null => {
  const [first] = rest
  const kind = first === undefined ? 'breath' : kindNamed(first)
  const said = new Map<string, string>()
  const words = rest.slice(kind && first !== undefined ? 1 : 0)
  for (const word of words.filter(w => w !== WAITS)) {
    const two = parts(word)
    if (!two || !['adds', 'below'].includes(two[0]) || said.has(two[0])) return null
    said.set(two[0], two[1])
  }
  return { kind: kind ?? 'breath', said, waits: words.includes(WAITS) }
}

/** A breath or another mark in the music. */
export type WrittenBreath = {
  readonly at: string
  readonly kind: BreathKind
  /** Length; a beat where it is not said. */
  readonly adds?: string
  readonly below?: string
  /** A caesura or fermata that waits for the pedal. */
  readonly waits?: boolean
  readonly word?: string
}

const mark: z.ZodType<WrittenBreath> = z
  .looseObject({
    at: place,
    kind: z.enum(BREATH_KINDS, BREATH_KINDS.join(', ')),
    adds: musicText(parseLength).exactOptional(),
    below: musicText(parseTempo).exactOptional(),
    waits: yes.exactOptional(),
    word: textUpTo(60).exactOptional(),
  })
  .superRefine((b, ctx) => {
    if (b.kind === 'slow-breath' && b.below === undefined)
      ctx.addIssue({ code: 'custom', path: ['below'], message: 'the tempo below which it is taken' })
    if (b.waits && !MAY_WAIT.includes(b.kind))
      ctx.addIssue({ code: 'custom', path: ['waits'], message: ONLY_THESE_WAIT })
  })

export const breaths: Kind<WrittenBreath> = {
  schema: mark,
  what: 'a list of breaths',
  most: 2000,
  label: 'breath',
  all: 'breaths and marks',
  hint: '42.4 is a breath; or 43 slow below=96, 44 caesura adds=half, 44 fermata waits, bow, turn, mute, instrument, look; last word=a word of yours.',
  behind: 'ends',
  option: {
    name: 'breath',
    put: '<mark>',
    drop: '<place>',
    says: 'a breath or another mark: 42.4, or "43 slow below=96"',
  },
  by: 'place',
  known: b => b.at,
  sort: b => b.kind,
  text: b =>
    [
      b.at,
      b.kind === 'breath' ? '' : b.kind === 'slow-breath' ? SLOW : b.kind,
      b.below === undefined ? '' : `below=${b.below}`,
      b.adds === undefined ? '' : `adds=${b.adds}`,
      b.waits ? WAITS : '',
      b.word === undefined ? '' : `word=${b.word}`,
    ]
      .filter(Boolean)
      .join(' '),
  read: (s, field) => {
    const [, head = s, word] = /^(.*?)(?:\s+word=(.*))?$/s.exec(s) ?? []
    const [at = '', ...rest] = head.trim().split(/\s+/)
    const mark = marked(rest)
    if (!mark || at === '' || word?.trim() === '') return problem(field, s, BREATH)
    const { kind, said, waits } = mark
    const [adds, below] = [said.get('adds'), said.get('below')]
    if (adds !== undefined && !ADDING.includes(kind))
      return problem(
        `${field}, adds`,
        adds,
        'nothing here: only slow breaths, caesuras and fermatas add time',
      )
    if (below !== undefined && kind !== 'slow-breath')
      return problem(`${field}, below`, below, 'nothing here: only a slow breath is taken below a tempo')
    if (waits && !MAY_WAIT.includes(kind)) return problem(`${field}, ${WAITS}`, kind, ONLY_THESE_WAIT)
    const length = adds === undefined ? null : parseLength(adds, `${field}, adds`)
    const tempo = below === undefined ? null : parseTempo(below, `${field}, below`)
    if (length && !length.ok) return length
    if (tempo && !tempo.ok) return tempo
    if (kind === 'slow-breath' && !tempo)
      return problem(`${field}, below`, '', 'the tempo below which it is taken, like 43 slow below=96')
    return ok({
      at,
      kind,
      ...(length ? { adds: noteValueName(length.value) } : {}),
      ...(tempo ? { below: typed(tempo.value) } : {}),
      ...(waits ? { waits } : {}),
      ...(word === undefined ? {} : { word: word.trim() }),
    })
  },
}
