import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { compareHard, directionOf, harder } from '../../src/ladder/direction.ts'
import type { Event } from '../../src/ladder/event.ts'
import { ceilings, fold } from '../../src/ladder/fold.ts'
import { DEFAULT_RULES } from '../../src/ladder/rules.ts'
import { rungs } from '../../src/ladder/rungs.ts'
import { opening } from '../../src/ladder/start.ts'
import { decimal, frac, toNumber } from '../../src/music/fraction.ts'
import { type Tempo, tempo } from '../../src/music/tempo.ts'
import { eventsOf, scripted } from './generators.ts'
import { histories } from './histories.ts'

const numbers = (all: readonly Tempo[]): number[] => all.map(t => Number(decimal(t.bpm)))
const down = (start: number, goal: number): readonly Tempo[] => {
  const all = rungs(tempo(start), tempo(goal), { kind: 'notch' }, 'down')
  if (!all.ok) throw new Error(all.problem.accepted)
  return all.value
}

describe('a ladder that leads down', () => {
  test('walks the same rungs the other way, both ends included', () => {
    expect(numbers(down(80, 60))).toEqual([80, 76, 72, 69, 66, 63, 60])
    expect(rungs(tempo(60), tempo(80), { kind: 'notch' }, 'down').ok).toBe(false)
  })

  test('a day begins faster than the ceiling by as much as another begins slower', () => {
    const before = { ceiling: tempo(60), days: 1, last: { tempo: tempo(60), slipped: false, minutes: 1440 } }
    const begun = opening(tempo(80), tempo(50), { kind: 'notch' }, before, 'down')
    // 60 / 0.97 = 61.9: the slowest rung that is not slower is 63.
    expect(begun.ok && decimal(begun.value.rungs[begun.value.at]?.bpm ?? frac(0))).toBe('63')
  })

  test('is a ladder up, seen in a mirror: every visit folds to the mirrored state', () => {
    const TURN = 10_000
    // Slower by as much as the other is faster; exact, and the order is turned around.
    const mirror = (t: Tempo): Tempo => ({
      unit: t.unit,
      bpm: frac(Math.round(TURN * 1000) - Math.round(toNumber(t.bpm) * 1000), 1000),
    })
    const turned = (e: Event): Event =>
      e.kind === 'visit'
        ? { ...e, rungs: e.rungs.map(mirror) }
        : e.kind === 'move'
          ? { ...e, to: mirror(e.to) }
          : e.kind === 'verdict' || e.kind === 'unjudged'
            ? { ...e, tempo: mirror(e.tempo) }
            : e
    let moved = 0
    fc.assert(
      fc.property(scripted({ find: false }), source => {
        const events = eventsOf({ fold, ceilings }, source)
        const up = fold(events)
        const other = fold(events.map(turned))
        if (!up || !other) throw new Error('a visit without an opening')
        // One rung has no direction; the sort of a tempo by hand then cannot be mirrored.
        if (up.rungs.length < 2 || directionOf(events[0]?.kind === 'visit' ? events[0].rungs : []) !== 'up')
          return
        if (events[0]?.kind === 'visit' && events[0].rungs.length < 2) return
        if (up.at !== 0) moved++
        expect(other).toEqual({
          ...up,
          rungs: up.rungs.map(mirror),
          ceiling: up.ceiling && mirror(up.ceiling),
        })
      }),
      { numRuns: 300 },
    )
    expect(moved).toBeGreaterThan(30)
  })

  test('the slowest tempo that was completed is its ceiling, over all visits', () => {
    const visit = (n: number, reached: number): Event[] => {
      const id = (i: number): string => `s${n}-${i}`
      const base = { session: `s${n}`, visit: id(1), time: '2031-03-10T10:00:00.000Z', offset: 0 }
      const rules = { ...DEFAULT_RULES, up: { kind: 'row', n: 1 } as const }
      return [
        {
          ...base,
          id: id(1),
          n: 1,
          kind: 'visit',
          key: 'section a down',
          rungs: down(80, 60),
          at: down(80, 60).findIndex(t => Number(decimal(t.bpm)) === reached),
          rules,
        },
        {
          ...base,
          id: id(2),
          n: 2,
          kind: 'verdict',
          rep: 1,
          tempo: tempo(reached),
          whole: true,
          clean: true,
        },
      ]
    }
    expect(histories([visit(1, 72), visit(2, 66), visit(3, 76)]).of('section a down')?.ceiling).toEqual(
      tempo(66),
    )
    expect(harder(tempo(60), tempo(72), 'down')).toEqual(tempo(60))
    expect(compareHard(tempo(60), tempo(72), 'down')).toBeGreaterThan(0)
  })
})
