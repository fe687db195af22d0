/**
 * Invented heads: what they are like is drawn from ranges that we chose, so nothing that comes out of them says anything
 * about people. Tempos are natural logarithms of beats a minute. `slow` + `today` is the tempo that is clean every second
 * time; a repetition brings it nearer to `limit`, less the nearer it is (Heathcote, Brown and Mewhort 2000: curves of
 * single players are of that shape).
 */

/** The same chances for the same number: mulberry32. */
const chances = (seed: number): (() => number) => {
  let a = seed >>> 0
  return () => {
    a = (a + 0x6d2b79f5) | 0
    let t = Math.imul(a ^ (a >>> 15), 1 | a)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
}
const normal = (chance: () => number): number =>
  Math.sqrt(-2 * Math.log(1 - chance())) * Math.cos(2 * Math.PI * chance())
const between = (chance: () => number, a: number, b: number): number => a + (b - a) * chance()

/**
 * Four theories of learning that contradict each other: best just below what is possible, best in easy repetitions (a slip
 * undoes a clean one), best near the goal, or anywhere.
 */
const KINDS = [
  { best: -0.06, width: 0.12, slip: 0.3, nearGoal: false },
  { best: -0.14, width: 0.2, slip: -1, nearGoal: false },
  { best: -0.05, width: 0.25, slip: 0.3, nearGoal: true },
  { best: -0.1, width: 0.4, slip: 0, nearGoal: false },
] as const

/** What happens over days beside the night itself. */
export const FAMILIES = ['base', 'forgetting', 'overnight', 'tired'] as const
/** Nothing was tried out on these: on some days hardly anything is learned, or only overnight and only of what was played. */
export const HELD_BACK = ['plateaus', 'overnight only'] as const
export type Family = (typeof FAMILIES)[number] | (typeof HELD_BACK)[number]

/** What all passages of one player share. */
type Traits = {
  readonly kind: (typeof KINDS)[number]
  readonly steep: number
  readonly lapse: number
  readonly quick: number
  readonly cold: number
  readonly tiring: number
  readonly kept: number
}

/** A passage as it is: beats, the goal, and how far off it is for this player. */
type Music = {
  readonly beats: number
  readonly goal: number
  readonly first: number
  readonly limit: number
  readonly start: number
}

export type Head = {
  readonly music: Music
  /** Plays it once at so many beats a minute; whether the player calls it clean. */
  readonly play: (bpm: number) => boolean
  /** Something else is played, or nothing. */
  readonly rest: () => void
  /** With so many minutes of playing in the hands (a rest takes half of them off), where that tires. */
  readonly tire: (minutes: number) => void
  readonly night: () => void
  /** Chance that the first repetition of a day at the goal is clean. */
  readonly firstClean: () => number
  /** Share of the goal that is clean four times in five, first thing of a day. */
  readonly sure: () => number
}

const EAR = { passes: 0.05, refuses: 0.02 }
const FAST = 0.6

/** `luck` = the same head with other chances. */
const head = (music: Music, t: Traits, quick: number, family: Family, seed: number, luck: number): Head => {
  const chance = chances(seed + luck * 100_003)
  const own = chances(seed * 7907 + 3)
  const forgets = between(own, 0.06, 0.2)
  const gains = between(own, 0.04, 0.14)
  const keeps = between(own, 0.1, 0.4)
  const wears = between(own, 0.001, 0.003)
  const level = between(own, 0.2, 0.6)
  const goal = Math.log(music.goal)
  let [slow, today, count, dull, worn] = [music.first, 0, 0, 0, 0]
  let learns = family === 'overnight only' ? 0.25 : 1

  const ability = (): number => slow + today - t.cold * Math.exp(-count / 5) - dull - worn
  const cleanAt = (v: number): number => (1 - t.lapse) / (1 + Math.exp((v - ability()) / t.steep))
  const learn = (v: number, clean: boolean): void => {
    const off = v - ability() - t.kind.best
    const bell = Math.exp(-(off ** 2) / (2 * t.kind.width ** 2))
    const far = t.kind.nearGoal ? 1.6 * Math.exp(-(((v - goal) / 0.25) ** 2) / 2) : 1
    const gain = learns * quick * bell * far * (clean ? 1 : t.kind.slip) * (music.limit - slow - today)
    today += FAST * gain
    slow += (1 - FAST) * gain
  }
  const overnight = (): void => {
    if (family === 'overnight') {
      slow += keeps * today
      if (count > 0) slow += gains * (1 - Math.exp(-count / 15)) * (music.limit - slow)
    } else slow += t.kept * today
    if (family === 'overnight only' && count > 0)
      slow += 2 * gains * (1 - Math.exp(-count / 15)) * (music.limit - slow)
    if (family === 'plateaus') learns = own() < level ? 0.1 : 1.5
    if (family === 'forgetting' && count === 0) slow = music.first + (slow - music.first) * (1 - forgets)
  }
  return {
    music,
    play: bpm => {
      const v = Math.log(bpm)
      const clean = chance() < cleanAt(v)
      learn(v, clean)
      count++
      dull = t.tiring - (t.tiring - dull) * Math.exp(-1 / 25)
      return clean ? chance() >= EAR.refuses : chance() < EAR.passes
    },
    rest: () => {
      dull *= 0.3
    },
    tire: minutes => {
      if (family === 'tired') worn = wears * minutes
    },
    night: () => {
      overnight()
      today = 0
      count = 0
      dull = 0
      worn = 0
    },
    firstClean: () => cleanAt(goal),
    sure: () => {
      const x = (1 - t.lapse) / 0.8 - 1
      return x <= 0 ? 0.5 : Math.min(1, Math.exp(ability() + t.steep * Math.log(x)) / music.goal)
    },
  }
}

const BEATS = [8, 8, 12, 12, 16] as const
/** Slow, usual and quick learners. */
const QUICK = [0.6, 1, 1.7] as const

/** The passages of one player; the same player for the same number, on another `luck` with other chances. */
export const heads = (
  player: number,
  seed: number,
  passages: number,
  family: Family,
  luck = 0,
): readonly Head[] => {
  const chance = chances((seed + player) * 7919 + 13)
  const traits: Traits = {
    kind: KINDS[player % KINDS.length] as (typeof KINDS)[number],
    steep: between(chance, 0.04, 0.11),
    lapse: between(chance, 0.01, 0.06),
    quick: 0.01 * Math.exp(0.5 * normal(chance)) * (QUICK[Math.floor(player / 4) % 3] as number),
    cold: between(chance, 0.02, 0.08),
    tiring: between(chance, 0, 0.06),
    kept: between(chance, 0.6, 1.1),
  }
  return Array.from({ length: passages }, (_, k) => {
    const goal = Math.round(between(chance, 84, 160))
    const first = Math.log(goal * between(chance, 0.55, 0.85))
    const comfortable = Math.exp(first - traits.cold - 3 * traits.steep + 0.07 * normal(chance))
    const music: Music = {
      beats: BEATS[Math.floor(chance() * BEATS.length)] as number,
      goal,
      first,
      limit: Math.log(goal * between(chance, 1.15, 1.5)),
      start: Math.max(20, Math.min(goal, Math.round(comfortable))),
    }
    const quick = traits.quick * Math.exp(0.15 * normal(chance))
    return head(music, traits, quick, family, (seed + player) * 1009 + k * 31 + 1, luck)
  })
}
