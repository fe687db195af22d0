import { describe, expect, it } from 'vitest'
import { keyLabel, pedalLesson } from '../../src/terminal/learn.ts'
import { tokenizer } from '../../src/terminal/tokenizer.ts'

const right = (taken: Record<string, string> = {}) => pedalLesson({ pedal: 'right', since: 0, taken })

describe('learning a pedal', () => {
  it('three separate presses of one key teach it', () => {
    const lesson = right()
    expect(lesson.key({ id: 'PageDown', at: 1000 })).toEqual({ say: 'Page Down, 1 of 3.' })
    expect(lesson.key({ id: 'PageDown', at: 2000 })).toEqual({ say: 'Page Down, 2 of 3.' })
    expect(lesson.key({ id: 'PageDown', at: 3000 })).toEqual({
      say: 'Page Down is the right pedal.',
      learned: 'PageDown',
    })
  })

  it('a pedal held down is one press, however often its key repeats', () => {
    const lesson = right()
    lesson.key({ id: 'F13', at: 0 })
    for (let t = 500; t < 5000; t += 33) {
      const { say, learned } = lesson.key({ id: 'F13', at: t })
      expect(learned).toBeUndefined()
      expect(say).toContain('lift the foot')
    }
    expect(lesson.key({ id: 'F13', at: 6000 }).say).toBe('F13, 2 of 3.')
  })

  it('another key in between begins the count anew', () => {
    const lesson = right()
    lesson.key({ id: 'PageDown', at: 1000 })
    expect(lesson.key({ id: 'PageUp', at: 2000 }).say).toBe(
      'Two different keys arrived (Page Down, then Page Up): press the same pedal 3 times.',
    )
    expect(lesson.key({ id: 'PageDown', at: 3000 }).say).toBe('Page Down, 1 of 3.')
  })

  it('a pedal that sends two keys for one press is told apart from two presses', () => {
    const lesson = right()
    lesson.key({ id: 'Down', at: 1000 })
    expect(lesson.key({ id: 'Enter', at: 1004 }).say).toContain('One press sent two keys')
  })

  it.each([
    ['Escape', 'Escape cannot be a pedal'],
    ['C-c', 'Ctrl+c cannot be a pedal'],
    ['C-s', 'Ctrl+s cannot be a pedal'],
    ['M-a', 'Alt+a cannot be a pedal'],
    ['t', 'The key t already means take back'],
    ['Left', 'Left arrow is already the left pedal'],
  ])('%s is refused in one sentence', (id, why) => {
    const lesson = pedalLesson({
      pedal: 'right',
      since: 0,
      taken: { t: 'take back' },
      otherPedal: { pedal: 'left', id: 'Left' },
    })
    for (const at of [1000, 2000, 3000]) {
      const { say, learned } = lesson.key({ id, at })
      expect(learned).toBeUndefined()
      expect(say).toContain(why)
      expect(say.match(/\./g)).toHaveLength(1)
    }
  })

  it('replies of the terminal are no presses', () => {
    const found = tokenizer().feed(new TextEncoder().encode('\x1b[?1u\x1b[24;80R\x1b[<0;10;5M\x1b[I'), 0)
    expect(found).toEqual([])
  })

  it.each([
    ['Enter', true],
    ['Space', true],
    ['b', true],
    ['PageDown', false],
    ['Right', false],
  ])('%s: a warning that it types into other windows: %s', (id, warned) => {
    const lesson = right()
    lesson.key({ id, at: 1000 })
    lesson.key({ id, at: 2000 })
    const { say, learned } = lesson.key({ id, at: 3000 })
    expect(learned).toBe(id)
    expect(say.includes('other window')).toBe(warned)
  })

  it('after ten seconds of nothing it says why, and what to try', () => {
    const lesson = right()
    expect(lesson.waited(9999)).toBeNull()
    expect(lesson.waited(10_000)).toContain('media keys')
    lesson.key({ id: 'PageDown', at: 12_000 })
    expect(lesson.waited(21_999)).toBeNull()
    expect(lesson.waited(22_000)).toContain('Page Down')
  })

  it.each([
    ['PageDown', 'Page Down'],
    ['C-S-F1', 'Ctrl+Shift+F1'],
    ['media-play', 'media play'],
    ['-', '-'],
    ['C--', 'Ctrl+-'],
    ['Space', 'the space bar'],
  ])('%s is shown as %s', (id, label) => {
    expect(keyLabel(id)).toBe(label)
  })
})
