import { TimeSignature } from 'tonal'
import { describe, expect, test } from 'vitest'
import { toNumber } from '../../src/music/fraction.ts'
import { measureLength, meterText, pulses } from '../../src/music/meter.ts'
import { parseNoteValue } from '../../src/music/note-value.ts'
import { meter } from '../click/support.ts'

// Source: npm tonal 6.5.1 (MIT) as a second opinion.
describe('meters as tonal reads them', () => {
  test.each(['2/4', '3/4', '4/4', '2/2', '6/8', '9/8', '12/8', '5/8', '7/8', '3/16', '5/4'])(
    '%s has the same length',
    text => {
      const { upper, lower } = TimeSignature.get(text)
      expect(toNumber(measureLength(meter(text)))).toBeCloseTo(Number(upper) / Number(lower), 12)
    },
  )

  test.each(['3+2/8', '2+2+3/8', '3+2+2/8', '3+3+2/8', '4+3/8'])('%s has the same groups', text => {
    const { additive, lower } = TimeSignature.get(text)
    expect(meter(text).groups).toEqual(additive)
    expect(meter(text).unit).toEqual({ n: 1, d: lower })
  })

  test.each(['6/8', '9/8', '12/8'])('%s is compound: it counts in dotted quarters', text => {
    expect(TimeSignature.get(text).type).toBe('compound')
    const dotted = parseNoteValue('dotted-quarter')
    if (!dotted.ok) throw new Error('dotted-quarter')
    expect(pulses(meter(text), dotted.value)).toHaveLength(Number(TimeSignature.get(text).upper) / 3)
  })

  test.each(['2/4', '3/4', '4/4'])('%s is simple: every beat is a group of one', text => {
    expect(TimeSignature.get(text).type).toBe('simple')
    expect(meter(text).groups.every(g => g === 1)).toBe(true)
    expect(meterText(meter(text))).toBe(text)
  })
})
