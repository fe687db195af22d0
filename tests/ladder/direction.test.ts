import { expect, test } from 'vitest'
import { easier, harder } from '../../src/ladder/direction.ts'
import { frac } from '../../src/music/fraction.ts'
import { tempo } from '../../src/music/tempo.ts'

test('up, the faster tempo is the harder one; down, the slower one', () => {
  const [slow, fast] = [tempo(60), tempo(61)]
  for (const [a, b] of [
    [slow, fast],
    [fast, slow],
  ] as const) {
    expect([harder(a, b, 'up'), easier(a, b, 'up')]).toEqual([fast, slow])
    expect([harder(a, b, 'down'), easier(a, b, 'down')]).toEqual([slow, fast])
  }
})

test('of two that are the same the first keeps its note value', () => {
  const [quarter, half] = [tempo(120), tempo(60, frac(1, 2))]
  for (const d of ['up', 'down'] as const) {
    expect([harder(quarter, half, d), easier(quarter, half, d)]).toEqual([quarter, quarter])
    expect([harder(half, quarter, d), easier(half, quarter, d)]).toEqual([half, half])
  }
})
