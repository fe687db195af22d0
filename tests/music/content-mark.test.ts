import fc from 'fast-check'
import { expect, it } from 'vitest'
import { contentMark, type Form } from '../../src/music/form.ts'
import { frac, zero } from '../../src/music/fraction.ts'
import { meter, music, tempoOf } from '../click/support.ts'
import { anyForm } from './any-form.ts'

const base = music('4/4', 4, '96', frac(1, 4))
const mark = (f: Form, place = '41 42 43 44') => contentMark(f, place)
const changing = (second: string, first = '96'): Form => ({
  ...base,
  marks: [
    { at: zero, tempo: tempoOf(first) },
    { at: frac(9, 4), tempo: tempoOf(second) },
  ],
})

it('is a short text that is the same on every machine', () => {
  expect(mark(base)).toMatch(/^[0-9a-z]{8,13}$/)
  expect(mark(base)).toBe(mark(music('4/4', 4, '96', frac(1, 4))))
})

it('is the text that players’ files have held since the first of them', () => {
  expect(mark(base)).toBe('yhas77536eaw')
  expect(mark(music('3/4', 8, '120'), '1 2 3 4 5 6 7 8')).toBe('k9au9h3tr8k4')
})

it('stays when only the goal or the breaths are changed', () => {
  expect(mark(music('4/4', 4, '132', frac(1, 4)))).toBe(mark(base))
  expect(mark({ ...base, breaths: [{ at: frac(1), kind: 'breath', adds: zero }] })).toBe(mark(base))
  expect(mark(changing('48'))).toBe(mark(changing('60', '120')))
})

it('changes with the place, the meter, the pick-up, the length, a tempo’s ratio and a ramp', () => {
  const ramp = changing('48')
  const all = [
    mark(base),
    mark(base, '45 46 47 48'),
    mark(music('3/4', 4, '96', frac(1, 4))),
    mark(music('4/4', 4, '96', frac(1, 8))),
    mark(music('4/4', 4, '96')),
    mark(music('4/4', 5, '96', frac(1, 4))),
    mark({ ...base, meters: [...base.meters, { at: frac(5, 4), meter: meter('3/4') }] }),
    mark(changing('48')),
    mark(changing('60')),
    mark({ ...ramp, marks: ramp.marks.map(m => ({ ...m, ramp: true as const })) }),
  ]
  expect(new Set(all).size).toBe(all.length)
})

it('never throws, whatever the tempos', () => {
  fc.assert(
    fc.property(anyForm, f => {
      expect(mark(f)).toMatch(/^[0-9a-z]+$/)
    }),
  )
})

it('changes with a meter whose measures are as long, and is another for each of many pieces of music', () => {
  const meters = ['4/4', '2/2', '8/8', '3+3+2/8', '16/16']
  expect(new Set(meters.map(m => mark(music(m, 4, '96')))).size).toBe(meters.length)
  const moved = (at: Form['length']): Form => ({
    ...base,
    meters: [...base.meters, { at, meter: meter('2/2') }],
  })
  expect(mark(moved(frac(5, 4)))).not.toBe(mark(moved(frac(9, 4))))
})
