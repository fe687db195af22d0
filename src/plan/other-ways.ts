import type { Histories, History } from '../ladder/history.ts'
import { decodeKey, idsOf, takenFrom } from '../ladder/key.ts'
import { localDay } from '../music/day.ts'
import { dayText } from '../music/day-words.ts'
import { parseRhythm, quickNotesWords } from '../music/rhythm.ts'
import { inUnit, spoken, type Tempo, typed } from '../music/tempo.ts'
import type { Piece } from '../repertoire/piece.ts'
import { namesOf, nameText, type PracticedName } from './practiced-names.ts'
import type { Subject } from './works.ts'

/** What was played of a section beside its even ladder: rhythms, a ladder down, takes, and what it was joined with. */
export type OtherWay = {
  readonly key: string
  /** "rhythm 3:1", "downward", "without a sound", "section 1+2". */
  readonly label: string
  readonly named: PracticedName
  readonly clean: number
  readonly verdicts: number
  /** The hardest tempo of it: of a ladder its ceiling, of a take that was clean. */
  readonly ceiling: Tempo | null
  /** The day on which it was last judged. */
  readonly last: string
}

const otherWayOf = (key: string, h: History, name: (key: string) => PracticedName): OtherWay | null => {
  const judged = h.visits.filter(v => v.verdicts > 0)
  const last = judged
    .map(v => localDay(v.time, v.offset))
    .sort()
    .at(-1)
  if (last === undefined) return null
  const named = name(key)
  const joined = ['join', 'seam'].includes(decodeKey(key).kind)
  return {
    key,
    label: nameText({ ...named, piece: '', passage: '', section: joined ? named.section : '' }),
    named,
    clean: judged.reduce((n, v) => n + v.clean, 0),
    verdicts: judged.reduce((n, v) => n + v.verdicts, 0),
    ceiling: h.ceiling,
    last,
  }
}

/** 0 = rhythms, 1 = downward, 2 = takes, 3 = joined. */
const rank = ({ key, named }: OtherWay): number =>
  idsOf(key).length > 1 ? 3 : named.take ? 2 : named.ladder === 'down' ? 1 : 0

/**
 * Beside the even ladder of a section and its cold takes. Of joined sections each has its own line under the last of them,
 * or, when `alone` is looked at, under any.
 */
export const otherWays = (
  all: Histories,
  { piece, passage, section, ladder: { key } }: Subject,
  alone: boolean,
): readonly OtherWay[] => {
  const { id } = section ?? passage
  const order = (passage.sections ?? []).map(s => s.id)
  const belongs = (of: string): boolean => {
    const { take, ladder } = takenFrom(of)
    const parts = idsOf(of)
    if (of === key || !parts.includes(id)) return false
    if (parts.length > 1) return alone || parts.every(p => order.indexOf(p) <= order.indexOf(id))
    return !(take === 'cold' && ladder === key)
  }
  const name = namesOf([piece] as readonly Piece[])
  const keys = [...new Set(all.visits.map(v => v.key))].filter(belongs)
  return keys
    .flatMap(k => otherWayOf(k, all.of(k) as History, name) ?? [])
    .sort((a, b) => rank(a) - rank(b) || a.label.localeCompare(b.label, 'en', { numeric: true }))
}

const tempoText = (a: OtherWay, goal: Tempo): string => {
  if (!a.ceiling) return a.named.take ? '' : 'no ceiling yet'
  const read = a.named.rhythm === 'even' ? null : parseRhythm(a.named.rhythm)
  if (read?.ok) return quickNotesWords(a.ceiling, read.value)
  const text = spoken(inUnit(a.ceiling, goal.unit))
  if (a.named.take) return a.named.take === 'goal' || a.named.take === 'beat' ? '' : `up to ${text}`
  return a.named.ladder === 'down' ? `slowest ${text}` : `ceiling ${text}`
}

/** "rhythm 3:1: click 56, quick notes as at 112; 12 of 15 clean, last March 12" */
export const otherWayText = (a: OtherWay, goal: Tempo, today: string): string =>
  `${a.label}: ${[
    tempoText(a, goal),
    `${a.clean} of ${a.verdicts} clean, last ${a.last === today ? 'today' : dayText(a.last, today)}`,
  ]
    .filter(Boolean)
    .join('; ')}`

export const otherWayJson = ({ key, label, clean, verdicts, ceiling, last }: OtherWay) => ({
  key,
  label,
  clean,
  verdicts,
  ceiling: ceiling && typed(ceiling),
  last,
})
