import { describe, expect, test } from 'vitest'
import { adaptiveDepth } from '../../src/sound/depth.ts'
import { pace } from '../../src/sound/outputs/paced.ts'
import { BLOCK, msOf, RATE } from '../../src/sound/stream.ts'

/** A device that takes everything at once, and a clock turned by hand. */
const setUp = (takes = true) => {
  let t = 1000
  let pulled = 0
  const dry: number[] = []
  const waiting: (() => void)[] = []
  const p = pace(
    {
      depth: adaptiveDepth(false),
      now: () => t,
      pull: out => {
        pulled += out.length / 2
      },
      silentIn: () => false,
      dry: f => dry.push(f),
    },
    (_, taken) => {
      if (takes) taken()
      else waiting.push(taken)
    },
    1,
  )
  const run = (ms: number, every = 5): void => {
    for (const end = t + ms; t < end; t += every) p.wake()
  }
  return { p, run, dry, sleep: (ms: number) => (t += ms), now: () => t, pulled: () => pulled, waiting }
}

describe('handing over by the clock', () => {
  test('keeps 100 ms ahead, in blocks of 10 ms', () => {
    const s = setUp()
    s.run(1000)
    const ahead = msOf(s.pulled()) - (s.now() - 5 - 1000)
    expect(s.pulled() % BLOCK).toBe(0)
    expect(ahead).toBeGreaterThanOrEqual(100)
    expect(ahead).toBeLessThan(110)
    expect(s.dry).toEqual([])
  })

  test('a wake-up 80 ms late is no underrun and moves nothing', () => {
    const s = setUp()
    s.run(1000)
    const before = s.p.line.at(0)
    s.sleep(80)
    s.run(500)
    expect(s.dry).toEqual([])
    expect(s.p.line.at(0)).toBe(before)
  })

  test('a wake-up 300 ms late is an underrun: a new line, 200 ms ahead, and no lasting delay', () => {
    const s = setUp()
    s.run(1000)
    const gone = s.pulled()
    const before = s.p.line.at(0) ?? 0
    s.sleep(300)
    s.run(1000)
    expect(s.dry).toEqual([gone])
    expect(s.p.line.from()).toBe(gone)
    // The device was silent from the moment it ran dry until it was woken.
    const silence = (s.p.line.at(0) ?? 0) - before
    expect(silence).toBeGreaterThan(190)
    expect(silence).toBeLessThan(210)
    expect(s.p.depthMs()).toBe(201)
    const ahead = (s.p.line.at(s.pulled()) ?? 0) - s.now()
    expect(ahead).toBeLessThan(215)
  })

  test('the device saying that it ran dry, just after the clock saw it, is the same gap', () => {
    const s = setUp()
    s.run(1000)
    s.sleep(300)
    s.run(10)
    s.p.ranDry()
    s.run(500)
    expect(s.dry).toHaveLength(1)
  })

  test('a gap that only the device saw is told too', () => {
    const s = setUp()
    s.run(1000)
    s.p.ranDry()
    s.run(10)
    expect(s.dry).toHaveLength(1)
  })

  test('a device that takes nothing gets no more than 100 ms', () => {
    const s = setUp(false)
    s.run(3000)
    expect(msOf(s.pulled())).toBe(100)
    expect(s.p.taken()).toBe(0)
    expect(s.dry).toEqual([])
  })

  test('what the device says of frames before a gap does not bend the line after it', () => {
    const s = setUp()
    s.run(1000)
    s.sleep(300)
    s.run(10)
    const after = s.p.line.at(0) ?? 0
    for (let i = 0; i < 20; i++) s.p.heard(s.p.line.from() - 480 * (20 - i), s.now() - 700)
    s.run(500)
    expect(s.p.line.at(0)).toBeCloseTo(after, 6)
  })

  test("the device's own word on what is heard moves the line and the pace", () => {
    const s = setUp()
    s.run(500)
    for (let i = 0; i < 60; i++) {
      s.run(50)
      s.p.heard(Math.round((s.now() - 1030) * 48), s.now())
    }
    expect(s.p.line.at(0)).toBeCloseTo(1030, 1)
    expect((s.p.line.at(s.pulled()) ?? 0) - s.now()).toBeLessThan(112)
  })
})

/**
 * A device with a clock of its own, wrong by so many parts in a million, that can be held up. Every two seconds one
 * second is silent, as between two repetitions.
 */
const device = (ppm: number) => {
  let t = 1000
  let handed = 0
  /** When it will have played all that it has, and when it plays the latest frames. */
  let busy = 0
  const heard: { frame: number; at: number }[] = []
  const second = (frame: number): number => Math.floor(frame / RATE)
  let dry = 0
  let next = 0
  const p = pace(
    {
      depth: adaptiveDepth(false),
      now: () => t,
      pull: out => {
        next += out.length / 2
      },
      silentIn: (from, to) => second(from) % 2 === 1 && second(to) === second(from),
      dry: () => dry++,
    },
    (block, taken) => {
      const begins = Math.max(busy, t)
      const frames = block.length / 2
      heard.push({ frame: next - frames, at: begins + 1 })
      busy = begins + (msOf(frames) * 1e6) / (1e6 + ppm)
      handed += frames
      taken()
    },
    1,
  )
  const run = (ms: number): void => {
    for (const end = t + ms; t < end; t += 5) {
      p.wake()
      if (heard.length > 100) heard.splice(0, heard.length - 100)
    }
  }
  return {
    run,
    hold: (ms: number) => {
      busy += ms
    },
    /** By how much the latest frames are heard later than is foretold now, and how long they wait, ms. */
    late: () => {
      const last = heard.at(-1) ?? { frame: 0, at: 0 }
      return { late: last.at - (p.line.at(last.frame) ?? Number.NaN), depth: last.at - t }
    },
    dry: () => dry,
    handed: () => handed,
  }
}

describe('a device that says nothing of itself', () => {
  test.each([200, -200])(
    'with a clock wrong by %d parts in a million lags by no more after half an hour',
    ppm => {
      const d = device(ppm)
      for (let look = 0; look < 24; look++) {
        d.run(look === 0 ? 600_000 : 60_000)
        const { late, depth } = d.late()
        expect(Math.abs(late)).toBeLessThan(15)
        expect(depth).toBeLessThan(125)
      }
      expect(d.dry()).toBe(0)
    },
  )

  test('that was held up for 300 ms is on time again after two minutes', () => {
    const d = device(0)
    d.run(60_000)
    d.hold(300)
    d.run(1000)
    expect(d.late().late).toBeGreaterThan(250)
    d.run(120_000)
    expect(Math.abs(d.late().late)).toBeLessThan(5)
    expect(d.late().depth).toBeLessThan(115)
  })
})
