import ical, { ICalEventTransparency } from 'ical-generator'
import { dayAfter } from '../music/day.ts'
import { printable } from '../music/result.ts'

/** Something on a local day ("2026-03-14"), without a clock time. */
export type DayEvent = {
  /** The same thing written again has the same id, so that a calendar replaces it. */
  readonly id: string
  readonly day: string
  readonly title: string
  readonly lines: readonly string[]
}

/** Lines for single vendors, which the library adds beside those of the standards, with their folded ends. */
const VENDOR_LINES = /^X-[^\r\n]*\r\n(?:[ \t][^\r\n]*\r\n)*/gm

/**
 * A calendar as RFC 5545 has it, its name as RFC 7986 has it. Days are dates without a time and so the same in every zone; they leave the player's
 * hours free. `stamp` = now, milliseconds since 1970, written in UTC.
 */
export const calendarText = (name: string, events: readonly DayEvent[], stamp: number): string => {
  const calendar = ical({
    name: printable(name),
    prodId: { company: 'Gradino', product: 'plan', language: 'EN' },
  })
  for (const e of events) {
    calendar.createEvent({
      id: `${e.id}@gradino`,
      allDay: true,
      start: new Date(e.day),
      // The end of an event is the first day that is no longer in it.
      end: new Date(dayAfter(e.day, 1)),
      stamp: new Date(stamp),
      summary: printable(e.title),
      transparency: ICalEventTransparency.TRANSPARENT,
      ...(e.lines.length > 0 ? { description: e.lines.map(printable).join('\n') } : {}),
    })
  }
  return `${calendar.toString().replace(VENDOR_LINES, '')}\r\n`
}
