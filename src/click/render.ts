import type { Onset, Placed } from './program.ts'
import { type Levels, voice, voiceKey } from './voices.ts'

/** A cut fades in 5 ms, too short to notice and too long to crack. Seconds. */
export const FADE = 0.005

/** Index of the first onset at or after a frame. */
const firstFrom = (onsets: readonly Onset[], frame: number): number => {
  let [lo, hi] = [0, onsets.length]
  while (lo < hi) {
    const mid = (lo + hi) >> 1
    if ((onsets[mid]?.frame ?? 0) < frame) lo = mid + 1
    else hi = mid
  }
  return lo
}

/**
 * Makes a renderer with its own cache of voices. The samples depend on the timeline and the frame alone: blocks of any
 * size give the same sound. Fills `out` (interleaved stereo, 16 bit) from frame `from` of the timeline; false = silence.
 * Onsets of a program are in order of frames.
 */
export const renderer = (rate: number, levels: Levels) => {
  const cache = new Map<string, Float64Array>()
  const voiceOf = (o: Onset): Float64Array => {
    const key = voiceKey(o)
    const known = cache.get(key)
    if (known) return known
    const made = voice(o, rate, levels)
    cache.set(key, made)
    return made
  }
  const fade = Math.round(FADE * rate)
  /** No voice is longer than this. */
  const longest = Math.ceil(0.4 * rate)

  return (timeline: readonly Placed[], from: number, out: Int16Array): boolean => {
    const frames = out.length >> 1
    let mix: Float64Array | null = null
    for (const p of timeline) {
      const silent = p.cut === undefined ? Infinity : p.cut + fade
      if (p.at >= from + frames || from >= Math.min(silent, p.at + p.program.frames + longest)) continue
      const { onsets } = p.program
      for (let i = firstFrom(onsets, from - longest - p.at); i < onsets.length; i++) {
        const o = onsets[i] as Onset
        const at = p.at + o.frame
        if (at >= from + frames || at >= (p.cut ?? Infinity)) break
        const wave = voiceOf(o)
        const begin = Math.max(at, from)
        const stop = Math.min(at + wave.length, from + frames, silent)
        if (begin >= stop) continue
        mix ??= new Float64Array(frames)
        for (let f = begin; f < stop; f++) {
          const faded =
            p.cut !== undefined && f >= p.cut ? 0.5 + 0.5 * Math.cos((Math.PI * (f - p.cut)) / fade) : 1
          mix[f - from] = (mix[f - from] as number) + (wave[f - at] as number) * faded
        }
      }
    }
    if (!mix) {
      out.fill(0)
      return false
    }
    for (let i = 0; i < frames; i++) {
      const s = Math.max(-32768, Math.min(32767, Math.round(mix[i] as number)))
      out[2 * i] = s
      out[2 * i + 1] = s
    }
    return true
  }
}
