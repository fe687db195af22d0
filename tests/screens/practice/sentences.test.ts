import { describe, expect, test } from 'vitest'
import { DEFAULT_LEVELS } from '../../../src/click/voices.ts'
import { tempo } from '../../../src/music/tempo.ts'
import { soundLine } from '../../../src/screens/desk.ts'
import { practiceSheet, type Shown } from '../../../src/screens/practice/view.ts'
import * as words from '../../../src/screens/practice/words.ts'
import * as soundWords from '../../../src/sound/words.ts'
import { PEDAL_TABLE } from '../../../src/visit/pedal-table.ts'
import type { Remark } from '../../../src/visit/session.ts'
import { askedHint } from '../../../src/visit/slot.ts'
import { shown } from './scenes.ts'
import { setup, stage } from './stage.ts'

const SIZES = [
  { cols: 80, rows: 24 },
  { cols: 50, rows: 14 },
  { cols: 40, rows: 12 },
]
const KEYS = { right: 'Page Down', left: 'Page Up' }

const plain = (text: string): string => text.replaceAll(/\s+/g, ' ').trim()
const drawn = (p: Shown): string => {
  const rows = practiceSheet(p).map(r => r.map(part => part.text).join(''))
  for (const row of rows) expect([...row].length, row).toBeLessThanOrEqual(p.size.cols)
  expect(rows.length).toBeLessThanOrEqual(p.size.rows)
  return plain(rows.join('\n'))
}
/** Every note that the program can say, from its table. */
const SIMPLE = [
  'notYet',
  'clean',
  'slip',
  'cut',
  'hold',
  'already',
  'unclear',
  'unanswered',
  'waiting',
  'takenBack',
  'nothingToTakeBack',
  'suggest',
  'goal',
  'listened',
  'back',
] as const
const NOTES: readonly Remark[] = [
  ...SIMPLE.map((k): Remark => ({ kind: k })),
  ...(['up', 'stays', 'down', 'moved', 'listen'] as const).map(
    (k): Remark => ({ kind: k, tempo: tempo(112.5, { n: 3, d: 8 }) }),
  ),
  { kind: 'place', measure: '43' },
  { kind: 'held', pedals: 1 },
  { kind: 'held', pedals: 2 },
]
/** What is said by text: of the sound, of keys, of being stopped. */
const TEXTS = [
  ...[true, false].flatMap(b => [soundWords.brokeOffLine(b), soundWords.backLine('naudiodon', b)]),
  words.STOPPED,
  words.UNKNOWN_KEY,
  words.NOTHING_ASKED,
]

describe.each(SIZES)('every sentence of the practice screen, whole at $cols x $rows', size => {
  test('what was understood, with the keys that say what went wrong', async () => {
    const { conductor } = await stage(setup({ measures: 2 }))
    const s = { ...conductor.session(), phase: 'hold' as const }
    for (const note of [...NOTES, ...TEXTS.map((text): Remark => ({ kind: 'refused', text }))]) {
      const p = shown({ ...s, note }, { size })
      expect(drawn(p)).toContain(plain(words.noteWithHint(note, p.wrongs)))
    }
  })

  test('what each pedal does, at every moment, with one pedal and with two', async () => {
    for (const pedals of [1, 2] as const)
      for (const { moment } of PEDAL_TABLE) {
        const hint = words.pedalHint(moment, pedals, KEYS)
        const s = (await stage(setup({ measures: 2, pedals }))).conductor.session()
        const seen = drawn(shown(s, { size, choice: hint }))
        expect(seen).toContain(plain(size.cols < 80 ? hint.replaceAll(/ \([^)]*\)/g, '') : hint))
      }
  })

  test('what one pedal chooses, and what the end of a turn asks', async () => {
    const s = (await stage(setup({ measures: 2 }))).conductor.session()
    const all = Object.values(words.CHOICE_WORDS)
    const choices = all.flatMap(now =>
      (['passing', 'standing', 'asleep'] as const).map(moment =>
        words.choiceHint({ now, first: words.CHOICE_WORDS.goOn, moment }, KEYS.right),
      ),
    )
    const asked = ([1, 2] as const).flatMap(pedals =>
      (['time', 'goal'] as const).flatMap(asks =>
        (['none', 'over'] as const).map(slot =>
          askedHint({ ...s, asks, slot, setup: { ...s.setup, pedals } }, KEYS),
        ),
      ),
    )
    for (const choice of [...choices, ...asked]) {
      const seen = drawn(shown(s, { size, choice }))
      expect(seen).toContain(plain(size.cols < 80 ? choice.replaceAll(/ \([^)]*\)/g, '') : choice))
    }
  })

  test('only the pedals count; a tempo that is typed', async () => {
    const s = (await stage(setup({ measures: 2 }))).conductor.session()
    expect(drawn(shown(s, { size, locked: true }))).toContain(plain(words.LOCKED))
    expect(drawn(shown(s, { size, typing: '112.5' }))).toMatch(/tempo (by hand: )?112\.5_/)
  })

  test('what is offered beside the ladder', async () => {
    const s = (await stage(setup({ measures: 2 }))).conductor.session()
    const beside = 'This breath lasts 9 s, you have 8. y: breathe at m. 43 while below 120'
    expect(drawn(shown(s, { size, beside }))).toContain(beside)
  })
})

test('at 80 columns what the sound is, and every key', async () => {
  const s = (await stage(setup({ measures: 2 }))).conductor.session()
  const size = { cols: 80, rows: 24 }
  for (const output of [null, 'silent', 'naudiodon']) {
    const sound = soundLine(output, DEFAULT_LEVELS)
    expect(drawn(shown(s, { size, sound }))).toContain(plain(sound))
  }
  for (const hint of shown(s).hints) expect(drawn(shown(s, { size }))).toContain(hint)
})

test('no sentence of the practice screen sends the player to the command line', () => {
  const all = [
    ...NOTES.map(words.noteText),
    ...TEXTS,
    words.LOCKED,
    words.UNLOCKED,
    ...[null, 'silent', 'naudiodon'].map(output => soundLine(output, DEFAULT_LEVELS)),
  ]
  for (const text of all) expect(text).not.toMatch(/\bgradino [a-z]/)
})
