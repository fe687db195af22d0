import { MAX_PERFORMED } from './limits.ts'
import type { Measure, Part, Road } from './score.ts'
import { remarks } from './text.ts'

/** `order` holds indices of written measures in the order in which they are played. */
export type Performance = { readonly order: readonly number[]; readonly warnings: readonly string[] }

/** A bracket over measures `from` to `to`, played the times in `numbers`; its row of brackets is played `times` times. */
type Ending = {
  readonly from: number
  readonly to: number
  readonly numbers: readonly number[]
  readonly row: number
  readonly times: number
}

/**
 * The measures as performed: repeats, endings, da capo, dal segno, fine and coda carried out.
 * A repeat without a beginning goes back to the end of the repeat before (or to the start). Da capo and dal segno are
 * taken once; "to coda" and "fine" count only after such a jump; on the way from a jump to the coda or the end repeats
 * are left out unless the file says otherwise, and the last ending is taken. Whole measures only.
 * Source: MusicXML 4.0, elements repeat, ending and sound; the rest is common practice, no source.
 */
export const performed = (part: Pick<Part, 'measures'>): Performance => {
  const notes = remarks()
  const { measures } = part
  const endings = endingsOf(measures, notes.add)
  const { jumpFrom, codaFrom } = signsOf(measures, notes.add)
  const taken = new Set<number>()
  const order: number[] = []
  /** First measure of the running repeat, and how many times through it. */
  let [start, pass] = [0, 1]
  /** A repeat sign that waits for its end. */
  let open: number | null = null
  /** After a jump, and on the way over music that was played before it. */
  let [jumped, again] = [false, false]
  const go = (to: number): number => {
    start = to
    pass = 1
    return to
  }
  const closes = (at: number) => endings[at]?.to === at && endings[at + 1]?.row !== endings[at]?.row
  const leave = () => {
    if (open !== null)
      notes.add(`the repeat that begins at measure ${name(measures, open)} does not end: it is played once`)
    open = null
  }

  let i = 0
  while (i < measures.length && order.length < MAX_PERFORMED) {
    const { road } = measures[i] as Measure
    const ending = endings[i]
    const through = again && ending ? ending.times : pass
    if (ending?.from === i && i !== start && ending.numbers.length > 0 && !ending.numbers.includes(through)) {
      i = ending.to + 1
      continue
    }
    if (road.forward && i !== start) {
      leave()
      go(i)
    }
    if (road.forward && pass === 1 && !again) open = i
    order.push(i)
    if (road.fine && jumped) break
    const coda = jumped && !taken.has(i) ? codaFrom(i) : null
    if (coda !== null) {
      taken.add(i)
      again = false
      i = go(coda)
      continue
    }
    if (road.backward) {
      open = null
      const times = ending && ending.numbers.length > 0 ? ending.times : (road.backward.times ?? 2)
      if (pass < times && (!again || road.backward.afterJump)) {
        pass++
        i = start
        continue
      }
      go(i + 1)
    } else if (ending && closes(i) && start < ending.from && through >= ending.times) go(i + 1)
    const target = taken.has(i) ? null : jumpFrom(i)
    if (target !== null) {
      leave()
      taken.add(i)
      jumped = true
      again = true
      i = go(target)
    } else i++
  }
  leave()
  if (i < measures.length && order.length >= MAX_PERFORMED)
    notes.add(`played out it is longer than ${MAX_PERFORMED} measures: the rest is left out`)
  const heard = new Set(order)
  for (const e of new Set(endings))
    if (e && !heard.has(e.from))
      notes.add(`the ending ${e.numbers.join(', ')} at measure ${name(measures, e.from)} is never reached`)
  return { order, warnings: notes.all() }
}

const name = (measures: readonly Measure[], i: number): string => (measures[i] as Measure).number

/** For each measure the bracket that it stands under. */
const endingsOf = (
  measures: readonly Measure[],
  remark: (text: string) => void,
): readonly (Ending | undefined)[] => {
  const rows: { from: number; to: number; numbers: readonly number[] }[][] = []
  for (const [from, { road }] of measures.entries()) {
    if (!road.endingStart) continue
    const bracket = { from, to: bracketEnd(measures, from), numbers: road.endingStart }
    const row = rows.at(-1)
    if (row?.at(-1)?.to === from - 1) row.push(bracket)
    else rows.push([bracket])
  }
  const out: (Ending | undefined)[] = measures.map(() => undefined)
  for (const [row, brackets] of rows.entries()) {
    const numbers = brackets.flatMap(b => b.numbers)
    const first = name(measures, (brackets[0] as { from: number }).from)
    if (new Set(numbers).size < numbers.length) remark(`the endings from measure ${first} on share a number`)
    const last = Math.max(1, ...numbers)
    const only = brackets.length === 1 ? brackets[0] : undefined
    if (only?.numbers.includes(1) && !closing(measures[only.to]?.road)) {
      remark(`the bracket at measure ${first} ends before its repeat sign: it is played every time`)
      continue
    }
    for (let n = 1; n <= last; n++)
      if (numbers.length > 0 && !numbers.includes(n)) remark(`no ending ${n} stands at measure ${first}`)
    // one bracket alone that repeats is left out the last time
    const alone = only && measures[only.to]?.road.backward
    const times = alone ? last + 1 : last
    for (const b of brackets) for (let i = b.from; i <= b.to; i++) out[i] = { ...b, row, times }
  }
  return out.map((e, i) => (e && e.from < i ? out[e.from] : e))
}

/** Whether the music turns back at the end of a measure. */
const closing = (road: Road | undefined): boolean =>
  road !== undefined && (road.backward !== null || road.daCapo || road.dalSegno !== null)

/** Where a bracket ends: at its sign, before the next bracket, or at a repeat; a last one may lack all of them. */
const bracketEnd = (measures: readonly Measure[], from: number): number => {
  for (let i = from; i < measures.length; i++) {
    const road = measures[i]?.road
    if (i > from && road?.endingStart) return i - 1
    if (road?.endingStop || road?.backward) return i
  }
  return from
}

/** Where the jumps lead. Labels name the sign that is meant; without one it is the nearest. */
const signsOf = (measures: readonly Measure[], remark: (text: string) => void) => {
  const where = (of: (m: Measure) => string | null) =>
    measures.flatMap(m => {
      const label = of(m)
      return label === null ? [] : [{ at: m.index, label }]
    })
  const segnos = where(m => m.road.segno)
  const written = where(m => m.road.toCoda)
  const signs = where(m => m.road.coda)
  // two bare coda signs without words: the first is where to leave, the second where to arrive
  const bare = written.length === 0 && signs.length > 1
  const leaves = bare ? signs.slice(0, 1) : written
  const codas = bare ? signs.slice(1) : signs
  const missed = (what: string, i: number, for_: string): null => {
    remark(`measure ${name(measures, i)}: no ${what} is found for its ${for_}`)
    return null
  }
  const jumpFrom = (i: number): number | null => {
    const road = measures[i]?.road
    if (road?.daCapo) return 0
    if (!road || road.dalSegno === null) return null
    const found =
      segnos.findLast(s => s.at <= i && s.label === road.dalSegno) ?? segnos.findLast(s => s.at <= i)
    return found ? found.at : missed('segno', i, 'dal segno')
  }
  const codaFrom = (i: number): number | null => {
    const leave = leaves.find(l => l.at === i)
    if (!leave) return null
    const found = codas.find(c => c.at > i && c.label === leave.label) ?? codas.find(c => c.at > i)
    return found ? found.at : missed('coda', i, 'to coda')
  }
  return { jumpFrom, codaFrom }
}
