import { describe, expect, test } from 'vitest'
import { DEFAULT_LEVELS } from '../../../src/click/voices.ts'
import type { Stretch } from '../../../src/screens/reading/marks.ts'
import {
  closing,
  offered,
  type Pass,
  passOf as present,
  type State,
} from '../../../src/screens/reading/reduce.ts'
import { theReading } from '../../../src/screens/reading/screen.ts'
import { heardMeasure, markedText } from '../../../src/screens/reading/view.ts'
import { openSound } from '../../../src/sound/open-sound.ts'
import type { SoundEvent } from '../../../src/sound/sound.ts'
import type { Done } from '../../../src/store/trouble.ts'
import { pedalLock } from '../../../src/terminal/lock.ts'
import type { PlainTerminal } from '../../../src/terminal/open-plain.ts'
import { runScreen } from '../../../src/terminal/run-screen.tsx'
import { TWO } from '../controls.ts'
import { virtualClock } from '../practice/stage.ts'
import { passage, passOf } from './scene.ts'

const RIGHT = 'PageDown'
const LEFT = 'PageUp'

/** A reading in time that passes only when asked; what is stored is written down. */
const reading = async (passes: readonly Pass[] = [passOf()]) => {
  const clock = virtualClock()
  const silent = await openSound({
    output: 'silent',
    now: clock.now,
    player: new URL('file:///none'),
    levels: DEFAULT_LEVELS,
    silent: clock,
  })
  const listeners = new Set<(e: SoundEvent) => void>()
  const sound = {
    ...silent,
    on: (f: (e: SoundEvent) => void) => {
      listeners.add(f)
      return silent.on(f)
    },
  }
  const kept: { pass: string; names: string[] }[] = []
  let answer: Done<readonly string[]> | null = null
  let ended = false
  const size = () => ({ rows: 24, cols: 80 })
  const parts = {
    terminal: { size } as never,
    passes,
    sound,
    timing: clock,
    lock: pedalLock(),
    motion: 'glide' as const,
    controls: { ...TWO, right: RIGHT, left: LEFT },
    levels: DEFAULT_LEVELS,
    store: async (pass: Pass, all: readonly Stretch[]) => {
      const names = all.map(s => s.name)
      kept.push({ pass: pass.id, names })
      return answer ?? { ok: true, value: names }
    },
    louder: () => {},
  }
  const made = theReading(parts)
  let state: State = made.screen.state
  let press: (key: { id: string; at: number }) => void = () => {}
  const terminal = {
    ink: null,
    size,
    line: () => {},
    typing: () => {},
    onResize: () => () => {},
    onKey: (f: typeof press) => {
      press = f
      return () => {}
    },
  } as unknown as PlainTerminal
  const reduce: typeof made.screen.reduce = (s, a) => {
    const step = made.screen.reduce(s, a)
    state = step.state
    return step
  }
  void runScreen(terminal, clock, { ...made.screen, reduce }).then(() => {
    ended = true
  })
  const conductor = {
    state: () => state,
    frame: () => made.frame(state),
    key: (id: string, at: number) => press({ id, at }),
  }
  const s = {
    clock,
    conductor,
    kept,
    state: conductor.state,
    ended: () => ended,
    refuse: (message: string | null) => {
      answer = message === null ? null : { ok: false, message }
    },
    lose: () => {
      for (const f of listeners) f({ kind: 'trouble', what: 'gone', output: 'silent' })
    },
    key: async (id: string) => {
      conductor.key(id, clock.now())
      await clock.run(20)
    },
    /** Lets time pass until this beat of this measure (by its printed number) is heard, and a little more. */
    until: async (measure: number, beat: number) => {
      for (let i = 0; i < 5000; i++) {
        const frame = conductor.frame()
        const pass = present(conductor.state())
        const o = pass.program.onsets.find(x => x.measure === measure - 40 && x.beat === beat)
        if (frame !== null && o && frame >= o.frame + 2000) return
        await clock.run(20)
      }
      throw new Error(`m. ${measure} beat ${beat} was never heard`)
    },
    /** To the end of the passage, and the moment in which late presses still count. */
    end: async () => {
      for (let i = 0; i < 200 && conductor.state().phase === 'going'; i++) await clock.run(500)
    },
  }
  return s
}

describe('one slow reading', () => {
  test('waits for a press, counts in, and goes through the passage at the mark below 60 % of the goal', async () => {
    const s = await reading()
    await s.clock.run(3000)
    expect(s.conductor.frame()).toBeNull()
    const begun = s.clock.now()
    await s.key(LEFT)
    await s.clock.run(2000)
    expect(heardMeasure(s.state(), s.conductor.frame())).toMatchObject({ counting: true, name: '41' })
    await s.until(46, 2)
    expect(heardMeasure(s.state(), s.conductor.frame())).toEqual({
      index: 5,
      name: '46',
      letter: '',
      counting: false,
    })
    // 72 a minute: a measure of count-in and eight of music are 30 s, and 1.2 s for a late foot.
    while (!s.ended()) await s.clock.run(10)
    expect((s.clock.now() - begun) / 1000).toBeCloseTo(31.2, 1)
    expect(s.ended()).toBe(true)
    expect(closing(s.state())).toEqual(['Weir Street Overture/run at the weir: no hard spot was marked.'])
  })

  test('a press of either pedal marks the beat before, and the click goes on', async () => {
    const s = await reading()
    await s.key(RIGHT)
    await s.until(43, 3)
    await s.key(RIGHT)
    await s.until(47, 1)
    await s.key(LEFT)
    expect(s.state().phase).toBe('going')
    expect(markedText(s.state(), 60)).toBe('marked: m. 43, beat 2; m. 46, beat 4')
    await s.end()
    expect(s.state().phase).toBe('offer')
    expect(offered(s.state()).map(x => x.name)).toEqual(['m. 42-43', 'm. 45-46'])
    expect(s.kept).toEqual([])
  })

  test('y, Enter and the right pedal store; Escape leaves the marks unstored', async () => {
    for (const key of ['y', 'Enter', RIGHT]) {
      const s = await reading()
      await s.key(RIGHT)
      await s.until(43, 3)
      await s.key(RIGHT)
      await s.end()
      await s.clock.run(1000)
      await s.key(key)
      expect(s.kept, key).toEqual([{ pass: 'pass1', names: ['m. 42-43'] }])
      expect(s.ended()).toBe(true)
      expect(closing(s.state())[0]).toBe(
        'Weir Street Overture/run at the weir: stored m. 42-43. To practice: gradino practice "Weir Street Overture/run at the weir/m. 42-43"',
      )
    }
    const s = await reading()
    await s.key(RIGHT)
    await s.until(43, 3)
    await s.key(RIGHT)
    await s.end()
    await s.key('Escape')
    expect(s.kept).toEqual([])
    expect(closing(s.state())[0]).toBe(
      'Weir Street Overture/run at the weir: marked m. 43, beat 2; no section was stored.',
    )
  })

  test('a press that comes late marks the last beat, and one meant for the music stores nothing', async () => {
    const s = await reading()
    await s.key(RIGHT)
    await s.until(48, 4)
    await s.clock.run(1500)
    await s.key(RIGHT)
    expect(markedText(s.state(), 60)).toBe('marked: m. 48, beat 4')
    while (s.state().phase === 'going') await s.clock.run(20)
    await s.key(LEFT)
    await s.key(RIGHT)
    expect(s.state().phase).toBe('offer')
    expect(s.kept).toEqual([])
  })

  test('a press in the count-in is no mark', async () => {
    const s = await reading()
    await s.key(RIGHT)
    await s.clock.run(1500)
    await s.key(RIGHT)
    expect(s.state().marks).toEqual([])
    expect(s.state().note).toBe('Not yet: from the first note on.')
  })

  test('a foot that stays on the pedal marks once', async () => {
    const s = await reading()
    await s.key(RIGHT)
    await s.until(42, 1)
    for (let i = 0; i < 60; i++) {
      s.conductor.key(RIGHT, s.clock.now())
      await s.clock.run(33)
    }
    expect(s.state().marks).toHaveLength(1)
  })

  test('the last mark can be taken back, also when the sections are offered', async () => {
    const s = await reading()
    await s.key(RIGHT)
    await s.until(43, 3)
    await s.key(RIGHT)
    await s.until(46, 3)
    await s.key(RIGHT)
    await s.key('t')
    expect(s.state().note).toBe('Taken back: m. 46, beat 2.')
    await s.end()
    expect(offered(s.state()).map(x => x.name)).toEqual(['m. 42-43'])
    await s.key('t')
    expect(s.ended()).toBe(true)
    expect(s.kept).toEqual([])
  })

  test('stopped in the middle it is silent, and what was marked is offered', async () => {
    const s = await reading()
    await s.key(RIGHT)
    await s.until(43, 3)
    await s.key(RIGHT)
    await s.key('f')
    expect(s.conductor.frame()).toBeNull()
    expect(s.state().phase).toBe('offer')
    await s.key('y')
    expect(s.kept).toEqual([{ pass: 'pass1', names: ['m. 42-43'] }])
  })

  test('left with Ctrl+C the marks are said, so that they can be written down', async () => {
    const s = await reading()
    await s.key(RIGHT)
    await s.until(43, 3)
    await s.key(RIGHT)
    await s.key('C-c')
    expect(s.ended()).toBe(true)
    expect(closing(s.state())[0]).toContain('marked m. 43, beat 2; no section was stored.')
  })

  test('what cannot be stored is said, and can be tried again', async () => {
    const s = await reading()
    await s.key(RIGHT)
    await s.until(43, 3)
    await s.key(RIGHT)
    await s.key('f')
    s.refuse('The disk is full.')
    await s.key('y')
    expect(s.state()).toMatchObject({ phase: 'offer', note: 'The disk is full.' })
    s.refuse(null)
    await s.key('y')
    expect(s.ended()).toBe(true)
    expect(closing(s.state())[0]).toContain('stored m. 42-43')
  })

  test('when the sound is lost the marks stay, and a press begins the passage again', async () => {
    const s = await reading()
    await s.key(RIGHT)
    await s.until(43, 3)
    await s.key(RIGHT)
    s.lose()
    expect(s.state()).toMatchObject({ phase: 'ready', marks: [{ measure: 2, beat: 2 }] })
    await s.clock.run(1000)
    await s.key(RIGHT)
    expect(heardMeasure(s.state(), s.conductor.frame()).counting).toBe(true)
    await s.end()
    expect(offered(s.state()).map(x => x.name)).toEqual(['m. 42-43'])
  })

  test('a whole piece goes on passage after passage, each on a press', async () => {
    const second = passOf(passage({ id: 'pass2', name: 'coda', measures: '61-62', count: 2 }))
    const s = await reading([passOf(), second])
    await s.key(RIGHT)
    await s.until(43, 3)
    await s.key(RIGHT)
    await s.key('f')
    await s.key('y')
    expect(s.state()).toMatchObject({ phase: 'ready', at: 1, marks: [], note: 'Stored: m. 42-43.' })
    await s.clock.run(5000)
    expect(s.conductor.frame()).toBeNull()
    await s.key(RIGHT)
    await s.end()
    expect(s.ended()).toBe(true)
    expect(closing(s.state())).toHaveLength(2)
  })

  test('left before the first press nothing is said', async () => {
    const s = await reading()
    await s.key('f')
    expect(s.ended()).toBe(true)
    expect(closing(s.state())).toEqual([])
  })
})
