import { expect, test } from 'vitest'
import { plainForm } from '../../../src/music/form.ts'
import { frac } from '../../../src/music/fraction.ts'
import { parseMeter } from '../../../src/music/meter.ts'
import { tempo } from '../../../src/music/tempo.ts'
import { type Suggestions, stuckPlace } from '../../../src/screens/practice/offers.ts'
import { NOTHING_ASKED as NOTHING } from '../../../src/screens/practice/words.ts'
import type { Session } from '../../../src/visit/session.ts'
import { must, setup, stage } from './stage.ts'

const verdicts = (journal: readonly { readonly kind: string }[]) => journal.filter(e => e.kind === 'verdict')
const air = true as const

test('a whole clean repetition says how long one breath was; a slip, and music without marks, do not', async () => {
  // Twelve quarters at 96 take 7.5 s.
  const s = await stage(setup({ measures: 3, start: 96, air }))
  await s.play('CN')
  expect(verdicts(s.journal)).toMatchObject([{ clean: true, air: 7.5 }, { clean: false }])
  expect(verdicts(s.journal)[1]).not.toHaveProperty('air')
  const unmarked = await stage(setup({ measures: 3, start: 96 }))
  await unmarked.play('C')
  expect(verdicts(unmarked.journal)[0]).not.toHaveProperty('air')
})

const slower = (form = plainForm(must(parseMeter('4/4')), 3, tempo(120))) => ({
  ...form,
  breaths: [{ at: frac(3, 2), kind: 'slow-breath' as const, adds: frac(1, 4), below: tempo(100) }],
})

test('a breath that is planned in the middle of a visit counts from the next repetition on', async () => {
  const s = await stage(setup({ measures: 3, start: 96 }))
  await s.press('right')
  s.conductor.act({ kind: 'music', form: slower(), text: 'Stored.' })
  await s.conductor.settled()
  await s.press('right', 'end')
  await s.clock.run(900)
  // The one that sounded was in one breath, and where to breathe was not marked.
  expect(verdicts(s.journal)[0]).not.toHaveProperty('air')
  await s.press('right', 'end')
  expect(verdicts(s.journal)[1]).toMatchObject({ air: 3.75 })
})

test('one that lies behind the music that sounds is made anew with the breath', async () => {
  const s = await stage(setup({ measures: 3, start: 96, air }))
  await s.press('right')
  await s.press('right', 'lastMeasure')
  const before = s.conductor.session().next?.program.frames ?? 0
  s.conductor.act({ kind: 'music', form: slower(), text: 'Stored.' })
  await s.conductor.settled()
  expect(s.conductor.session().note).toEqual({ kind: 'refused', text: 'Stored.' })
  // One quarter at 96 more.
  expect((s.conductor.session().next?.program.frames ?? 0) - before).toBe(30_000)
  expect(verdicts(s.journal)[0]).toMatchObject({ air: 7.5 })
})

test('y answers what was said last: the measure of three stops, or the breath that the line proposes', async () => {
  const asked: (string | null)[] = []
  let offers = false
  const suggests: Suggestions = {
    line: () => 'a breath',
    stuck: m => `m. ${m}: y makes a section`,
    asks: () => offers,
    join: () => null,
    yes: async (_, stuck) => {
      asked.push(stuck)
      return { text: stuck === null ? NOTHING : 'made' }
    },
  }
  const noted = (note: Session['note'], events: number) =>
    ({ note, events: Array.from({ length: events }) }) as unknown as Session
  const stuck = stuckPlace(suggests)
  const stop = noted({ kind: 'place', measure: '42' }, 4)
  stuck.see(stop)
  offers = true
  expect(stuck.line(stop)).toContain('m. 42: y makes a section')
  // The sentence stands until the next verdict, whatever is said meanwhile; then the breath is what was said last.
  expect(stuck.line(noted({ kind: 'hold' }, 4))).toContain('m. 42: y makes a section')
  expect(stuck.line(noted({ kind: 'clean' }, 5))).toBe('a breath')
  await stuck.yes(noted({ kind: 'clean' }, 5))
  await stuck.yes(noted({ kind: 'hold' }, 4))
  // Until what was done is said, the note still stands.
  stuck.see(stop)
  await stuck.yes(noted({ kind: 'hold' }, 4))
  offers = false
  stuck.see(noted({ kind: 'place', measure: '42' }, 7))
  // Without a proposal it may be answered later too, once.
  await stuck.yes(noted({ kind: 'clean' }, 5))
  await stuck.yes(noted({ kind: 'clean' }, 5))
  expect(asked).toEqual([null, '42', null, '42', null])
  expect(await stuckPlace(undefined).yes(stop)).toEqual({ text: NOTHING })
})
