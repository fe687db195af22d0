import { describe, expect, test } from 'vitest'
import { tempo } from '../../src/music/tempo.ts'
import { atTheWeir, RUN, WEIR } from './weir.ts'

/** The run (138 quarters), a coda in 6/8 (92 dotted quarters, at most 96), and a chorale (half = 60). */
const atTheRehearsal = async () => {
  const p = await atTheWeir()
  const add = (line: string) => p.type(`piece add "${WEIR}" ${line}`)
  await add('--passage coda --in 80-84 --meter 6/8 --goal dotted-quarter=92 --start dotted-quarter=88')
  await p.type('piece', 'edit', `${WEIR}/coda`, '--goal-top', 'dotted-quarter=96')
  await add('--passage chorale --in 90-93 --goal half=60')
  return {
    ...p,
    take: (...typed: string[]) => p.type('piece', 'tempo', WEIR, ...typed),
    goals: async () => (await p.json('piece', 'show', WEIR)).passages.map((q: { goal: string }) => q.goal),
    starts: async () => (await p.json('piece', 'show', WEIR)).passages.map((q: { start: string }) => q.start),
  }
}

describe('the tempo of the rehearsal', () => {
  test('as a ratio: 138, 92 and 60 times 0.92 are 126.96, 84.64 and 55.2', async () => {
    const { take, goals, starts, json } = await atTheRehearsal()
    const said = await take('x0.92')
    expect(said).toMatchObject({ status: 0, err: '' })
    expect(said.out).toContain('goal quarter = 126.96, before quarter = 138')
    expect(await goals()).toEqual(['126.96', 'dotted-quarter=84.64', 'half=55.2'])
    // A start stays, unless it would stand above its goal: 88 goes down with it, 80 stays.
    expect(await starts()).toEqual(['80', 'dotted-quarter=80.96', null])
    expect(await json('piece', 'show', WEIR)).toMatchObject({ sure: 'conductor' })
  })

  test('as a tempo: that of the first passage, in any note value; 138 to half = 63 is 126 : 138', async () => {
    const { take, goals } = await atTheRehearsal()
    await take('half=63')
    expect(await goals()).toEqual(['126', 'dotted-quarter=84', 'half=54.783'])
    await take('138')
    const [run, coda, chorale] = await goals()
    expect(run).toBe('138')
    expect(coda).toBe('dotted-quarter=92')
    expect(Number(chorale.split('=')[1])).toBeCloseTo(60, 2)
  })

  test('of a passage that was named, its own goal counts', async () => {
    const { type, goals } = await atTheRehearsal()
    await type('piece', 'tempo', `${WEIR}/chorale`, 'half=66')
    expect(await goals()).toEqual(['151.8', 'dotted-quarter=101.2', 'half=66'])
  })

  test('of a passage in 6/8 a plain number is the dotted quarter', async () => {
    const { type, goals } = await atTheRehearsal()
    await type('piece', 'tempo', `${WEIR}/coda`, '46')
    expect(await goals()).toEqual(['69', 'dotted-quarter=46', 'half=30'])
  })

  test('what was practiced stays, and a tempo map keeps its ratios', async () => {
    const { take, edit, passage, practiced } = await atTheRehearsal()
    await edit('--tempo-mark', '43=half=46')
    const { id, tempos } = await passage()
    await practiced(id)
    await take('x0.5')
    expect(await passage()).toMatchObject({ id, ceiling: '116', goal: '69', tempos, start: '40' })
  })

  test('it says what is at its goal now, and what opens again', async () => {
    const { take, type, passage, practiced, json } = await atTheRehearsal()
    await type('piece', 'split', RUN, '--by', 'measure')
    const { sections } = await passage()
    for (const [i, bpm] of [120, 130, 138].entries()) await practiced(sections[i].id, tempo(bpm))
    const slower = await json('piece', 'tempo', WEIR, 'x0.92')
    const states = (j: { sections: { name: string; state: string }[] }) => j.sections.map(s => s.state)
    // 126.96: 130 and 138 are at the goal; the passages without a section stand alone.
    expect(states(slower)).toEqual(['open', 'reached', 'reached', 'open', 'open', 'open'])
    const faster = await take('x1.05')
    expect(faster.out).toMatch(
      /Opens again:\n {2}run at the weir, m\. 41-44, section 2: ceiling quarter = 130, goal quarter = 133\.308\n/,
    )
    expect(faster.out).toMatch(/At the goal:\n {2}run at the weir, m\. 41-44, section 3: /)
  })

  test('planned breaths: the longest stretch in seconds before and after, and whether it still fits', async () => {
    const { take, edit, json } = await atTheRehearsal()
    // From 41 to 43 are 8 quarters: 8 x 60/138 = 3.48 s; at 0.8 x 138 = 110.4 they take 4.35 s.
    await edit('--breath', '43')
    const said = await take('x0.8', '--breath-seconds', '4')
    expect(said.out).toContain(
      'In one breath, run at the weir: 4.3 s (m. 41 to m. 43), before 3.5 s. The planned breaths no longer fit',
    )
    expect(said.out).toContain('--breath "42"')
    const back = await json('piece', 'tempo', WEIR, 'x1.25', '--breath-seconds', '4')
    expect(back.breaths[0]).toMatchObject({
      before: { seconds: 4.3 },
      after: { seconds: 3.5 },
      fitted: false,
      advice: null,
    })
    // Without a capacity nothing is judged.
    expect((await take('x0.8')).out).toContain(
      'In one breath, run at the weir: 4.3 s (m. 41 to m. 43), before 3.5 s.\n',
    )
  })
})

test.each([
  [['fast'], '"fast" doesn\'t work for the tempo'],
  [['x0'], '"x0" doesn\'t work for the ratio'],
  [['x'], '"x" doesn\'t work for the tempo'],
  [['xfast'], '"xfast" doesn\'t work for the ratio'],
  [['x-1'], '"x-1" doesn\'t work for the ratio'],
  [['x20'], '"2760" doesn\'t work for the goal tempo'],
  [['x0.001'], '"0.138" doesn\'t work for the goal tempo'],
  [['crotchet=60'], 'In tempo, note value "crotchet=60"'],
  [['126', '--breath-seconds', '0'], '"0" doesn\'t work for --breath-seconds'],
  [['126', '--breath-seconds', 'long'], '"long" doesn\'t work for --breath-seconds'],
  [['126', '--breath-seconds', '601'], '"601" doesn\'t work for --breath-seconds'],
])('%j is refused in one sentence, and no goal changes', async (typed, says) => {
  const { take, goals } = await atTheRehearsal()
  const said = await take(...typed)
  expect(said).toMatchObject({ status: 2, out: '' })
  expect(said.err).toContain(says)
  expect(said.err.trim()).not.toContain('\n')
  expect(await goals()).toEqual(['138', 'dotted-quarter=92', 'half=60'])
})
