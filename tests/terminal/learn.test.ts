import { describe, expect, it } from 'vitest'
import { type Lesson, type PedalLesson, pedalLesson, terminalKind } from '../../src/terminal/learn.ts'
import { tokenizer } from '../../src/terminal/tokenizer.ts'
import { keyLabel } from '../../src/terminal/words.ts'

const right = (taken: Record<string, string> = {}) => pedalLesson({ pedal: 'right', since: 0, taken })
const press = (lesson: PedalLesson, id: string, ...at: number[]): (Lesson | null)[] =>
  at.map(t => lesson.key({ id, at: t }))
const says = (lesson: PedalLesson, id: string, at: number): string => lesson.key({ id, at })?.say ?? ''

/** Three presses, then the pedal held for `hold` ms while the system repeats its key. */
const taught = (id: string, hold: { delay: number; interval: number; ms: number } | null): Lesson | null => {
  const lesson = right()
  press(lesson, id, 1000, 2000, 3000)
  lesson.key({ id, at: 5000 })
  let last = 5000
  if (hold)
    for (let t = hold.delay; t <= hold.ms; t += hold.interval) {
      last = 5000 + t
      expect(lesson.waited(last - 1)).toBeNull()
      expect(lesson.key({ id, at: last })).toBeNull()
    }
  return lesson.waited(hold ? last + 400 : 7500)
}

describe('learning a pedal', () => {
  it('three separate presses of one key, then two seconds held, teach it', () => {
    const lesson = right()
    expect(press(lesson, 'PageDown', 1000, 2000, 3000).map(l => l?.say)).toEqual([
      'Page Down, 1 of 3.',
      'Page Down, 2 of 3.',
      'Page Down it is. Now hold it down for two seconds, then lift.',
    ])
    expect(says(lesson, 'PageDown', 5000)).toBe('Keep it down.')
    expect(taught('PageDown', { delay: 660, interval: 40, ms: 2000 })).toEqual({
      say: 'Page Down is the right pedal. Held down it repeats after 0.7 s: within that time it counts once.',
      learned: { id: 'PageDown', repeat: { delay: 660, interval: 40 }, lockMs: 810 },
    })
  })

  // Delays that systems offer: checked against the settings of their keyboards, from memory.
  it.each([
    [250, 33, 400],
    [375, 90, 530],
    [500, 30, 650],
    [1000, 33, 1150],
    [1800, 90, 1950],
  ])('repeats after %i ms every %i ms: one press lasts %i ms', (delay, interval, lockMs) => {
    expect(taught('F13', { delay, interval, ms: 2100 })?.learned).toMatchObject({ lockMs })
  })

  it('a pedal that sends one tap however long it is held is known, and the usual time is kept', () => {
    expect(taught('F13', null)?.learned).toEqual({ id: 'F13', repeat: null, lockMs: 750 })
  })

  it('a hold that is let go at the first repeat measures nothing: it is asked for again', () => {
    const lesson = right()
    press(lesson, 'F13', 1000, 2000, 3000, 5000, 5500)
    expect(lesson.waited(5900)?.say).toContain('too short')
    for (let t = 8000; t <= 10_000; t += t === 8000 ? 500 : 30) lesson.key({ id: 'F13', at: t })
    expect(lesson.waited(10_500)?.learned?.repeat?.delay).toBe(500)
  })

  it('the third press, when it stays down, is not yet the hold', () => {
    const lesson = right()
    press(lesson, 'F13', 1000, 2000, 3000)
    expect(press(lesson, 'F13', 3300, 3330, 3360)).toEqual([null, null, null])
    expect(says(lesson, 'F13', 6000)).toBe('Keep it down.')
  })

  it('a pedal held down is one press, however often its key repeats', () => {
    const lesson = right()
    lesson.key({ id: 'F13', at: 0 })
    for (let t = 500; t < 5000; t += 33) expect(says(lesson, 'F13', t)).toContain('lift your foot')
    expect(says(lesson, 'F13', 6000)).toBe('F13, 2 of 3.')
  })

  it('another key in between begins the count anew', () => {
    const lesson = right()
    lesson.key({ id: 'PageDown', at: 1000 })
    expect(says(lesson, 'PageUp', 2000)).toBe(
      'Two different keys arrived (Page Down, then Page Up): press the same pedal 3 times.',
    )
    expect(says(lesson, 'PageDown', 3000)).toBe('Page Down, 1 of 3.')
  })

  it.each([
    ['Escape', "Escape can't be a pedal"],
    ['C-c', "Ctrl+c can't be a pedal"],
    ['C-s', "Ctrl+s can't be a pedal"],
    ['M-a', "Alt+a can't be a pedal"],
    ['t', 'The key t is used here: take back'],
    ['Left', 'Left arrow is already the left pedal'],
  ])('%s is refused in one sentence', (id, why) => {
    const lesson = pedalLesson({
      pedal: 'right',
      since: 0,
      taken: { t: 'take back' },
      otherPedal: { pedal: 'left', id: 'Left' },
    })
    for (const at of [1000, 2000, 3000]) {
      const told = lesson.key({ id, at })
      expect(told?.learned).toBeUndefined()
      expect(told?.say).toContain(why)
      expect(told?.say.match(/\./g)).toHaveLength(1)
    }
  })

  it('replies of the terminal are no presses', () => {
    const found = tokenizer().feed(new TextEncoder().encode('\x1b[?1u\x1b[24;80R\x1b[<0;10;5M'), 0)
    expect(found).toEqual([])
  })

  it.each([
    ['Enter', true],
    ['Space', true],
    ['b', true],
    ['chord', true],
    ['PageDown', false],
    ['Right', false],
    ['Up', false],
  ])('%s: a warning that it types into other windows: %s', (id, warned) => {
    const told = taught(id, { delay: 500, interval: 33, ms: 2000 })
    expect(told?.learned?.id).toBe(id)
    expect(told?.say.includes('also types into')).toBe(warned)
  })

  it('after ten seconds of nothing it says why, what to try, and says it again later', () => {
    const lesson = right()
    expect(lesson.waited(9999)).toBeNull()
    expect(lesson.waited(10_000)?.say).toContain('Media keys')
    expect(lesson.waited(10_500)).toBeNull()
    lesson.key({ id: 'PageDown', at: 12_000 })
    expect(lesson.waited(21_999)).toBeNull()
    expect(lesson.waited(22_000)?.say).toContain('in front')
  })

  it('a MIDI pedal is learned by three presses: it tells when it is lifted, and does not repeat', () => {
    const lesson = right()
    for (const at of [1000, 2000]) {
      lesson.key({ id: 'midi-cc64', at })
      expect(lesson.key({ id: 'midi-cc64-low', at: at + 300 })).toBeNull()
    }
    expect(lesson.key({ id: 'midi-cc64', at: 3000 })).toEqual({
      say: 'MIDI damper pedal is the right pedal.',
      learned: { id: 'midi-cc64', repeat: null, lockMs: 400 },
    })
  })

  it('one that idles at the top is learned by its other edge', () => {
    const lesson = right()
    const found = [1000, 2000, 3000].map(at => {
      const told = lesson.key({ id: 'midi-cc64-low', at })
      lesson.key({ id: 'midi-cc64', at: at + 300 })
      return told?.learned?.id
    })
    expect(found).toEqual([undefined, undefined, 'midi-cc64-low'])
  })

  it.each([
    ['PageDown', 'Page Down'],
    ['C-S-F1', 'Ctrl+Shift+F1'],
    ['media-play', 'media play'],
    ['-', '-'],
    ['C--', 'Ctrl+-'],
    ['Space', 'the space bar'],
    ['midi-cc64-low', 'MIDI damper pedal'],
    ['midi-cc11', 'MIDI controller 11'],
    ['midi-note36', 'MIDI note 36'],
    ['chord', 'several keys at once'],
  ])('%s is shown as %s', (id, label) => {
    expect(keyLabel(id)).toBe(label)
  })
})

describe('another terminal than the pedal was learned in', () => {
  it.each([
    [{ TERM: 'xterm-256color' }, 'xterm-256color'],
    [{ TERM: 'tmux-256color', TERM_PROGRAM: 'tmux', TMUX: '/tmp/1' }, 'tmux'],
    [{ TERM: 'xterm-kitty', SSH_TTY: '/dev/pts/1' }, 'xterm-kitty in ssh'],
    [{}, 'unknown'],
  ])('%j is called %s', (env, kind) => {
    expect(terminalKind(env)).toBe(kind)
  })
})
