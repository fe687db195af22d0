import { describe, expect, test } from 'vitest'
import { CLICKED, parseClicked } from '../../src/music/clicked.ts'
import { frac } from '../../src/music/fraction.ts'
import { sentence } from '../../src/music/result.ts'
import { tempo } from '../../src/music/tempo.ts'

type Texts = Parameters<typeof parseClicked>[0]
const read = (t: Texts) => {
  const r = parseClicked(t)
  return r.ok ? r.value : sentence(r.problem)
}

test('what clicks is read as it is written, and nothing is added to it', () => {
  expect(read({})).toEqual({})
  expect(read({ pulse: 'quarter; half from 100', subdivide: '2; 1 from 80', off: '2' })).toEqual({
    pulse: [
      { from: null, value: frac(1, 4) },
      { from: tempo(100), value: frac(1, 2) },
    ],
    subdivide: [
      { from: null, value: 2 },
      { from: tempo(80), value: 1 },
    ],
    off: [{ from: null, value: 2 }],
  })
  expect(read({ beats: 'all; 2,4 from 112', on: 'ALL; 2 from 126' })).toEqual({
    beats: [
      { from: null, value: null },
      { from: tempo(112), value: [2, 4] },
    ],
    on: [
      { from: null, value: null },
      { from: tempo(126), value: 2 },
    ],
  })
})

describe('its limits', () => {
  const values = { subdivide: 8, beats: 32, on: 32, off: 32 } as const

  test.each(Object.entries(values))('%s go from 1 to %i', (what, most) => {
    for (const n of [1, most]) expect(read({ [what]: String(n) })).not.toBeTypeOf('string')
    for (const n of ['0', String(most + 1), '1.5', '-1', '', '00001'])
      expect(read({ [what]: n }), n).toBeTypeOf('string')
  })

  test('what is wrong is named, with what can be typed', () => {
    expect(read({ subdivide: '9' })).toContain(
      '"9" doesn\'t work for subdivide. Try a whole number from 1 to 8',
    )
    expect(read({ beats: '2,x' })).toContain('numbers of beats from 1 to 32, like 2,4')
    expect(read({ on: 'some' })).toContain('"some" doesn\'t work for the measures on')
    expect(read({ off: 'all' })).toContain('"all" doesn\'t work for the measures off')
  })
})

test.each([
  ['pulse', 'quarter; half from 100'],
  ['subdivide', '2; 1 from 80'],
  ['beats', 'all; 2,4 from 112'],
  ['on', 'all; 2 from 126'],
  ['off', '2'],
] as const)('%s is kept as it was typed: %s', (what, text) => {
  const c = read({ [what]: text })
  const shown: string = typeof c === 'string' ? '' : CLICKED[what].show(c[what] as never)
  expect(shown).toBe(text)
})
