import type { Frac } from '../../src/music/fraction.ts'
import { type Result, sentence } from '../../src/music/result.ts'
import { readPart } from '../../src/score/read-part.ts'
import { readScore } from '../../src/score/read-score.ts'
import type { Part, Score } from '../../src/score/score.ts'

/** Small scores of our own, written as XML text. Divisions are 4 a quarter unless a measure says otherwise. */
export const bytes = (text: string): Uint8Array => new TextEncoder().encode(text)

/** A note (C5 unless named), its duration in divisions, and anything that goes inside. */
export const note = (duration: number, inside = '', pitch = 'C5'): string => {
  const alter = pitch.includes('#') ? 1 : pitch.includes('b') ? -1 : 0
  const altered = alter === 0 ? '' : `<alter>${alter}</alter>`
  const sounds = `<pitch><step>${pitch[0]}</step>${altered}<octave>${pitch.at(-1)}</octave></pitch>`
  return `<note>${sounds}<duration>${duration}</duration><voice>1</voice>${inside}</note>`
}
export const rest = (duration: number): string => `<note><rest/><duration>${duration}</duration></note>`
export const attributes = (inside: string): string => `<attributes>${inside}</attributes>`
export const time = (beats: string, beatType: number): string =>
  `<time><beats>${beats}</beats><beat-type>${beatType}</beat-type></time>`
export const direction = (types: string, after = ''): string =>
  `<direction><direction-type>${types}</direction-type>${after}</direction>`
export const words = (text: string, after = ''): string => direction(`<words>${text}</words>`, after)
export const mark = (unit: string, perMinute: string, sound?: string): string =>
  direction(
    `<metronome>${unit
      .split('.')
      .map((u, i) => (i === 0 ? `<beat-unit>${u}</beat-unit>` : '<beat-unit-dot/>'))
      .join('')}<per-minute>${perMinute}</per-minute></metronome>`,
    sound === undefined ? '' : `<sound tempo="${sound}"/>`,
  )
export const barline = (location: string, inside: string): string =>
  `<barline location="${location}">${inside}</barline>`
export const forward = barline('left', '<repeat direction="forward"/>')
export const backward = (more = ''): string => barline('right', `<repeat direction="backward"${more}/>`)
export const ending = (
  numbers: string,
  end = '<repeat direction="backward"/>',
): readonly [string, string] => [
  barline('left', `<ending number="${numbers}" type="start"/>`),
  barline('right', `<ending number="${numbers}" type="stop"/>${end}`),
]

export type MeasureText = string | { readonly attrs: string; readonly inside: string }

const numbered = (m: MeasureText, i: number): string =>
  typeof m === 'string'
    ? `<measure number="${i + 1}">${m}</measure>`
    : `<measure ${m.attrs}>${m.inside}</measure>`

const part = (id: string, measures: readonly MeasureText[]): string =>
  `<part id="${id}">${measures.map(numbered).join('\n')}</part>`

/** A whole score of one or more parts; the first is P1. */
export const scoreText = (...parts: readonly (readonly MeasureText[])[]): string =>
  `<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">
<score-partwise version="4.0"><work><work-title>Weir Street Overture</work-title></work>
<part-list>${parts.map((_, i) => `<score-part id="P${i + 1}"><part-name>Flute ${i + 1}</part-name></score-part>`).join('')}</part-list>
${parts.map((m, i) => part(`P${i + 1}`, m)).join('\n')}
</score-partwise>`

/** The usual head of a first measure: four divisions a quarter, a meter. */
export const head = (beats = '4', beatType = 4): string =>
  attributes(`<divisions>4</divisions>${time(beats, beatType)}`)

export const must = <T>(r: Result<T>): T => {
  if (!r.ok) throw new Error(sentence(r.problem))
  return r.value
}
export const refusal = <T>(r: Result<T>): string => (r.ok ? 'not refused' : sentence(r.problem))
export const scoreOf = (text: string): Score => must(readScore(bytes(text), 'weir-street.musicxml'))
/** The first part (or another) of a score with these measures. */
export const partOf = (...parts: readonly (readonly MeasureText[])[]): Part =>
  must(readPart(scoreOf(scoreText(...parts)), 'P1'))

export const text = (f: Frac): string => (f.d === 1 ? String(f.n) : `${f.n}/${f.d}`)
