import type { Press } from '../../terminal/lock.ts'
import { keyLabel } from '../../terminal/words.ts'
import { judge, MEANING_WORDS, type Moment } from '../../visit/pedal-table.ts'

export const ASK = {
  right: 'The right pedal (clean): press it three times. With one pedal only, this is the one.',
  left: 'The left pedal (not clean): press it three times. If you have only one pedal, press 1.',
} as const

export const LEAVES = 'f leaves everything as it was.'
export const KEEPS = 'f keeps this.'
/** Ctrl and plus is the key of most terminals (common practice, no source). */
const SMALLEST = { cols: 80, rows: 24 } as const
export const enlarge = ({ cols, rows }: { readonly cols: number; readonly rows: number }): string =>
  cols < SMALLEST.cols || rows < SMALLEST.rows
    ? `Your window has ${cols} columns and ${rows} rows. Make it larger, or its letters smaller (in most terminals Ctrl and minus), up to 80 columns and 24 rows.`
    : cols > SMALLEST.cols * 1.25 && rows > SMALLEST.rows * 1.25
      ? `To read from two meters: let this window fill the screen, then enlarge its letters (in most terminals Ctrl and plus). It has ${cols} columns and ${rows} rows; 80 and 24 are enough.`
      : 'Can you read this from two meters? If not, let this window fill the screen.'
export const TRY = 'Try it: press as you would while playing, and read what each press would do.'

/** Which keys the pedals send. */
export const pedalsSet = (p: { right: string; left: string; pedals: 1 | 2 }): string =>
  p.pedals === 1
    ? `One pedal: ${keyLabel(p.right)}.`
    : `Right (clean): ${keyLabel(p.right)}. Left (not clean): ${keyLabel(p.left)}.`

export const askKind = (kinds: readonly string[]): string =>
  `What do you play? It sets pauses, click and wording. ${kinds.map((kind, i) => `${i + 1} ${kind}`).join('  ')}  0: leave it open.`
export const playsKind = (kind: string | undefined): string =>
  kind === undefined ? 'Left open.' : `You play: ${kind}.`

const MOMENTS: readonly (readonly [says: string, moment: Moment])[] = [
  ['before you play', 'ready'],
  ['while you play', 'early'],
  ['at the end', 'open'],
  ['in the pause after clean', 'afterClean'],
  ['after not clean', 'afterSlip'],
]

/** What a press would do at each moment of a repetition. */
export const wouldDo = (pedal: 'right' | 'left', pedals: 1 | 2): string => {
  const name = pedals === 1 ? 'The pedal' : pedal === 'right' ? 'The right pedal' : 'The left pedal'
  const does = MOMENTS.map(([says, m]) => `${says}: ${MEANING_WORDS[judge(m, pedal, pedals)]}`).join('; ')
  return `${name}, one press. It would do this: ${does}.`
}
/** What is said to a press that would not count. */
export const PRESS: Readonly<Record<Press, string | null>> = {
  accepted: null,
  held: 'Still the same press: it counts once.',
  both: 'Your foot landed on both: nothing would be counted.',
}
export const noPedal = (id: string): string => `That key (${keyLabel(id)}) isn't a pedal here.`
