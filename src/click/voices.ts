import type { Onset, Role } from './program.ts'

/** Loudness as musicians write it. */
export const DYNAMICS = ['off', 'pp', 'p', 'mf', 'f', 'ff'] as const
export type Dynamic = (typeof DYNAMICS)[number]

export const CHARACTERS = ['wood', 'bright', 'unpitched'] as const
/**
 * wood: low, under the sound of a flute or a violin. bright: a thin high tick, above a trumpet's strong partials
 * (tests/click/audible.test.ts).
 * unpitched: no note that a player could tune to.
 */
export type Character = (typeof CHARACTERS)[number]

export type Levels = {
  readonly master: Dynamic
  readonly roles: Readonly<Partial<Record<Role, Dynamic>>>
  readonly character: Character
}

/** Peak of one voice in dBFS at master ff. */
const ROLE_DBFS: Readonly<Record<Dynamic, number>> = {
  off: -Infinity,
  pp: -27,
  p: -21,
  mf: -15,
  f: -11,
  ff: -7.5,
}
export const MASTER_DB: Readonly<Record<Dynamic, number>> = {
  off: -Infinity,
  pp: -21,
  p: -15,
  mf: -9,
  f: -4.5,
  ff: 0,
}
/**
 * Three voices at most begin together (a beat, the guide, a breath), beside a tone: guide and breath are softer than
 * the beats at the same dynamic by so many dB, so that at ff all of them stay below full scale.
 */
const BESIDE_DB: Readonly<Partial<Record<Role, number>>> = { guide: -7, breath: -7 }

export const DEFAULT_LEVELS: Levels = {
  master: 'mf',
  character: 'wood',
  roles: {
    downbeat: 'f',
    group: 'f',
    beat: 'mf',
    sub: 'p',
    countIn: 'mf',
    rest: 'pp',
    guide: 'mf',
    breath: 'mf',
  },
}

/** dB to a factor: 10^(dB/20), IEC 60027-3. */
export const gain = (db: number): number => 10 ** (db / 20)

/** Peak of a role as a factor of full scale. Small signals follow the master at mf. */
const peak = (role: Role, levels: Levels): number =>
  gain(
    ROLE_DBFS[levels.roles[role] ?? DEFAULT_LEVELS.roles[role] ?? 'mf'] +
      (BESIDE_DB[role] ?? 0) +
      MASTER_DB[levels.master],
  )

/** A tone or a burst of noise. Hertz, seconds. */
type Beep = { readonly hz: number; readonly seconds: number; readonly after?: number }

/** The voices that keep time. A count-in is longer and lower, so that the first note is heard to begin. */
type Tick = 'downbeat' | 'group' | 'beat' | 'sub' | 'countIn1' | 'countIn'

/**
 * Pitches lie a quarter-tone beside the notes of A = 440 Hz, so that nobody tunes to the click; the clicks of the
 * music lie a fourth or more apart and are told apart by pitch; inner clicks are shorter too.
 */
const TICKS: Readonly<Record<Character, Readonly<Record<Tick, Beep>>>> = {
  wood: {
    downbeat: { hz: 1077, seconds: 0.05 },
    group: { hz: 807, seconds: 0.045 },
    beat: { hz: 605, seconds: 0.04 },
    sub: { hz: 453, seconds: 0.025 },
    countIn1: { hz: 718, seconds: 0.08 },
    countIn: { hz: 404, seconds: 0.08 },
  },
  bright: {
    downbeat: { hz: 6834, seconds: 0.03 },
    group: { hz: 5120, seconds: 0.028 },
    beat: { hz: 3835, seconds: 0.025 },
    sub: { hz: 2873, seconds: 0.018 },
    countIn1: { hz: 2560, seconds: 0.06 },
    countIn: { hz: 1614, seconds: 0.06 },
  },
  unpitched: {
    downbeat: { hz: 9000, seconds: 0.045 },
    group: { hz: 6000, seconds: 0.035 },
    beat: { hz: 4000, seconds: 0.03 },
    sub: { hz: 2600, seconds: 0.02 },
    countIn1: { hz: 3000, seconds: 0.08 },
    countIn: { hz: 1200, seconds: 0.08 },
  },
}

const SIGNALS: Readonly<Partial<Record<Role, readonly Beep[]>>> = {
  guide: [{ hz: 339, seconds: 0.03 }],
  breath: [{ hz: 170, seconds: 0.09 }],
  row: [{ hz: 905, seconds: 0.06 }],
  up: [
    { hz: 679, seconds: 0.12 },
    { hz: 1017, seconds: 0.16, after: 0.13 },
  ],
  down: [
    { hz: 679, seconds: 0.12 },
    { hz: 453, seconds: 0.16, after: 0.13 },
  ],
  slip: [{ hz: 226, seconds: 0.18 }],
  unanswered: [
    { hz: 226, seconds: 0.07 },
    { hz: 226, seconds: 0.07, after: 0.12 },
  ],
  unclear: [
    { hz: 302, seconds: 0.07 },
    { hz: 226, seconds: 0.07, after: 0.09 },
    { hz: 302, seconds: 0.07, after: 0.18 },
  ],
}

/** No voice is longer than this. Seconds. */
export const LONGEST = 0.4

/** Half a millisecond: short enough for a sharp edge, long enough not to crack. */
const ATTACK = 0.0005

/** The second partial of a free bar (Fletcher & Rossing, The Physics of Musical Instruments; from memory). */
const BAR = 2.76
/** Above this a partial adds nothing that is heard. Hertz. */
const HIGHEST = 10_000

/** A fixed pseudo-random sequence in -1..1, so that noise is the same in every run. */
const noise = (n: number): Float64Array => {
  let x = 0x2f6e2b1
  return Float64Array.from({ length: n }, () => {
    x = (Math.imul(x, 1664525) + 1013904223) >>> 0
    return x / 0x80000000 - 1
  })
}

const synth = (n: Beep, rate: number, noisy: boolean): Float64Array => {
  const length = Math.round(n.seconds * rate)
  const hiss = noisy ? noise(length) : null
  const smooth = Math.exp((-2 * Math.PI * n.hz) / rate)
  let low = 0
  return Float64Array.from({ length }, (_, i) => {
    const t = i / rate
    const attack = Math.min(1, (i + 1) / (ATTACK * rate))
    const release = Math.min(1, (length - i) / (0.1 * length))
    const env = attack * release * Math.exp((-5 * i) / length)
    if (hiss) {
      low = smooth * low + (1 - smooth) * (hiss[i] as number)
      return env * low
    }
    const second = BAR * n.hz < HIGHEST ? 0.3 * Math.exp(-60 * t) * Math.cos(2 * Math.PI * BAR * n.hz * t) : 0
    return env * (Math.cos(2 * Math.PI * n.hz * t) + second)
  })
}

const scaled = (wave: Float64Array, to: number): Float64Array => {
  const top = wave.reduce((m, x) => Math.max(m, Math.abs(x)), 0) || 1
  return wave.map(x => (x / top) * to * 32767)
}

const joined = (notes: readonly Beep[], rate: number, noisy: boolean): Float64Array => {
  const waves = notes.map(n => ({ at: Math.round((n.after ?? 0) * rate), wave: synth(n, rate, noisy) }))
  const out = new Float64Array(Math.max(...waves.map(w => w.at + w.wave.length)))
  for (const w of waves) for (const [i, x] of w.wave.entries()) out[w.at + i] = (out[w.at + i] as number) + x
  return out
}

/**
 * The name of an onset's voice: the first beat of a count-in measure is accented. Counted rests have the voice of the
 * count-in, since both lead to an entry, but much softer: the player counts, the click only agrees. All their beats
 * sound, since in a slow tempo downbeats alone would lose you.
 */
export const voiceKey = (o: Onset): Role | 'countIn1' | 'rest1' =>
  (o.role === 'countIn' || o.role === 'rest') && o.beat === 1 ? `${o.role}1` : o.role

/** The sound of an onset at a rate (frames a second): mono samples on the 16-bit scale, not yet rounded. */
export const voice = (o: Onset, rate: number, levels: Levels): Float64Array => {
  const key = voiceKey(o).replace('rest', 'countIn')
  const tick: Beep | undefined = key in TICKS.wood ? TICKS[levels.character][key as Tick] : undefined
  const notes = tick ? [tick] : (SIGNALS[o.role] ?? [])
  return scaled(
    joined(notes, rate, levels.character === 'unpitched' && tick !== undefined),
    peak(o.role, levels),
  )
}
