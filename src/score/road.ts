import type { Bar, Road } from './score.ts'
import { clean } from './text.ts'
import { attr, child, type Element, textOf } from './xml.ts'

export const NO_SIGNS: Road = {
  forward: false,
  backward: null,
  endingStart: null,
  endingStop: false,
  segno: null,
  coda: null,
  toCoda: null,
  dalSegno: null,
  daCapo: false,
  fine: false,
}

/** The signs of several parts at the same measure: what one has, all have. */
export const mergeRoads = (roads: readonly Road[]): Road =>
  roads.reduce(
    (a, b) => ({
      forward: a.forward || b.forward,
      backward: a.backward ?? b.backward,
      endingStart: a.endingStart ?? b.endingStart,
      endingStop: a.endingStop || b.endingStop,
      segno: a.segno ?? b.segno,
      coda: a.coda ?? b.coda,
      toCoda: a.toCoda ?? b.toCoda,
      dalSegno: a.dalSegno ?? b.dalSegno,
      daCapo: a.daCapo || b.daCapo,
      fine: a.fine || b.fine,
    }),
    NO_SIGNS,
  )

const label = (el: Element, name: string): string | null => {
  const value = attr(el, name)
  return value === undefined ? null : clean(value)
}

/** Jumps and their targets in a `sound` element. */
export const roadOfSound = (el: Element): Partial<Road> => ({
  ...(attr(el, 'forward-repeat') === 'yes' ? { forward: true } : {}),
  ...(attr(el, 'dacapo') === 'yes' ? { daCapo: true } : {}),
  ...(attr(el, 'fine') !== undefined && attr(el, 'fine') !== 'no' ? { fine: true } : {}),
  ...drop({
    segno: label(el, 'segno'),
    coda: label(el, 'coda'),
    toCoda: label(el, 'tocoda'),
    dalSegno: label(el, 'dalsegno'),
  }),
})

const drop = <T extends object>(o: T): Partial<T> =>
  Object.fromEntries(Object.entries(o).filter(([, v]) => v !== null)) as Partial<T>

/** The same from printed words, for files without `sound`. Only the usual Italian and English forms. */
export const roadOfWords = (text: string): Partial<Road> => {
  if (/\bd\.\s?c\.|\bda capo\b/i.test(text)) return { daCapo: true }
  if (/\bd\.\s?s\.|\bdal segno\b/i.test(text)) return { dalSegno: '' }
  if (/^\(?fine\.?\)?$/i.test(text)) return { fine: true }
  if (/^\(?to coda\b/i.test(text)) return { toCoda: '' }
  return {}
}

/** "1", "1, 2", "1-3": the times through that an ending is played. */
const endingNumbers = (text: string): readonly number[] => {
  const out: number[] = []
  for (const m of text.matchAll(/(\d{1,2})(?:\s*[-–]\s*(\d{1,2}))?/g)) {
    const from = Number(m[1])
    const to = Number(m[2] ?? m[1])
    for (let n = from; n <= to; n++) if (n > 0 && !out.includes(n)) out.push(n)
  }
  return out
}

/** Where on the measure a bar line stands decides whom its signs belong to. */
export type Barline = {
  readonly location: 'left' | 'middle' | 'right'
  readonly signs: Partial<Road>
  readonly repeat: 'forward' | 'backward' | null
  readonly bar: Bar | null
}

/** Source: MusicXML 4.0, data type bar-style. */
const BARS: ReadonlyMap<string, Bar> = new Map([
  ['light-light', 'double'],
  ['light-heavy', 'final'],
  ['heavy-heavy', 'final'],
])

export const readBarline = (el: Element): Barline => {
  const where = attr(el, 'location')
  const ending = child(el, 'ending')
  const repeat = child(el, 'repeat')
  const direction = repeat && attr(repeat, 'direction')
  const times = Number(repeat && attr(repeat, 'times'))
  const type = ending && attr(ending, 'type')
  return {
    location: where === 'left' || where === 'middle' ? where : 'right',
    repeat: direction === 'forward' || direction === 'backward' ? direction : null,
    bar: BARS.get(textOf(el, 'bar-style')) ?? null,
    signs: {
      ...(type === 'start' ? { endingStart: endingNumbers((ending && attr(ending, 'number')) ?? '') } : {}),
      ...(type === 'stop' || type === 'discontinue' ? { endingStop: true } : {}),
      ...(direction === 'forward' ? { forward: true } : {}),
      ...(direction === 'backward'
        ? {
            backward: {
              times: Number.isInteger(times) && times > 0 ? times : null,
              afterJump: repeat !== undefined && attr(repeat, 'after-jump') === 'yes',
            },
          }
        : {}),
      ...(child(el, 'segno') ? { segno: label(el, 'segno') ?? '' } : {}),
      ...(child(el, 'coda') ? { coda: label(el, 'coda') ?? '' } : {}),
    },
  }
}
