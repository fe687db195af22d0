import type { Onset, Placed } from './program.ts'
import { addTone, fits } from './tone.ts'
import { type Levels, LONGEST, voice, voiceKey } from './voices.ts'

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
