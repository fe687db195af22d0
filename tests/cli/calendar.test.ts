import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import ICAL from 'ical.js'
import { expect, test } from 'vitest'
import { player } from './typed.ts'

const WEIR = 'Weir Street Overture'

const read = (file: string) =>
  new ICAL.Component(ICAL.parse(readFileSync(file, 'utf8'))).getAllSubcomponents('vevent').map(c => {
    const e = new ICAL.Event(c)
    return { day: e.startDate.toString(), title: e.summary, text: e.description, uid: e.uid }
  })

test('one event a day until the date, and the date itself', async () => {
  const { home, type, json } = player()
  const add = ['--passage', 'run', '--in', '41-44', '--goal', '138', '--ready-by', '2031-03-19']
  await type('piece', 'add', WEIR, ...add)
  const file = join(home, 'plan.ics')
  expect(await type('calendar', '--out', file, '--minutes', '30')).toEqual({
    status: 0,
    out: `${file}: 5 days and 1 date.\n`,
    err: '',
  })
  const events = read(file)
  expect(events.slice(0, 5).map(e => [e.day, e.title])).toEqual([
    ['2031-03-15', 'Saturday, 30 minutes, rehearsal in 4 days'],
    ['2031-03-16', 'Sunday, 30 minutes, rehearsal in 3 days'],
    ['2031-03-17', 'Monday, 30 minutes, rehearsal in 2 days'],
    ['2031-03-18', 'Tuesday, 30 minutes, rehearsal tomorrow'],
    ['2031-03-19', 'Wednesday, 30 minutes, rehearsal today'],
  ])
  expect(events[2]?.text).toContain(`${WEIR}: once from the entrance, cold`)
  expect(events[5]).toMatchObject({ day: '2031-03-19', title: `Ready by today: ${WEIR}` })
  expect(events[5]?.text).toBe('run, m. 41-44: goal quarter = 138')
  expect(new Set(events.map(e => e.uid)).size).toBe(6)
  await json('calendar', '--out', file)
  expect(read(file).map(e => e.uid)).toEqual(events.map(e => e.uid))
})

test('a far date stands alone, and without one there is nothing to write', async () => {
  const { home, type } = player()
  const file = join(home, 'plan.ics')
  await type('piece', 'add', WEIR, '--in', '41-44', '--goal', '138')
  const none = await type('calendar', '--out', file)
  expect(none.status).toBe(1)
  expect(none.err).toContain('No passage has a date ahead')
  expect(existsSync(file)).toBe(false)
  await type('piece', 'add', 'Lantern Study', '--in', '9', '--goal', '80', '--ready-by', '2032-03-14')
  expect((await type('calendar', '--out', file)).out).toBe(`${file}: 121 days and 1 date.\n`)
  expect(read(file).at(-1)?.day).toBe('2032-03-14')
})

test('the ending and the minutes are checked', async () => {
  const { type } = player()
  expect((await type('calendar')).err).toContain('a file that ends in .ics')
  expect((await type('calendar', '--out', 'plan.txt')).status).toBe(2)
  expect((await type('calendar', '--out', 'plan.ics', '--minutes', '5')).err).toContain('minutes')
})
