import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { zero } from '../../src/music/fraction.ts'
import { performed } from '../../src/score/repeats.ts'
import { NO_SIGNS } from '../../src/score/road.ts'
import type { Measure, Road } from '../../src/score/score.ts'
import {
  backward,
  barline,
  direction,
  ending,
  forward,
  head,
  type MeasureText,
  note,
  partOf,
  words,
} from './scores.ts'

const bar = note(16)
const sound = (attrs: string) => `<sound ${attrs}/>`
/** The measures as played, counted from 1, and what was remarked. */
const played = (...measures: readonly MeasureText[]) => {
  const [first, ...rest] = measures
  const { order, warnings } = performed(
    partOf([typeof first === 'string' ? head() + first : (first ?? ''), ...rest]),
  )
  return { order: order.map(i => i + 1).join(' '), warnings }
}
const order = (...measures: readonly MeasureText[]) => {
  const { order, warnings } = played(...measures)
  expect(warnings).toEqual([])
  return order
}
const within = ([start, end]: readonly [string, string], inside = bar) => start + inside + end
const open = (numbers: string) => within(ending(numbers, ''))

describe('repeats', () => {
  test('from their sign, or from the start', () => {
    expect(order(bar, forward + bar, bar + backward(), bar)).toBe('1 2 3 2 3 4')
    expect(order(bar, bar + backward(), bar)).toBe('1 2 1 2 3')
  })

  test('without a beginning go back to the end of the repeat before', () => {
    expect(order(bar + backward(), bar, bar + backward())).toBe('1 1 2 3 2 3')
  })

  test('as often as they say', () => {
    expect(order(bar + backward(' times="5"'), bar)).toBe('1 1 1 1 1 2')
    expect(order(bar + backward(' times="1"'), bar)).toBe('1 2')
    expect(order(bar + backward(' times="some"'), bar)).toBe('1 1 2')
  })

  test('that would play 50,000 measures and more are left out, and it is said', () => {
    const many = (last: string) =>
      played(...Array.from({ length: 600 }, (_, i) => (i === 599 ? bar + last : bar)))
    expect(many(backward(' times="99"')).warnings).toEqual([
      'played out it is longer than 50000 measures: the rest is left out',
    ])
    expect(many(backward(' times="9"')).warnings).toEqual([])
  })

  test('a sign on the left of the next measure or on the right of the one before says the same', () => {
    const endLeft = barline('left', '<repeat direction="backward"/>')
    const beginRight = barline('right', '<repeat direction="forward"/>')
    expect(order(bar, bar + beginRight, bar, endLeft + bar)).toBe('1 2 3 3 4')
  })

  test('an implied beginning in a sound counts', () => {
    expect(order(bar, sound('forward-repeat="yes"') + bar, bar + backward())).toBe('1 2 3 2 3')
  })

  test('that do not end are played once, and said', () => {
    expect(played(bar, forward + bar, bar)).toEqual({
      order: '1 2 3',
      warnings: ['the repeat that begins at measure 2 does not end: it is played once'],
    })
  })

  test('inside a measure are left out, and said when the part is read', () => {
    const part = partOf([head() + note(8) + barline('middle', '<repeat direction="backward"/>') + note(8)])
    expect(part.warnings).toEqual(['measure 1: a repeat sign inside the measure is left out'])
  })
})

describe('endings', () => {
  test('a first and a second', () => {
    expect(order(bar, within(ending('1')), open('2'), bar)).toBe('1 2 1 3 4')
  })

  test('one for the first two times, one for the third', () => {
    expect(order(bar, within(ending('1, 2')), open('3'))).toBe('1 2 1 2 1 3')
    expect(order(bar, within(ending('1-2')), open('3'))).toBe('1 2 1 2 1 3')
  })

  test('over several measures', () => {
    const [start, end] = ending('1')
    expect(order(bar, start + bar, bar + end, open('2'))).toBe('1 2 3 1 4')
  })

  test('a first one alone is left out the second time', () => {
    expect(order(bar, within(ending('1')), bar)).toBe('1 2 1 3')
  })

  test('that share a number or leave one out are remarked', () => {
    expect(played(bar, within(ending('1')), open('1')).warnings).toContain(
      'the endings from measure 2 on share a number',
    )
    expect(played(bar, within(ending('1')), open('3')).warnings).toContain('no ending 2 stands at measure 2')
  })

  test('that say a number twice, or nought, mean it once', () => {
    expect(order(bar, within(ending('1, 1')), open('2'))).toBe('1 2 1 3')
    expect(order(bar, within(ending('0, 1')), open('2'))).toBe('1 2 1 3')
    expect(order(bar, within(ending('1-3')), open('4'))).toBe('1 2 1 2 1 2 1 3')
    expect(order(bar, within(ending('1 – 2')), open('3'))).toBe('1 2 1 2 1 3')
  })

  test('end before the next bracket where they have no sign of their end', () => {
    const start = (n: string) => barline('left', `<ending number="${n}" type="start"/>`)
    const back = barline('right', '<repeat direction="backward"/>')
    expect(order(bar, start('1') + bar + back, start('2') + bar, bar)).toBe('1 2 1 3 4')
    expect(order(bar, start('1') + bar, bar + back, start('2') + bar, bar)).toBe('1 2 3 1 4 5')
    // where no sign leads back from the first, the second is never heard, and that is all that is said
    expect(played(bar, start('1') + bar, start('2') + bar + back, bar)).toEqual({
      order: '1 2 4',
      warnings: ['the ending 2 at measure 3 is never reached'],
    })
  })

  test('whose bracket ends before the repeat sign are played every time, and said', () => {
    const [start, end] = ending('1', '')
    expect(played(bar, start + bar + end, bar + backward(), bar)).toEqual({
      order: '1 2 3 1 2 3 4',
      warnings: ['the bracket at measure 2 ends before its repeat sign: it is played every time'],
    })
  })

  test('without a number are played each time', () => {
    expect(order(bar, within(ending('', '<repeat direction="backward" times="3"/>')), bar)).toBe(
      '1 2 1 2 1 2 3',
    )
    expect(order(bar, within(ending('')), bar)).toBe('1 2 1 2 3')
  })

  test('that are never reached are remarked', () => {
    const { order, warnings } = played(bar, open('2'), bar)
    expect(order).toBe('1 3')
    expect(warnings).toEqual([
      'no ending 1 stands at measure 2',
      'the ending 2 at measure 2 is never reached',
    ])
  })
})

describe('jumps', () => {
  const fine = words('Fine', sound('fine="yes"'))
  const segno = direction('<segno/>', sound('segno="s1"'))
  const coda = direction('<coda/>', sound('coda="c1"'))
  const toCoda = words('To Coda', sound('tocoda="c1"'))

  test('da capo al fine leaves the repeats out', () => {
    expect(
      order(
        bar + backward(),
        bar + fine,
        bar + backward(),
        bar + words('D.C. al Fine', sound('dacapo="yes"')),
      ),
    ).toBe('1 1 2 3 2 3 4 1 2')
  })

  test('dal segno al coda', () => {
    const back = words('D.S. al Coda', sound('dalsegno="s1"'))
    expect(order(bar, segno + bar, bar + toCoda, bar, bar + back, coda + bar, bar)).toBe('1 2 3 4 5 2 3 6 7')
  })

  test('the way back takes the last ending, the coda its own repeats', () => {
    const back = sound('dacapo="yes"')
    expect(
      order(
        bar,
        within(ending('1')),
        open('2'),
        bar + toCoda,
        bar + back,
        coda + bar,
        forward + bar + backward(),
      ),
    ).toBe('1 2 1 3 4 5 1 3 4 6 7 7')
  })

  test('a repeat that is marked for it is played after the jump', () => {
    expect(order(bar + backward(' after-jump="yes"'), bar + fine, bar + sound('dacapo="yes"'))).toBe(
      '1 1 2 3 1 1 2',
    )
  })

  test('printed words do where there is no sound', () => {
    expect(order(bar, bar + words('Fine'), bar, bar + words('D. C. al Fine'))).toBe('1 2 3 4 1 2')
    expect(order(bar, direction('<segno/>') + bar, bar, bar + words('dal segno'))).toBe('1 2 3 4 2 3 4')
  })

  test('of two bare coda signs one is the way out and the other the goal', () => {
    const sign = direction('<coda/>')
    expect(order(bar, bar + sign, bar, bar + words('D.C. al Coda'), sign + bar)).toBe('1 2 3 4 1 2 5')
  })

  test('a coda sign beside "to coda" is no goal', () => {
    const out = direction('<coda/>', sound('tocoda="coda"'))
    expect(order(bar, bar + out, bar + out, bar + sound('dacapo="yes"'), direction('<coda/>') + bar)).toBe(
      '1 2 3 4 1 2 5',
    )
  })

  test('go to the sign of their name, else to the nearest', () => {
    const to = (name: string, label: string) => sound(`${name}="${label}"`)
    expect(order(to('segno', 'a') + bar, to('segno', 'b') + bar, bar + to('dalsegno', 'a'))).toBe(
      '1 2 3 1 2 3',
    )
    expect(order(to('segno', 'a') + bar, to('segno', 'b') + bar, bar + to('dalsegno', 'x'))).toBe('1 2 3 2 3')
    expect(
      order(
        to('segno', 'b') + bar,
        to('segno', 'a') + bar,
        bar + to('dalsegno', 'b'),
        to('segno', 'b') + bar,
      ),
    ).toBe('1 2 3 1 2 3 4')
    const codas = (label: string) =>
      order(
        bar + to('tocoda', label),
        bar + sound('dacapo="yes"'),
        to('coda', 'a') + bar,
        to('coda', 'b') + bar,
      )
    expect([codas('a'), codas('b'), codas('x')]).toEqual(['1 2 1 3 4', '1 2 1 4', '1 2 1 3 4'])
  })

  test('a way to the coda is taken once', () => {
    const again = sound('dacapo="yes"')
    expect(order(bar + toCoda, bar + again, coda + bar, bar + again)).toBe('1 2 1 3 4 1 2 3 4')
  })

  test('one coda sign alone is no way out', () => {
    expect(order(bar, direction('<coda/>') + bar, bar + sound('dacapo="yes"'))).toBe('1 2 3 1 2 3')
  })

  test('a fine before any jump is passed over, and a jump is taken once', () => {
    expect(order(bar + fine, bar, bar + sound('dacapo="yes"'))).toBe('1 2 3 1')
    expect(order(bar, bar + sound('dacapo="yes"'), bar + sound('dacapo="yes"'))).toBe('1 2 1 2 3 1 2 3')
    expect(order(bar, bar + sound('dacapo="no" fine="no" forward-repeat="no"'), bar)).toBe('1 2 3')
  })

  test('a sign counts though its sound speaks of something else', () => {
    const tempo = sound('tempo="90"')
    expect(order(bar, direction('<segno/>', tempo) + bar, bar + words('D.S.', tempo))).toBe('1 2 3 2 3')
    expect(
      order(
        bar + words('To Coda', tempo),
        bar + words('D.C.', tempo),
        bar,
        direction('<coda/>', tempo) + bar,
      ),
    ).toBe('1 2 1 4')
    expect(order(bar, bar + words('Fine', tempo), bar + words('D.C.', tempo))).toBe('1 2 3 1 2')
  })

  test('signs on a bar line count as well', () => {
    expect(order(bar, barline('left', '<segno/>') + bar, bar + sound('dalsegno=""'))).toBe('1 2 3 2 3')
    expect(
      order(bar + sound('tocoda="c"'), bar + sound('dacapo="yes"'), bar, barline('left', '<coda/>') + bar),
    ).toBe('1 2 1 4')
  })

  test.each([
    ['D.C.', '1 2 3 1 2 3'],
    ['D. C.', '1 2 3 1 2 3'],
    ['Da Capo al Fine', '1 2 3 1 2 3'],
    ['D.S.', '1 2 3 2 3'],
    ['D. S. al Coda', '1 2 3 2 3'],
    ['dal segno', '1 2 3 2 3'],
    ['d.s', '1 2 3'],
    ['and.s.', '1 2 3'],
  ])('"%s" at the end', (text, expected) => {
    expect(order(bar, direction('<segno/>') + bar, bar + words(text))).toBe(expected)
  })

  test.each([
    ['Fine', '1 2 1'],
    ['(fine)', '1 2 1'],
    ['FINE.', '1 2 1'],
    ['Fine del atto', '1 2 1 2'],
    ['To Coda', '1 2 1 3'],
    ['(to coda)', '1 2 1 3'],
    ['go to coda', '1 2 1 2 3'],
  ])('"%s" on the way', (text, expected) => {
    const { order } = played(bar + words(text), bar + words('D.C.'), direction('<coda/>') + bar)
    expect(order.startsWith(expected)).toBe(true)
    expect(order.length).toBeLessThanOrEqual(expected.length + 2)
  })

  test('without their goal are left out, and said', () => {
    expect(played(bar, bar + sound('dalsegno="s1"'))).toEqual({
      order: '1 2',
      warnings: ['measure 2: no segno is found for its dal segno'],
    })
  })
})

test('whatever the signs say, playing ends and begins at the beginning', () => {
  const label = fc.option(fc.constantFrom('', 'a', 'b'), { nil: null })
  const flag = fc.boolean()
  const rare = fc.nat(5).map(n => n === 0)
  const road: fc.Arbitrary<Road> = fc.record({
    forward: rare,
    backward: fc.option(
      fc.record({ times: fc.option(fc.constantFrom(1, 2, 3, 1_000_000), { nil: null }), afterJump: flag }),
      { nil: null, freq: 2 },
    ),
    endingStart: fc.option(fc.array(fc.integer({ min: 1, max: 4 }), { maxLength: 3 }), {
      nil: null,
      freq: 2,
    }),
    endingStop: rare,
    segno: label,
    coda: label,
    toCoda: label,
    dalSegno: label,
    daCapo: rare,
    fine: rare,
  })
  const measures = fc.array(fc.oneof(fc.constant(NO_SIGNS), road), {
    minLength: 1,
    maxLength: 12,
    size: 'max',
  })
  let jumped = 0
  fc.assert(
    fc.property(measures, roads => {
      const part: { measures: readonly Measure[] } = {
        measures: roads.map((road, index) => ({
          index,
          number: String(index + 1),
          shown: '',
          implicit: false,
          at: zero,
          length: zero,
          meter: null,
          meterText: '',
          road,
          bar: null,
          key: null,
        })),
      }
      const { order } = performed(part)
      expect(order.length).toBeLessThanOrEqual(50_000)
      expect(order.every(i => i in roads)).toBe(true)
      if (!roads[0]?.endingStart) expect(order[0]).toBe(0)
      if (order.length > roads.length) jumped++
    }),
    { numRuns: 500 },
  )
  expect(jumped).toBeGreaterThan(50)
})
