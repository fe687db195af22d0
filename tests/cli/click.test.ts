import { describe, expect, test } from 'vitest'
import { readClick } from '../../src/cli/click.ts'
import { Stop } from '../../src/cli/command.ts'
import { meterText } from '../../src/music/meter.ts'
import { typed } from '../../src/music/tempo.ts'
import { clickOf } from '../../src/screens/click/reduce.ts'
import { player } from './typed.ts'

const refused = (t: Parameters<typeof readClick>[0]): string => {
  try {
    readClick(t)
  } catch (error) {
    if (error instanceof Stop && error.status === 2) return error.message
  }
  return ''
}

describe('just the click, as typed', () => {
  test('is 4/4 at a beat a second, all beats, at once', () => {
    const s = readClick({})
    expect([meterText(s.meter), typed(s.tempo), s.countIn, s.only]).toEqual(['4/4', '60', 0, null])
  })

  test('in 6/8 a beat is a dotted quarter; a tempo that is typed says its own', () => {
    expect(typed(readClick({ meter: '6/8' }).tempo)).toBe('dotted-quarter=60')
    expect(typed(readClick({ meter: '6/8', tempo: '90' }).tempo)).toBe('90')
  })

  test('takes beats, measures, pulse, subdivision and count-in', () => {
    const s = readClick({ beats: '2,4', on: '2', off: '1', pulse: 'eighth', subdivide: '2', countIn: '1' })
    expect(clickOf(s)).toMatchObject({
      pulse: { n: 1, d: 8 },
      subdivide: 2,
      only: { beats: [2, 4], measures: { on: 2, off: 1 } },
    })
    expect(s.countIn).toBe(1)
  })

  test('refuses what the meter does not have, with what it has', () => {
    expect(refused({ meter: '6/8', tempo: 'dotted-quarter=60', beats: '1,3' })).toBe(
      '"3" doesn\'t work for the beats. Try numbers from 1 to 2 in 6/8, like 2,4.',
    )
    expect(refused({ on: '2' })).toContain('--on and --off together')
    expect(refused({ beats: 'all; 1 from 112' })).toContain('only a ladder changes the click')
    expect(refused({ countIn: '9' })).toContain('from 0 to 8')
    expect(refused({ tempo: '0' })).toContain('from 1 to 999')
  })

  test('both names of the measures are read, and a missing terminal is said', async () => {
    const { type } = player()
    const long = await type('click', '--measures-on', '40', '--measures-off', '2')
    expect(long.err).toContain('"40" doesn\'t work for the measures on')
    expect((await type('click', '--on', '40', '--off', '2')).err).toBe(long.err)
    expect(await type('click')).toMatchObject({ status: 2, err: expect.stringContaining('--plain') })
  })
})
