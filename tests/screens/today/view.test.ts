import { describe, expect, test } from 'vitest'
import { type DayLine, linesOf } from '../../../src/plan/order.ts'
import { columnsOf, itemText } from '../../../src/screens/today/line-words.ts'
import { newState, type State, type Told } from '../../../src/screens/today/reduce.ts'
import { restSheet } from '../../../src/screens/today/rest.ts'
import { daySheet } from '../../../src/screens/today/view.ts'
import { CAUTIONS } from '../../../src/screens/words.ts'
import { setDay } from '../../plan/set-day.ts'
import { opened } from '../controls.ts'
import { drawn } from '../drawn.ts'

const items = setDay()
const lines = linesOf(
  items,
  { order: [], skipped: ['rest #1'], over: [{ name: 'fundamentals #1', at: 1070 }] },
  [],
)
const told: Told = {
  title: 'Wednesday, 45 minutes, rehearsal in 6 days',
  remarks: [
    'Each turn ends at the next rung up or down, at most a minute over.',
    'In turn on another day: section C.',
  ],
  pain: null,
  evening: false,
  questions: [],
  ways: [],
  asksWay: false,
  asksDays: false,
  closing: [],
}
const open = (
  other: Partial<Told> = {},
  of: readonly DayLine[] = lines,
  note: readonly string[] = [],
): State => newState({ ...told, ...other }, of, 45, 18 * 60, note)
const show = (state: State, rows = 24, cols = 80): string[] =>
  drawn(
    daySheet({
      state,
      size: { rows, cols },
      ...opened,
      text: l => itemText(l.item, () => ''),
      columns: l => columnsOf(l.item, () => ''),
    }),
  )

describe('the day on screen', () => {
  test('a remark that does not fit is left out, none is cut', () => {
    const long = `${'More than there is time for. '.repeat(12)}The end.`
    const rows = show(open({ remarks: [long, 'In turn on another day: section C.'] })).join('\n')
    expect(rows).not.toContain('More than there')
    expect(rows).toContain('In turn on another day: section C.')
  })

  test('is a rehearsal order: what is over when it began, what is open from now on, what is skipped without a time', () => {
    const rows = show(open()).map(r => r.trimEnd())
    expect(rows[1]).toBe('   Wednesday, 45 minutes, rehearsal in 6 days')
    expect(rows).toContain('   17:50  done     Fundamentals')
    expect(rows).toContain('║: 18:00  3 min    section D: from 58, ceiling 66, goal quarter = 96')
    expect(rows).toContain('          skipped  Rest')
    expect(rows.find(r => r.endsWith('   Stop'))).toBe('   18:30           Stop')
    expect(rows.at(-2)).toBe('   right (Page Down) or Enter: begin   left (Page Up): next line')
  })

  test.each([
    [24, 80],
    [48, 160],
    [12, 40],
    [20, 80],
  ])('fits %d rows and %d columns, with the cautions too, and says what a press does', (rows, cols) => {
    for (const note of [[], CAUTIONS]) {
      const all = show(open({}, lines, note), rows, cols)
      expect(all.length).toBeLessThanOrEqual(rows)
      for (const row of all) expect([...row].length).toBeLessThanOrEqual(cols)
      const text = all.join(' ').replace(/\s+/g, ' ')
      expect(text).toContain('║: 18:00')
      expect(text).toMatch(/Enter: begin/)
      for (const caution of note) expect(text).toContain(caution)
    }
  })

  test('in a narrow window the name gives way to the tempos; a window too narrow for both shows no half of them', () => {
    const tempos = items.map(i => columnsOf(i, () => '').tempo).filter(t => t.includes(' -> '))
    for (const cols of [50, 59, 60, 72]) {
      const rows = show(open(), 24, cols).filter(r => /^ {3}\d\d:\d\d .* -> /.test(r))
      expect(rows.length).toBeGreaterThan(1)
      for (const row of rows) expect(tempos.some(t => row.trimEnd().endsWith(`  ${t}`))).toBe(true)
      expect(show(open(), 24, cols).join('\n')).not.toMatch(/ {2}…/)
    }
    expect(show(open(), 24, 40).join('\n')).not.toContain('->')
  })

  test('all over: stop, and on the last evening nothing more', () => {
    const all = lines.map((l): DayLine => ({ ...l, state: 'done' }))
    expect(show(open({}, all)).join('\n')).toContain('That was the day: stop here.')
    const evening = show(open({ evening: true }, all)).join('\n')
    expect(evening).toContain('nothing more tonight')
    expect(evening).not.toContain('once more')
  })

  test('pain: what to do, and nothing to begin', () => {
    const text = show(open({ pain: 'Stop for today.' })).join('\n')
    expect(text).toContain('Stop for today.')
    expect(text).not.toMatch(/section|begin/)
  })

  test('after a date: the question first, then its three fields', () => {
    const asked = open({ questions: [{ piece: 'Lantern Study', readyBy: '2031-03-10', keys: [] }] })
    expect(show(asked).join('\n')).toContain('║: How was it? Lantern Study, March 10')
    const form = show({ ...asked, view: 'after' }).join('\n')
    for (const field of ['true tempo', 'spots', 'next date']) expect(form).toContain(field)
  })
})

test('a rest counts whole minutes, then says that it is over', () => {
  const rest = (left: number) => drawn(restSheet(left, [], { rows: 24, cols: 80 })).join('\n')
  expect([rest(5), rest(1), rest(0)]).toEqual([
    expect.stringContaining('5 minutes left.'),
    expect.stringContaining('1 minute left.'),
    expect.stringContaining('The rest is over.'),
  ])
})
