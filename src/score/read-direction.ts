import { add, type Frac, zero } from '../music/fraction.ts'
import { roadOfSound, roadOfWords } from './road.ts'
import type { Local, MarkFacts, Road } from './score.ts'
import { playingTempo, readMetronome } from './tempo-marks.ts'
import { clean } from './text.ts'
import { attr, child, childrenOf, type Element } from './xml.ts'

/** What a direction or a sound says, with its places from the bar line. */
export type DirectionFacts = {
  readonly marks: readonly Local<MarkFacts>[]
  readonly words: readonly Local<{ readonly text: string }>[]
  readonly rehearsals: readonly Local<{ readonly text: string }>[]
  readonly road: Partial<Road>
  readonly remarks: readonly string[]
}

/** Length of an `offset` in whole notes; 0 where there is none or it is no number. */
type Wholes = (text: string) => Frac | null

const soundTempo = (
  sound: Element | undefined,
): { readonly tempo: Frac | null; readonly remarks: readonly string[] } => {
  const text = sound && attr(sound, 'tempo')
  if (text === undefined) return { tempo: null, remarks: [] }
  const tempo = playingTempo(text)
  if (tempo) return { tempo, remarks: [] }
  return {
    tempo,
    remarks: [
      Number(text) === 0
        ? 'its playing tempo is 0, which asks the player for one: none is used'
        : `its playing tempo "${clean(text)}" is left out: it has to be 1 to 999 quarters a minute`,
    ],
  }
}

/**
 * A `direction`: what is printed stands at its offset, what is played at the current place unless the offset says
 * that it holds for the sound too. Source: MusicXML 4.0, elements offset and sound.
 */
export const readDirection = (el: Element, cursor: Frac, wholes: Wholes): DirectionFacts => {
  const shift = (of: Element | undefined) => (of && wholes(of.text)) ?? zero
  const offset = child(el, 'offset')
  const sound = child(el, 'sound')
  const ownOffset = sound && child(sound, 'offset')
  const printedAt = add(cursor, shift(offset))
  const soundAt = ownOffset
    ? add(cursor, shift(ownOffset))
    : offset && attr(offset, 'sound') === 'yes'
      ? printedAt
      : cursor
  const types = childrenOf(el, 'direction-type').flatMap(t => t.children)
  const text = clean(
    types
      .filter(t => t.name === 'words')
      .map(t => t.text)
      .join(' '),
  )
  const played = soundTempo(sound)
  const remarks = [...played.remarks]
  const shapes = types
    .filter(t => t.name === 'metronome')
    .flatMap(t => {
      const shape = readMetronome(t)
      if (!shape) remarks.push('a metronome mark without a note value or number is left out')
      return shape ? [{ shape, printed: attr(t, 'print-object') !== 'no' }] : []
    })
  const at = played.tempo ? soundAt : printedAt
  const marks: Local<MarkFacts>[] = shapes.map((s, i) => ({ ...s, at, sound: i === 0 ? played.tempo : null }))
  if (shapes.length === 0 && played.tempo)
    marks.push({ at, shape: { kind: 'sound' }, sound: played.tempo, printed: false })
  const bySound = sound ? roadOfSound(sound) : {}
  const signs = types.some(t => t.name === 'coda') && bySound.toCoda === undefined
  return {
    marks,
    words: text === '' ? [] : [{ at: printedAt, text }],
    rehearsals: types
      .filter(t => t.name === 'rehearsal')
      .map(t => ({ at: printedAt, text: clean(t.text) }))
      .filter(r => r.text !== ''),
    road: {
      ...(types.some(t => t.name === 'segno') ? { segno: '' } : {}),
      ...(signs && !/to coda/i.test(text) ? { coda: '' } : {}),
      ...roadOfWords(text),
      ...bySound,
    },
    remarks,
  }
}

/** A `sound` that stands by itself in a measure. */
export const readSound = (el: Element, cursor: Frac, wholes: Wholes): DirectionFacts => {
  const inDirection: Element = { name: 'direction', attrs: {}, text: '', children: [el] }
  return readDirection(inDirection, cursor, wholes)
}
