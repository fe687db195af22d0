import * as z from 'zod'
import { type Stored, schemas } from './field.ts'
import { PASSAGE, type PIECE } from './fields.ts'
import { textUpTo } from './kinds.ts'
import { type Earlier, type Entry, id, type ListKey, listSchemas, was } from './lists.ts'

/**
 * A stretch of a piece as it is practiced. Meters, tempos, lengths and places are texts that the parsers of music read;
 * a place is a measure's number, "43", "43.2" or "43+3/16" (see music/place.ts).
 */
export type Passage = Stored<typeof PASSAGE> & { readonly [K in ListKey]?: readonly Entry<K>[] } & {
  readonly id: string
  /** Onsets from an imported part: "1/4 1/16 Bb4" = place from the first note, length, written pitch or x. */
  readonly notes?: readonly string[]
  /** A whole part or movement as it was read: no ladder until it is cut into sections, only played through. */
  readonly whole?: true
  /** What is hard in it, as counted from its notes. */
  readonly hard?: string
  readonly was?: Earlier
}

/** Since version 2 a fermata stands on the note that it holds; before it stood, like a breath, where that note ends. */
export const PIECE_VERSION = 2 as const

export type Piece = Stored<typeof PIECE> & {
  readonly v: typeof PIECE_VERSION
  readonly id: string
  /** File name of the part that was read. */
  readonly source?: string
  readonly passages: readonly Passage[]
}

/** One line of `notes`: place from the passage's first note, length, written pitch ("Bb4") or x for none. */
export const NOTE = /^(\d{1,6}(?:\/\d{1,6})?) (\d{1,6}(?:\/\d{1,6})?) ([A-G](?:##?|bb?)?-?\d|x)$/

/** Older files say how a passage is heard instead of how much it matters. */
const EXPOSURE: { readonly [word: string]: Passage['matters'] } = {
  solo: 'must',
  exposed: 'must',
  tutti: 'can wait',
}
const ofToday = (found: unknown): unknown => {
  if (typeof found !== 'object' || found === null || !('exposure' in found)) return found
  const { exposure, ...rest } = found
  const matters = EXPOSURE[String(exposure)]
  return matters && !('matters' in rest) ? { ...rest, matters } : rest
}

/** The fields of a passage, each on its own. Unknown keys stay: a newer Gradino or another program may have put them there. */
const fields = z.looseObject({
  id,
  ...schemas(PASSAGE),
  ...listSchemas,
  notes: z
    .array(z.string('text').regex(NOTE, 'place, length and pitch, like 1/4 1/16 Bb4'), 'a list of notes')
    .max(20_000, 'at most 20000 of them')
    .exactOptional(),
  whole: z.literal(true, 'true, or nothing').exactOptional(),
  hard: textUpTo(400).exactOptional(),
  was,
})

export const passageSchema = z.preprocess(ofToday, fields) as unknown as z.ZodType<Passage>
