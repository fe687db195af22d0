import fc from 'fast-check'
import ICAL from 'ical.js'
import { expect, test } from 'vitest'
import { calendarText, type DayEvent } from '../../src/files/ical.ts'
import { printable } from '../../src/music/result.ts'

const STAMP = Date.UTC(2031, 2, 15, 12, 0, 7)

/** The events as another reader finds them. */
const read = (text: string) => {
  const calendar = new ICAL.Component(ICAL.parse(text))
  return calendar.getAllSubcomponents('vevent').map(c => ({ event: new ICAL.Event(c), component: c }))
}

const coda: DayEvent = {
  id: 'day-2031-03-15',
  day: '2031-03-15',
  title: 'Saturday, 40 minutes; rehearsal in 4 days',
  lines: ['once from the entrance, cold', 'two slow repetitions'],
}

// Source: RFC 5545 (2009), section 3.6.1 (an event by dates, its end not included), read back by ical.js 2.2.1.
test('a day is a date without a clock time, and ends before the next one', () => {
  const [found] = read(calendarText('Practice', [coda], STAMP))
  expect(found?.event.startDate.isDate).toBe(true)
  expect(found?.event.startDate.toString()).toBe('2031-03-15')
  expect(found?.event.endDate.toString()).toBe('2031-03-16')
  expect(found?.event.summary).toBe(coda.title)
  expect(found?.event.description).toBe(coda.lines.join('\n'))
  expect(found?.event.uid).toBe('day-2031-03-15@gradino')
})

test('no line is for a single vendor', () => {
  const text = calendarText('Practice', [coda], STAMP)
  expect(text).not.toMatch(/^X-/m)
  expect(text).toContain('PRODID:-//Gradino//plan//EN')
  expect(text).toContain('NAME:Practice')
})

test('the stamp is in UTC, and the day leaves the hours free', () => {
  const [found] = read(calendarText('Practice', [coda], STAMP))
  const stamp = found?.component.getFirstPropertyValue('dtstamp') as ICAL.Time
  expect(stamp.toString()).toBe('2031-03-15T12:00:07Z')
  expect(found?.component.getFirstPropertyValue('transp')).toBe('TRANSPARENT')
})

test('whatever the titles hold, lines are at most 75 octets, end in CR LF, and read back', () => {
  const word = fc.string({ maxLength: 120, unit: 'grapheme' })
  const event = fc.record({
    id: fc.constant('day-2031-03-15'),
    day: fc.constantFrom('2031-03-15', '2032-02-29', '2031-12-31'),
    title: word,
    lines: fc.array(word, { maxLength: 3 }),
  })
  fc.assert(
    fc.property(fc.array(event, { minLength: 1, maxLength: 3 }), events => {
      const text = calendarText('Practice', events, STAMP)
      const lines = text.split('\r\n')
      expect(lines.at(-1)).toBe('')
      for (const line of lines) {
        expect(line).not.toMatch(/[\r\n]/)
        expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75)
      }
      expect(read(text).map(({ event: e }) => [e.startDate.toString(), e.summary])).toEqual(
        events.map(e => [e.day, printable(e.title)]),
      )
    }),
    { numRuns: 300 },
  )
})

test('what RFC 5545 asks of a calendar is there once', () => {
  const text = calendarText('Practice', [coda], STAMP)
  for (const needed of ['BEGIN:VCALENDAR', 'VERSION:2.0', 'PRODID:-//Gradino//plan//EN', 'END:VCALENDAR'])
    expect(text.split('\r\n').filter(l => l === needed)).toHaveLength(1)
})
