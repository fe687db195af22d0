import { describe, expect, test } from 'vitest'
import { historiesOf, type Visit } from '../../src/ladder/history.ts'
import { joinKey, sectionKey, takeKey } from '../../src/ladder/key.ts'
import { DEFAULT_RULES } from '../../src/ladder/rules.ts'
import { type Ladder, openingTomorrow, standing, verdictsOn } from '../../src/ladder/standing.ts'
import { type Tempo, tempo, typed } from '../../src/music/tempo.ts'

const KEY = sectionKey('weir0001')
const ladder: Ladder = {
  key: KEY,
  start: tempo(72),
  goal: tempo(120),
  step: { kind: 'notch' },
  direction: 'up',
  rules: DEFAULT_RULES,
}
/** Noon of a Saturday. */
const NOW = { wall: Date.parse('2031-03-15T12:00:00Z'), offset: 0 }

const visit = (day: string, bpm: number | null, change: Partial<Visit> = {}): Visit => {
  const time = `${day}T10:00:00.000Z`
  return {
    id: `${KEY} ${day} ${bpm}`,
    key: KEY,
    time,
    offset: 0,
    clean: 3,
    verdicts: 4,
    played: 5,
    seconds: 60,
    ceiling: bpm === null ? null : tempo(bpm),
    goal: false,
    last: { tempo: tempo(bpm ?? 72), slipped: false, time, offset: 0 },
    rule: '3-in-a-row',
    stops: [],
    air: null,
    ...change,
  }
}
const at = (t: Tempo | null): string | null => t && typed(t)

describe('where a ladder stands', () => {
  test('before it was ever played: at its start, or looking for one, with nothing reached', () => {
    const fresh = standing(ladder, historiesOf([]), NOW)
    expect(fresh).toMatchObject({
      key: KEY,
      ceiling: null,
      secure: null,
      ready: false,
      finding: false,
      takes: [],
    })
    expect(at(fresh.next)).toBe('72')
    expect(standing({ ...ladder, start: null }, historiesOf([]), NOW).finding).toBe(true)
  })

  test('on a new day the next visit begins below the ceiling, on the same day where it stopped', () => {
    // 97 % of 104 is 100.9: the rung at or below it is 100.
    const yesterday = standing(ladder, historiesOf([visit('2031-03-14', 104)]), NOW)
    expect([at(yesterday.ceiling), at(yesterday.next)]).toEqual(['104', '100'])
    const stopped = { tempo: tempo(108), slipped: false, time: '2031-03-15T11:50:00.000Z', offset: 0 }
    const today = standing(ladder, historiesOf([visit('2031-03-15', 104, { last: stopped })]), NOW)
    expect([at(today.ceiling), at(today.next)]).toEqual(['104', '108'])
  })

  test('half an hour after it stopped it begins one rung lower', () => {
    const stoppedAt = (time: string) => {
      const last = { tempo: tempo(108), slipped: false, time: `2031-03-15T${time}:00.000Z`, offset: 0 }
      return at(standing(ladder, historiesOf([visit('2031-03-15', 104, { last })]), NOW).next)
    }
    expect([stoppedAt('11:31'), stoppedAt('11:30')]).toEqual(['108', '104'])
  })

  test('what is secure comes from cold takes alone', () => {
    const cold = visit('2031-03-14', 100, { key: takeKey('cold', KEY) })
    const all = standing(ladder, historiesOf([visit('2031-03-14', 112), cold]), NOW)
    expect([at(all.ceiling), at(all.secure)]).toEqual(['112', '100'])
    expect(all.takes).toEqual([{ day: '2031-03-14', tempo: tempo(100), clean: true }])
    // One that was never judged is no take.
    const unjudged = visit('2031-03-15', null, { key: takeKey('cold', KEY), last: null })
    expect(standing(ladder, historiesOf([cold, unjudged]), NOW).takes).toEqual(all.takes)
  })
})

describe('ready', () => {
  const cold = (day: string, bpm: number, clean = true) =>
    visit(day, clean ? bpm : null, {
      key: takeKey('cold', KEY),
      last: { tempo: tempo(bpm), slipped: !clean, time: `${day}T10:00:00.000Z`, offset: 0 },
    })
  const reached = [visit('2031-03-12', 116), visit('2031-03-13', 120), visit('2031-03-14', 108)]
  const since = (...visits: readonly Visit[]) => standing(ladder, historiesOf(visits), NOW).readySince

  test('is the day on which the goal was first completed, or the second clean cold take at it', () => {
    expect(since(...reached, cold('2031-03-10', 120), cold('2031-03-11', 120))).toBe('2031-03-13')
    expect(since(...reached, cold('2031-03-10', 120), cold('2031-03-14', 120))).toBe('2031-03-14')
    const again = [...reached, visit('2031-03-15', 120)]
    expect(since(...again, cold('2031-03-10', 120), cold('2031-03-11', 120))).toBe('2031-03-13')
  })

  test('is nothing before the goal was completed, and nothing without cold takes', () => {
    expect(since(visit('2031-03-12', 116), cold('2031-03-13', 120), cold('2031-03-14', 120))).toBeNull()
    expect(since(...reached)).toBeNull()
    expect(standing(ladder, historiesOf(reached), NOW).ready).toBe(false)
  })
})

describe('a section that was never played', () => {
  const passage = sectionKey('weir')
  const inside = { ...ladder, within: { key: passage, goal: tempo(132) } }

  test('begins from what its passage has reached, as a share of its own goal', () => {
    // 112 of 132 is 101.8 of 120; 92 % of it is 93.7: the mark at or below it is 92.
    const all = historiesOf([visit('2031-03-14', 112, { key: passage })])
    expect(at(standing(inside, all, NOW).next)).toBe('92')
    expect(at(standing(ladder, all, NOW).next)).toBe('72')
  })

  test('begins at its start where the passage has reached nothing, and from its own ceiling once it has one', () => {
    expect(at(standing(inside, historiesOf([visit('2031-03-14', null, { key: passage })]), NOW).next)).toBe(
      '72',
    )
    const both = historiesOf([visit('2031-03-13', 112, { key: passage }), visit('2031-03-14', 84)])
    expect(at(standing(inside, both, NOW).next)).toBe('80')
  })
})

describe('sections that are joined', () => {
  const [a, b, c] = ['weir1', 'weir2', 'weir3'] as const
  const join = (...ids: readonly string[]): Ladder => ({
    ...ladder,
    key: joinKey(ids),
    joins: ids.map(id => ({ id, goal: tempo(120) })),
  })
  const on = (id: string, bpm: number | null) => visit('2031-03-14', bpm, { key: sectionKey(id) })
  const next = (l: Ladder, ...visits: readonly Visit[]) => at(standing(l, historiesOf(visits), NOW).next)

  test('begin at the rung at or below 92 % of the lower ceiling', () => {
    // 92 % of 100 is 92, of 112 is 103.04.
    expect(next(join(a, b), on(a, 112), on(b, 100))).toBe('92')
    expect(next(join(a, b), on(a, 112), on(b, 116))).toBe('100')
  })

  test('begin at the start while one of them has no ceiling', () => {
    expect(next(join(a, b), on(a, 112))).toBe('72')
    expect(next(join(a, b), on(a, 112), on(b, null))).toBe('72')
  })

  test('begin by their sections also where the passage was never played whole', () => {
    const inside = { ...join(a, b), within: { key: sectionKey('weir'), goal: tempo(120) } }
    expect(next(inside, on(a, 112), on(b, 100))).toBe('92')
    expect(next(inside, on(a, 112), on(b, 100), on('weir', 108))).toBe('96')
  })

  test('once they have reached a goal that is a range go on to its upper end', () => {
    const ranged = { ...join(a, b), top: tempo(132) }
    const last = (...visits: readonly Visit[]) => {
      const { opening } = standing(ranged, historiesOf(visits), NOW)
      return opening.ok && at(opening.value.rungs.at(-1) ?? null)
    }
    const whole = (bpm: number) => visit('2031-03-14', bpm, { key: joinKey([a, b]) })
    expect(last(on(a, 120), on(b, 120))).toBe('120')
    expect(last(on(a, 120), on(b, 120), whole(116))).toBe('120')
    expect(last(on(a, 120), on(b, 120), whole(120))).toBe('132')
  })

  test('two that were played as one before count as one, with what they reached together', () => {
    const together = visit('2031-03-14', 92, { key: joinKey([a, b]) })
    // 92 % of 92 is 84.6, and the first two alone would give more.
    expect(next(join(a, b, c), on(a, 112), on(b, 112), on(c, 116), together)).toBe('84')
    // Tried without a rung done, they do not.
    const tried = visit('2031-03-14', null, { key: joinKey([a, b]) })
    expect(next(join(a, b, c), on(a, 112), on(b, 112), on(c, 116), tried)).toBe('100')
  })
})

describe('tomorrow', () => {
  const tomorrow = (reached: number | null, ...visits: readonly Visit[]) =>
    at(openingTomorrow(ladder, historiesOf(visits), reached === null ? null : tempo(reached), tempo(88)))

  test('begins below the higher of what is known and what was reached today', () => {
    expect(tomorrow(104)).toBe('100')
    expect(tomorrow(null, visit('2031-03-14', 104))).toBe('100')
    expect(tomorrow(92, visit('2031-03-14', 104))).toBe('100')
    expect(tomorrow(104, visit('2031-03-14', 92))).toBe('100')
  })

  test('begins at the start where nothing was reached, or looks for one', () => {
    expect(tomorrow(null)).toBe('72')
    expect(openingTomorrow({ ...ladder, start: null }, historiesOf([]), null, tempo(88))).toBeNull()
  })
})

test('the verdicts of a day are those of all its visits, and of no other day', () => {
  const all = historiesOf([visit('2031-03-14', 100), visit('2031-03-15', 104), visit('2031-03-15', 108)])
  expect(verdictsOn(all.of(KEY), '2031-03-15')).toEqual({ clean: 6, verdicts: 8 })
  expect(verdictsOn(all.of(KEY), '2031-03-14')).toEqual({ clean: 3, verdicts: 4 })
  expect(verdictsOn(all.of(KEY), '2031-03-13')).toEqual({ clean: 0, verdicts: 0 })
  expect(verdictsOn(undefined, '2031-03-15')).toEqual({ clean: 0, verdicts: 0 })
})
