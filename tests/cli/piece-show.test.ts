import { describe, expect, test } from 'vitest'
import { atTheWeir, RUN, WEIR } from './weir.ts'

/** Two breaths, two meters, a tempo map and sections of a measure. */
const inFull = async () => {
  const p = await atTheWeir()
  await p.edit('--breath 43 --change 44=3/4 --tempo-mark 44=half=46 --rhythm long-short --run 16th')
  await p.type('piece', 'split', RUN, '--by', 'measure')
  return p
}

describe('a piece in full', () => {
  test('says meters, tempos, breaths, rhythms, sections, and seconds in one breath', async () => {
    const { type } = await inFull()
    const { out } = await type('piece', 'show', WEIR)
    for (const line of [
      'meter changes: m. 44: 3/4',
      'tempos: m. 41: quarter = 138; m. 44: half = 46',
      'breaths and marks: breathe before m. 43',
      // At 138 four quarters and three at 92 take 3.70 s; at 80, without the change, eight quarters 6 s.
      'in one breath 3.7 s (m. 43 to the end) at quarter = 138, 6 s (m. 41 to m. 43) at quarter = 80',
      'running notes 16th',
      'rhythms: long-short',
      'section 1, m. 41 to m. 42, beat 2: next from quarter = 80, no ceiling yet, goal quarter = 138',
      // 46 halves are 92 quarters; the start in the same ratio.
      'section 4, m. 44 to the end: next from half = 26.667, no ceiling yet, goal half = 46',
    ])
      expect(out).toContain(line)
  })

  test('each section has its own ceiling and next start', async () => {
    const { type, passage, practiced } = await inFull()
    const { sections } = await passage()
    await practiced(sections[1].id)
    expect((await passage()).sections.map((s: { ceiling: string }) => s.ceiling)).toEqual([
      null,
      '116',
      null,
      null,
    ])
    expect((await type('piece', 'show', RUN)).out).toContain(
      'section 2, m. 42 to m. 43, beat 2: next from quarter = 112, ceiling quarter = 116, goal quarter = 138',
    )
  })

  test('where one breath is too short at a tempo a slow breath is proposed, at the beat nearest to the middle', async () => {
    const { type, json } = await inFull()
    const { out } = await type('piece', 'show', WEIR, '--breath-seconds', '5.5')
    // 8 quarters in 5.5 s are 87.27 a minute; 88 is the next mark.
    expect(out).toContain(
      'at quarter = 80, m. 41 to m. 43 takes 6 s, more than 5.5: perhaps --breath "42 slow below=88"',
    )
    const [passage] = (await json('piece', 'show', WEIR, '--breath-seconds', '5.5')).passages
    expect(passage.tooLong).toMatchObject({ goal: null, next: { below: '88', mark: '42 slow below=88' } })
    await type('piece', 'edit', RUN, '--breath', '42 slow below=88')
    const after = (await json('piece', 'show', WEIR, '--breath-seconds', '5.5')).passages[0]
    expect(after.tooLong).toEqual({ goal: null, next: null })
    expect((await type('piece', 'show', WEIR, '--breath-seconds', '6.0')).out).not.toContain('too long')
  })

  test('without breaths and without a capacity nothing is said of breathing', async () => {
    const { type } = await atTheWeir()
    expect((await type('piece', 'show', WEIR)).out).not.toContain('breath')
  })

  test.each(['0', '601', 'deep', '-1', ''])('a capacity of %j is refused', async seconds => {
    const { type } = await atTheWeir()
    const said = await type('piece', 'show', WEIR, '--breath-seconds', seconds)
    expect(said).toMatchObject({ status: 2, out: '' })
    expect(said.err).toMatch(/for --breath-seconds\.|--breath-seconds is missing/)
  })
})
