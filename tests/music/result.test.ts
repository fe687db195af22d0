import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  attempt,
  attemptLater,
  checked,
  failed,
  ok,
  type Problem,
  printable,
  problem,
  type Refused,
  sentence,
  wrong,
} from '../../src/music/result.ts'
import { anyText } from './any.ts'

describe('what is said when something was not understood', () => {
  it('is one sentence that begins with the field and names what was typed and what is accepted', () => {
    const { problem: p } = problem('goal tempo', 'quick', 'beats a minute from 1 to 999')
    expect(sentence(p)).toMatch(/^"quick" [^.]+\. Try beats a minute from 1 to 999\.$/)
  })

  it('says that nothing was typed when nothing was', () => {
    expect(sentence({ field: 'meter', got: '', accepted: '4/4' })).toMatch(
      /^The meter is missing\. Type 4\/4\.$/,
    )
  })

  it('cannot be used to send commands to the terminal', () => {
    expect(printable('a\u001b[2Jb\u009b31m\u202eend')).toBe('a [2Jb 31m end')
    fc.assert(
      fc.property(anyText, s => {
        const said = sentence({ field: 'title', got: s, accepted: 'text' })
        // biome-ignore lint/suspicious/noControlCharactersInRegex: that none of them is left is the point
        expect(said).not.toMatch(/[\u0000-\u001f\u007f-\u009f]/)
      }),
      { numRuns: 1000 },
    )
  })

  it('leaves ordinary text of any language as it is', () => {
    expect(printable('Größe, Übung 3: «più mosso» 練習')).toBe('Größe, Übung 3: «più mosso» 練習')
  })
})

describe('the sentence for what was typed', () => {
  const said = (p: Partial<Problem>): string =>
    sentence({ field: 'meter', got: '6/7', accepted: '6/8, 3/4 or 2+2+3/8', ...p })

  it.each<[Partial<Problem>, string]>([
    [{ isnt: 'a meter' }, '"6/7" isn\'t a meter. Try 6/8, 3/4 or 2+2+3/8.'],
    [{}, '"6/7" doesn\'t work for the meter. Try 6/8, 3/4 or 2+2+3/8.'],
    [
      { field: 'breath 2, at', isnt: 'a place' },
      'In breath 2, "6/7" isn\'t a place. Try 6/8, 3/4 or 2+2+3/8.',
    ],
    [{ field: 'breath 2', isnt: 'a place' }, 'In breath 2, "6/7" isn\'t a place. Try 6/8, 3/4 or 2+2+3/8.'],
    [{ field: 'breath 2, at' }, 'In breath 2, at "6/7" doesn\'t work. Try 6/8, 3/4 or 2+2+3/8.'],
    [
      { field: 'weir.xml, line 4', isnt: 'XML' },
      'In weir.xml, line 4, "6/7" isn\'t XML. Try 6/8, 3/4 or 2+2+3/8.',
    ],
    [{ field: '--meter' }, '"6/7" doesn\'t work for --meter. Try 6/8, 3/4 or 2+2+3/8.'],
    [{ got: '' }, 'The meter is missing. Type 6/8, 3/4 or 2+2+3/8.'],
    [{ field: '--meter', got: '' }, '--meter is missing. Type 6/8, 3/4 or 2+2+3/8.'],
    [{ field: 'breath 2, at', got: '' }, 'In breath 2, at is missing. Type 6/8, 3/4 or 2+2+3/8.'],
    [{ field: 'breath 2', got: '' }, 'In breath 2, something is missing. Type 6/8, 3/4 or 2+2+3/8.'],
    [{ got: '6\u001b[2J' }, '"6 [2J" doesn\'t work for the meter. Try 6/8, 3/4 or 2+2+3/8.'],
    [{ says: 'No such\u001bfile.' }, 'No such file.'],
  ])('%j: %s', (p, sentence) => {
    expect(said(p)).toBe(sentence)
  })

  it('is kept as its parts', () => {
    expect(problem('meter', '6/7', '6/8')).toEqual({
      ok: false,
      problem: { field: 'meter', got: '6/7', accepted: '6/8' },
    })
    expect(problem('meter', '6/7', '6/8', 'a meter').problem.isnt).toBe('a meter')
  })

  it('is a whole one where the parts would not make a good one; what failed was typed well', () => {
    expect(sentence(wrong('You have no pieces yet.').problem)).toBe('You have no pieces yet.')
    expect(wrong('You have no pieces yet.').problem.failed).toBeUndefined()
    expect(failed('The disk is full.').problem).toMatchObject({ says: 'The disk is full.', failed: true })
    expect(failed('The disk is full.').ok).toBe(false)
  })
})

describe('several steps', () => {
  const slow = problem('tempo', 'slow', '60')
  const second = problem('meter', '6/7', '6/8')

  it('give a value where all of them go well', async () => {
    expect(attempt(need => need(ok(2)) + need(ok(3)))).toEqual(ok(5))
    expect(await attemptLater(async need => need(ok(2)) + need(await Promise.resolve(ok(3))))).toEqual(ok(5))
  })

  it('end at the first problem; what comes after it is not tried', async () => {
    let tried = 0
    const steps = (need: <T>(r: { ok: true; value: T } | Refused) => T): number => {
      need(slow)
      tried++
      return need(second)
    }
    expect(attempt(steps)).toEqual(slow)
    expect(await attemptLater(async need => steps(need))).toEqual(slow)
    expect(tried).toBe(0)
  })

  it('end where their own problem is: one of the steps around them ends those', () => {
    const inner: unknown[] = []
    const whole = attempt(outer => {
      inner.push(attempt(() => outer(slow)))
      return 1
    })
    expect(whole).toEqual(slow)
    expect(inner).toEqual([])
  })

  it('hide no fault of ours', async () => {
    const fault = new TypeError('no tempo there')
    const broken = () => {
      throw fault
    }
    expect(() => attempt(broken)).toThrow(fault)
    await expect(attemptLater(async () => broken())).rejects.toThrow(fault)
  })
})

it('what was checked when it was kept is there, or something of ours is wrong', () => {
  expect(checked(ok(3))).toBe(3)
  expect(() => checked(problem('meter', '6/7', '6/8'))).toThrow(RangeError)
  expect(() => checked(problem('meter', '6/7', '6/8'))).toThrow('"6/7" doesn\'t work for the meter')
})
