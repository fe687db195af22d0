import { join } from 'node:path'
import * as z from 'zod'
import { DAY_MINUTES } from '../music/day.ts'
import { printable } from '../music/result.ts'
import { writeDurably } from './durable.ts'
import { ensureFolder, type Home } from './home.ts'
import { readIfThere } from './read-file.ts'
import { trouble } from './trouble.ts'

const text = z.string().max(400).transform(printable)
/** Older files call the kind of a choice `k`. */
const kindOf = (choice: unknown): unknown =>
  typeof choice === 'object' && choice !== null && 'k' in choice ? { kind: choice.k, ...choice } : choice
const schema = z.object({
  v: z.literal(1),
  date: z.iso.date(),
  minutes: z.number().int().min(DAY_MINUTES.least).max(DAY_MINUTES.most),
  order: z.array(text).max(500).default([]),
  skipped: z.array(text).max(500).default([]),
  over: z
    .array(
      z.object({ name: text, at: z.number(), minutes: z.number().min(0).max(DAY_MINUTES.most).optional() }),
    )
    .max(500)
    .default([]),
  asked: z.array(text).max(1000).default([]),
  /** Ids of the passages that are wanted today. */
  wanted: z.array(text).max(500).default([]),
  /** What the player chose where it is too much; stays from day to day. Later = the day on which it was put off. */
  choice: z
    .preprocess(
      kindOf,
      z
        .discriminatedUnion('kind', [
          z.object({ kind: z.literal('some') }),
          z.object({ kind: z.literal('lower'), share: z.number().gt(0).max(1) }),
          z.object({ kind: z.literal('later'), on: z.iso.date() }),
        ])
        .nullable(),
    )
    .default(null),
})

/** What the player made of the plan of the latest day that was begun. */
export type DayFile = Readonly<Omit<z.infer<typeof schema>, 'v'>>

const pathOf = (home: Home): string => join(home.data, 'day.json')

/**
 * Only what the journal doesn't record: the minutes, the order, what was skipped, and that a slot was ended; so a file that is lost
 * or damaged costs no more than that (null). Throws StoreError where it is no file. `asked` = pieces and their dates after which "How was it?" was asked;
 * it stays from day to day.
 */
export const readDay = async (home: Home): Promise<DayFile | null> => {
  const text = await readIfThere(pathOf(home)).catch(error => {
    throw trouble("Can't read the plan of the day", pathOf(home), error)
  })
  try {
    const { v: _, ...day } = schema.parse(JSON.parse(text ?? ''))
    return day
  } catch {
    return null
  }
}

const CANNOT = "Can't keep the plan of the day"

/** Throws StoreError with one sentence. */
export const writeDay = async (home: Home, day: DayFile): Promise<void> => {
  await ensureFolder(home.data, CANNOT)
  try {
    await writeDurably(pathOf(home), `${JSON.stringify({ v: 1, ...day }, null, 2)}\n`)
  } catch (error) {
    throw trouble(CANNOT, home.data, error)
  }
}
