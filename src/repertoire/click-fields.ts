import { z } from 'zod'
import { parseChangesFrom } from '../music/changes.ts'
import { CLICKED, type Clicked } from '../music/clicked.ts'
import type { Result } from '../music/result.ts'

/** A text that one of music's parsers takes. */
export const musical = (parse: (s: string) => Result<unknown>) =>
  z.string('text').superRefine((s, ctx) => {
    const read = parse(s)
    if (!read.ok) ctx.addIssue({ code: 'custom', message: read.problem.accepted })
  })

/** More rests than these are counted from a cue. */
export const MOST_RESTS = 99
const RESTS = `a whole number of measures from 1 to ${MOST_RESTS}`

const clicked = (k: keyof Clicked) => musical(s => CLICKED[k].parse(s, k)).exactOptional()

/** How a passage is clicked. */
export const clickFields = {
  pulse: clicked('pulse'),
  subdivide: clicked('subdivide'),
  beats: clicked('beats'),
  on: clicked('on'),
  off: clicked('off'),
  tempoChanges: musical(parseChangesFrom).exactOptional(),
  rests: z.int(RESTS).min(1, RESTS).max(MOST_RESTS, RESTS).exactOptional(),
}
