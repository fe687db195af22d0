import type { Visit } from '../../src/ladder/history.ts'
import { tempo } from '../../src/music/tempo.ts'

/** A visit that was played at noon of a day: three clean ones of four in two minutes, unless the test says otherwise. */
export const played = (
  key: string,
  day: string,
  { ceiling, at, ...other }: Partial<Omit<Visit, 'ceiling'>> & { ceiling?: number; at?: string } = {},
): Visit => ({
  id: `${key} ${day}`,
  key,
  time: `${day}T${at ?? '12:00'}:00.000Z`,
  offset: 0,
  clean: 3,
  verdicts: 4,
  played: 4,
  seconds: 120,
  ceiling: ceiling === undefined ? null : tempo(ceiling),
  goal: false,
  last: null,
  rule: '3-in-a-row',
  stops: [],
  air: null,
  ...other,
})
