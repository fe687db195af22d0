import type { Onset, Placed } from './program.ts'
import { type Dynamic, gain, type Levels, LONGEST, MASTER_DB, voice, voiceKey } from './voices.ts'

/** A cut fades in 5 ms, too short to notice and too long to crack. Seconds. */
export const FADE = 0.005

/** Fills `out` from frame `from` of the timeline; false = silence. */
export type Render = (timeline: readonly Placed[], from: number, out: Int16Array) => boolean

/** Index of the first onset at or after a frame. */
const firstFrom = (onsets: readonly Onset[], frame: number): number => {
  let [lo, hi] = [0, onsets.length]
  while (lo < hi) {
    const mid = (lo + hi) >> 1
    if ((onsets[mid] as Onset).frame < frame) lo = mid + 1
    else hi = mid
  }
  return lo
}

/** The ends of a tone rise and fall in this time. Seconds. */
const ENDS = 0.06

/** Partials of a tone, relative to their sum: enough of them to tune to, few enough to be soft. */
const PARTIALS = [1, 0.5, 0.25, 0.125].map(p => p / 1.875)

const raised = (share: number): number => 0.5 - 0.5 * Math.cos(Math.PI * Math.max(0, Math.min(1, share)))

/** A sample in the 16-bit range. */
const fits = (s: number): number => Math.max(-32768, Math.min(32767, s))

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
const addTone = (
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

/**
 * Makes a renderer with its own cache of voices, for 16-bit samples in one or two (interleaved, equal) channels.
 * The samples depend on the timeline and the frame alone: blocks of any size give the same sound. Onsets of a program
 * are in order of frames.
 *
 * Most of a click is silence and most clicks sound alone, so blocks are zeroed and whole voices copied in; samples are
 * added one by one only where voices overlap or fade.
 */
export const renderer = (rate: number, levels: Levels, channels: 1 | 2 = 2): Render => {
  const cache = new Map<string, Int16Array>()
  const voiceOf = (o: Onset): Int16Array => {
    const key = voiceKey(o)
    const known = cache.get(key)
    if (known) return known
    const mono = voice(o, rate, levels)
    const made = Int16Array.from({ length: mono.length * channels }, (_, i) =>
      fits(Math.round(mono[Math.floor(i / channels)] as number)),
    )
    cache.set(key, made)
    return made
  }
  const fade = Math.round(FADE * rate)
  const longest = Math.ceil(LONGEST * rate)

  return (timeline, from, out) => {
    out.fill(0)
    const to = from + out.length / channels
    /** Frames before this one may hold sound already. */
    let filled = from
    for (const p of timeline) {
      const cut = p.cut ?? Infinity
      const silent = cut + fade
      if (p.at >= to || from >= Math.min(silent, p.at + p.program.frames + longest)) continue
      const { onsets } = p.program
      for (let i = firstFrom(onsets, from - longest - p.at); i < onsets.length; i++) {
        const o = onsets[i] as Onset
        const at = p.at + o.frame
        if (at >= to || at >= cut) break
        const wave = voiceOf(o)
        const begin = Math.max(at, from)
        const stop = Math.min(at + wave.length / channels, to, silent)
        // Index into `out` = index into `wave` + shift; everything from here on counts samples, not frames.
        const shift = (at - from) * channels
        const last = (Math.min(stop, cut) - from) * channels
        let s = (begin - from) * channels
        for (const end = Math.min(last, (filled - from) * channels); s < end; s++)
          out[s] = fits((out[s] as number) + (wave[s - shift] as number))
        if (s < last) out.set(wave.subarray(s - shift, last - shift), s)
        for (s = Math.max(s, last); s < (stop - from) * channels; s++) {
          const into = Math.floor(s / channels) + from - cut
          const faded = (wave[s - shift] as number) * (0.5 + 0.5 * Math.cos((Math.PI * into) / fade))
          out[s] = fits((out[s] as number) + Math.round(faded))
        }
        filled = Math.max(filled, stop)
      }
    }
    // Last, since clicks that sound alone are copied over what was there.
    const toned = timeline.map(p => addTone(p, from, out, { rate, channels, fade, master: levels.master }))
    return filled > from || toned.includes(true)
  }
}
