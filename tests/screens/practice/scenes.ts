import { zero } from '../../../src/music/fraction.ts'
import { PRACTICE_KEYS } from '../../../src/screens/practice/key-table.ts'
import type { Shown } from '../../../src/screens/practice/view.ts'
import { wrongWords } from '../../../src/screens/practice/words.ts'
import { keyHints, USUAL_KEYS } from '../../../src/terminal/key-table.ts'
import type { Session } from '../../../src/visit/session.ts'
import { type Stage, setup, stage } from './stage.ts'

/** The practice screen of a session, with all that stands around it. */
export const shown = (s: Session, change: Partial<Shown> = {}): Shown => ({
  session: s,
  frame: null,
  seconds: 75,
  title: 'Weir Street Overture   Coda run, m. 41-44',
  date: 'ready by March 14, in 4 days',
  music: 'crescendo into 43',
  cold: '',
  wrongs: wrongWords(['notes', 'rhythm', 'breath', 'sound'], USUAL_KEYS),
  hints: keyHints(PRACTICE_KEYS, s.setup.ends ? 'apart' : 'ladder', USUAL_KEYS),
  choice: '',
  beside: '',
  keys: { right: 'Page Down', left: 'Page Up' },
  earlier: { clean: 0, verdicts: 0 },
  sound: 'click mf through naudiodon',
  typing: '',
  motion: 'glide',
  size: { rows: 24, cols: 80 },
  ...change,
})

/** Runs until a frame of the present take is heard. */
const hear = async (s: Stage, frame: number): Promise<void> => {
  for (let i = 0; i < 2000 && (s.conductor.frame() ?? -1) < frame; i++) await s.clock.run(10)
}

const breath = { at: { n: 7, d: 4 }, kind: 'breath', adds: zero } as const
const music = (measures: number) => {
  const made = setup({ measures })
  return { ...made, form: { ...made.form, breaths: [breath] } }
}

/** The states of the practice screen, each as it comes about. */
export const SCENES: Readonly<Record<string, () => Promise<Shown>>> = {
  ready: async () => shown((await stage(music(4))).conductor.session()),
  'counting in': async () => {
    const s = await stage(music(4))
    await s.press('right')
    await hear(s, 48_000 * 1.4)
    return shown(s.conductor.session(), { frame: s.conductor.frame() })
  },
  playing: async () => {
    const s = await stage(music(4))
    await s.press('right')
    const p = s.conductor.session().current?.program
    await hear(s, (p?.firstNote ?? 0) + 48_000 * 1.5)
    return shown(s.conductor.session(), { frame: s.conductor.frame() })
  },
  held: async () => {
    const made = setup({ measures: 4 })
    const wait = { at: { n: 3, d: 4 }, kind: 'fermata', adds: zero, waits: true } as const
    const s = await stage({ ...made, form: { ...made.form, breaths: [wait as never] } })
    await s.press('right')
    for (let i = 0; i < 900 && !s.conductor.session().current?.legs?.held; i++) await s.clock.run(20)
    return shown(s.conductor.session(), { frame: s.conductor.frame() })
  },
  clean: async () => {
    const s = await stage(music(2))
    await s.play('C')
    return shown(s.conductor.session(), { frame: s.conductor.frame() })
  },
  'not clean': async () => {
    const s = await stage(music(2))
    await s.play('CN')
    return shown(s.conductor.session(), { frame: s.conductor.frame() })
  },
  up: async () => {
    const s = await stage(music(2))
    await s.play('CCC')
    return shown(s.conductor.session(), { frame: s.conductor.frame() })
  },
  down: async () => {
    const s = await stage(setup({ measures: 2, from: 2 }))
    await s.play('NN')
    return shown(s.conductor.session(), { frame: s.conductor.frame() })
  },
  goal: async () => {
    const s = await stage(setup({ measures: 2, start: 116, goal: 120, from: 1 }))
    await s.play('CCCCC')
    return shown(s.conductor.session(), { frame: s.conductor.frame() })
  },
}
