import { describe, expect, test } from 'vitest'
import { tempo } from '../../src/music/tempo.ts'
import { hardness } from '../../src/score/hardness.ts'
import { proposePassages, type Weights } from '../../src/score/proposals.ts'
import type { Place } from '../../src/score/score.ts'
import { attributes, barline, head, mark, note, partOf, text, time } from './scores.ts'

const at = (p: Place) => `${p.measure + 1} ${text(p.at)}`
const NONE: Weights = { speed: 0, shape: 0, accidentals: 0, register: 0, rhythm: 0, chords: 0 }
/** Four quarters at 60 weigh as much as they have notes above the lowest: 0.12 x 0.75 each (hardness.ts). */
const FULL: Weights = { ...NONE, chords: 1 / 0.09 }
const SCALE = 'C D E F G A B'.split(' ')

/** Chords so full; each measure has a pitch of its own, so that none is like another. */
const chords = (full: number, i: number, more = ''): string => {
  const pitch = `${SCALE[i % 7]}${2 + Math.floor(i / 7)}`
  return (note(4, '', pitch) + note(4, '<chord/>', pitch).repeat(full)).repeat(4) + more
}
/** Runs by the fullness of the measures: 1-2, in the order proposed. */
const runs = (full: readonly number[], bars: Readonly<Record<number, string>> = {}, weights = FULL) => {
  const styled = (i: number) => (bars[i] ? barline('right', `<bar-style>${bars[i]}</bar-style>`) : '')
  const part = partOf(full.map((n, i) => (i === 0 ? head() : '') + chords(n, i, styled(i))))
  return proposePassages(part, tempo(60), weights).map(p => p.name)
}

describe('a passage grows from the hardest measure', () => {
  // Shares are our own choice: no source.
  test.each([
    ['to its harder neighbor, for one measure alone is too little', [0, 0, 9, 3, 2, 0, 0], ['3-4']],
    ['to the left as well', [0, 2, 3, 9, 0, 0, 0], ['3-4']],
    ['to the measure before where both are the same', [0, 0, 1, 9, 1, 0, 0], ['3-4']],
    ['as long as it stays above six tenths', [0, 8, 13, 9, 9, 13, 8, 0], ['3-6', '1-2', '7-8']],
    ['on both sides', [0, 0, 9, 10, 13, 11, 9, 0], ['3-7']],
    ['over one easier measure to a hard one after', [0, 0, 13, 1, 12, 1, 0], ['3-5']],
    ['and before', [0, 0, 12, 1, 13, 2, 0], ['3-6']],
    ['not over two easier ones', [0, 0, 13, 1, 1, 1, 12, 1], ['3-4', '6-7']],
    ['to eight measures at most', Array.from({ length: 11 }, (_, i) => (i === 4 ? 17 : 16)), ['1-8', '9-11']],
    ['to eight, also over an easier one', [17, 16, 16, 16, 16, 16, 16, 1, 16, 1], ['1-7', '8-9']],
    ['from the first measure', [13, 2, 0, 0], ['1-2']],
    ['to the last one', [0, 0, 2, 13], ['3-4']],
    ['and stands alone where the part is one measure', [13], ['1']],
  ])('%s', (_, full, expected) => {
    expect(runs(full)).toEqual(expected)
  })

  test('never over a double or final bar line', () => {
    expect(runs([0, 0, 13, 12, 0, 0], { 2: 'light-light' })).toEqual(['2-3', '4-5'])
    expect(runs([0, 0, 12, 13, 0, 0], { 2: 'light-light' })).toEqual(['4-5', '2-3'])
    expect(runs([0, 0, 12, 13, 0, 0], { 2: 'light-heavy' })).toEqual(['4-5', '2-3'])
    expect(runs([0, 0, 12, 1, 13, 0, 0], { 2: 'light-light' })).toEqual(['4-5', '2-3'])
    expect(runs([0, 0, 13, 1, 12, 0, 0], { 3: 'light-light' })).toEqual(['3-4', '5-6'])
    // not even where an easier measure lies behind it
    expect(runs([0, 0, 13, 1, 12, 0, 0], { 2: 'light-light' })).toEqual(['2-3', '4-5'])
    expect(runs([0, 0, 12, 1, 13, 0, 0], { 3: 'light-light' })).toEqual(['5-6', '3-4'])
    expect(runs([0, 13, 12, 1, 12, 0, 0], { 3: 'light-light' })).toEqual(['2-3', '5-6'])
    expect(runs([0, 0, 12, 1, 12, 13, 0], { 2: 'light-light' })).toEqual(['5-6', '2-3'])
  })

  test('takes no measure of another', () => {
    expect(runs([0, 0, 17, 16, 9, 10, 2, 0])).toEqual(['3-4', '5-6'])
  })
})

describe('of all passages', () => {
  test('the hardest comes first: the peak, and a part of the measures beside it', () => {
    expect(runs([0, 12, 1, 0, 0, 13, 1, 0, 0])).toEqual(['6-7', '2-3'])
    // 12 + 0.4 x 11 + 0.25 x 11 is more than 15 + 0.4 x 1
    expect(runs([0, 11, 12, 11, 0, 0, 15, 1, 0, 0])).toEqual(['2-4', '7-8'])
    // of the fourth measure on a tenth, of the fifth nothing: 10.05 + 1 against 15 and its 0.4
    expect(runs([0, 6, 6, 6, 6, 6, 6, 0, 0, 10, 1, 0, 0])).toEqual(['2-7', '10-11'])
    expect(runs([0, 6, 6, 6, 6, 6, 6, 0, 0, 11, 1, 0, 0])).toEqual(['10-11', '2-7'])
  })

  test('at most eight are proposed', () => {
    const full = Array.from({ length: 10 }, (_, i) => [17 - i, 0, 0, 0]).flat()
    expect(runs(full)).toHaveLength(8)
  })

  test('those with less than a fifth of the hardest are left out', () => {
    expect(runs([0, 15, 1, 0, 0, 3, 0, 0])).toEqual(['2-3'])
    expect(runs([0, 15, 1, 0, 0, 4, 0, 0])).toEqual(['2-3', '5-6'])
  })

  test('those that are easy for anyone are none', () => {
    const at = (chords: number) => runs([0, 1, 0, 0], {}, { ...NONE, chords })
    expect(at(0.54 / 0.09)).toEqual([])
    expect(at(0.56 / 0.09)).toHaveLength(1)
  })

  test('each kind of trouble counts by its weight alone', () => {
    const part = partOf([
      head() + note(16),
      `${note(4)}${note(4, '', 'F#5')}${note(4, '', 'G#5')}${note(4, '', 'D#5')}`,
      note(16),
      note(16),
      Array.from({ length: 16 }, (_, i) => note(1, '', i % 2 ? 'D5' : 'C5')).join(''),
      note(16),
    ])
    const first = (weights: Partial<Weights>) =>
      proposePassages(part, tempo(60), { ...NONE, ...weights })[0]?.name
    expect(first({ accidentals: 1 })).toBe('1-2')
    expect(first({ speed: 2 })).toBe('4-5')
    expect(first({ rhythm: 6 })).toBeUndefined()
  })

  test('what is quick for this part weighs more than what is quick for anybody', () => {
    // the same run among eighths and among half notes: four tenths of its speed, and six of its share of the usual one
    const run = Array.from({ length: 16 }, (_, i) => note(1, '', i % 2 ? 'D5' : 'C5')).join('')
    const among = (usual: string) => {
      const part = partOf([head() + usual, usual, run, usual, usual])
      const speed = hardness(part, tempo(60))[2]?.speed ?? 0
      // the weight at which it is just proposed says how much it weighs
      let [low, high] = [0, 100]
      for (let i = 0; i < 50; i++) {
        const weight = (low + high) / 2
        if (proposePassages(part, tempo(60), { ...NONE, speed: weight }).length > 0) high = weight
        else low = weight
      }
      return 0.55 / high / speed
    }
    const eighths = Array.from({ length: 8 }, (_, i) => note(2, '', i % 2 ? 'D5' : 'C5')).join('')
    expect(among(eighths)).toBeCloseTo(0.4 + 0.6 * 2, 6)
    // not more than twice as quick: quarters among them change nothing
    expect(among(note(4) + note(4, '', 'D5') + note(4) + note(4, '', 'D5'))).toBeCloseTo(0.4 + 0.6 * 2, 6)
    expect(among(eighths.replaceAll('<duration>2<', '<duration>1<').repeat(2))).toBeCloseTo(1, 6)
    // no other measure has four notes: the run is its own measure of what is quick
    expect(among(note(16))).toBeCloseTo(1, 6)
  })
})

describe('the same music again', () => {
  const quick = (pitches: string, unit = 1) =>
    pitches
      .split(' ')
      .map(p => note(unit, '', p))
      .join('')
  const figure = quick('C5 E5 D5 F5 E5 G5 F5 A5 G5 E5 F5 D5 E5 C5 D5 B4')
  const higher = quick('D5 F5 E5 G5 F5 A5 G5 B5 A5 F5 G5 E5 F5 D5 E5 C5')
  const other = quick('C5 C6 B4 G5 C5 C6 A4 F5 C5 C6 B4 G5 C5 A5 B4 F5')
  const easy = note(16, '', 'C5')
  const again = (...measures: readonly string[]) => {
    const [first, ...rest] = measures
    const part = partOf([head() + mark('quarter', '120') + first, ...rest])
    return proposePassages(part).map(p => `${p.name}: ${p.again.join(' ')}`)
  }

  test('is told with the first and not proposed twice, on another step too', () => {
    expect(again(easy, easy, figure, easy, easy, easy, figure, easy, easy)).toEqual(['2-3: 6'])
    expect(again(easy, easy, figure, easy, easy, easy, higher, easy, easy)).toEqual(['6-7: 2'])
  })

  test('as often as it comes, in the order of the part', () => {
    const all = [easy, easy, figure, easy, easy, easy, higher, easy, easy, easy, figure, easy, easy]
    expect(again(...all)).toEqual(['6-7: 2 10'])
  })

  test('in another rhythm or shape it is other music', () => {
    const slow = quick('C5 E5 D5 F5 E5 G5 F5 A5', 2)
    const low = note(16, '', 'E4')
    expect(again(easy, easy, figure, easy, easy, low, other, low, easy)).toEqual(['7-8: ', '2-3: '])
    expect(again(easy, easy, figure, easy, easy, low, slow, low, easy)).toEqual(['2-3: ', '7-8: '])
  })

  test('with a few notes changed it is not proposed again, and not told either', () => {
    const changed = figure.replace(/(<note>.*?<\/note>){3}$/, quick('G5 G5 G5'))
    expect(again(easy, easy, figure, easy, easy, easy, changed, easy, easy)).toEqual(['2-3: '])
  })
})

describe('a passage begins and ends where one can play it', () => {
  const run = (from = 'C') =>
    Array.from({ length: 16 }, (_, i) => note(1, '', `${SCALE[(SCALE.indexOf(from) + i) % 4]}5`)).join('')
  const easy = note(16)
  const ends = (...measures: readonly string[]) => {
    const [first, ...rest] = measures
    const [p] = proposePassages(partOf([head() + mark('quarter', '120') + first, ...rest]))
    return p && `${at(p.from)}, ${at(p.to)}`
  }
  const slur = (type: string) => `<notations><slur type="${type}"/></notations>`

  test('it ends with the first beat of the next measure where a note begins there', () => {
    expect(ends(easy, easy, run(), run('D'), easy, easy)).toBe('3 2, 5 17/4')
    const silent = '<note><rest/><duration>16</duration></note>'
    expect(ends(easy, easy, run(), run('D'), silent, easy)).toBe('3 2, 4 4')
    const held = run('D').replace(/<\/note>$/, '<tie type="start"/></note>')
    expect(ends(easy, easy, run(), held, note(16, '<tie type="stop"/>', 'G5'), easy)).toBe('3 2, 4 4')
  })

  test('or with the bar line where nothing comes after, or a double bar', () => {
    expect(ends(easy, easy, run(), run('D'))).toBe('3 2, 4 4')
    const double = barline('right', '<bar-style>light-light</bar-style>')
    expect(ends(easy, easy, run(), run('D') + double, easy, easy)).toBe('3 2, 4 4')
  })

  test('the beat is that of the tempo, else of the meter; a measure of one beat is not begun', () => {
    const half = mark('half', '60')
    const part = (m: string) =>
      proposePassages(partOf([head() + m + easy, easy, run(), run('D'), easy, easy]))
    expect(part(half).map(p => at(p.to))[0]).toBe('5 9/2')
    expect(part('').map(p => at(p.to))).toEqual([])
    const compound = (m: string) =>
      proposePassages(
        partOf([
          head('6', 8) + m + note(12),
          note(12),
          run().slice(0, run().length * 0.75),
          run('D').slice(0, run().length * 0.75),
          note(12),
        ]),
        m === '' ? tempo(120) : null,
      ).map(p => at(p.to))[0]
    expect(compound('')).toBe('5 27/8')
    const one = ends(
      easy,
      easy,
      run(),
      run('D') + attributes(''),
      attributes(time('1', 4)) + note(4),
      note(4),
    )
    expect(one).toBe('3 2, 4 4')
  })

  test('it begins under the slur that leads into it, on the beat of its first note', () => {
    const lead = (from: number) => note(from) + note(16 - from, slur('start'), 'D5')
    const into = note(1, slur('stop')) + run().replace(/^<note>.*?<\/note>/, '')
    expect(ends(easy, lead(12), into, run('D'), easy)).toBe('2 7/4, 5 17/4')
    expect(ends(easy, lead(14), into, run('D'), easy)).toBe('2 7/4, 5 17/4')
    expect(ends(easy, lead(4), into, run('D'), easy)).toBe('2 5/4, 5 17/4')
  })

  test('not where the slur ends before it, begins more than a measure before, or lies behind a double bar', () => {
    const into = note(1, slur('stop')) + run().replace(/^<note>.*?<\/note>/, '')
    const ended = note(8, slur('start')) + note(8, slur('stop'))
    expect(ends(easy, ended, run(), run('D'), easy)).toBe('3 2, 5 17/4')
    expect(ends(note(16, slur('start')), easy, into, run('D'), easy)).toBe('3 2, 5 17/4')
    const double = barline('right', '<bar-style>light-light</bar-style>')
    expect(ends(easy, note(16, slur('start')) + double, into, run('D'), easy)).toBe('3 2, 5 17/4')
  })
})
