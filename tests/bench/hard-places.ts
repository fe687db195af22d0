import { proposePassages, WEIGHTS, type Weights } from '../../src/score/proposals.ts'
import { meets, partOf } from '../outside/hard-hits.ts'
import { HARD_PLACES } from '../outside/hard-places.ts'

/** Ways to divide the twenty parts into ten and ten. */
const DIVISIONS = 2000

let seed = 7
const chance = (): number => {
  seed = (seed * 1103515245 + 12345) % 2147483648
  return seed / 2147483648
}

const parts = HARD_PLACES.map(one => ({ one, part: partOf(one) }))
const all = parts.map((_, i) => i)
const names = Object.keys(WEIGHTS) as (keyof Weights)[]
const weightsBy = (of: () => number): Weights => Object.fromEntries(names.map(k => [k, of()])) as Weights

/** 1 for each part whose two hardest places are among the first three proposals. */
const hits = (weights: Weights): readonly number[] =>
  parts.map(({ one, part }) => {
    const proposals = proposePassages(part, null, weights).slice(0, 3)
    return one.places.every(place => meets(part, place, proposals)) ? 1 : 0
  })
const sum = (h: readonly number[], of: readonly number[]): number => of.reduce((n, i) => n + (h[i] ?? 0), 0)

const shuffled = (): readonly number[] => {
  const pool = [...all]
  return all.map(() => pool.splice(Math.floor(chance() * pool.length), 1)[0] ?? 0)
}

/** Leave-out: of so many drawings of the weights, those that hit most in ten parts are tried on the ten others. */
export const crossCheck = (drawings: number): readonly string[] => {
  const drawn = Array.from({ length: drawings }, () => hits(weightsBy(() => 0.25 * 2 ** (3 * chance()))))
  let [fitted, tried] = [0, 0]
  for (let d = 0; d < DIVISIONS; d++) {
    const order = shuffled()
    const [ten, others] = [order.slice(0, 10), order.slice(10)]
    const most = Math.max(...drawn.map(h => sum(h, ten)))
    const best = drawn.filter(h => sum(h, ten) === most)
    fitted += most
    tried += best.reduce((n, h) => n + sum(h, others), 0) / best.length
  }
  return [
    `as chosen by us: ${sum(hits(WEIGHTS), all)} of ${parts.length} parts`,
    `all weights the same: ${sum(hits(weightsBy(() => 0.8)), all)} of ${parts.length}`,
    `fitted on ten: ${(fitted / DIVISIONS).toFixed(1)} of 10; on the ten others: ${(tried / DIVISIONS).toFixed(1)} of 10`,
  ]
}
