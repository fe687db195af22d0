import { describe, expect, test } from 'vitest'
import { onsetsJson, timedOnsets } from '../../src/files/onsets.ts'
import { music, played, RATE } from '../click/support.ts'

const program = played(music('2/4', 2, '92'), { countIn: 1 })

describe('a table of onsets', () => {
  test('gives frame, seconds, role, measure and beat of each, in order', () => {
    const read = JSON.parse(onsetsJson([{ id: 1, at: 0, program }], RATE))
    expect(read).toHaveLength(program.onsets.length)
    expect(read.at(-2)).toEqual({
      frame: program.onsets.at(-2)?.frame,
      seconds: (program.onsets.at(-2)?.frame ?? 0) / RATE,
      role: 'downbeat',
      measure: 2,
      beat: 1,
    })
  })

  test('counts frames from the start of the timeline, not of the program', () => {
    const both = timedOnsets(
      [
        { id: 1, at: 0, program },
        { id: 2, at: program.frames, program },
      ],
      RATE,
    )
    expect(both[program.onsets.length]?.frame).toBe(program.frames)
    expect(both.map(o => o.frame)).toEqual(both.map(o => o.frame).sort((a, b) => a - b))
  })

  test('leaves out what a cut has silenced', () => {
    const third = program.onsets[2]?.frame ?? 0
    expect(timedOnsets([{ id: 1, at: 500, program, cut: 500 + third }], RATE)).toHaveLength(2)
  })

  test('of nothing is an empty array', () => {
    expect(JSON.parse(onsetsJson([], RATE))).toEqual([])
  })
})
