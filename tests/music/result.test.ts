import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { printable, problem, sentence } from '../../src/music/result.ts'
import { anyText } from './any.ts'

describe('what is said when something was not understood', () => {
  it('is one sentence that begins with the field and names what was typed and what is accepted', () => {
    const { problem: p } = problem('goal tempo', 'quick', 'beats a minute from 1 to 999')
    expect(sentence(p)).toMatch(/^goal tempo: "quick" [^.]+\. Try beats a minute from 1 to 999\.$/)
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
