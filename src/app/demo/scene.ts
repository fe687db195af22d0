import { sectionKey } from '../../ladder/key.ts'
import { DEFAULT_RULES } from '../../ladder/rules.ts'
import { rungs } from '../../ladder/rungs.ts'
import { plainForm } from '../../music/form.ts'
import { parseMeter } from '../../music/meter.ts'
import { checked } from '../../music/result.ts'
import { tempo } from '../../music/tempo.ts'
import { RATE } from '../../sound/stream.ts'
import { REST } from '../../visit/rest.ts'
import type { Setup } from '../../visit/session.ts'

const START = tempo(132)
const GOAL = tempo(160)
const STEP = { kind: 'notch' } as const

/** An invented passage with a short ladder. */
export const SCENE = {
  piece: 'Weir Street Overture',
  measures: '41-44',
  music: 'crescendo into 43, tip of the phrase on the long note',
  key: sectionKey('demonstration'),
  start: START,
  goal: GOAL,
  step: STEP,
  direction: 'up',
  rules: DEFAULT_RULES,
} as const

/** The same in every run, whatever was practiced before. */
export const sceneSetup = (): Setup => ({
  key: SCENE.key,
  form: plainForm(checked(parseMeter('2/4')), 4, GOAL),
  numbers: ['41', '42', '43', '44'],
  goal: GOAL,
  rhythm: null,
  opening: { rungs: checked(rungs(START, GOAL, STEP)), at: 0, rules: DEFAULT_RULES },
  ceiling: null,
  click: { countIn: 1 },
  pedals: 2,
  after: 'wait',
  rest: REST,
  rate: RATE,
})
