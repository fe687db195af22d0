import { describe, expect, test } from 'vitest'
import { beatsOf } from '../../../src/click/program.ts'
import { cutForm } from '../../../src/music/cut.ts'
import { plainForm } from '../../../src/music/form.ts'
import { type Frac, frac, zero } from '../../../src/music/fraction.ts'
import { parseMeter } from '../../../src/music/meter.ts'
import { parseTempo, tempo } from '../../../src/music/tempo.ts'
import { bigText } from '../../../src/screens/glyphs.ts'
import { ladderLines } from '../../../src/screens/practice/ladder-lines.ts'
import { strip } from '../../../src/screens/practice/now.ts'
import { practiceSheet, type Shown } from '../../../src/screens/practice/view.ts'
import { drawn } from '../drawn.ts'
import { shown } from './scenes.ts'
import { must, setup, stage } from './stage.ts'

const frame = (p: Shown): string[] => drawn(practiceSheet(p))

describe('the practice screen at 80x24', () => {
  test('fills 24 rows and no more than 80 columns, in every phase', async () => {
    const s = await stage()
    const rows = [frame(shown(s.conductor.session()))]
    await s.play('C')
    rows.push(frame(shown(s.conductor.session(), { frame: s.conductor.frame() })))
    s.conductor.act({ kind: 'wait' })
    await s.conductor.settled()
    rows.push(frame(shown(s.conductor.session(), { typing: '112' })))
    for (const r of rows) {
      expect(r.length).toBeLessThanOrEqual(24)
      expect(Math.max(...r.map(line => [...line].length))).toBeLessThanOrEqual(80)
    }
  })

  test('says in words, without color: tempo, row, rung, goal, and what each pedal does', async () => {
    const s = await stage(setup({ ceiling: { unit: { n: 1, d: 4 }, bpm: { n: 112, d: 1 } } }))
    await s.play('C')
    const text = frame(shown(s.conductor.session(), { frame: s.conductor.frame() })).join('\n')
    for (const words of [
      'one of three in a row',
      'here >',
      'goal',
      'ceiling',
      'right (Page Down): wait',
      '1 of 1 clean today',
    ])
      expect(text).toContain(words)
  })

  test('in a small window keeps tempo, row, beat and pedals; below 40x12 says so in one sentence', async () => {
    const s = await stage()
    const small = frame(shown(s.conductor.session(), { size: { rows: 12, cols: 40 } })).join('\n')
    expect(small).toContain('quarter   goal 120')
    expect(small).toContain('0 of 3 in a row')
    for (const figures of bigText('104', 3)) expect(small).toContain(figures.trimEnd())
    for (const sign of bigText('READY', 3)) expect(small).toContain(sign.trimEnd())
    expect(small).toContain('m. 41')
    expect(small).toContain('? help')
    expect(small).toContain('start')
    expect(frame(shown(s.conductor.session(), { size: { rows: 10, cols: 30 } })).join(' ')).toMatch(
      /too small/,
    )
  })
})

test('a goal that nobody knows yet is open, and the last rung is where the ladder leads for now', async () => {
  const made = setup({})
  const s = await stage({ ...made, open: true })
  const small = frame(shown(s.conductor.session(), { size: { rows: 12, cols: 40 } })).join('\n')
  expect(small).toContain('goal open')
  const ladder = ladderLines(s.conductor.session(), 20).map(r => r.text)
  expect(ladder[0]).toMatch(/^ for now .*120/)
  expect(ladder.join(' ')).not.toContain('goal')
})

test('a planned breath is said in the measure before it and drawn before its beat', async () => {
  const made = setup({ measures: 3 })
  const at = { n: 7, d: 4 }
  const s = await stage({ ...made, form: { ...made.form, breaths: [{ at, kind: 'breath', adds: zero }] } })
  expect(strip(s.conductor.session(), null, 46).labels.join('   ')).toContain('breath 42.4')
  const session = s.conductor.session()
  const beside = new Map([['42', 'C+1']])
  expect(strip({ ...session, setup: { ...session.setup, beside } }, null, 46).labels.join('   ')).toContain(
    'breath 42.4 (C+1)',
  )
  await s.press('right')
  const program = s.conductor.session().current?.program
  const second = program && beatsOf(program).find(b => b.measure === 2)
  expect(strip(s.conductor.session(), second?.frame ?? 0, 46).row).toMatch(/,4/)
})

test('a section inside one measure is called by that measure; the pick-up of a piece by its word', async () => {
  const { form, ...rest } = setup({ measures: 2 })
  const label = async (from: Frac, to: Frac, numbers: readonly string[]): Promise<string> => {
    const s = await stage({ ...rest, form: cutForm(form, from, to), numbers })
    return strip(s.conductor.session(), null, 46).labels.join('   ')
  }
  expect(await label(frac(1, 4), frac(3, 4), ['41'])).toBe('m. 41')
  expect(await label(frac(1, 4), frac(2), ['41', '42'])).toBe('m. 42')
  expect(await label(frac(1, 4), frac(3, 4), ['0'])).toBe('pick-up')
})

test('the mark moves from beat to beat: no place of the strip changes more than three times in a second', async () => {
  const s = await stage(setup({ measures: 4, start: 208, goal: 208 }))
  await s.press('right')
  const program = s.conductor.session().current?.program
  if (!program) throw new Error('nothing plays')
  const changes = new Map<number, number[]>()
  let before: number | null = null
  for (const beat of beatsOf(program)) {
    const { at: mark } = strip(s.conductor.session(), beat.frame, 46)
    for (const place of [before, mark])
      if (place !== null && before !== mark)
        changes.set(place, [...(changes.get(place) ?? []), beat.frame / 48_000])
    before = mark
  }
  for (const times of changes.values())
    for (const [i, t] of times.entries())
      expect(times.filter(u => u >= t && u < t + 1).length, String(i)).toBeLessThanOrEqual(3)
  expect(changes.size).toBeGreaterThan(3)
})

describe('a click that changes with the rung', () => {
  const click = {
    countIn: 1,
    pulse: [
      { from: null, value: { n: 1, d: 4 } },
      { from: tempo(112), value: { n: 1, d: 2 } },
    ],
  }

  test('both tempos are shown where the pulse is not that of the tempo', async () => {
    const at = async (from: number) =>
      frame(shown((await stage(setup({ click, from }))).conductor.session())).join('\n')
    // 112 quarters a minute are 56 halves; the rungs are 104, 108, 112, 116, 120.
    expect(await at(1)).not.toContain('half')
    for (const both of ['half = 56', 'quarter = 112']) expect(await at(2)).toContain(both)
    // In two: two beats in the strip.
    expect(await at(2)).toMatch(/┃1─+2─+┃/)
  })

  test('slow beats say that they are subdivided', async () => {
    const slow = await stage(setup({ start: 40, goal: 120 }))
    expect(frame(shown(slow.conductor.session())).join('\n')).toContain('2 to the beat')
  })
})

describe('rests that are counted', () => {
  test('before the entry: the measures of rest by their number, not a count-in', async () => {
    const s = await stage(setup({ click: { countIn: 2, silent: true, rests: 8 } }))
    await s.press('right')
    const p = s.conductor.session().current?.program
    const said = (p ? beatsOf(p) : [])
      .filter(b => b.beat === 1)
      .map(b => strip(s.conductor.session(), b.frame, 46).labels.join('   '))
    expect(said).toEqual([...[1, 2, 3, 4, 5, 6, 7, 8].map(n => `rest ${n} of 8`), 'm. 41', 'm. 42'])
  })

  test('inside the passage, where its notes are known', async () => {
    const s = await stage(setup({ measures: 4, longRests: [{ first: 2, measures: 2 }] }))
    await s.press('right')
    const p = s.conductor.session().current?.program
    const said = (p ? beatsOf(p) : [])
      .filter(b => b.beat === 1 && b.measure > 0)
      .map(b => strip(s.conductor.session(), b.frame, 46).labels.join('   '))
    expect(said).toEqual(['m. 41', 'm. 42   rest 1 of 2', 'm. 43   rest 2 of 2', 'm. 44'])
  })
})

describe('what is played apart from the ladder', () => {
  const apart = () => stage(setup({ start: 56, goal: 56, ends: { clean: 2, tries: 4 }, rhythm: null }))

  test('offers no keys that do nothing there', async () => {
    const text = frame(shown((await apart()).conductor.session())).join('\n')
    expect(text).toContain('f leave this')
    expect(text).not.toContain('rung')
    expect(text).not.toContain('rhythms')
  })

  test('says all of its rhythm: the click, the groups, and what is as written', async () => {
    const music =
      'click 56, quick notes as at 112   14 groups of four 16ths altered; m. 43, 47, 51-53 as written'
    const rows = frame(shown((await apart()).conductor.session(), { music }))
    expect(
      rows
        .slice(1, 3)
        .map(r => r.trim())
        .join(' ')
        .replaceAll(/\s+/g, ' '),
    ).toBe(music.replaceAll(/\s+/g, ' '))
  })
})

describe('the row in words', () => {
  test('of what is played once says so, of one that looks for its start that', async () => {
    const once = await stage(setup({ start: 104, goal: 104, ends: { clean: 1, tries: 1 } }))
    const finding = await stage(
      setup({ opening: { ...setup().opening, rules: { ...setup().opening.rules, find: true } } }),
    )
    for (const size of [
      { rows: 24, cols: 80 },
      { rows: 14, cols: 50 },
    ]) {
      const rows = (s: typeof once) => frame(shown(s.conductor.session(), { size })).join('\n')
      expect(rows(once)).toContain('once')
      expect(rows(finding)).toContain('finding the start')
    }
  })
})

test('the beats that are missing before a pick-up are counted, then it is the pick-up', async () => {
  const form = plainForm(must(parseMeter('6/8')), 2, must(parseTempo('dotted-quarter=60')), frac(1, 8))
  const s = await stage(setup({ form, numbers: ['0', '1', '2'] }))
  await s.press('right')
  const program = s.conductor.session().current?.program
  if (!program) throw new Error('nothing plays')
  const at = (frame: number) => strip(s.conductor.session(), frame, 46).labels.join('   ')
  expect(at(program.firstNote - 1)).toBe('then pick-up')
  expect(at(program.firstNote)).toBe('pick-up')
})
