import { describe, expect, test } from 'vitest'
import { historiesOf, type Visit } from '../../src/ladder/history.ts'
import { sectionKey, takeKey } from '../../src/ladder/key.ts'
import { DEFAULT_RULES } from '../../src/ladder/rules.ts'
import { type Ladder, standing, verdictsOn } from '../../src/ladder/standing.ts'
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

  test('what is secure comes from cold takes alone', () => {
    const cold = visit('2031-03-14', 100, { key: takeKey('cold', KEY) })
    const all = standing(ladder, historiesOf([visit('2031-03-14', 112), cold]), NOW)
    expect([at(all.ceiling), at(all.secure)]).toEqual(['112', '100'])
    expect(all.takes).toEqual([{ day: '2031-03-14', tempo: tempo(100), clean: true }])
  })
})

test('the verdicts of a day are those of all its visits, and of no other day', () => {
  const all = historiesOf([visit('2031-03-14', 100), visit('2031-03-15', 104), visit('2031-03-15', 108)])
  expect(verdictsOn(all.of(KEY), '2031-03-15')).toEqual({ clean: 6, verdicts: 8 })
  expect(verdictsOn(all.of(KEY), '2031-03-14')).toEqual({ clean: 3, verdicts: 4 })
  expect(verdictsOn(all.of(KEY), '2031-03-13')).toEqual({ clean: 0, verdicts: 0 })
  expect(verdictsOn(undefined, '2031-03-15')).toEqual({ clean: 0, verdicts: 0 })
})
