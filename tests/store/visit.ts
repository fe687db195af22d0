import type { Body } from '../../src/ladder/event.ts'
import { tempo } from '../../src/music/tempo.ts'

export const opening = (key = 'weir/41-44 even'): Body => ({
  kind: 'visit',
  key,
  rungs: [tempo(92), tempo(96), tempo(100)],
  at: 0,
  rules: { up: { kind: 'row', n: 3 }, slips: 2, top: 5 },
})

export const verdict = (rep: number, clean = true): Body => ({
  kind: 'verdict',
  rep,
  tempo: tempo(92),
  whole: true,
  clean,
})
