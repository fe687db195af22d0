/**
 * How far clicks stand from their exact times, in samples: every mark, meter, subdivision and altered rhythm, over 24
 * hours of clicks laid end to end as the sound process gets them. Exact times are whole-number fractions, made here.
 */
import { compile } from '../../src/click/compile.ts'
import { endless } from '../../src/click/endless.ts'
import { plainForm } from '../../src/music/form.ts'
import { type Frac, frac } from '../../src/music/fraction.ts'
import { parseMeter } from '../../src/music/meter.ts'
import { EXTENDED_MARKS } from '../../src/music/tempo.ts'

const RATE = 48_000
const DAY = 24 * 3600
/** Meter, what is counted, and how many of it are in a measure. */
const METERS: readonly (readonly [string, Frac, number])[] = [
  ['2/4', frac(1, 4), 2],
  ['3/4', frac(1, 4), 3],
  ['4/4', frac(1, 4), 4],
  ['5/4', frac(1, 4), 5],
  ['2/2', frac(1, 2), 2],
  ['6/8', frac(3, 8), 2],
  ['9/8', frac(3, 8), 3],
  ['12/8', frac(3, 8), 4],
  ['5/8', frac(1, 8), 5],
  ['7/8', frac(1, 8), 7],
]
const RHYTHMS = [
  [3, 1],
  [1, 3],
  [2, 1],
  [1, 2],
  [2, 1, 1],
  [1, 2, 1],
  [1, 1, 2],
  [3, 1, 1, 1],
  [1, 1, 1, 3],
]

let worst = 0
let count = 0
/** `num` / `den` = the exact time in frames. */
const see = (frame: number, num: bigint, den: bigint): void => {
  const off = Number((BigInt(frame) * den - num) * 1000n) / Number(den) / 1000
  worst = Math.max(worst, Math.abs(off))
  count++
}
const said = (what: string): void => {
  console.log(
    `${what.padEnd(66)}${count.toLocaleString('en-US').padStart(12)} onsets, worst ${worst.toFixed(4)} samples`,
  )
  worst = 0
  count = 0
}
const meterOf = (text: string) => {
  const m = parseMeter(text)
  if (!m.ok) throw new Error(text)
  return m.value
}

export const onsets = (): void => {
  // Every onset of the day: programs of 256 measures, each one's frames added to those before it.
  for (const bpm of EXTENDED_MARKS) {
    const source = endless(
      { meter: meterOf('4/4'), tempo: { unit: frac(1, 4), bpm: frac(bpm) }, subdivide: 1 },
      RATE,
      0,
    )
    let at = 0
    for (let m = 0; at < DAY * RATE; m += 256) {
      const p = source.measures(m, 256)
      for (const [i, o] of p.onsets.entries())
        see(at + o.frame, BigInt(4 * m + i) * 60n * BigInt(RATE), BigInt(bpm))
      at += p.frames
    }
  }
  said(`${EXTENDED_MARKS.length} marks, 4/4, all of 24 hours`)

  for (const bpm of EXTENDED_MARKS)
    for (const [text, unit, beats] of METERS)
      for (const subdivide of [1, 2, 3, 4]) {
        const source = endless({ meter: meterOf(text), tempo: { unit, bpm: frac(bpm) }, subdivide }, RATE, 0)
        const last = Math.floor((DAY * bpm) / 60 / beats)
        for (const from of [0, Math.floor(last / 24), Math.floor(last / 2), last - 4]) {
          const begin = Number(
            (BigInt(from * beats) * 120n * BigInt(RATE) + BigInt(bpm)) / (2n * BigInt(bpm)),
          )
          for (const [i, o] of source.measures(from, 4).onsets.entries())
            see(
              begin + o.frame,
              (BigInt(from * beats * subdivide) + BigInt(i)) * 60n * BigInt(RATE),
              BigInt(bpm) * BigInt(subdivide),
            )
        }
      }
  said(`the same, ${METERS.length} meters, 1 to 4 subdivisions, at 0, 1, 12 and 24 hours`)

  for (const bpm of EXTENDED_MARKS)
    for (const ratios of RHYTHMS) {
      const t = { unit: frac(1, 4), bpm: frac(bpm) }
      const form = plainForm(meterOf('4/4'), 16, t)
      const guide = { ratios, group: frac(1, 4) }
      const p = compile(form, t, { countIn: 0, subdivide: 1, rate: RATE, guide })
      const sum = ratios.reduce((s, r) => s + r, 0)
      const places = ratios.map((_, i) => ratios.slice(0, i).reduce((s, r) => s + r, 0))
      for (const [i, o] of p.onsets.filter(x => x.role === 'guide').entries()) {
        const at = Math.floor(i / ratios.length) * sum + (places[i % ratios.length] ?? 0)
        see(o.frame, BigInt(at) * 60n * BigInt(RATE), BigInt(bpm) * BigInt(sum))
      }
    }
  said(`the same marks, ${RHYTHMS.length} altered rhythms, 64 beats`)
}
