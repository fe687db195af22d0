import { beatsOf } from '../../click/program.ts'
import { breathsAt, measures } from '../../music/form.ts'
import { compare } from '../../music/fraction.ts'
import { letterAt, lettersBeside, measureName } from '../../music/place.ts'
import { spoken } from '../../music/tempo.ts'
import { placeAhead } from '../beat.ts'
import { onePedalChooses } from '../words.ts'
import { markText } from './marks.ts'
import { passOf, type State } from './reduce.ts'

/** The measure that is heard: its index in the form, its name and the rehearsal mark it is known by; the first one before and in the count-in. */
export const heardMeasure = (
  s: State,
  frame: number | null,
): {
  readonly index: number
  readonly name: string
  readonly letter: string
  readonly counting: boolean
} => {
  const { program, music } = passOf(s)
  const at = frame === null ? undefined : beatsOf(program).findLast(b => b.frame <= frame)
  const counting = at !== undefined && (frame as number) < program.firstNote
  const found = at && !counting ? measures(music.form).findIndex(m => m.number === at.measure) : 0
  const index = Math.max(0, found)
  const name = measureName(music.numbers, index)
  return { index, name, letter: letterAt(lettersBeside(music), name), counting }
}

/** What is to be done, before the first press. */
export const TASK = 'Press where it is hard: the beat before is marked, the click goes on.'

/** "measure 3 of 12" */
export const placeText = (s: State, frame: number | null): string => {
  const { music } = passOf(s)
  const { index, counting } = heardMeasure(s, frame)
  const count = measures(music.form).length
  return counting ? 'count-in' : `measure ${index + 1} of ${count}`
}

/** The next mark of the player in this measure or the one after it, said before it comes: "breath 43.4". */
export const ahead = (s: State, frame: number | null): string => {
  const { music, tempo } = passOf(s)
  const bars = measures(music.form)
  const { index } = heardMeasure(s, frame)
  const [bar, after] = [bars[index], bars[index + 1] ?? bars[index]]
  const next = breathsAt(music.form, tempo).find(
    b => bar && after && compare(b.at, bar.from) > 0 && compare(b.at, after.to) <= 0,
  )
  return next
    ? `${next.word ?? next.kind.replace('slow-', '')} ${placeAhead(next, music, lettersBeside(music))}`
    : ''
}

/** The spots that were marked, as many as fit `width` columns, the latest among them. */
export const markedText = (s: State, width: number): string => {
  const all = s.marks.map(m => markText(m, passOf(s).music))
  if (all.length === 0) return ''
  for (let from = 0; from < all.length; from++) {
    const text = `marked: ${from > 0 ? '... ' : ''}${all.slice(from).join('; ')}`
    if (text.length <= width || from === all.length - 1) return text
  }
  return ''
}

type KeyNames = { readonly right: string; readonly left: string }

/** What the pedals do now; `keys` are their names. */
export const pedalHint = (
  { phase }: Pick<State, 'phase'>,
  pedals: 1 | 2,
  { right, left }: KeyNames,
): string => {
  const both = pedals === 1 ? `pedal (${right})` : `either pedal (${right}, ${left})`
  switch (phase) {
    case 'ready':
      return `${both}: start`
    case 'going':
      return `${both}: a hard spot is here`
    case 'offer':
      return `y, Enter or ${pedals === 1 ? 'the pedal' : 'the right pedal'}: store them   Escape: leave them`
    default:
      return ''
  }
}

/** When a pedal does what, for the help. */
export const readingPedals = (pedals: 1 | 2, keys: KeyNames): readonly (readonly [string, string])[] => [
  ['before it begins', pedalHint({ phase: 'ready' }, pedals, keys)],
  ['while it sounds', pedalHint({ phase: 'going' }, pedals, keys)],
  [
    'at the end',
    pedals === 1
      ? onePedalChooses('answer', ['store them', 'leave them'])
      : pedalHint({ phase: 'offer' }, pedals, keys),
  ],
]

/** What one pedal answers to the offer now: it goes on to the other answer, or takes the one that has stood. */
export const offerHint = (leaving: boolean, does: 'next' | 'take' | 'wake', key: string): string => {
  const now = leaving ? 'leave them' : 'store them'
  if (does === 'take') return `pedal (${key}): ${now}`
  return does === 'next'
    ? `${now}?   pedal (${key}): the other; wait: this one`
    : `pedal (${key}): choose, then ${now}`
}

/** "reading at quarter = 80, passage 2 of 3" */
export const tempoText = (s: State): string => {
  const { passes, at } = s
  const pass = passes.length > 1 ? `, passage ${at + 1} of ${passes.length}` : ''
  return `reading at ${spoken(passOf(s).tempo)}${pass}`
}

/** What is said when a passage, or what is offered of it, comes up. */
export const passageSaid = (title: string, tempo: string): string => `${title}, ${tempo}.`
export const offerSaid = (names: string): string => `Store as sections: ${names}?`

/** In one word, read from two meters. */
export const SIGNS = { ready: 'READY' } as const

/** What is asked at the end of a passage. */
export const OFFER = {
  title: (n: number): string => (n === 1 ? 'Store this as a section?' : 'Store these as sections?'),
  more: (n: number): string => `  and ${n} more`,
} as const
