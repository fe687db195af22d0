import { describe, expect, test } from 'vitest'
import { folder, WEIR } from '../cli/import-scene.ts'
import { direction, ending, forward, head, mark, note, scoreText, words } from './scores.ts'

const bar = note(16)
const breath = '<notations><articulations><breath-mark/></articulations></notations>'
const [first, firstEnd] = ending('1')
const [second, secondEnd] = ending('2', '')

/** 1 |: 2 3 | first 4 :| second 5 | 6 Fine | 7 D.C. al Fine. */
const part = [
  head() + mark('quarter', '100') + bar,
  forward + direction('<rehearsal>A</rehearsal>') + note(12) + note(4, breath),
  note(8, '', 'E5') + mark('quarter', '80') + note(8, '', 'F5'),
  first + note(16, '', 'G5') + firstEnd,
  second + note(16, '', 'A5') + secondEnd,
  bar + words('Fine'),
  bar + words('D.C. al Fine'),
]
const PLAYED = ['1', '2', '3', '4', '2', '3', '5', '6', '7', '1', '2', '3', '5', '6']

const scene = async (...options: string[]) => {
  const who = folder()
  const said = await who.type('piece', 'import', who.put('weir.xml', scoreText(part)), ...options)
  const [text = '{}'] = Object.values(who.pieces())
  return { ...who, said, kept: JSON.parse(text), whole: `${WEIR}/whole part` }
}
const shown = async (json: (...a: string[]) => Promise<{ passages: { numbers: string[] }[] }>) =>
  (await json('piece', 'show', WEIR)).passages[0]

describe('a part as played', () => {
  test('has its measures as often as they come; second times say so', async () => {
    const { said, json } = await scene('--as-played')
    expect(said).toMatchObject({ status: 0, err: '' })
    expect(said.out).toContain('whole part, m. 1-7, as played: 14 measures of 4/4')
    expect(said.out).toContain('repeats and jumps are played out: 7 measures as written, 14 as played')
    expect(await shown(json)).toMatchObject({
      numbers: PLAYED,
      order: ['1', '2', '3', '4', '2(2)', '3(2)', '5', '6', '7', '1(2)', '2(3)', '3(3)', '5(2)', '6(2)'],
    })
  })

  test('brings breaths, tempos, rehearsal marks and notes each time', async () => {
    const { json, kept } = await scene('--as-played')
    expect(await shown(json)).toMatchObject({
      breaths: ['3', '3(2)', '3(3)'].map(at => ({ at, kind: 'breath' })),
      tempos: [
        ['1', '100'],
        ['3.3', '80'],
        ['2(2)', '100'],
        ['3(2).3', '80'],
        ['1(2)', '100'],
        ['3(3).3', '80'],
      ].map(([at, tempo]) => ({ at, tempo })),
      rehearsals: ['2', '2(2)', '2(3)'].map(at => ({ at, text: 'A' })),
    })
    const pitches = kept.passages[0].notes.map((n: string) => n.split(' ')[2])
    expect(pitches.join(' ')).toBe('C5 C5 C5 E5 F5 G5 C5 C5 E5 F5 A5 C5 C5 C5 C5 C5 E5 F5 A5 C5')
    expect(kept.passages[0].notes[6]).toBe('4 3/4 C5')
  })

  test('can be cut into sections that know which time they are', async () => {
    const { type, json, whole } = await scene('--as-played')
    expect(await type('piece', 'edit', whole, '--section', 'again=2(2) to 5')).toMatchObject({
      status: 0,
      err: '',
    })
    const [again] = (await json('piece', 'show', WEIR)).passages[0].sections
    expect(again).toMatchObject({ from: '2(2)', to: '5' })
    // two sections of the same music keep apart when it is cut anew
    expect((await type('piece', 'split', whole, '--by', 'measure', '--again')).err).toBe('')
    expect((await type('piece', 'split', whole, '--by', 'measure', '--again')).err).toBe('')
  })

  test.each([
    ['an inner repeat as often as it says', ['--from', '2', '--to', '5'], '2 3 4 2 3 5'],
    ['to a certain time of a measure', ['--from', '3', '--to', '3(2)'], '3 4 2 3'],
    ['from a second time on', ['--from', '2(2)', '--to', '6'], '2 3 5 6'],
    ['over a jump', ['--from', '6', '--to', '1'], '6 7 1'],
    ['from the beginning', ['--to', '3'], '1 2 3'],
    ['to the end', ['--from', '7'], '7 1 2 3 5 6'],
    ['one measure', ['--from', '7', '--to', '7'], '7'],
    ['back to a measure that comes again', ['--from', '5', '--to', '3'], '5 6 7 1 2 3'],
    ['by a rehearsal mark', ['--from', 'A', '--to', '3(2)'], '2 3 4 2 3'],
    ['to the third time', ['--from', '7', '--to', '2(3)'], '7 1 2'],
  ])('%s', async (_, options, order) => {
    const { said, json } = await scene('--as-played', ...options)
    expect(said.err).toBe('')
    expect((await shown(json))?.numbers.join(' ')).toBe(order)
  })

  test('inside one pass is as written', async () => {
    const { said } = await scene('--as-played', '--from', '5', '--to', '6')
    expect(said.out).toMatch(/m\. 5-6 \(A\+3\): 2 measures/)
  })

  test.each([
    ['--from', '4(2)'],
    ['--from', '8'],
    ['--to', '4(2)'],
    ['--to', '2(4)'],
  ])('%s %s is refused: it is never played', async (option, text) => {
    const { said } = await scene('--as-played', option, text)
    expect(said.err).toContain(
      `"${text}" doesn't work for ${option}. Try a measure that is played, from 1 to 6`,
    )
  })

  test('a last measure that does not come any more is refused with the first one', async () => {
    const { said } = await scene('--as-played', '--from', '6(2)', '--to', '7')
    expect(said.err).toContain('after measure 6.')
  })

  test('names what is accepted', async () => {
    const { said } = await scene('--as-played', '--from', '2', '--to', '9')
    expect(said.status).toBe(2)
    expect(said.err).toMatch(
      /"9" doesn't work for --to. Try a measure that is played, from 1 to 6, or its second time as "1\(2\)"/,
    )
  })
})

describe('a part as written', () => {
  test('says that repeats are left out, and where neighbors are never played in a row', async () => {
    const { said, json } = await scene('--from', '3', '--to', '5')
    expect(said.out).toContain(
      'repeats and jumps are not played out: 7 measures as written, 14 as played (--as-played)',
    )
    expect(said.out).toContain('3-5: as played measure 4 is never followed by measure 5')
    expect((await shown(json))?.numbers).toEqual(['3', '4', '5'])
  })

  test('as a whole says nothing of neighbors, from its beginning or to its end it does', async () => {
    const never = (text: string) =>
      [...text.matchAll(/measure (\d+) is never followed by measure (\d+)/g)].map(m => m[1])
    expect(never((await scene()).said.out)).toEqual([])
    expect(never((await scene('--from', '1', '--to', '6')).said.out)).toEqual(['4'])
    expect(never((await scene('--from', '2', '--to', '7')).said.out)).toEqual(['4'])
    expect(never((await scene('--from', '5', '--to', '7')).said.out)).toEqual([])
    expect(never((await scene('--as-played', '--from', '1', '--to', '6')).said.out)).toEqual([])
  })

  test('without signs is as it is played', async () => {
    const who = folder()
    const file = who.put('a.xml', scoreText([head() + mark('quarter', '100') + bar, bar]))
    const said = await who.type('piece', 'import', file, '--as-played')
    expect(said.out).toContain('whole part, m. 1-2: 2 measures')
    expect(said.out).toContain('it has no repeats or jumps: it is played as written')
  })
})
