import { describe, expect, test } from 'vitest'
import { plainForm } from '../../src/music/form.ts'
import { type Frac, frac } from '../../src/music/fraction.ts'
import { parseMeter } from '../../src/music/meter.ts'
import { tempo } from '../../src/music/tempo.ts'
import { strip } from '../../src/screens/practice/now.ts'
import { noteText } from '../../src/screens/practice/words.ts'
import { momentOf } from '../../src/visit/moment.ts'
import { reduce } from '../../src/visit/reduce.ts'
import type { Setup } from '../../src/visit/session.ts'
import { must, type Stage, setup, stage } from '../screens/practice/stage.ts'

/** Measures 41 to 43 of 4/4, held at the end of these places (whole notes from the first note): 42.3 by default. */
const holding = (change: Partial<Setup> = {}, ...at: readonly Frac[]): Setup => ({
  ...setup({ measures: 3 }),
  form: {
    ...plainForm(must(parseMeter('4/4')), 3, tempo(120)),
    breaths: (at.length > 0 ? at : [frac(3, 2)]).map(place => ({
      at: place,
      kind: 'fermata',
      adds: frac(1, 4),
      waits: true,
    })),
  },
  ...change,
})

const take = (s: Stage) => {
  const { current } = s.conductor.session()
  if (!current) throw new Error('nothing sounds')
  return current
}
const moment = (s: Stage): string => momentOf(s.conductor.session(), s.conductor.frame())
const verdicts = (s: Stage) => s.journal.filter(e => e.kind === 'verdict')

/** Starts, or goes on, and lets time pass until the music is held. */
const untilHeld = async (s: Stage): Promise<void> => {
  for (let i = 0; i < 200 && !take(s).legs?.held; i++) await s.clock.run(100)
  expect(take(s).legs?.held).toBe(true)
}
const begun = async (change: Partial<Setup> = {}, ...at: readonly Frac[]): Promise<Stage> => {
  const s = await stage(holding(change, ...at))
  await s.press('right')
  await untilHeld(s)
  return s
}

describe('a fermata that waits', () => {
  test('holds for as long as the player likes: nothing clicks, nothing is judged', async () => {
    const s = await begun()
    const before = s.conductor.frame() ?? 0
    await s.clock.run(60_000)
    expect(moment(s)).toBe('held')
    expect(take(s).program.onsets.filter(o => o.frame > before)).toEqual([])
    expect(s.journal).toEqual([])
    expect(noteText(s.conductor.session().note)).toBe('Held: the right pedal goes on, the left one stops.')
  })

  test('right goes on with one beat of preparation, then the next note', async () => {
    const s = await begun()
    await s.clock.run(5000)
    await s.press('right')
    expect(take(s).program.firstNote).toBe(Math.round((60 / 104) * 48_000))
    expect(moment(s)).toBe('early')
    await s.clock.run(700)
    expect(s.conductor.frame()).toBeGreaterThan(take(s).program.firstNote)
    expect(take(s).entered).toBe(true)
  })

  test('a repetition with a hold is one whole repetition with one verdict', async () => {
    const s = await begun()
    await s.press('right')
    await s.press('right', 'lastMeasure')
    expect(verdicts(s)).toMatchObject([{ rep: 1, whole: true, clean: true }])
    await s.clock.run(4000)
    expect(take(s)).toMatchObject({ rep: 2, legs: { at: 0, held: false } })
  })

  test('a rest as long as the repetition is as long as all of it, the hold left out', async () => {
    const s = await begun({ rest: { clean: 2, slip: 4, asLong: true } })
    await s.clock.run(9000)
    await s.press('right')
    await s.press('right', 'end')
    const { segments, firstNote } = take(s).program
    // Three measures of 4/4 at 104, of which one is counted in.
    expect(segments[1]?.kind).toBe('countIn')
    expect(firstNote / 48_000).toBeCloseTo((12 * 60) / 104, 3)
  })

  test('left stops: a slip with the held beat as its place', async () => {
    const s = await begun()
    await s.clock.run(3000)
    await s.press('left')
    expect(verdicts(s)).toMatchObject([{ whole: false, clean: false, place: '42.2' }])
    expect(take(s)).toMatchObject({ rep: 2, legs: { at: 0 } })
  })

  test('left in the beat of preparation stops too, at the held beat', async () => {
    const s = await begun()
    await s.press('right')
    await s.clock.run(200)
    await s.press('left')
    expect(verdicts(s)).toMatchObject([{ whole: false, place: '42.2' }])
  })

  test('behind the hold the place of a slip is counted through it', async () => {
    const s = await begun()
    await s.press('right')
    const fourth = take(s).program.onsets.find(o => o.measure === 2 && o.beat === 4)
    while ((s.conductor.frame() ?? 0) < (fourth?.frame ?? 0) + 100) await s.clock.run(5)
    await s.press('left')
    expect(verdicts(s)).toMatchObject([{ place: '42.3' }])
    const early = await begun()
    await early.press('right')
    const first = take(early).program.firstNote
    while ((early.conductor.frame() ?? 0) < first + 100) await early.clock.run(5)
    await early.press('left')
    expect(verdicts(early)).toMatchObject([{ place: '42.2' }])
  })

  test('the foot may come in the last beat before the hold: then the preparation follows where the note ends', async () => {
    const s = await stage(holding())
    await s.press('right')
    const { lastBeat, end } = take(s).program
    while ((s.conductor.frame() ?? 0) < lastBeat + 4800) await s.clock.run(5)
    expect(moment(s)).toBe('held')
    await s.press('right')
    expect(take(s).legs).toMatchObject({ at: 1, held: false })
    const left = ((end - lastBeat - 4800) / 48_000) * 1000
    await s.clock.run(left + 100)
    expect(s.conductor.frame()).toBeGreaterThan(0)
    expect(s.conductor.frame()).toBeLessThan(48_000 * 0.15)
  })

  test('before that beat right is not yet a press to go on', async () => {
    const s = await stage(holding())
    await s.press('right')
    await s.press('right', 'middle')
    expect(s.conductor.session().note.kind).toBe('notYet')
    await untilHeld(s)
  })

  test('a pedal that stays down does not run through the hold', async () => {
    const s = await stage(holding())
    await s.press('right')
    const { lastBeat } = take(s).program
    while ((s.conductor.frame() ?? 0) < lastBeat - 4800) await s.clock.run(5)
    for (let ms = 0; ms < 3000; ms += 30) {
      s.conductor.pedal('right', s.clock.now())
      await s.clock.run(30)
    }
    expect(moment(s)).toBe('held')
    expect(take(s).legs?.at).toBe(0)
  })

  test('both pedals: stop, not counted', async () => {
    const s = await begun()
    await s.press('right')
    s.conductor.pedal('left', s.clock.now())
    await s.conductor.settled()
    expect(s.conductor.session().phase).toBe('hold')
    expect(s.journal.at(-1)).toMatchObject({ kind: 'unjudged', rep: 1, why: 'unclear' })
    expect(verdicts(s)).toEqual([])
  })

  test.each([
    ['w', { kind: 'wait' }],
    ['f', { kind: 'finish' }],
    ['lost sound, a stopped program', { kind: 'interrupted', text: 'It was stopped.' }],
  ] as const)('%s in a hold is as anywhere in the repetition: it is not counted', async (_, action) => {
    const s = await begun()
    s.conductor.act(action)
    await s.conductor.settled()
    expect(s.conductor.session().phase).toBe(action.kind === 'finish' ? 'done' : 'hold')
    expect(s.journal.at(-1)).toMatchObject({ kind: 'unjudged', rep: 1, why: 'interrupted' })
  })

  test('a rung changed by hand in a hold counts from the next repetition', async () => {
    const s = await begun()
    s.conductor.act({ kind: 'nextRung', by: 1 })
    await s.conductor.settled()
    expect(moment(s)).toBe('held')
    await s.press('right')
    expect(take(s).tempo).toEqual(tempo(104))
    await s.press('right', 'end')
    expect(take(s).tempo).toEqual(tempo(108))
  })

  test('a late end of the leg before does not end the one that sounds', async () => {
    const s = await begun()
    await s.press('right')
    const session = s.conductor.session()
    expect(reduce(session, { kind: 'over', rep: 1, leg: 0 }).session).toBe(session)
  })

  test('also a ladder that goes on by itself waits here, and counts nothing as unanswered', async () => {
    const s = await begun({ after: 'go-on' })
    await s.clock.run(60_000)
    expect(moment(s)).toBe('held')
    expect(s.conductor.session()).toMatchObject({ unanswered: 0, reps: 1 })
  })

  test('a hold counts as practice like any wait: 20 s at most', async () => {
    const s = await begun({}, frac(1, 2), frac(3, 2))
    const held = async (seconds: number): Promise<number> => {
      const before = s.conductor.seconds()
      await s.clock.run(seconds * 1000)
      return s.conductor.seconds() - before
    }
    expect(await held(10)).toBeCloseTo(10, 1)
    // However often the screen asks.
    expect(await held(5)).toBeCloseTo(5, 1)
    expect(await held(60)).toBeLessThanOrEqual(5)
    expect(await held(60)).toBe(0)
    await s.press('right')
    await untilHeld(s)
    expect(await held(10)).toBeCloseTo(10, 1)
  })
})

describe('where the mark stands', () => {
  test('two in one repetition: each waits for its own press', async () => {
    const s = await begun({}, frac(1, 2), frac(3, 2))
    await s.press('right')
    await untilHeld(s)
    expect(take(s).legs?.at).toBe(1)
    await s.press('right')
    await s.press('right', 'lastMeasure')
    expect(verdicts(s)).toMatchObject([{ rep: 1, whole: true, clean: true }])
  })

  test('in the last measure: the verdict counts behind it, not before it and not in the preparation', async () => {
    const s = await stage(holding({}, frac(5, 2)))
    await s.press('right')
    const beat = take(s).program.onsets.find(o => o.measure === 3 && o.beat === 1)
    while ((s.conductor.frame() ?? 0) < (beat?.frame ?? 0) + 100) await s.clock.run(5)
    expect(moment(s)).toBe('early')
    await untilHeld(s)
    await s.press('right')
    expect(moment(s)).toBe('early')
    // The same pedal is closed for 750 ms.
    await s.clock.run(800)
    await s.press('right', 'lastMeasure')
    expect(verdicts(s)).toMatchObject([{ whole: true, clean: true }])
  })

  test('the strip shows the mark, stands at the held beat, and says that it is held', async () => {
    const s = await begun()
    const session = s.conductor.session()
    const { row, at, labels } = strip(session, s.conductor.frame(), 46)
    expect(row).toContain('∩')
    const beat = (place: number | null) => row[1 + Math.floor((place ?? 0) * 44)]
    expect(beat(at)).toBe('2')
    expect(labels).toEqual(['m. 42', 'held'])
    await s.press('right')
    const after = strip(s.conductor.session(), null, 46)
    expect(beat(after.at)).toBe('2')
    expect(after.labels[0]).toBe('m. 42')
  })
})

describe('with one pedal', () => {
  const one: Partial<Setup> = { pedals: 1 }

  test('the pedal goes on; before the held beat it stops', async () => {
    const s = await begun(one)
    expect(noteText(s.conductor.session().note)).toBe('Held: the pedal goes on.')
    await s.press('right')
    expect(take(s).legs?.at).toBe(1)
    expect(s.journal).toEqual([])
    const t = await stage(holding(one))
    await t.press('right')
    await t.press('right', 'middle')
    expect(verdicts(t)).toMatchObject([{ whole: false, clean: false }])
  })

  test('in the preparation and behind it the pedal stops, from the last beat on it is clean', async () => {
    const s = await begun(one)
    await s.press('right')
    await s.clock.run(800)
    await s.press('right')
    expect(verdicts(s)).toMatchObject([{ whole: false }])
    const t = await begun(one)
    await t.press('right')
    await t.press('right', 'end')
    expect(verdicts(t)).toMatchObject([{ whole: true, clean: true }])
  })
})
