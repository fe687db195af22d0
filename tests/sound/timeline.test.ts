import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Placed } from '../../src/click/program.ts'
import {
  CUT_GAP,
  emptyTimeline,
  type Happening,
  handOver,
  join,
  place,
  silentIn,
  stop,
  type Timeline,
  type TimelineStep,
} from '../../src/sound/timeline.ts'
import { clicks } from './scene.ts'

const program = (frames: number) => clicks(frames, [0])
const placed = (t: Timeline, id: number): Placed | undefined => t.items.find(p => p.id === id)

describe('the timeline of one stream', () => {
  test('a program played now begins at the first frame not yet handed over', () => {
    const { timeline } = handOver(emptyTimeline, 480)
    expect(placed(place(timeline, 1, program(1000), 'now').timeline, 1)?.at).toBe(480)
  })

  test('a queued program begins at the frame where the other one ends', () => {
    const one = place(emptyTimeline, 1, program(1001), 'now').timeline
    expect(placed(place(one, 2, program(50), 1).timeline, 2)?.at).toBe(1001)
  })

  test('now cuts what sounds and begins 20 ms later', () => {
    const one = handOver(place(emptyTimeline, 1, program(5000), 'now').timeline, 960).timeline
    const { timeline, happened } = place(one, 2, program(50), 'now')
    expect(placed(timeline, 1)?.cut).toBe(960)
    expect(placed(timeline, 2)?.at).toBe(960 + 960)
    expect(happened).toEqual([{ kind: 'cut', id: 1, frame: 960 }])
  })

  test('a second now right after the first does not come nearer to the cut', () => {
    const one = handOver(place(emptyTimeline, 1, program(5000), 'now').timeline, 960).timeline
    const two = handOver(place(one, 2, program(50), 'now').timeline, 480).timeline
    const { timeline, happened } = place(two, 3, program(50), 'now')
    expect(placed(timeline, 2)).toBeUndefined()
    expect(placed(timeline, 3)?.at).toBe(960 + 960)
    expect(happened).toEqual([{ kind: 'cut', id: 2, frame: 0 }])
  })

  test('queueing twice behind the same program replaces the first wish', () => {
    const one = handOver(place(emptyTimeline, 1, program(5000), 'now').timeline, 480).timeline
    const two = place(one, 2, program(700), 1).timeline
    const { timeline, happened } = place(two, 3, program(700), 1)
    expect(timeline.items.map(p => [p.id, p.at])).toEqual([
      [1, 0],
      [3, 5000],
    ])
    expect(happened).toEqual([{ kind: 'cut', id: 2, frame: 0 }])
  })

  test('behind a program that has already ended means at once, and cuts nothing that has ended', () => {
    const one = handOver(place(emptyTimeline, 1, program(400), 'now').timeline, 480).timeline
    const { timeline, happened } = place(one, 2, program(50), 1)
    expect(placed(timeline, 2)?.at).toBe(480)
    expect(happened).toEqual([])
  })

  test('a stale id changes nothing', () => {
    const one = place(emptyTimeline, 2, program(1000), 'now').timeline
    expect(place(one, 2, program(50), 'now')).toEqual({ timeline: one, happened: [] })
    expect(place(one, 1, program(50), 'now')).toEqual({ timeline: one, happened: [] })
  })

  test('stop cuts what sounds and forgets what is queued', () => {
    const one = handOver(place(emptyTimeline, 1, program(5000), 'now').timeline, 480).timeline
    const { timeline, happened } = stop(place(one, 2, program(50), 1).timeline)
    expect(timeline.items.map(p => p.id)).toEqual([1])
    expect(happened).toEqual([
      { kind: 'cut', id: 1, frame: 480 },
      { kind: 'cut', id: 2, frame: 0 },
    ])
  })

  test('a finished program rings out, then it is dropped', () => {
    const one = handOver(place(emptyTimeline, 1, program(400), 'now').timeline, 480).timeline
    expect(one.items).toHaveLength(1)
    expect(handOver(one, 48000).timeline.items).toHaveLength(0)
  })
})

type Act = { kind: 'now' | 'after' | 'stop' | 'hand'; n: number }
const act: fc.Arbitrary<Act> = fc.oneof(
  {
    weight: 2,
    arbitrary: fc.record({ kind: fc.constant('now' as const), n: fc.integer({ min: 1, max: 9000 }) }),
  },
  {
    weight: 4,
    arbitrary: fc.record({ kind: fc.constant('after' as const), n: fc.integer({ min: 1, max: 9000 }) }),
  },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('stop' as const), n: fc.constant(0) }) },
  {
    weight: 6,
    arbitrary: fc.record({ kind: fc.constant('hand' as const), n: fc.integer({ min: 1, max: 4096 }) }),
  },
)

/** Plays a script; "after" queues behind the latest program or, for even lengths, the one before it. */
const play = (script: readonly Act[]) => {
  let timeline = emptyTimeline
  let id = 0
  const told: Happening[] = []
  const before: Timeline[] = []
  const all = new Map<number, Placed>()
  const step = (s: TimelineStep): void => {
    before.push(timeline)
    timeline = s.timeline
    told.push(...s.happened)
    for (const p of timeline.items) all.set(p.id, p)
  }
  for (const a of script) {
    if (a.kind === 'hand') step(handOver(timeline, a.n))
    else if (a.kind === 'stop') step(stop(timeline))
    else {
      const behind = id - (a.n % 2 === 0 ? 1 : 0)
      id++
      step(place(timeline, id, program(a.n), a.kind === 'now' ? 'now' : Math.max(1, behind)))
    }
  }
  return { timeline, told, before, all }
}

describe('whatever is asked for', () => {
  const scripts = fc.array(act, { minLength: 1, maxLength: 60, size: 'max' })

  test('programs never overlap, and none begins nearer than 20 ms behind a cut', () => {
    let cuts = 0
    let queued = 0
    void fc.assert(
      fc.property(scripts, script => {
        const { before, timeline } = play(script)
        for (const t of [...before, timeline])
          for (const [i, p] of t.items.entries()) {
            const next = t.items[i + 1]
            if (!next) continue
            const end = p.cut ?? p.at + p.program.frames
            expect(next.at).toBeGreaterThanOrEqual(p.cut === undefined ? end : end + CUT_GAP)
            if (p.cut !== undefined) cuts++
            else if (next.at === end) queued++
          }
      }),
    )
    expect(cuts).toBeGreaterThan(100)
    expect(queued).toBeGreaterThan(100)
  })

  test('what has been handed over is never changed', () => {
    void fc.assert(
      fc.property(scripts, script => {
        const { before, timeline } = play(script)
        const steps = [...before, timeline]
        for (const [i, t] of steps.entries()) {
          const after = steps[i + 1]
          if (!after) continue
          for (const p of t.items.filter(q => q.at < t.next)) {
            const later = after.items.find(q => q.id === p.id)
            if (!later) continue
            expect(later.at).toBe(p.at)
            if (later.cut !== p.cut) expect(later.cut).toBe(t.next)
          }
          for (const p of after.items.filter(q => !t.items.some(r => r.id === q.id)))
            expect(p.at).toBeGreaterThanOrEqual(t.next)
        }
      }),
    )
  })

  test('each program is told of once: started then ended or cut, or cut before it began', () => {
    void fc.assert(
      fc.property(scripts, script => {
        const { told, all, timeline } = play(script)
        const words = new Map<number, string>()
        for (const h of told)
          words.set(h.id, `${words.get(h.id) ?? ''}${h.kind === 'cut' && h.frame === 0 ? 'never' : h.kind} `)
        for (const [id, w] of words) {
          expect(['started ', 'started ended ', 'started cut ', 'never ']).toContain(w)
          if (w === 'started ') expect(placed(timeline, id)?.cut).toBeUndefined()
        }
        for (const h of told) if (h.kind === 'started') expect(all.get(h.id)?.at).toBe(h.frame)
      }),
    )
  })

  test('the size of the blocks that are handed over does not matter', () => {
    void fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 3000 }), { minLength: 1, maxLength: 8 }), lengths => {
        let t = emptyTimeline
        for (const [i, n] of lengths.entries()) t = place(t, i + 1, program(n), i === 0 ? 'now' : i).timeline
        const total = lengths.reduce((a, b) => a + b, 0)
        const inBlocksOf = (block: number): Happening[] => {
          let s = t
          const told: Happening[] = []
          for (let f = 0; f < total; f += block) {
            const step = handOver(s, Math.min(block, total - f))
            s = step.timeline
            told.push(...step.happened)
          }
          return told
        }
        expect(inBlocksOf(480)).toEqual(inBlocksOf(1))
        expect(inBlocksOf(total)).toEqual(inBlocksOf(1))
      }),
      { numRuns: 30 },
    )
  })
})

describe('what another stream has begun', () => {
  const three = [1, 2, 3].map(id => ({ id, program: program(1000) }))

  test('goes on where it would be now, each program directly behind the one before', () => {
    const here = handOver(emptyTimeline, 9600).timeline
    const { timeline, happened } = join(here, three, 9600 - 300)
    expect(timeline.items.map(p => [p.id, p.at])).toEqual([
      [1, 9300],
      [2, 10_300],
      [3, 11_300],
    ])
    expect(happened).toEqual([{ kind: 'started', id: 1, frame: 9300 }])
    expect(handOver(timeline, 1000).happened).toEqual([
      { kind: 'ended', id: 1 },
      { kind: 'started', id: 2, frame: 10_300 },
    ])
  })

  test('may have begun before this stream did, and what is over by now is told as over', () => {
    const { timeline, happened } = join(handOver(emptyTimeline, 480).timeline, three, -1100)
    expect(happened).toEqual([
      { kind: 'started', id: 1, frame: -1100 },
      { kind: 'ended', id: 1 },
      { kind: 'started', id: 2, frame: -100 },
    ])
    expect(placed(timeline, 3)?.at).toBe(900)
  })

  test('or begins here: as soon as can be', () => {
    const { timeline, happened } = join(handOver(emptyTimeline, 480).timeline, three, 480)
    expect(placed(timeline, 1)?.at).toBe(480)
    expect(happened).toEqual([])
  })

  test('a program that was asked for before the others is stale afterwards', () => {
    const { timeline } = join(emptyTimeline, three, 0)
    expect(place(timeline, 3, program(10), 'now').happened).toEqual([])
    expect(placed(place(timeline, 4, program(10), 3).timeline, 4)?.at).toBe(3000)
  })

  test('played on elsewhere at any moment, every frame is heard that was still to be heard', () => {
    fc.assert(
      fc.property(fc.nat(3000), fc.nat(20_000), (passed, handed) => {
        const here = handOver(emptyTimeline, handed).timeline
        const { timeline } = join(here, three, handed - passed)
        for (const [i, p] of three.entries()) {
          const at = handed - passed + 1000 * i
          if (at + 1000 > handed) expect(placed(timeline, p.id)?.at).toBe(at)
        }
      }),
    )
  })
})

describe('silence', () => {
  // No voice lasts longer than 0.4 s: 19,200 frames.
  test('is where no onset is, nor one that still sounds', () => {
    const t = place(emptyTimeline, 1, clicks(96_000, [0, 48_000]), 'now').timeline
    expect(silentIn(t, 0, 480)).toBe(false)
    expect(silentIn(t, 19_000, 30_000)).toBe(false)
    expect(silentIn(t, 19_200, 48_000)).toBe(true)
    expect(silentIn(t, 19_200, 48_001)).toBe(false)
    expect(silentIn(t, 90_000, 200_000)).toBe(true)
  })

  test('a tone is none, and what a cut has silenced is', () => {
    const tone = { hz: 440, dbfs: -20, from: 0, to: 48_000 }
    const toned = place(emptyTimeline, 1, { ...clicks(96_000, []), tone }, 'now').timeline
    expect(silentIn(toned, 24_000, 30_000)).toBe(false)
    expect(silentIn(toned, 48_000, 60_000)).toBe(true)
    const cut = stop(
      handOver(place(emptyTimeline, 1, clicks(96_000, [0, 48_000]), 'now').timeline, 4800).timeline,
    )
    expect(silentIn(cut.timeline, 48_000, 50_000)).toBe(true)
  })
})
