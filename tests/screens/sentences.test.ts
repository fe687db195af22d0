import { describe, expect, test } from 'vitest'
import { builtIn, warmUpNamed } from '../../src/app/presets.ts'
import { CHARACTERS, DEFAULT_LEVELS } from '../../src/click/voices.ts'
import { checked } from '../../src/music/result.ts'
import { linesOf } from '../../src/plan/order.ts'
import { newWalk } from '../../src/screens/choosing.ts'
import { CLICK_KEYS } from '../../src/screens/click/key-table.ts'
import { pedalHint as clickHint, newClick, noteOf } from '../../src/screens/click/reduce.ts'
import { clickSheet } from '../../src/screens/click/view.ts'
import { ANSWERS as EDIT_ANSWERS, QUESTIONS as EDIT_QUESTIONS } from '../../src/screens/form/reduce.ts'
import { editSheet } from '../../src/screens/form/view.ts'
import { newState as newHome } from '../../src/screens/home/reduce.ts'
import { homeSheet } from '../../src/screens/home/view.ts'
import { ANSWERS, QUESTION } from '../../src/screens/home/words.ts'
import { newImport } from '../../src/screens/import/reduce.ts'
import { importSheet } from '../../src/screens/import/view.ts'
import { TITLE as IMPORT_TITLE } from '../../src/screens/import/words.ts'
import { linesSheet } from '../../src/screens/page.ts'
import { closingSheet } from '../../src/screens/practice/leaving.ts'
import { READING_KEYS } from '../../src/screens/reading/key-table.ts'
import { newReading, type State as Reading } from '../../src/screens/reading/reduce.ts'
import { readingSheet } from '../../src/screens/reading/view.ts'
import { pedalHint as readingHint, TASK } from '../../src/screens/reading/words.ts'
import { setupSheet } from '../../src/screens/setup/screen.ts'
import { learnPedals } from '../../src/screens/setup/setup.ts'
import { LEAVES } from '../../src/screens/setup/words.ts'
import { ROWS, rowLine, type SoundChoice } from '../../src/screens/sound/choose.ts'
import {
  CHOOSE_HINT,
  CHOOSE_TITLE,
  OFFSET_ASKS,
  OFFSET_TITLE,
  pressedLine,
} from '../../src/screens/sound/words.ts'
import { inPhrases, inRows, TOGETHER } from '../../src/screens/text-rows.ts'
import { closingOf } from '../../src/screens/today/asked.ts'
import { columnsOf, itemText } from '../../src/screens/today/line-words.ts'
import { newState as newDay, type Told } from '../../src/screens/today/reduce.ts'
import { restSheet } from '../../src/screens/today/rest.ts'
import { daySheet, hints } from '../../src/screens/today/view.ts'
import { closeWords, wayWords } from '../../src/screens/today/words.ts'
import { WARM_UP_KEYS } from '../../src/screens/warmup/key-table.ts'
import { warmUpSheet } from '../../src/screens/warmup/view.ts'
import { SLEPT } from '../../src/screens/warmup/words.ts'
import { ALL_CAUTIONS } from '../../src/screens/words.ts'
import { brokeOffLine } from '../../src/sound/words.ts'
import { keyHints, USUAL_KEYS } from '../../src/terminal/key-table.ts'
import type { Sheet } from '../../src/terminal/painted.tsx'
import { exercisesOf } from '../../src/warm-up/exercises.ts'
import { newWarmUp } from '../../src/warm-up/turns.ts'
import { meter, tempoOf } from '../click/support.ts'
import { setDay } from '../plan/set-day.ts'
import { ONE, TWO } from './controls.ts'
import { drawn } from './drawn.ts'
import { sitAt } from './form/scene.ts'
import { known } from './home/scene.ts'
import { passage, passOf } from './reading/scene.ts'

type Size = { readonly cols: number; readonly rows: number }
const SIZES: readonly Size[] = [
  { cols: 80, rows: 24 },
  { cols: 50, rows: 14 },
  { cols: 40, rows: 12 },
]
const KEYS = { right: 'Page Down', left: 'Page Up' }
const bare = (hint: string): string => hint.replaceAll(/ \([^)]*\)/g, '')
const plain = (text: string): string => text.replaceAll(/[\s║:]+/g, ' ').trim()

/** A state of a screen as it is drawn in a window, and the sentences that must stand there whole. */
type Scene = readonly [what: string, draw: (size: Size) => Sheet, says: (small: boolean) => readonly string[]]

const reading = newReading([passOf(passage({ breaths: [{ at: '43.3', kind: 'breath' }] }))])
const readingAt = (change: Partial<Reading>, pedals: 1 | 2, says: readonly string[] = []): Scene => {
  const state = { ...reading, ...change }
  const hint = readingHint(state.phase, pedals, KEYS)
  return [
    `reading, ${state.phase}, ${pedals}`,
    size =>
      readingSheet({
        state,
        frame: state.phase === 'going' ? 100_000 : null,
        sound: 'click mf',
        pedals: hint,
        keys: keyHints(READING_KEYS, state.phase, USUAL_KEYS),
        motion: 'step',
        size,
      }).rows,
    small => [small ? bare(hint) : hint, ...says],
  ]
}
const marks = [
  { measure: 2, beat: 3 },
  { measure: 5, beat: 1 },
]

const newTurn = newWarmUp(
  exercisesOf(checked(warmUpNamed(builtIn(), 'thirds-and-sixths')), {
    today: '2031-03-15',
    remembered: [],
    tuning: { a: 440, transposition: 'C' },
  }),
)
const warmUp = (trouble: string): Scene => [
  `warm-up, ${trouble}`,
  size =>
    warmUpSheet({
      title: 'Mornings',
      state: newTurn,
      heard: null,
      planned: '',
      trouble,
      pedals: `either pedal (${KEYS.right}, ${KEYS.left}): start`,
      keys: keyHints(WARM_UP_KEYS, 'turns', USUAL_KEYS),
      motion: 'step',
      size,
    }).rows,
  () => [trouble, 'either pedal', 'start', ...newTurn.exercises.slice(0, 1).flatMap(e => e.notes)],
]

const stopped = newClick({
  tempo: tempoOf('113'),
  meter: meter('6/8'),
  subdivide: 2,
  pulse: null,
  only: null,
  countIn: 0,
})
const click = (going: boolean, pedals: 1 | 2, note: string): Scene => {
  const state = { ...stopped, going, note }
  return [
    `click, ${going}, ${pedals}`,
    size =>
      clickSheet({
        state,
        heard: null,
        turning: false,
        sound: 'click mf',
        pedals,
        keys: KEYS,
        hints: keyHints(CLICK_KEYS, 'click', USUAL_KEYS),
        motion: 'step',
        size,
      }),
    () => [clickHint(going, pedals, KEYS), noteOf(state)],
  ]
}

const told: Told = {
  title: 'Wednesday, 45 minutes, rehearsal in 6 days',
  remarks: ['In turn on another day: section C.'],
  pain: null,
  evening: false,
  questions: [],
  ways: [],
  asksWay: false,
  asksDays: false,
  closing: closingOf([{ key: 'a', label: 'run at the weir, m. 41-44, section 2' }]),
}
const day = (
  what: string,
  controls: typeof TWO,
  change: Partial<Told>,
  view: 'day' | 'close',
  says: readonly string[],
): Scene => {
  const lines = linesOf(setDay(), { order: [], skipped: [], over: [] }, [])
  const state = { ...newDay({ ...told, ...change }, lines, 45, 18 * 60, []), view }
  const now = { state, controls, walk: newWalk(controls.pedals, 0), now: 0 }
  return [
    `day, ${what}, ${controls.pedals}`,
    size =>
      daySheet({
        ...now,
        size,
        text: l => itemText(l.item, () => ''),
        columns: l => columnsOf(l.item, () => ''),
      }),
    small => [...says, ...hints(now, small).slice(0, 1)],
  ]
}

const list = (controls: typeof TWO, note: string): Scene => [
  `list, ${controls.pedals}`,
  size =>
    homeSheet({
      state: { ...newHome(known, false), note },
      size,
      controls,
      walk: newWalk(controls.pedals, 0),
      now: 0,
    }),
  small => [note, small && controls.pedals === 2 ? 'right: practice left: next' : 'Page Down'],
]

const question = (controls: typeof TWO): Scene => [
  `first start, ${controls.pedals}`,
  size =>
    homeSheet({
      state: newHome({ ...known, rows: [] }, true),
      size,
      controls,
      walk: newWalk(controls.pedals, 0),
      now: 0,
    }),
  small => [QUESTION, ...ANSWERS.flatMap(a => (small ? [`${a.name}: ${a.brief}`] : [a.name, a.says]))],
]

const form = sitAt().state()
const edit = (view: 'form' | 'leave' | 'history', note = ''): Scene => {
  const state = { ...form, view, note }
  const asks = view === 'form' ? [] : [EDIT_QUESTIONS[view](state), ...EDIT_ANSWERS[view].map(a => a.name)]
  const keys = view === 'form' ? ['Ctrl+S: store it', 'Escape: leave'] : ['Enter: this one', 'Escape']
  return [
    `form, ${view}, ${note}`,
    size => editSheet(state, 'Weir Street Overture, m. 41-44', size),
    () => ['Weir Street Overture, m. 41-44', note, ...asks, ...keys],
  ]
}

const importing = (controls: typeof TWO, note: string): Scene => [
  `import, ${controls.pedals}, ${note}`,
  size => importSheet({ ...newImport(null), note }, size, controls),
  () => [IMPORT_TITLE, note, 'Escape: leave', 'or Enter: read it'],
]

/** The first question, and what is said after a press of a key that can't be a pedal. */
const setup = (...presses: readonly string[]): Scene => {
  const learning = learnPedals(0, TWO)
  for (const [i, id] of presses.entries()) learning.key({ id, at: 1000 * (i + 1) })
  const { said } = learning.state()
  return [
    `set-up, ${presses.join()}`,
    size => setupSheet(said, false, size),
    () => [said.at(-1) ?? '', LEAVES],
  ]
}

const byEar = (row: SoundChoice['row'], character: SoundChoice['levels']['character']): Scene => {
  const choice = { row, levels: { ...DEFAULT_LEVELS, character } }
  return [
    `the click by ear, ${row}, ${character}`,
    size =>
      linesSheet({
        title: CHOOSE_TITLE,
        hint: CHOOSE_HINT,
        lines: ROWS.map(r => rowLine(choice, r)),
        size,
      }),
    () => [CHOOSE_TITLE, rowLine(choice, row).replace(/^> /, ''), ...CHOOSE_HINT.split('   ')],
  ]
}
const offset: Scene = [
  'presses with the click',
  size => linesSheet({ title: OFFSET_TITLE, hint: '', lines: [OFFSET_ASKS, '', pressedLine(3, 20)], size }),
  () => [OFFSET_TITLE, OFFSET_ASKS, '3 of 20'],
]

const closing: readonly string[] = [
  'The goal, quarter = 126, is reached.',
  'What is left: a clean first take on two days.',
  'Tomorrow starts at quarter = 116.',
]

const SCENES: readonly Scene[] = [
  ...([1, 2] as const).flatMap(pedals => [
    readingAt({}, pedals, [TASK]),
    readingAt({ phase: 'going', note: 'Hard spot: m. 43, beat 2.' }, pedals, ['Hard spot: m. 43, beat 2.']),
    readingAt({ phase: 'offer', marks }, pedals, ['Store these as sections?', 'm. 42-43', 'm. 45-46']),
    click(false, pedals, brokeOffLine(false)),
    click(true, pedals, ''),
  ]),
  ...['', SLEPT, brokeOffLine(false)].map(warmUp),
  ...[ONE, TWO].flatMap(c => [
    day('open', c, {}, 'day', [told.title]),
    day('closing', c, {}, 'close', [closeWords.title, closeWords.leave, closeWords.words.pain]),
    list(c, 'Added: run at the weir, m. 41-44.'),
    question(c),
  ]),
  edit('form', 'Stored.'),
  edit('leave'),
  edit('history'),
  ...[ONE, TWO].flatMap(c => [importing(c, ''), importing(c, 'No such file.')]),
  setup(),
  setup('PageDown', 'PageDown', 'PageDown'),
  setup('t', 't', 't'),
  ...ROWS.flatMap(row => CHARACTERS.map(character => byEar(row, character))),
  offset,
  ...[
    '',
    'right (Page Down): the seam, then as one   left (Page Up): close',
    'the seam, then as one?   pedal (Page Down): something else; wait: this one',
  ].flatMap(choice =>
    ['j', 'Alt+j', ''].map(
      (joins): Scene => [
        `the end, ${choice}, ${joins}`,
        size => closingSheet({ lines: closing, locked: false, joins, choice, note: '', size }),
        () => [
          ...closing,
          choice,
          joins === '' ? '' : `${joins}: their seam, then as one. Any other key closes.`,
          joins + choice === '' ? 'Any key closes.' : '',
        ],
      ],
    ),
  ),
  [
    'rest',
    size => restSheet(5, ALL_CAUTIONS.slice(0, 1), size),
    () => ['5 minutes left.', 'Press a pedal to go on, even early.'],
  ],
]

describe.each([
  { cols: 1, rows: 1 },
  { cols: 1, rows: 24 },
  { cols: 2, rows: 60 },
  { cols: 200, rows: 3 },
  { cols: 39, rows: 11 },
])('no window is too small to stand in: $cols x $rows', size => {
  test.each(SCENES.map(s => [s[0], s] as const))('%s', (_, [, draw]) => {
    const rows = drawn(draw(size))
    // What is lower than the window is cut; nothing is wider, and it stands still.
    for (const row of rows) expect([...row].length, row).toBeLessThanOrEqual(Math.max(2, size.cols))
    expect(drawn(draw(size))).toEqual(rows)
  })
})

test('a number stays with its unit', () => {
  const text = `6 on this rung, 21${TOGETHER}s`
  for (const rows of [inRows(text, 18), inPhrases(text, 18)])
    expect(rows).toEqual(['6 on this rung,', '21 s'])
  expect(inPhrases(text, 40)).toEqual(['6 on this rung, 21 s'])
})

test('there is a sentence for each way out', () => {
  expect(wayWords.title(40)).toContain('40 minutes a day')
})

describe.each(SIZES)('every sentence is whole at $cols x $rows', size => {
  test.each(SCENES.map(s => [s[0], s] as const))('%s', (_, [, draw, says]) => {
    const rows = drawn(draw(size))
    expect(rows.length).toBeLessThanOrEqual(size.rows)
    for (const row of rows) expect([...row].length, row).toBeLessThanOrEqual(size.cols)
    const seen = plain(rows.join(' '))
    for (const sentence of says(size.cols < 80)) expect(seen).toContain(plain(sentence))
  })
})
