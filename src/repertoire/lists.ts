import * as z from 'zod'
import type { Frac } from '../music/fraction.ts'
import { meterText, parseMeter } from '../music/meter.ts'
import { placeWords, stretchWords } from '../music/place.ts'
import { ok, printable, problem } from '../music/result.ts'
import { parseRhythm } from '../music/rhythm.ts'
import { parseTempo, spoken, typed } from '../music/tempo.ts'
import { breaths } from './breaths.ts'
import { type Stored, schemas } from './field.ts'
import { SECTION } from './fields.ts'
import { type EntryKind, musicText, parts, place, tempo, textUpTo, yes } from './kinds.ts'
import { RANDOM_NAME } from './names.ts'

/** What a piece, a passage or a section is known by whatever it is called. */
export const id = z.string('an id').regex(RANDOM_NAME, '4 to 40 lower-case letters and digits')

/** Ids under which it was practiced before its music changed and began anew, oldest first: their ceilings stay readable. */
export type Earlier = readonly string[]
export const was = z.array(id, 'a list of ids').max(200, 'at most 200 of them').exactOptional()

/** A small unit with its own ladder. It ends after the first note of the next one, as a rule. */
export type Section = Stored<typeof SECTION> & { readonly id: string; readonly was?: Earlier }

const REHEARSAL = 'the place and the mark that is printed there, like 43=C'
/** A rehearsal mark as printed: "C". */
type Rehearsal = { readonly at: string; readonly text: string }
const rehearsals: EntryKind<Rehearsal> = {
  schema: z.looseObject({ at: place, text: textUpTo(60) }),
  most: 500,
  label: 'rehearsal mark',
  all: 'rehearsal marks',
  hint: 'A rehearsal mark as printed: 43=C.',
  behind: 'rests',
  option: ['rehearsal', '<place=mark>', '<place>', 'a rehearsal mark as printed: 43=C'],
  by: 'place',
  known: r => r.at,
  text: r => `${r.at}=${r.text}`,
  says: r => `${r.text} at ${placeWords(r.at)}`,
  read: (s, field) => {
    const two = parts(s)
    return two && two[0] !== '' && two[1] !== ''
      ? ok({ at: two[0], text: two[1] })
      : problem(field, s, REHEARSAL)
  },
}

const CHANGE = 'the measure and its meter, like 43=3/4'
/** Another meter from a measure on. */
type Change = { readonly at: string; readonly meter: string }
const changes: EntryKind<Change> = {
  schema: z.looseObject({ at: place, meter: musicText(parseMeter) }),
  most: 1000,
  label: 'change',
  all: 'meter changes',
  hint: 'Another meter from a measure on: 43=3/4.',
  behind: 'meter',
  option: ['change', '<measure=meter>', '<measure>', 'another meter from a measure on: 43=3/4'],
  by: 'place',
  known: c => c.at,
  text: c => `${c.at}=${c.meter}`,
  says: (c, letters) => `${placeWords(c.at, letters)}: ${c.meter}`,
  read: (s, field) => {
    const two = parts(s)
    if (!two) return problem(field, s, CHANGE)
    const meter = parseMeter(two[1], field)
    return meter.ok ? ok({ at: two[0], meter: meterText(meter.value) }) : meter
  },
}

const TEMPO = 'the place and its tempo, like 43=half=66, with "ramp" after it if it slides to the next one'
/** A written tempo; the first stands at the first note, and the ladder scales them all by one ratio. */
type WrittenTempo = { readonly at: string; readonly tempo: string; readonly ramp?: boolean }
const tempos: EntryKind<WrittenTempo> = {
  schema: z.looseObject({ at: place, tempo: musicText(parseTempo), ramp: yes.exactOptional() }),
  most: 1000,
  label: 'tempo',
  all: 'tempos',
  hint: 'Another tempo from a place on: 43=half=66. To slide evenly to the next tempo: 43.3=72 ramp.',
  behind: 'start',
  option: ['tempo-mark', '<place=tempo>', '<place>', 'another tempo from a place on: 43=half=66'],
  by: 'place',
  known: t => t.at,
  says: (t, letters) => {
    const read = parseTempo(t.tempo)
    return `${placeWords(t.at, letters)}: ${read.ok ? spoken(read.value) : 'as before'}${t.ramp ? ', sliding to the next' : ''}`
  },
  text: (t, felt) => t.at + (t.tempo === '' ? '' : `=${tempo.show(t.tempo, felt)}`) + (t.ramp ? ' ramp' : ''),
  read: (s, field, { felt }) => {
    const steady = s.replace(/\s+ramp$/, '')
    const ramp = steady === s ? {} : { ramp: true }
    const two = parts(steady)
    // A ramp may begin at the tempo that runs there; which one that is, the whole passage says.
    if (!two) return steady === s ? problem(field, s, TEMPO) : ok({ at: steady.trim(), tempo: '', ...ramp })
    const read = parseTempo(two[1], field, felt)
    return read.ok ? ok({ at: two[0], tempo: typed(read.value), ...ramp }) : read
  },
}

const RHYTHM = 'the name of a rhythm, like long-short, or its ratios, like 3:1'
const rhythms: EntryKind<string> = {
  schema: z.string('text').regex(/^[a-z0-9][a-z0-9:/-]{0,59}$/, 'the name of a rhythm, or ratios like 3:1'),
  most: 40,
  label: 'rhythm',
  all: 'rhythms',
  hint: 'An altered rhythm to practice it in, by name or ratios: long-short, or 3:1.',
  behind: 'run',
  option: ['rhythm', '<name>', '<name>', 'an altered rhythm to practice it in: long-short, or 3:1'],
  by: 'name',
  known: r => r,
  text: r => r,
  read: (s, field, from) => {
    if (/^\d/.test(s)) {
      const read = parseRhythm(s, field)
      return read.ok ? ok(read.value.name) : read
    }
    return from.isRhythm(s) ? ok(s) : problem(field, s, RHYTHM)
  },
}

const NAMED = 'its name and its two places, like 2=43 to 44.2'
const sections: EntryKind<Section> = {
  schema: z.looseObject({ id, ...schemas(SECTION), was }) as unknown as z.ZodType<Section>,
  most: 500,
  label: 'section',
  all: 'sections',
  hint: 'Its name and its two places: 2=43 to 44.2.',
  behind: 'note',
  option: ['section', '<name=from to>', '<name>', 'a section by its two places: "2=43 to 44.2"'],
  by: 'name',
  known: s => s.name,
  text: s => `${s.name}=${s.from} to ${s.to}`,
  says: stretchWords,
  read: (s, field, from, old) => {
    const m = /^(.+)=\s*(\S+)\s+to\s+(\S+)$/.exec(s)
    const [name, first, last] = [m?.[1]?.trim(), m?.[2], m?.[3]]
    return name && first && last
      ? ok({ ...old, id: old?.id ?? from.newId(), name, from: first, to: last })
      : problem(field, s, NAMED)
  },
}

const ALL = { rehearsals, changes, tempos, breaths, rhythms, sections }
type Entries = { [K in keyof typeof ALL]: (typeof ALL)[K] extends EntryKind<infer E> ? E : never }
export type ListKey = keyof Entries
export type Entry<K extends ListKey> = Entries[K]

/** The lists of a passage that are typed entry by entry, in the order of the file. */
export const KINDS: { readonly [K in ListKey]: EntryKind<Entry<K>> } = ALL
export const LISTS = Object.keys(KINDS) as readonly ListKey[]

/** An entry as its line shows it. */
export const textOf = <K extends ListKey>(key: K, e: Entry<K>, felt?: Frac): string =>
  printable(KINDS[key].text(e, felt))

/** The lists of a passage as the schema of what stands in the file. */
export const listSchemas = Object.fromEntries(
  LISTS.map(key => {
    const { schema, most, all } = KINDS[key]
    const what = key === 'breaths' ? key : all
    return [key, z.array(schema, `a list of ${what}`).max(most, `at most ${most} of them`).exactOptional()]
  }),
)
