import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { tempo } from '../../src/music/tempo.ts'
import { momentOf } from '../../src/visit/moment.ts'
import type { Setup } from '../../src/visit/session.ts'
import { type Stage, setup, stage } from '../screens/practice/stage.ts'

const kinds = (events: readonly { kind: string }[]): string => events.map(e => e.kind).join(' ')

describe('a visit with two pedals', () => {
  test('nothing is on disk and nothing sounds before the first press', async () => {
    const s = await stage()
    expect(s.journal).toEqual([])
    expect(s.conductor.session().phase).toBe('ready')
    expect(s.conductor.frame()).toBeNull()
  })

  test('either pedal starts the count-in at once', async () => {
    const s = await stage()
    await s.press('left')
    expect(s.conductor.session().phase).toBe('going')
    expect(s.conductor.session().current?.program.segments[0]).toEqual({ kind: 'countIn', frame: 0 })
  })

  test('three clean ones in a row raise the rung, with the verdicts on disk in order', async () => {
    const s = await stage()
    await s.play('CCC')
    expect(s.rung()).toBe('108')
    expect(kinds(s.journal)).toBe('visit verdict verdict verdict')
    expect(s.conductor.session().ladder.ceiling).toEqual(tempo(104))
  })

  test('two slips in a row lower it', async () => {
    const s = await stage(setup({ from: 1 }))
    await s.play('NN')
    expect(s.rung()).toBe('104')
  })

  test('a press before the last measure is not yet a verdict; it is said, not stored', async () => {
    const s = await stage()
    await s.press('right')
    await s.press('right', 'middle')
    expect(s.conductor.session().note.kind).toBe('notYet')
    expect(s.journal).toEqual([])
    expect(s.conductor.session().current?.verdict).toBeNull()
  })

  test('the left pedal in the middle stops at once; a slip with its place one beat earlier', async () => {
    const s = await stage(setup({ measures: 4 }))
    await s.press('right')
    const p = s.conductor.session().current?.program
    if (!p) throw new Error('nothing plays')
    const third = p.onsets.find(o => o.measure === 2 && o.beat === 3)
    while ((s.conductor.frame() ?? 0) < (third?.frame ?? 0) + 100) await s.clock.run(5)
    await s.press('left')
    const verdict = s.journal.find(e => e.kind === 'verdict')
    expect(verdict).toMatchObject({ whole: false, clean: false, place: '42.2' })
    expect(s.conductor.session().current?.program.segments[0]?.kind).toBe('rest')
  })

  test('a verdict in the last measure takes effect at the written end: the music is not cut', async () => {
    const s = await stage()
    await s.press('right')
    await s.press('right', 'lastMeasure')
    const { current, next } = s.conductor.session()
    expect(current?.verdict?.clean).toBe(true)
    expect(next?.rep).toBe(2)
    await s.clock.run(3000)
    expect(s.conductor.session().current?.rep).toBe(2)
  })

  test('the other pedal in the last measure turns the verdict before the music has ended', async () => {
    const s = await stage()
    await s.press('right')
    await s.press('right', 'lastMeasure')
    await s.clock.run(300)
    await s.press('left')
    expect(kinds(s.journal)).toBe('visit verdict takeBack verdict')
    expect(s.conductor.session().current?.verdict?.clean).toBe(false)
    expect(s.row()).toBe(0)
  })

  test('in the pause after clean: right waits, left turns the verdict', async () => {
    const s = await stage()
    await s.press('right')
    await s.press('right', 'end')
    await s.clock.run(800)
    await s.press('right')
    expect(s.conductor.session().phase).toBe('hold')
    expect(s.row()).toBe(1)

    const u = await stage()
    await u.press('right')
    await u.press('right', 'end')
    await u.clock.run(800)
    await u.press('left')
    expect(u.row()).toBe(0)
    expect(kinds(u.journal)).toBe('visit verdict takeBack verdict')
    expect(u.conductor.session().phase).toBe('going')
  })

  test('in the count-in after a whole slip: right makes it clean and the rung follows', async () => {
    const s = await stage(setup({ from: 1 }))
    await s.play('N')
    await s.press('left', 'end')
    expect(s.rung()).toBe('104')
    await s.press('right', 'countIn')
    expect(s.rung()).toBe('108')
    expect(s.row()).toBe(1)
    expect(s.conductor.session().current?.tempo).toEqual(tempo(108))
  })

  test('a repetition that was cut cannot be made clean: both pedals wait', async () => {
    const s = await stage()
    await s.press('right')
    await s.press('left', 'middle')
    await s.clock.run(800)
    expect(momentOf(s.conductor.session(), s.conductor.frame())).toBe('afterCut')
    await s.press('right')
    expect(s.conductor.session().phase).toBe('hold')
    expect(s.journal.filter(e => e.kind === 'verdict')).toHaveLength(1)
  })

  test('nor once its verdict is taken back: the next one is counted in, and a press waits', async () => {
    const s = await stage()
    await s.press('right')
    await s.press('left', 'middle')
    await s.clock.run(900)
    s.conductor.act({ kind: 'takeBack' })
    await s.conductor.settled()
    expect(momentOf(s.conductor.session(), s.conductor.frame())).toBe('afterCut')
    expect(s.conductor.session().current?.rep).toBe(2)
    await s.press('right')
    expect(s.conductor.session().phase).toBe('hold')
    expect(kinds(s.journal)).toBe('visit verdict takeBack')
  })

  test('both pedals within 120 ms: stop, the verdict is taken back, nothing counts', async () => {
    const s = await stage()
    await s.play('C')
    await s.press('right', 'end')
    s.conductor.pedal('left', s.clock.now())
    await s.conductor.settled()
    expect(s.conductor.session().phase).toBe('hold')
    expect(s.row()).toBe(1)
    expect(kinds(s.journal)).toBe('visit verdict verdict takeBack unjudged')
    expect(s.journal.at(-1)).toMatchObject({ why: 'unclear', rep: 2 })
  })

  test('both pedals in the rest do not take an older verdict back', async () => {
    const s = await stage()
    await s.press('right')
    await s.press('right', 'end')
    await s.clock.run(1000)
    s.conductor.pedal('right', s.clock.now())
    s.conductor.pedal('left', s.clock.now() + 60)
    await s.conductor.settled()
    expect(s.row()).toBe(1)
    expect(s.conductor.session().phase).toBe('hold')
  })

  test('a held pedal is one verdict', async () => {
    const s = await stage()
    await s.press('right')
    await s.press('right', 'end')
    for (let i = 0; i < 33; i++) {
      s.conductor.pedal('right', s.clock.now() + 630 + i * 40)
      await s.conductor.settled()
    }
    expect(s.journal.filter(e => e.kind === 'verdict')).toHaveLength(1)
    expect(s.conductor.session().phase).toBe('going')
  })

  test('nothing goes on before a verdict, however long it takes', async () => {
    const s = await stage()
    await s.press('right')
    await s.clock.run(120_000)
    expect(s.conductor.session().note.kind).toBe('waiting')
    expect(s.conductor.session().reps).toBe(1)
    await s.press('right')
    expect(s.row()).toBe(1)
  })
})

describe('taking back', () => {
  test('after three clean ones and a rung up: the rung and a row of two come back, and the verdict is asked anew', async () => {
    const s = await stage()
    await s.play('CC')
    await s.press('right', 'end')
    expect(s.rung()).toBe('108')
    s.conductor.act({ kind: 'takeBack' })
    await s.clock.run(10)
    expect(s.rung()).toBe('104')
    expect(s.row()).toBe(2)
    expect(momentOf(s.conductor.session(), s.conductor.frame())).toBe('open')
    await s.clock.run(1000)
    await s.press('left')
    expect(s.row()).toBe(0)
  })

  test('while the next repetition sounds at the wrong tempo: it is cut, not counted, and counted in at the right one', async () => {
    const s = await stage()
    await s.play('CC')
    await s.press('right', 'end')
    await s.clock.run(900)
    while (!s.conductor.session().current?.entered) await s.clock.run(50)
    s.conductor.act({ kind: 'takeBack' })
    await s.clock.run(10)
    expect(s.conductor.session().current?.tempo).toEqual(tempo(104))
    expect(s.conductor.session().current?.entered).toBe(false)
    expect(s.journal.at(-1)).toMatchObject({ kind: 'unjudged', why: 'interrupted', rep: 4 })
    expect(s.row()).toBe(2)
  })

  test('in the last measure: what was queued is dropped and the repetition is open again', async () => {
    const s = await stage()
    await s.press('right')
    await s.press('right', 'lastMeasure')
    s.conductor.act({ kind: 'takeBack' })
    await s.clock.run(5000)
    expect(s.conductor.session().next).toBeNull()
    expect(s.conductor.session().current?.rep).toBe(1)
    expect(s.conductor.session().note.kind).toBe('waiting')
  })

  test('with nothing to take back it says so', async () => {
    const s = await stage()
    s.conductor.act({ kind: 'takeBack' })
    await s.conductor.settled()
    expect(s.conductor.session().note.kind).toBe('nothingToTakeBack')
  })
})

/** Lets a repetition pass without an answer. */
const unanswered = async (s: Stage): Promise<void> => {
  const open = (): boolean => s.conductor.session().last?.verdict === null
  while (!open()) await s.clock.run(50)
}

describe('going on by itself', () => {
  test('the gap is a measure at least, and an answer may come until the next first note', async () => {
    const s = await stage(setup({ after: 'go-on', start: 60, goal: 120 }))
    await s.press('right')
    await s.press('right', 'end')
    const gap = s.conductor.session().current?.program.segments.find(x => x.kind === 'countIn')?.frame ?? 0
    expect(gap).toBe(4 * 48_000)
    expect(s.row()).toBe(1)
  })

  test('a repetition without an answer empties the row and is no slip; the second one waits', async () => {
    const s = await stage(setup({ after: 'go-on' }))
    await s.play('C')
    await unanswered(s)
    expect(s.row()).toBe(1)
    while (!s.conductor.session().current?.entered) await s.clock.run(50)
    expect(s.journal.at(-1)).toMatchObject({ kind: 'unjudged', why: 'silent' })
    expect(s.row()).toBe(0)
    expect(s.conductor.session().ladder.slips).toBe(0)
    while (!s.conductor.session().current?.over) await s.clock.run(50)
    expect(s.conductor.session().note.kind).toBe('waiting')
    const { reps } = s.conductor.session()
    await s.clock.run(60_000)
    expect(s.conductor.session().reps).toBe(reps)
  })

  test('a late verdict in the count-in that moves the rung cuts it and counts in anew', async () => {
    const s = await stage(setup({ after: 'go-on' }))
    await s.play('CC')
    await unanswered(s)
    await s.press('right', 'countIn')
    expect(s.rung()).toBe('108')
    expect(s.conductor.session().current?.tempo).toEqual(tempo(108))
  })
})

describe('one pedal', () => {
  test('before the last beat it stops, from the last beat on it is clean', async () => {
    const s = await stage(setup({ pedals: 1 }))
    await s.press('right')
    await s.press('right', 'lastMeasure')
    expect(s.journal.at(-1)).toMatchObject({ kind: 'verdict', clean: false, whole: false })
    await s.clock.run(900)
    await s.press('right', 'end')
    expect(s.conductor.session().phase).toBe('going')
    expect(s.journal.at(-1)).toMatchObject({ kind: 'verdict', clean: true, whole: true })
  })

  test('clean, and once more in the rest: not clean, heard as such, and two of them are a rung down', async () => {
    const s = await stage(setup({ pedals: 1, from: 1 }))
    await s.press('right')
    for (const slips of [1, 0]) {
      await s.press('right', 'end')
      expect(s.row()).toBe(1)
      await s.clock.run(900)
      await s.press('right')
      expect(s.row()).toBe(0)
      expect(s.conductor.session().phase).toBe('going')
      const sounds = s.conductor.session().current?.program.onsets.map(o => o.role)
      expect(sounds).toContain(slips === 1 ? 'slip' : 'down')
      expect(s.conductor.session().ladder.slips).toBe(slips)
    }
    expect(s.rung()).toBe('104')
    // The third press of the same rest waits, the fourth goes on.
    await s.clock.run(900)
    await s.press('right')
    expect(s.conductor.session().phase).toBe('hold')
    await s.clock.run(900)
    await s.press('right')
    expect(s.conductor.session().phase).toBe('going')
  })

  test('a clean that would end what is played once can still be turned', async () => {
    const s = await stage(setup({ pedals: 1, ends: { clean: 1, tries: 1 } }))
    await s.press('right')
    await s.press('right', 'end')
    await s.clock.run(900)
    expect(s.conductor.session().phase).toBe('going')
    await s.press('right')
    expect(s.journal.at(-1)).toMatchObject({ kind: 'verdict', clean: false, whole: true })
    await s.clock.run(2000)
    expect(s.conductor.session().phase).toBe('done')
  })

  /** Whether the verdict that stands of each repetition is a clean one. */
  const verdicts = (s: Stage): ReadonlyMap<number, boolean> => {
    const takenBack = new Set(s.journal.flatMap(e => (e.kind === 'takeBack' ? [e.of] : [])))
    const all = s.journal.filter(e => e.kind === 'verdict' && !takenBack.has(e.id))
    return new Map(all.flatMap(e => (e.kind === 'verdict' ? [[e.rep, e.clean]] : [])))
  }

  test('law: whenever the foot falls, a clean comes from an open repetition alone, and the next press turns it until the next first note', async () => {
    let [cleans, turned] = [0, 0]
    const waits = fc.array(fc.integer({ min: 760, max: 4200 }), { minLength: 6, maxLength: 14 })
    const kind = fc.constantFrom<Omit<Partial<Setup>, 'goal'>>(
      {},
      { after: 'go-on' },
      { ends: { clean: 2, tries: 3 } },
    )
    await fc.assert(
      fc.asyncProperty(waits, kind, async (all, more) => {
        const s = await stage(setup({ pedals: 1, measures: 1, start: 120, goal: 144, ...more }))
        let fresh: number | null = null
        for (const wait of all) {
          for (let left = wait; left > 0; left -= 50) {
            await s.clock.run(50)
            const { phase, current, next } = s.conductor.session()
            const after = current?.rep === fresh ? next : current
            if (phase === 'done' || after?.entered) fresh = null
          }
          if (s.conductor.session().phase === 'done') return
          const before = verdicts(s)
          const moment = momentOf(s.conductor.session(), s.conductor.frame())
          await s.press('right')
          const now = verdicts(s)
          if (fresh !== null) {
            expect(now.get(fresh)).toBe(false)
            turned++
          }
          const made = [...now].filter(([rep, clean]) => clean && before.get(rep) !== true)
          if (made.length > 0) expect(moment).toBe('open')
          cleans += made.length
          fresh = made[0]?.[0] ?? null
        }
      }),
      { numRuns: 60 },
    )
    expect(cleans).toBeGreaterThan(20)
    expect(turned).toBeGreaterThan(5)
  })
})

describe('by hand', () => {
  test('a tempo changed in the rest is counted in at once; one changed while playing waits for the next count-in', async () => {
    const s = await stage()
    await s.press('right')
    while (!s.conductor.session().current?.entered) await s.clock.run(50)
    s.conductor.act({ kind: 'nextRung', by: 1 })
    await s.conductor.settled()
    expect(s.rung()).toBe('108')
    expect(s.conductor.session().current?.tempo).toEqual(tempo(104))
    await s.press('right', 'end')
    expect(s.row()).toBe(0)
    expect(s.conductor.session().current?.tempo).toEqual(tempo(108))
    s.conductor.act({ kind: 'tempo', to: tempo(105) })
    await s.conductor.settled()
    expect(s.conductor.session().current?.tempo).toEqual(tempo(105))
  })

  test('nothing above the goal', async () => {
    const s = await stage()
    s.conductor.act({ kind: 'tempo', to: tempo(121) })
    await s.conductor.settled()
    expect(s.conductor.session().note.kind).toBe('refused')
    expect(s.journal).toEqual([])
  })
})

describe('trouble', () => {
  test('a verdict that cannot be stored does not climb: it stops and says why', async () => {
    const s = await stage()
    await s.play('CC')
    s.diskFull(true)
    await s.press('right', 'end')
    expect(s.row()).toBe(2)
    expect(s.conductor.session().phase).toBe('hold')
    expect(s.conductor.session().note).toMatchObject({ kind: 'trouble' })
    s.diskFull(false)
    await s.clock.run(1000)
    await s.press('right')
    await s.press('right', 'end')
    expect(s.rung()).toBe('108')
  })

  describe('when the sound breaks off', () => {
    const GONE = { kind: 'trouble', what: 'gone', output: 'naudiodon' } as const
    const BACK = { kind: 'output', name: 'audio-io' } as const

    test('in a repetition, it does not count, and a press starts it again', async () => {
      const s = await stage()
      await s.play('C')
      while (!s.conductor.session().current?.entered) await s.clock.run(50)
      await s.hear(GONE)
      expect(s.conductor.session().phase).toBe('hold')
      expect(s.journal.at(-1)).toMatchObject({ kind: 'unjudged', why: 'interrupted' })
      expect(s.conductor.session().note).toMatchObject({
        text: "The sound broke off. That repetition doesn't count.",
      })
      await s.hear(BACK)
      expect(s.conductor.session().note).toMatchObject({
        text: "The sound is back (audio-io). That repetition doesn't count.",
      })
      expect(s.row()).toBe(1)
      await s.press('right')
      await s.press('right', 'end')
      expect(s.row()).toBe(2)
    })

    test('in the count-in, the count-in begins anew by itself, and nothing is written', async () => {
      const s = await stage()
      await s.press('right')
      await s.clock.run(1000)
      const before = s.conductor.frame() ?? 0
      await s.hear(GONE)
      await s.clock.run(500)
      await s.hear(BACK)
      expect(s.conductor.frame()).toBeLessThan(before)
      expect(s.conductor.session().phase).toBe('going')
      expect(s.conductor.session().note).toMatchObject({ text: 'The sound is back (audio-io).' })
      expect(s.journal).toEqual([])
      await s.press('right', 'end')
      expect(s.row()).toBe(1)
    })

    test('in the count-in, and back only in the music: that repetition was not whole', async () => {
      const s = await stage()
      await s.press('right')
      await s.clock.run(1000)
      await s.hear(GONE)
      while (!s.conductor.session().current?.entered) await s.clock.run(50)
      await s.hear(BACK)
      expect(s.conductor.session().phase).toBe('hold')
      expect(s.journal.at(-1)).toMatchObject({ kind: 'unjudged', why: 'interrupted' })
    })

    test('while a verdict is waited for, nothing was broken: the verdict counts', async () => {
      const s = await stage()
      await s.press('right')
      while (!s.conductor.session().current?.over) await s.clock.run(50)
      await s.hear(GONE)
      await s.hear({ kind: 'output', name: 'silent' })
      expect(s.conductor.session().note).toMatchObject({ text: 'No sound: follow the mark by eye.' })
      await s.press('right')
      expect(s.row()).toBe(1)
    })

    test('after a while in silence it is heard again, and what was shown meanwhile goes on', async () => {
      const s = await stage()
      await s.hear({ kind: 'output', name: 'silent' })
      await s.press('right')
      while (!s.conductor.session().current?.entered) await s.clock.run(50)
      await s.hear(BACK)
      expect(s.conductor.session().note).toMatchObject({ text: 'The sound is back (audio-io).' })
      expect(s.conductor.session().phase).toBe('going')
      await s.press('right', 'end')
      expect(s.row()).toBe(1)
    })

    test('a gap that goes by breaks nothing', async () => {
      const s = await stage()
      await s.press('right')
      while (!s.conductor.session().current?.entered) await s.clock.run(50)
      await s.hear({ kind: 'trouble', what: 'underrun', output: 'naudiodon' })
      expect(s.conductor.session().phase).toBe('going')
    })
  })

  test('finishing in the middle of a repetition stores it as interrupted; the row stays', async () => {
    const s = await stage()
    await s.play('C')
    while (!s.conductor.session().current?.entered) await s.clock.run(50)
    s.conductor.act({ kind: 'finish' })
    await s.conductor.settled()
    expect(s.journal.at(-1)).toMatchObject({ kind: 'unjudged', why: 'interrupted' })
    expect(s.row()).toBe(1)
    expect(s.conductor.session().phase).toBe('done')
  })

  test('waiting in the middle of a repetition does not count it; the same key goes on', async () => {
    const s = await stage()
    await s.press('right')
    await s.clock.run(3500)
    s.conductor.act({ kind: 'wait' })
    await s.conductor.settled()
    expect(s.conductor.session().phase).toBe('hold')
    expect(s.journal.at(-1)).toMatchObject({ kind: 'unjudged', why: 'interrupted' })
    s.conductor.act({ kind: 'wait' })
    await s.conductor.settled()
    expect(s.conductor.session().phase).toBe('going')
  })
})
