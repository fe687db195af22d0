import { describe, expect, test } from 'vitest'
import { parseTempo, spoken, type Tempo } from '../../src/music/tempo.ts'
import { freeName, importFrom, type Wanted } from '../../src/score/import-score.ts'
import { offerOf } from '../../src/score/offer.ts'
import {
  attributes,
  barline,
  direction,
  head,
  mark,
  must,
  note,
  refusal,
  scoreOf,
  scoreText,
  time,
  words,
} from './scores.ts'

const bar = note(16)
const final = barline('right', '<bar-style>light-heavy</bar-style>')
const letter = (text: string) => direction(`<rehearsal>${text}</rehearsal>`)
const goal = (text: string): Tempo => must(parseTempo(text))
const ids = () => {
  let n = 1000
  return () => `id${n++}`
}
const take = (text: string, wanted: Wanted = {}) => importFrom(scoreOf(text), 'weir.xml', wanted, ids())
const passages = (text: string, wanted: Wanted = {}) =>
  must(take(text, wanted)).passages.map(p => `${p.name}: ${p.measures}`)
const named = (...names: readonly string[]) =>
  names.reduce(
    (text, name, i) => text.replace(`<part-name>Flute ${i + 1}<`, `<part-name>${name}<`),
    scoreText(...names.map(() => [head() + mark('quarter', '96') + bar, bar])),
  )

describe('the part', () => {
  const trio = named('Oboe', 'Oboe d’amore', 'Bassoon')

  test('is meant by its id, its name, or any part of it that fits only one', () => {
    const part = (part: string) => must(take(trio, { part })).part
    expect(['P2', 'Oboe', 'amore', 'bass', 'BASSOON'].map(part)).toEqual([
      'Oboe d’amore',
      'Oboe',
      'Oboe d’amore',
      'Bassoon',
      'Bassoon',
    ])
    expect(must(take(named('Oboe'))).part).toBe('Oboe')
  })

  test('that is not clear is asked for, among those that fit, else among all', () => {
    const two = named('Violin 1', 'Violin 2', 'Viola')
    expect(refusal(take(two, { part: 'violin' }))).toMatch(/one of P1 \(Violin 1\), P2 \(Violin 2\)\.$/)
    expect(refusal(take(two, { part: 'Tuba' }))).toMatch(
      /one of P1 \(Violin 1\), P2 \(Violin 2\), P3 \(Viola\)\.$/,
    )
    expect(refusal(take(two))).toBe(
      'This score has 3 parts. Say which is yours: --part with one of P1 (Violin 1), P2 (Violin 2), P3 (Viola).',
    )
    // a part without a name of its own is called by its id
    expect(refusal(take(named('P1', 'Viola')))).toContain('one of P1, P2 (Viola).')
  })

  test('of an orchestra: twenty-four are named, the others counted', () => {
    const names = (n: number) => Array.from({ length: n }, (_, i) => `Desk ${i + 1}`)
    expect(refusal(take(named(...names(24))))).toMatch(/P24 \(Desk 24\)\.$/)
    expect(refusal(take(named(...names(26))))).toMatch(/P24 \(Desk 24\) and 2 more\.$/)
  })
})

const songs = (name: string) => [
  words('I. Allegro') + head() + mark('quarter', '96') + bar,
  ...Array(3).fill(bar),
  bar + final,
  words(name) + attributes(time('3', 4)) + mark('half', '40') + note(12),
  ...Array(3).fill(note(12)),
]
const both = scoreText(songs('II. Largo'))

describe('the movement', () => {
  test('is meant by its number or any part of its name; else all of them', () => {
    expect(passages(both)).toEqual(['I. Allegro: 1-5', 'II. Largo: 6-9'])
    expect(passages(both, { movement: '2' })).toEqual(['II. Largo: 6-9'])
    expect(passages(both, { movement: ' 1 ' })).toEqual(['I. Allegro: 1-5'])
    expect(passages(both, { movement: 'larg' })).toEqual(['II. Largo: 6-9'])
    expect(passages(both, { movement: '2', apart: true })).toEqual(['whole part: 6-9'])
  })

  test('that is not clear is asked for', () => {
    const choice = /--movement with 1 \(I\. Allegro\), 2 \(II\. Largo\)\.$/
    for (const movement of ['3', '', 'l', 'Presto']) expect(refusal(take(both, { movement }))).toMatch(choice)
    for (const wanted of [{ from: '6' }, { to: '3' }]) expect(refusal(take(both, wanted))).toMatch(choice)
    expect(passages(both, { movement: '2', from: '7', to: '8' })).toEqual(['2. 7-8: 7-8'])
    expect(refusal(take(scoreText([head() + bar]), { movement: '3' }))).toMatch(/--movement with 1\.$/)
  })

  test('is told with the parts, where there are several of both', () => {
    expect(refusal(take(scoreText(songs('II. Largo'), songs('II. Largo'))))).toBe(
      'This score has 2 parts. Say which is yours: --part with one of P1 (Flute 1), P2 (Flute 2); its movements (--movement) are 1 (I. Allegro), 2 (II. Largo).',
    )
  })

  test('its remarks say which one they mean', () => {
    const text = both.replace('<per-minute>40<', '<per-minute>?<')
    expect(must(take(text)).remarks).toEqual([
      'II. Largo, measure 6: the mark half = ? holds no number from 1 to 999',
    ])
    expect(must(take(text, { movement: '2', apart: true })).remarks).toEqual([
      'measure 6: the mark half = ? holds no number from 1 to 999',
    ])
  })

  test('hard passages of several are shared among them and called by their numbers', () => {
    // figures without a pattern, so that none is like another
    let seed = 7
    const next = () => {
      seed = (seed * 48_271) % 2_147_483_647
      return seed % 7
    }
    const run = () => Array.from({ length: 16 }, () => note(1, '', `${'CDEFGAB'[next()]}5`)).join('')
    const ROMAN = 'I II III IV V VI VII VIII IX'.split(' ')
    const score = (movements: number) =>
      scoreText(
        ROMAN.slice(0, movements).flatMap((number, m) => [
          words(`${number}.`) +
            (m === 0 ? head() + mark('quarter', '96') : attributes(`<key><fifths>${m}</fifths></key>`)) +
            bar,
          ...Array.from({ length: 35 }, (_, i) =>
            i % 7 === 2 ? run() : note(16, '', `${'CDEFGAB'[Math.floor(i / 7)]}5`),
          ),
          bar + final,
        ]),
      )
    const each = (movements: number) => {
      const { passages } = must(take(score(movements), { hard: true }))
      return ROMAN.slice(0, movements).map(
        (_, i) => passages.filter(p => p.name.startsWith(`${i + 1}. `)).length,
      )
    }
    expect([each(2), each(3), each(5), each(9)]).toEqual([
      [4, 4],
      [2, 2, 2],
      [1, 1, 1, 1, 1],
      [1, 1, 1, 1, 1, 1, 1, 1, 1],
    ])
    expect(must(take(score(2), { movement: '2' })).passages[0]).toMatchObject({ name: 'II.', whole: true })
  })
})

describe('the measures', () => {
  const marked = scoreText([
    head() + mark('quarter', '96') + bar,
    letter('A') + bar,
    bar,
    letter('B') + bar,
    { attrs: 'number="X1" text="4a" implicit="yes"', inside: bar },
    { attrs: 'number="5"', inside: bar },
  ])

  test.each<[Wanted, string]>([
    [{ from: '2', to: '3' }, '2-3: 2-3'],
    [{ from: '3' }, '3-5: 3-5'],
    [{ to: '2' }, '1-2: 1-2'],
    [{ from: 'A', to: 'B' }, '2-3: 2-3'],
    [{ to: 'A' }, '1: 1'],
    [{ from: 'a', to: 'B+1' }, '2-4: 2-4'],
    [{ from: 'Letter B', to: '5' }, '4-5: 4-5'],
    [{ from: 'A + 1', to: '4a' }, '3-4: 3-4'],
    [{ from: 'A+0', to: 'A+0' }, '2: 2'],
    [{ from: 'B', to: '4' }, '4: 4'],
  ])('%j', (wanted, expected) => {
    expect(passages(marked, wanted)[0]?.replace(/#\d|X1/g, '4')).toBe(expected)
  })

  test('that are not there, or end before they begin, are refused with what there is', () => {
    const range = 'a measure from 1 to 5, or a rehearsal mark: A B'
    expect(refusal(take(marked, { from: '9' }))).toBe(`"9" doesn't work for --from. Try ${range}.`)
    expect(refusal(take(marked, { to: '9' }))).toBe(
      `"9" doesn't work for --to. Try ${range}, after measure 1.`,
    )
    expect(refusal(take(marked, { from: '3', to: '2' }))).toBe(
      `"2" doesn't work for --to. Try ${range}, after measure 3.`,
    )
    for (const from of ['', 'C', 'A+9', 'A+-1', 'B+x'])
      expect(refusal(take(marked, { from })), from).toMatch(/--from/)
    expect(refusal(take(scoreText([head() + bar]), { from: '2' }))).toMatch(/Try a measure from 1 to 1\.$/)
  })

  test('of many marks the first twenty-four are named, each once', () => {
    const many = scoreText([
      head() + bar,
      ...Array.from({ length: 30 }, (_, i) => letter(`M${i + 1}`) + bar),
      letter('M1') + bar,
    ])
    expect(refusal(take(many, { from: 'Q' }))).toMatch(/mark: M1 M2 .* M24\.$/)
    expect(passages(many, { from: 'M1', to: 'M2' })).toEqual(['2: 2'])
  })
})

describe('the goal', () => {
  const slower = scoreText([
    head() + mark('quarter', '120') + bar,
    bar,
    words('Andante') + mark('half', '40') + bar,
    bar,
  ])
  const first = (wanted: Wanted) => must(take(slower, wanted)).passages[0]

  test('that was typed is for the first tempo; where a passage begins later it keeps the ratio, in whole numbers', () => {
    expect(first({ goal: goal('96') })?.goal).toBe('96')
    expect(first({ goal: goal('96'), from: '3' })?.goal).toBe('half=48')
    const run = Array.from({ length: 16 }, (_, i) => note(1, '', i % 2 ? 'D5' : 'C5')).join('')
    const hard = scoreText([
      head() + mark('quarter', '120') + bar,
      ...Array(3).fill(bar),
      words('Andante') + mark('half', '40') + bar,
      bar,
      run,
      bar,
      bar,
    ])
    // 100 for 120 at the start is 33 1/3 for 40
    const made = must(take(hard, { goal: goal('100'), hard: true })).passages
    expect(made.map(p => [p.measures, p.goal])).toEqual([['6-8', 'half=33']])
    const least = must(take(hard, { goal: goal('1'), hard: true })).passages
    expect(least.map(p => p.goal)).toEqual(['half=1'])
    const open = must(take(hard, { goal: 'open', hard: true }))
    expect([open.sure, open.passages[0]?.goal]).toEqual(['open', 'half=40'])
  })

  test('is printed, of playback, or open', () => {
    const sure = (said: string, wanted: Wanted = {}) =>
      must(take(scoreText([head() + said + bar]), wanted)).sure
    expect(sure(mark('quarter', '96'))).toBe('printed')
    expect(sure('<sound tempo="96"/>')).toBe('guess')
    expect(sure('')).toBe('open')
    expect(sure(mark('quarter', '96'), { goal: goal('80') })).toBeUndefined()
    expect(sure(mark('quarter', '96'), { goal: 'open' })).toBe('open')
    const hidden = mark('quarter', '96').replace('<metronome>', '<metronome print-object="no">')
    expect(sure(hidden)).toBe('guess')
    // a printed mark that nobody can mean gives way to playback
    expect(sure(mark('quarter', '4', '96'))).toBe('guess')
    const late = scoreText([head() + bar, bar, bar + mark('quarter', '96')])
    expect(must(take(late)).sure).toBe('open')
  })

  // How far a ladder goes until the rehearsal says: common practice, no source.
  test.each([
    ['', '4', 4, 92, 'quarter'],
    ['Allegro vivace', '4', 4, 120, 'quarter'],
    ['Presto', '2', 2, 120, 'half'],
    ['Lebhaft, nicht schnell', '3', 4, 120, 'quarter'],
    ['Vif', '6', 8, 120, 'dotted quarter'],
    ['Adagio', '4', 4, 56, 'quarter'],
    ['Lent', '3', 8, 56, 'eighth'],
    ['Langsam', '3', 16, 56, 'quarter'],
    ['dolce', '4', 4, 92, 'quarter'],
  ])('open: "%s" in %s/%d is %d for now', (said, beats, type, bpm, unit) => {
    const length = (Number(beats) * 16) / type
    const made = must(take(scoreText([head(beats, type) + words(said || 'x') + note(length)])))
    expect(spoken(goal(made.passages[0]?.goal ?? ''))).toBe(`${unit} = ${bpm}`)
    expect(made.sure).toBe('open')
  })
})

describe('a long part', () => {
  const part = (measures: number, inside = (_: number) => bar) =>
    scoreText(
      Array.from({ length: measures }, (_, i) => (i === 0 ? head() + mark('quarter', '96') : '') + inside(i)),
    )
  const run = (i: number) =>
    Array.from({ length: 16 }, (_, k) => note(1, '', `${'CDEFGAB'[(k * (i + 1)) % 7]}5`)).join('')
  const hard = (at: number) => (i: number) => (i === at ? run(1) : bar)

  test('has hard passages beside the whole from thirty-three measures on', () => {
    expect(passages(part(32, hard(20)))).toEqual(['whole part: 1-32'])
    expect(passages(part(33, hard(20)))).toEqual(['whole part: 1-33', '20-21: 20-22'])
    expect(must(take(part(32))).passages[0]?.whole).toBeUndefined()
    expect(must(take(part(33))).passages[0]?.whole).toBe(true)
    expect(passages(part(33, hard(20)), { whole: true })).toEqual(['whole part: 1-33'])
    expect(passages(part(33, hard(20)), { asPlayed: true })).toEqual(['whole part: 1-33'])
    expect(passages(part(33, hard(20)), { hard: true })).toEqual(['20-21: 20-22'])
    expect(passages(part(20, hard(10)), { hard: true })).toEqual(['10-11: 10-12'])
    expect(passages(part(33, hard(20)), { from: '3', to: '30', hard: true })).toEqual(['3-30: 3-30'])
    // where nothing is hard the whole comes all the same
    expect(passages(part(33), { hard: true })).toEqual(['whole part: 1-33'])
  })

  test('says where the hard music comes again: four places by number, the others counted', () => {
    const again = (times: number) =>
      must(
        take(
          part(20 + 6 * times, i => (i >= 10 && (i - 10) % 6 === 0 && (i - 10) / 6 < times ? run(1) : bar)),
          { hard: true },
        ),
      ).passages[0]?.hard ?? ''
    expect(again(1)).not.toContain('the same again')
    expect(again(2)).toMatch(/; the same again in m\. 16$/)
    expect(again(5)).toMatch(/; the same again in m\. 16, 22, 28, 34$/)
    expect(again(7)).toMatch(/; the same again in m\. 16, 22, 28, 34 and 2 more$/)
  })

  test('of more than 999 measures comes in as few strips of about the same length as can be', () => {
    expect(passages(part(999), { whole: true })).toEqual(['whole part: 1-999'])
    const made = must(take(part(1000), { whole: true }))
    expect(made.passages.map(p => p.name)).toEqual(['1-500', '501-1000'])
    expect(made.remarks).toEqual([
      '1000 measures are more than one passage holds: they come as 1-500 and 501-1000, and --from and --to take any of them',
    ])
    expect(made.passages.every(p => p.whole)).toBe(true)
    const taken = must(take(part(1000, hard(20))))
    expect(taken.passages.map(p => p.name)).toEqual(['20-21'])
    expect(taken.remarks).toEqual([
      '1000 measures are more than one passage holds: --from and --to take any of them',
    ])
  })

  test('as played it is cut by the measures that are heard', () => {
    const twice = part(600, i => bar + (i === 599 ? barline('right', '<repeat direction="backward"/>') : ''))
    const { passages: made } = must(take(twice, { asPlayed: true, whole: true }))
    expect(made.map(p => [p.count, p.measures])).toEqual([
      [600, '1-600, as played'],
      [600, '1-600, as played'],
    ])
    expect(new Set(made.map(p => p.name)).size).toBe(2)
  })
})

test('a name that is taken is counted, whatever its capitals', () => {
  const named = (...names: string[]) => names.map(name => ({ name }))
  expect(freeName('12-15', [])).toBe('12-15')
  expect(freeName('12-15', named('12-16'))).toBe('12-15')
  expect(freeName('The Seam', named('the seam'))).toBe('The Seam (2)')
  expect(freeName('12-15', named('12-15', '12-15 (2)'))).toBe('12-15 (3)')
})

test('a title is cut at 120 characters; without one the score is called by its file', () => {
  const titled = (title: string) =>
    must(take(scoreText([head() + mark('quarter', '96') + bar]).replace('Weir Street Overture', title))).title
  expect(titled('x'.repeat(120))).toBe('x'.repeat(120))
  expect(titled('x'.repeat(121))).toBe('x'.repeat(120))
  expect(titled(`${'x'.repeat(119)} yy`)).toBe('x'.repeat(119))
  expect(titled('')).toBe('weir-street')
})

describe('what an import shows of a score before anything is taken', () => {
  const goals = (text: string) => {
    const offer = offerOf(scoreOf(text))
    return offer.movements.map((_, i) => offer.goalOf(i))
  }

  test('parts of one name are counted, movements have their names', () => {
    const offer = offerOf(scoreOf(named('Violin', 'Viola', 'Violin', 'Violin')))
    expect(offer.title).toBe('Weir Street Overture')
    expect(offer.parts).toEqual([
      { id: 'P1', name: 'Violin' },
      { id: 'P2', name: 'Viola' },
      { id: 'P3', name: 'Violin (2)' },
      { id: 'P4', name: 'Violin (3)' },
    ])
    expect(offer.movements).toEqual([''])
    expect(offerOf(scoreOf(both)).movements).toEqual(['I. Allegro', 'II. Largo'])
  })

  test('each movement has the tempo at its start: printed, of playback, absurd, or none', () => {
    const one = (said: string) => goals(scoreText([head() + said + bar, mark('quarter', '50') + bar]))[0]
    expect(one(mark('half', '63'))).toEqual({ kind: 'printed', text: 'half = 63' })
    expect(one('<sound tempo="96"/>')).toEqual({ kind: 'playback', text: 'quarter = 96' })
    expect(one(mark('quarter', '96').replace('<metronome>', '<metronome print-object="no">'))).toEqual({
      kind: 'playback',
      text: 'quarter = 96',
    })
    expect(one(mark('quarter', '4', '96'))).toEqual({
      kind: 'absurd',
      text: 'quarter = 96',
      printed: 'quarter = 4',
    })
    expect(one('')).toEqual({ kind: 'none' })
    expect(one(mark('quarter', '?'))).toEqual({ kind: 'none' })
    expect(goals(both)).toEqual([
      { kind: 'printed', text: 'quarter = 96' },
      { kind: 'printed', text: 'half = 40' },
    ])
    expect(offerOf(scoreOf(both)).goalOf(7)).toEqual({ kind: 'none' })
    // whichever part prints it, and though another part cannot be read
    const broken = '<note><rest/><duration>long</duration></note>'
    expect(goals(scoreText([head() + broken], [head() + mark('half', '63') + bar]))).toEqual([
      { kind: 'printed', text: 'half = 63' },
    ])
  })
})
