/**
 * The bytes of a Standard MIDI File. Source: Standard MIDI-File Format Specification 1.1, International MIDI Association.
 * Our own rather than a library's: npm midi-writer-js 3.2.1 keeps 128 ticks a quarter, in which triplets do not fit, and
 * places no time signature at a tick.
 */

/** An event of a track: ticks from the start, and its bytes without the delta time. */
export type TrackEvent = { readonly tick: number; readonly bytes: readonly number[] }

/** The low bytes of a number, highest first. */
const big = (n: number, bytes: number): number[] =>
  Array.from({ length: bytes }, (_, i) => (n >>> (8 * (bytes - 1 - i))) & 0xff)

/** A delta time: seven bits a byte, the highest first, all but the last marked. */
const variable = (n: number): number[] => {
  const out = [n & 0x7f]
  for (let rest = n >>> 7; rest > 0; rest >>>= 7) out.unshift((rest & 0x7f) | 0x80)
  return out
}

const text = (s: string): number[] => [...new TextEncoder().encode(s)]
const meta = (kind: number, data: readonly number[]): readonly number[] => [
  0xff,
  kind,
  ...variable(data.length),
  ...data,
]

export const META = {
  name: (s: string) => meta(0x03, text(s)),
  /** Microseconds a quarter. */
  tempo: (us: number) => meta(0x51, big(us, 3)),
  /** Numerator, power of two of the denominator, MIDI clocks a beat, 32nds a quarter. */
  timeSignature: (four: readonly number[]) => meta(0x58, four),
  end: meta(0x2f, []),
}

const chunk = (kind: string, data: readonly number[]): number[] => [
  ...text(kind),
  ...big(data.length, 4),
  ...data,
]

/** Events in order of ticks; on one tick as they are given. */
const track = (events: readonly TrackEvent[], end: number): number[] => {
  const ordered = [...events].sort((a, b) => a.tick - b.tick)
  const last = Math.max(end, ordered.at(-1)?.tick ?? 0)
  const data: number[] = []
  let now = 0
  for (const e of [...ordered, { tick: last, bytes: META.end }]) {
    for (const b of variable(e.tick - now)) data.push(b)
    for (const b of e.bytes) data.push(b)
    now = e.tick
  }
  return chunk('MTrk', data)
}

/** A file of format 1: `division` ticks a quarter, tracks that all last until tick `end`. */
export const midiBytes = (
  division: number,
  tracks: readonly (readonly TrackEvent[])[],
  end: number,
): Uint8Array => {
  const head = chunk('MThd', [...big(1, 2), ...big(tracks.length, 2), ...big(division, 2)])
  return Uint8Array.from([...head, ...tracks.flatMap(t => track(t, end))])
}
