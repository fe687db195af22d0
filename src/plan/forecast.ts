/**
 * How likely a goal is reached by each turn to come. Tempos are natural logarithms of their share of the goal: 0 = reached.
 *
 * Each turn closes the same share of the gap to a limit somewhat above the goal: single players' curves are of that shape
 * (Heathcote, Brown and Mewhort, Psychon. Bull. Rev. 7, 2000). Each day off between two turns takes a share of all that was
 * gained. Nobody knows these shares: all that are thought possible are weighed by how well they fit the days so far (Bayes'
 * rule), and what they say of the days to come is mixed by these weights. What is thought possible, and how much, was chosen
 * on invented learners and says nothing about people.
 */
const USUAL = {
  /** The share of the gap that a turn closes: its middle, and its spread as a logarithm. */
  share: 0.134,
  spread: 0.6,
  /** The limit above the goal. */
  limits: [0.2, 0.3, 0.4],
  /** How far a day's best lies from the curve, and how far the curve wanders in a turn (standard deviations). */
  day: 0.05,
  wander: 0.027,
} as const

/** What a day off takes of all that was gained, and how much each is believed: usually, or if little or much is forgotten. */
type Forgotten = readonly (readonly [share: number, believed: number])[]
export const FORGOTTEN = {
  usual: [
    [0, 0.4],
    [0.05, 0.2],
    [0.1, 0.2],
    [0.17, 0.2],
  ],
  none: [[0, 1]],
  much: [[0.13, 1]],
} as const satisfies Readonly<Record<string, Forgotten>>

/** Shares between these many spreads from the middle. */
const WIDTH = 2.2
const SHARES = 10
/** A normal curve by three points and their weights (Gauss and Hermite): the mean, and the root of three to both sides. */
const POINTS = [
  [-Math.sqrt(3), 1 / 6],
  [0, 2 / 3],
  [Math.sqrt(3), 1 / 6],
] as const

/** Where a turn leads from where the first one stood: `by` times that, and `and` more. */
type Reach = { readonly by: number; readonly and: number }

/** The curve of one set of shares: where each turn stands, by where the first one stood. */
const curve = (share: number, limit: number, forgotten: number, off: readonly number[]): readonly Reach[] => {
  const left = 1 - share
  // Before the first turn it stood so much lower that this turn led to where it stands.
  const before: Reach = { by: 1 / left, and: (-share * limit) / left }
  const out: Reach[] = [{ by: 1, and: 0 }]
  for (const days of off) {
    const last = out.at(-1) as Reach
    const kept = (1 - forgotten) ** days
    out.push({
      by: left * (kept * last.by + (1 - kept) * before.by),
      and: left * (kept * last.and + (1 - kept) * before.and) + share * limit,
    })
  }
  return out
}

/** What is thought possible: the curves with how much each is believed before anything is known. */
const curves = (
  off: readonly number[],
  forgets: Forgotten,
): readonly { readonly turns: readonly Reach[]; readonly weight: number }[] =>
  Array.from({ length: SHARES }, (_, i) => WIDTH * ((2 * i) / (SHARES - 1) - 1)).flatMap(z =>
    USUAL.limits.flatMap(limit =>
      forgets.map(([forgotten, believed]) => ({
        turns: curve(USUAL.share * Math.exp(USUAL.spread * z), limit, forgotten, off),
        weight: believed * Math.exp(-(z ** 2) / 2),
      })),
    ),
  )

/** Where the first turn stood, by all turns so far, and how well the curve fits them (least squares). */
const fitted = (turns: readonly Reach[], ys: readonly number[]) => {
  const sum = (f: (r: Reach, y: number) => number): number =>
    ys.reduce((all, y, i) => all + f(turns[i] as Reach, y), 0)
  const weight = sum(r => r.by ** 2)
  const first = sum((r, y) => r.by * (y - r.and)) / weight
  const squares = sum((r, y) => (y - r.and - r.by * first) ** 2)
  return { first, variance: USUAL.day ** 2 / weight, fits: Math.exp(-squares / (2 * USUAL.day ** 2)) }
}

/** The share of a normal curve below z, to .0002: the logistic with two terms (Bowling et al., J. Ind. Eng. Manag. 2, 2009). */
const normalBelow = (z: number): number => 1 / (1 + Math.exp(-(1.5976 * z + 0.07056 * z ** 3)))

/**
 * The chances that the goal is reached within 1, 2, ... turns. `ys` = the best of each turn so far; `off` = days off between
 * all turns, those to come last.
 */
export const chancesAhead = (
  ys: readonly number[],
  off: readonly number[],
  forgotten: keyof typeof FORGOTTEN = 'usual',
): readonly number[] => {
  const count = off.length - ys.length + 1
  const out = Array.from({ length: count }, () => 0)
  let all = 0
  const forgets = off.some(days => days > 0) ? FORGOTTEN[forgotten] : FORGOTTEN.none
  for (const { turns, weight } of curves(off, forgets)) {
    const { first, variance, fits } = fitted(turns, ys)
    const believed = weight * fits * Math.sqrt(variance)
    all += believed
    for (const [point, share] of POINTS) {
      let open = 1
      for (let d = 0; d < count; d++) {
        const { by, and } = turns[ys.length + d] as Reach
        const away = point * Math.sqrt(by ** 2 * variance + USUAL.wander ** 2 * (d + 1))
        open *= 1 - normalBelow((by * first + and + away) / USUAL.day)
        out[d] = (out[d] as number) + believed * share * (1 - open)
      }
    }
  }
  return out.map(x => x / all)
}
