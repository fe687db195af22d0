import type { Placed } from './program.ts'
import { type Dynamic, gain, MASTER_DB } from './voices.ts'

/** The ends of a tone rise and fall in this time. Seconds. */
const ENDS = 0.06

/** Partials of a tone, relative to their sum: enough of them to tune to, few enough to be soft. */
const PARTIALS = [1, 0.5, 0.25, 0.125].map(p => p / 1.875)

const raised = (share: number): number => 0.5 - 0.5 * Math.cos(Math.PI * Math.max(0, Math.min(1, share)))

/** A sample in the 16-bit range. */
export const fits = (s: number): number => Math.max(-32768, Math.min(32767, s))

/** Between -1 and 1; `turn` is the phase in turns. Each partial follows from two before it by the addition theorem. */
const wave = (turn: number): number => {
  const x = 2 * Math.PI * (turn % 1)
  const twice = 2 * Math.cos(x)
  let [before, now, sum] = [0, Math.sin(x), 0]
  for (const p of PARTIALS) {
    sum += p * now
    ;[before, now] = [now, twice * now - before]
  }
  return sum
}

/**
 * Adds the tone of a program, if it has one, to a block that begins at frame `from` of the timeline; false = it is
 * silent there. A sample depends on its frame alone. `fade` = frames in which a cut fades.
 */
export const addTone = (
  { at, program: { tone }, cut = Infinity }: Placed,
  from: number,
  out: Int16Array,
  o: { readonly rate: number; readonly channels: 1 | 2; readonly fade: number; readonly master: Dynamic },
): boolean => {
  if (!tone || o.master === 'off') return false
  const begin = Math.max(from, at + tone.from)
  const end = Math.min(from + out.length / o.channels, at + tone.to, cut + o.fade)
  const top = 32767 * gain(tone.dbfs + MASTER_DB[o.master])
  for (let f = begin; f < end; f++) {
    const since = f - at - tone.from
    const left = at + tone.to - f
    const ends = raised(since / (ENDS * o.rate)) * raised(left / (ENDS * o.rate))
    const cutting = f < cut ? 1 : raised(1 - (f - cut) / o.fade)
    const s = Math.round(top * ends * cutting * wave((tone.hz * since) / o.rate))
    const first = (f - from) * o.channels
    for (let c = first; c < first + o.channels; c++) out[c] = fits((out[c] as number) + s)
  }
  return begin < end
}
