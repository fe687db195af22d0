import { describe, expect, test } from 'vitest'
import { frac } from '../../../src/music/fraction.ts'
import { tempo } from '../../../src/music/tempo.ts'
import { newState, type State } from '../../../src/screens/home/reduce.ts'
import { homeSheet, joinHint } from '../../../src/screens/home/view.ts'
import { opened, TWO } from '../controls.ts'
import { drawn } from '../drawn.ts'
import { atTheList, atTheQuestion, known, row } from './scene.ts'

const frame = (state: State, cols = 80, rows = 24): readonly string[] =>
  drawn(homeSheet({ state, size: { rows, cols }, ...opened }))

const many = (n: number): State => {
  const rows = Array.from({ length: n }, (_, i) =>
    row(`passage ${i + 1}`, { readyBy: '2026-03-28', days: i }),
  )
  return newState({ ...known, rows }, false)
}

describe('at 80x24', () => {
  test('the list is a sentence, then each passage with date, next start, ceiling and goal under their heads', () => {
    const shown = frame(atTheList().state())
    expect(shown[1]).toBe('   Tuesday, three passages, the nearest in 4 days')
    const head = shown.find(r => r.includes('ready by')) ?? ''
    const at = shown.findIndex(r => r.includes('opening'))
    expect(shown.filter(r => r.includes('Weir Street Overture'))).toEqual(['   Weir Street Overture'])
    expect(shown[at]).toMatch(/^ {3}opening, m\. 1-8[ .]+96 +112 +126 +in 9 days$/)
    for (const [word, number] of [
      ['next from', '96'],
      ['ceiling', '112'],
      ['goal', '126'],
    ] as const)
      expect(head.indexOf(word) + word.length, word).toBe((shown[at]?.indexOf(number) ?? 0) + number.length)
  })

  test('a goal that is a range stands apart from the ceiling', () => {
    const rows = [row('coda', { ceiling: null, goal: tempo(120), top: tempo(124) })]
    expect(frame(newState({ ...known, rows }, false)).join('\n')).toMatch(/none +120 to 124 /)
  })

  test('what is secure or ready stands behind the passage, in the unit of the goal, which is said of the chosen one', () => {
    const dotted = { unit: frac(3, 8), bpm: frac(80) }
    const rows = [
      row('coda', { secure: tempo(120), goal: dotted }),
      row('opening', { secure: tempo(126), ready: true }),
    ]
    const shown = frame(newState({ ...known, rows }, false))
    const at = shown.findIndex(r => r.includes('secure'))
    expect(shown[at]).toMatch(/coda {2}secure 80[ .]+/)
    expect(shown[at + 1]).toBe('   4 measures of 4/4, in dotted quarters')
    expect(shown.filter(r => /opening {2}ready[ .]+/.test(r))).toHaveLength(1)
  })

  test('passages of one piece stand together below its title, at the place of the nearest', () => {
    const rows = [
      row('waltz', { piece: 'Mill Lane Dances', readyBy: '2026-03-27', days: 3 }),
      row('finale', { readyBy: '2026-03-26', days: 2 }),
      row('coda'),
    ]
    const shown = frame(newState({ ...known, rows }, false)).join('\n')
    const order = ['Weir Street Overture', 'finale', 'coda', 'Mill Lane Dances', 'waltz'].map(s =>
      shown.indexOf(s),
    )
    expect(order).toEqual([...order].sort((a, b) => a - b))
    expect(shown.split('Weir Street Overture')).toHaveLength(2)
  })

  test('a long name loses its middle, so that passages are told apart', () => {
    const name = 'the long run up to the weir and down again to the mill, m. 41-44'
    const shown = frame(newState({ ...known, rows: [row(name)] }, false))
    expect(shown.find(r => r.includes('…'))).toMatch(/^║: the long .*….*m\. 41-44/)
  })

  test('the chosen passage stands behind the sign that begins a repeat, and no other', () => {
    const player = atTheList()
    player.press('Down')
    const marked = frame(player.state()).filter(r => r.includes('║'))
    expect(marked).toHaveLength(1)
    expect(marked[0]).toMatch(/^║: opening/)
  })

  test('the question has its three answers and the cautions; neither returns with the next screen', () => {
    const player = atTheQuestion()
    const first = frame(player.state()).join('\n')
    for (const said of [
      'What is on the stand?',
      'quick ladder',
      'first piece',
      'demonstration',
      'half hour',
      'physician',
      'headphones',
    ])
      expect(first).toContain(said)
    player.press('Enter', 'Escape')
    const second = frame(player.state()).join('\n')
    expect(second).toContain('What is on the stand?')
    expect(second).not.toContain('half hour')
  })

  test('a field that is wrong says so in words, and its sentence is whole', () => {
    const player = atTheQuestion()
    player.press('Down', 'Enter', 'Enter')
    const shown = frame(player.state()).join('\n')
    expect(shown).toMatch(/title +look again/)
    expect(shown.replace(/\s+/g, ' ')).toContain(
      'The title is missing. Type the title as printed on your part.',
    )
  })

  test('of more passages than fit the chosen one is always there, and what is left out is counted', () => {
    const state = many(12)
    for (const chosen of [0, 5, 11]) {
      const shown = frame({ ...state, chosen }).join('\n')
      expect(shown).toContain(`║: passage ${chosen + 1} `)
      const out = [...shown.matchAll(/(\d+) more (?:above|below)/g)].reduce((n, m) => n + Number(m[1]), 0)
      expect(out + [...shown.matchAll(/passage \d+ /g)].length).toBe(12)
    }
  })
})

test.each([
  [40, 12],
  [40, 40],
  [79, 19],
  [80, 20],
  [80, 24],
  [120, 36],
  [160, 48],
])('nothing is cut off or too tall at %sx%s', (cols, rows) => {
  const list = { ...many(12), chosen: 7, note: `The disk is full. ${'It is full. '.repeat(8)}` }
  const forms = atTheQuestion()
  forms.press('Down', 'Enter')
  forms.text('x'.repeat(100))
  forms.press('Enter', 'Enter', 'Enter', 'x', 'Enter')
  const player = atTheQuestion()
  for (const state of [list, { ...many(3), cautions: true }, player.state(), forms.state()]) {
    const shown = frame(state, cols, rows)
    expect(shown.length).toBeLessThanOrEqual(rows)
    for (const r of shown) expect([...r].length, r).toBeLessThanOrEqual(cols)
    const last = shown.at(-1) ?? ''
    expect(shown.join('\n')).toMatch(/leave|Escape/)
    expect(last.includes('…'), last).toBe(false)
  }
})

test('at 40x12 the chosen passage shows its next start, ceiling, goal and date', () => {
  const player = atTheList()
  player.press('Down')
  const shown = frame(player.state(), 44, 12)
  expect(shown).toContain('║:Weir Street Overture, opening, m. 1-8')
  expect(shown).toContain('║:next 96, ceiling 112, goal 126, in 9 days')
})

test('a smaller window is told what it needs', () => {
  expect(frame(atTheList().state(), 39, 12).join(' ')).toContain('at least 40 columns and 12')
})

test('numbers are counted in the note value of the goal, in columns also where titles are wide', () => {
  const shown = frame(
    newState(
      {
        ...known,
        rows: [
          row('the run', {
            piece: '堰の序曲'.repeat(6),
            goal: tempo(92, { n: 3, d: 8 }),
            ceiling: tempo(108),
            next: tempo(96),
            finding: false,
          }),
        ],
      },
      false,
    ),
  )
  expect(shown.find(r => r.includes('the run'))).toMatch(/ 64 +72 +92 +no date$/)
  expect(shown.filter(r => r.includes('堰'))).toHaveLength(1)
})

test('what can be joined stands there with its key, as the player has it', () => {
  const coda = row('coda', { join: { says: 'Sections 1 and 2 are ready to be joined', name: '1+2' } })
  expect(joinHint(coda, TWO)).toBe('Sections 1 and 2 are ready to be joined: j')
  expect(joinHint(coda, { ...TWO, choice: { keys: { join: 'z' }, letters: true } })).toMatch(/: z$/)
  expect(joinHint(coda, { ...TWO, choice: { keys: { join: '' }, letters: true } })).toBe(
    'Sections 1 and 2 are ready to be joined',
  )
  expect(joinHint(row('coda', {}), TWO)).toBe('')
})
