import { strToU8, zipSync } from 'fflate'
import { describe, expect, test } from 'vitest'
import { frac } from '../../src/music/fraction.ts'
import { readPart } from '../../src/score/read-part.ts'
import { readScore } from '../../src/score/read-score.ts'
import { cpuMs } from '../cpu.ts'
import { bytes, head, must, note, refusal, scoreOf, scoreText } from './scores.ts'

const plain = scoreText([head() + note(16)], [head() + note(16)])
const container = (path: string) =>
  `<container><rootfiles><rootfile full-path="${path}"/><rootfile full-path="other.pdf"/></rootfiles></container>`
const mxl = (files: Readonly<Record<string, string>>): Uint8Array =>
  zipSync(Object.fromEntries(Object.entries(files).map(([name, text]) => [name, strToU8(text)])))

describe('a score', () => {
  test('has a title and names its parts in their order', () => {
    const score = scoreOf(plain)
    expect(score.title).toBe('Weir Street Overture')
    expect(score.parts.map(p => [p.id, p.name])).toEqual([
      ['P1', 'Flute 1'],
      ['P2', 'Flute 2'],
    ])
    expect(score.warnings).toEqual([])
  })

  test('is called by its movement too, by a credit, or else by its file', () => {
    const titled = (head: string) =>
      scoreOf(`<score-partwise>${head}<part id="P1"><measure/></part></score-partwise>`).title
    expect(titled('<work><work-title>Weir</work-title></work><movement-title>Reed</movement-title>')).toBe(
      'Weir: Reed',
    )
    expect(titled('<movement-title>Reed</movement-title>')).toBe('Reed')
    expect(titled('<credit><credit-words>Weir  Street</credit-words></credit>')).toBe('Weir Street')
    expect(titled('')).toBe('weir-street')
  })

  test('keeps no control character in any text', () => {
    const text = plain.replace('Overture', 'Over&#27;[31mture&#x202e;').replace('Flute 1', 'Flu\u0007te 1')
    const score = scoreOf(text)
    expect(score.title).toBe('Weir Street Over&#27;[31mture')
    expect(score.parts[0]?.name).toBe('Flu te 1')
  })

  test('is the same plain and compressed', () => {
    const file = mxl({
      'META-INF/container.xml': container('in/score.xml'),
      'in/score.xml': plain,
      'other.pdf': 'x',
    })
    const read = (from: Uint8Array) => {
      const score = must(readScore(from, 'weir.mxl'))
      return { ...score, parts: score.parts.map(p => ({ ...p, notes: p.notes() })) }
    }
    expect(read(file)).toEqual(read(bytes(plain)))
  })

  test('is found without a container where it is the only XML file', () => {
    expect(readScore(mxl({ 'weir.musicxml': plain }), 'weir.mxl').ok).toBe(true)
    expect(refusal(readScore(mxl({ 'a.xml': plain, 'b.xml': plain }), 'weir.mxl'))).toMatch(
      /none, and 2 XML files/,
    )
  })

  test('is found though the list writes an accent in another way, where there is no other', () => {
    const [one, two] = ['sco\u0301re.xml', 'sc\u00f3re.xml']
    const list = { 'META-INF/container.xml': container(two) }
    expect(readScore(mxl({ ...list, [one]: plain }), 'weir.mxl').ok).toBe(true)
    expect(refusal(readScore(mxl({ ...list, [one]: plain, 'b.xml': plain }), 'weir.mxl'))).toMatch(
      /archive holds/,
    )
  })

  test('written measure by measure is turned over', () => {
    const timewise = `<score-timewise><part-list><score-part id="P1"><part-name>Oboe</part-name></score-part></part-list>
      <measure number="0" implicit="yes"><part id="P1">${head()}${note(4)}</part></measure>
      <measure number="1"><part id="P1">${note(16)}</part></measure></score-timewise>`
    const part = must(readPart(scoreOf(timewise), 'P1'))
    expect(part.name).toBe('Oboe')
    expect(part.notes.map(n => n.length)).toEqual([frac(1, 4), frac(1)])
    expect(part.measures.map(m => [m.number, m.implicit])).toEqual([
      ['0', true],
      ['1', false],
    ])
  })

  test('of several parts is the same part by part and measure by measure', () => {
    const parts = [
      [head() + note(16), note(8) + note(8, '', 'D5')],
      [head() + note(16, '', 'A4'), note(16, '', 'G4')],
    ]
    const byPart = scoreText(...parts)
    const measures = [0, 1].map(
      i =>
        `<measure number="${i + 1}">${parts.map((p, k) => `<part id="P${k + 1}">${p[i]}</part>`).join('')}</measure>`,
    )
    const byMeasure = byPart
      .replaceAll('score-partwise version', 'score-timewise version')
      .replace(/<part id="P1">[\s\S]*<\/part>\s*<\/score-partwise>/, `${measures.join('')}</score-timewise>`)
    for (const id of ['P1', 'P2'])
      expect(must(readPart(scoreOf(byMeasure), id))).toEqual(must(readPart(scoreOf(byPart), id)))
    expect(scoreOf(byMeasure).parts.map(p => p.name)).toEqual(['Flute 1', 'Flute 2'])
  })

  test('gives a part without an id the one of the list, and keeps two of the same id apart', () => {
    const score = scoreOf(
      plain.replace('<part id="P2">', '<part>').replace('id="P2"><part-name', 'id="P9"><part-name'),
    )
    expect(score.parts.map(p => p.id)).toEqual(['P1', 'P9'])
    const twice = scoreOf(plain.replace('<part id="P2">', '<part id="P1">'))
    expect(twice.parts.map(p => p.id)).toEqual(['P1', 'P1+'])
    expect(twice.warnings).toEqual(['part P1 is there twice', 'part P2 is listed but holds no music'])
  })
})

describe('a file that is no score is refused in one sentence', () => {
  test.each([
    ['another root', '<opus/>', /In weir.xml, root element "opus" .* score-partwise or score-timewise/],
    ['no part', '<score-partwise/>', /"no part" .* at least one part/],
    ['cut off', plain.slice(0, plain.indexOf('<note>')), /"a file that ends too early"/],
    ['not XML', 'Weir Street Overture', /In weir.xml, line 1, "Weir Street Overture" .*well-formed XML/],
    ['empty', '', /root element/],
  ])('%s', (_, text, expected) => {
    expect(refusal(readScore(bytes(text), 'weir.xml'))).toMatch(expected)
  })

  test.each([
    ['no rootfile', { 'META-INF/container.xml': '<container><rootfiles/></container>' }, /no rootfile/],
    [
      'a rootfile that is not there',
      { 'META-INF/container.xml': container('../x.xml') },
      /"\.\.\/x\.xml" .* archive holds/,
    ],
    ['a container that is not XML', { 'META-INF/container.xml': 'x' }, /container.xml, line 1/],
  ])('an archive with %s', (_, files, expected) => {
    expect(refusal(readScore(mxl(files), 'weir.mxl'))).toMatch(expected)
  })

  test('more XML than the limit', () => {
    expect(refusal(readScore(new Uint8Array(30_000_001).fill(32), 'weir.xml'))).toMatch(/at most 30000000/)
  })

  test('more parts or measures than the limit', () => {
    const parts = Array.from({ length: 201 }, () => '<part><measure/></part>').join('')
    expect(refusal(readScore(bytes(`<score-partwise>${parts}</score-partwise>`), 'weir.xml'))).toMatch(
      /at most 200/,
    )
    const long = scoreOf(
      `<score-partwise><part id="P1">${'<measure/>'.repeat(20_001)}</part></score-partwise>`,
    )
    expect(refusal(readPart(long, 'P1'))).toMatch(/part P1, "20001 measures" .* at most 20000/)
  })
})

describe('one broken part', () => {
  const broken = (measure: string) => scoreOf(scoreText([head() + note(16)], [head() + note(16), measure]))

  test.each([
    [
      'a duration that is no number',
      '<note><rest/><duration>long</duration></note>',
      /duration of a note "long"/,
    ],
    ['a duration below 0', '<note><rest/><duration>-4</duration></note>', /"-4" .* 0 or more/],
    ['no duration', '<note><rest/></note>', /"no duration"/],
    ['a forward without one', '<forward/>', /duration of a forward "no duration"/],
    ['divisions of 0', '<attributes><divisions>0</divisions></attributes>', /divisions "0" .* above 0/],
    ['an endless measure', note(1025), /at most 64 whole notes/],
    [
      'divisions that do not add up',
      [99_999_989, 99_999_971, 99_999_959]
        .map(p => `<attributes><divisions>${p}</divisions></attributes>${note(1)}`)
        .join(''),
      /divisions too fine to add up/,
    ],
  ])('%s: said with part and measure, the other part is read', (_, measure, expected) => {
    const score = broken(measure)
    expect(readPart(score, 'P1').ok).toBe(true)
    expect(refusal(readPart(score, 'P2'))).toMatch(expected)
    expect(refusal(readPart(score, 'P2'))).toMatch(/^In weir-street.musicxml, part P2, measure 2/)
  })

  test('an unknown part is answered with the parts there are', () => {
    expect(refusal(readPart(scoreOf(plain), 'P7'))).toMatch(/"P7" .* P1 \(Flute 1\), P2 \(Flute 2\)/)
    expect(must(readPart(scoreOf(plain), 'Flute 2')).id).toBe('P2')
  })
})

test('half a megabyte of compressed score is read in seconds', () => {
  // notes and their places on the page without pattern, so that they compress no better than a real score
  let seed = 1
  const next = (n: number) => {
    seed = (seed * 48_271) % 2_147_483_647
    return seed % n
  }
  const placed = () => `<note default-x="${next(90_000) / 100}" default-y="${next(9000) / -100}">`
  const sixteenth = () => note(1, '', `${'CDEFGAB'[next(7)]}${2 + next(5)}`).replace('<note>', placed())
  const part = () =>
    Array.from(
      { length: 1500 },
      (_, i) => (i === 0 ? head() : '') + Array.from({ length: 16 }, sixteenth).join(''),
    )
  const file = mxl({ 'weir.musicxml': scoreText(part(), part(), part()) })
  expect(file.length).toBeGreaterThan(500_000)
  const took = cpuMs(() => {
    expect(must(readPart(must(readScore(file, 'weir.mxl')), 'P1')).notes.length).toBe(1500 * 16)
  })
  expect(took).toBeLessThan(5000)
})
