import { describe, expect, test } from 'vitest'
import { type Histories, historiesOf, type Visit } from '../../src/ladder/history.ts'
import { type TakeKind, takeKey } from '../../src/ladder/key.ts'
import { frac } from '../../src/music/fraction.ts'
import { checked, sentence } from '../../src/music/result.ts'
import { spoken, type Tempo, tempo, typed } from '../../src/music/tempo.ts'
import type { Target } from '../../src/visit/subject.ts'
import { checkEnd, coldTempo, takeOf } from '../../src/visit/takes.ts'
import { quickTarget } from '../../src/visit/target.ts'

/** Two measures of 4/4, m. 41 and 42, to 120, from 72. */
const music: Target = {
  ...checked(quickTarget({ goal: tempo(120) })),
  title: 'run at the weir',
  numbers: ['41', '42'],
}
const range: Target = { ...music, top: tempo(126) }
const nothing = historiesOf([])

const visit = (key: string, change: Partial<Visit> = {}, day = '2026-03-12'): Visit => ({
  id: `${key} ${day}`,
  key,
  time: `${day}T12:00:00.000Z`,
  offset: 0,
  clean: 1,
  verdicts: 1,
  played: 1,
  seconds: 20,
  ceiling: null,
  goal: false,
  last: null,
  rule: '1-in-a-row',
  stops: [],
  air: null,
  ...change,
})
const reached = (t: number): Histories => historiesOf([visit(music.key, { ceiling: tempo(t) })])
const clean = (kind: TakeKind, t: number, day?: string): Visit =>
  visit(
    takeKey(kind, music.key),
    {
      ceiling: tempo(t),
      goal: true,
      last: { tempo: tempo(t), slipped: false, time: `${day ?? '2026-03-12'}T12:00:00.000Z`, offset: 0 },
    },
    day,
  )
const at = (kind: TakeKind, all: Histories, t: Target = music, rung: Tempo | null = null) =>
  typed(takeOf(kind, t, all, rung).tempo)

describe('the tempo of a take', () => {
  test('of a cold one: what was reached, the goal at most; before that the start', () => {
    expect(at('cold', nothing)).toBe('72')
    expect(at('cold', reached(96))).toBe('96')
    expect(at('cold', reached(132))).toBe('120')
    // Without a start 60 % of the goal.
    expect(at('cold', nothing, { ...music, start: null })).toBe('72')
    const down: Target = { ...music, direction: 'down', start: tempo(144) }
    expect(at('cold', nothing, down)).toBe('144')
    expect(at('cold', reached(132), down)).toBe('132')
    expect(at('cold', nothing, { ...down, start: null })).toBe('120')
  })

  test('of a goal that is a range: the end whose turn it is, once the lower one was reached', () => {
    const both = (...cold: readonly Visit[]) =>
      historiesOf([visit(music.key, { ceiling: tempo(120) }), ...cold])
    expect(typed(coldTempo(reached(96), range))).toBe('96')
    expect(typed(coldTempo(both(), range))).toBe('120')
    expect(typed(coldTempo(both(clean('cold', 120)), range))).toBe('126')
    const all = both(clean('cold', 120))
    expect(typed(coldTempo(all, range, 'lower'))).toBe('120')
    expect(typed(coldTempo(all, range, 'upper'))).toBe('126')
    expect(typed(coldTempo(all, range, 'other'))).toBe('120')
    expect(typed(coldTempo(both(), range, 'other'))).toBe('126')
  })

  test('of tries at the goal: the goal, or the end of it that was asked for', () => {
    for (const kind of ['goal', 'beat'] as const) {
      expect(at(kind, reached(96))).toBe('120')
      expect(typed(takeOf(kind, range, nothing, null).tempo)).toBe('120')
      expect(typed(takeOf(kind, range, nothing, null, 'upper').tempo)).toBe('126')
      expect(typed(takeOf(kind, range, nothing, null, 'other').tempo)).toBe('126')
      expect(typed(takeOf(kind, range, nothing, null, 'lower').tempo)).toBe('120')
      expect(typed(takeOf(kind, music, nothing, null, 'upper').tempo)).toBe('120')
    }
  })

  test('the last time through 90 %, slow ones 70 % of what was reached, on the next mark below', () => {
    // 90 % of 96 is 86.4, 70 % is 67.2.
    expect([at('through', reached(96)), at('slow', reached(96))]).toEqual(['84', '66'])
    expect([at('silent', reached(96)), at('silent', nothing)]).toEqual(['96', '72'])
  })

  test('is the rung where one is given, but of a cold take and of a try at the goal', () => {
    const rung = tempo(88)
    for (const kind of ['entry', 'silent', 'through', 'slow'] as const)
      expect(at(kind, reached(96), music, rung)).toBe('88')
    expect(at('cold', reached(96), music, rung)).toBe('96')
    expect(at('goal', reached(96), music, rung)).toBe('120')
  })

  test('an end can be asked for where the goal is a range', () => {
    expect(checkEnd(null, music)).toEqual({ ok: true, value: null })
    expect(checkEnd('upper', range)).toEqual({ ok: true, value: 'upper' })
    const refused = checkEnd('upper', music)
    expect(refused.ok ? '' : sentence(refused.problem)).toContain(
      'This goal is one tempo, so it has no upper end.',
    )
  })
})

describe('how a take is called, and clicked', () => {
  test.each<[TakeKind, string, string]>([
    ['cold', 'cold take: once', ''],
    ['entry', 'from the entrance: once', 'what is counted before it sounds, then you play alone'],
    ['goal', 'a try at the goal', ''],
    ['silent', 'without a sound', 'to the click: fingers only, or sung, or the bow in the air'],
    ['through', 'last time through: once', ''],
    ['slow', 'slow', ''],
  ])('%s', (kind, words, says) => {
    const take = takeOf(kind, music, nothing, null)
    expect(take).toMatchObject({ title: `run at the weir, ${words}`, says, key: takeKey(kind, music.key) })
    expect([take.form, take.numbers]).toEqual([music.form, music.numbers])
  })

  test('from the entrance: two measures or the rests of the part are counted, then nothing clicks or taps', () => {
    const guide = { onsets: [frac(0)] }
    const click = { ...music.click, guide }
    expect(takeOf('entry', { ...music, click }, nothing, null).click).toEqual({ countIn: 2, silent: true })
    expect(takeOf('entry', { ...music, click, rests: 8 }, nothing, null).click).toEqual({
      countIn: 2,
      silent: true,
      rests: 8,
    })
    expect(takeOf('cold', { ...music, click }, nothing, null).click).toEqual(click)
  })
})

describe('one beat at the goal', () => {
  const guide = { onsets: [frac(0), frac(1, 8), frac(1, 4), frac(3, 8), frac(1, 2)] }
  const guided: Target = { ...music, click: { ...music.click, guide } }
  const played = (times: number) =>
    historiesOf(Array.from({ length: times }, (_, i) => clean('beat', 120, `2026-03-${10 + i}`)))

  test('is the first beat and its next note, and the beat after it with each that was clean', () => {
    const from = (times: number) => takeOf('beat', music, played(times), null).says
    expect([from(0), from(1), from(4)]).toEqual([
      'from m. 41, beat 1 to the next beat',
      'from m. 41, beat 2 to the next beat',
      'from m. 42, beat 1 to the next beat',
    ])
    expect(takeOf('beat', music, played(0), null).title).toBe('run at the weir, one beat at the goal')
  })

  test('after the last beat it begins anew', () => {
    const beats = Array.from({ length: 20 }, (_, i) => takeOf('beat', music, played(i), null).says)
    const again = beats.indexOf(beats[0] as string, 1)
    expect(again).toBeGreaterThan(6)
    expect(new Set(beats.slice(0, again)).size).toBe(again)
  })

  test('one that was not clean is played again', () => {
    const slipped = historiesOf([{ ...clean('beat', 120), goal: false }])
    expect(takeOf('beat', music, slipped, null).says).toBe('from m. 41, beat 1 to the next beat')
  })

  test('has its own measures, and the taps of the guide that fall into it', () => {
    const first = takeOf('beat', guided, played(0), null)
    expect(first.numbers).toEqual(['41'])
    const second = takeOf('beat', guided, played(1), null)
    const taps = (t: typeof first) => (t.click.guide && 'onsets' in t.click.guide ? t.click.guide.onsets : [])
    expect(taps(first).slice(0, 2)).toEqual([frac(0), frac(1, 8)])
    expect(taps(second).slice(0, 2)).toEqual([frac(0), frac(1, 8)])
    expect(takeOf('beat', music, played(0), null).click).not.toHaveProperty('guide')
    const ratios = { ratios: [3, 1], group: frac(1, 8) }
    expect(
      takeOf('beat', { ...music, click: { ...music.click, guide: ratios } }, played(0), null).click.guide,
    ).toEqual(ratios)
    expect(spoken(first.tempo)).toBe('quarter = 120')
  })
})
