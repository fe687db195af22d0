import abcjs from 'abcjs'
import { parseMidi } from 'midi-file'
import { describe, expect, test } from 'vitest'
import { framesOf, played, RATE } from '../click/support.ts'
import { ONSET_TABLES, type OnsetTable } from './onset-tables.ts'

/** Our onsets of the rhythm: the guide where there is one, else the clicks. */
const ours = ({ form, guide, subdivide = 1 }: OnsetTable): number[] =>
  guide ? framesOf(played(form, { guide }), 'guide') : framesOf(played(form, { subdivide }))

/** Seconds of all note-ons in a MIDI file of one tempo, from the first one. */
const midiSeconds = (file: Uint8Array): number[] => {
  const { header, tracks } = parseMidi(file)
  const ons: number[] = []
  let perQuarter = 500_000
  for (const track of tracks) {
    let tick = 0
    for (const e of track) {
      tick += e.deltaTime
      if (e.type === 'setTempo') perQuarter = e.microsecondsPerBeat
      if (e.type === 'noteOn' && e.velocity > 0) ons.push(tick)
    }
  }
  const first = ons[0] ?? 0
  return ons.map(t => ((t - first) * perQuarter) / 1e6 / (header.ticksPerBeat ?? 480))
}

const live = (body: string): number[] => {
  const made: unknown = abcjs.synth.getMidiFile(`X:1\nT:Rhythm\n${body}\n`, { midiOutputType: 'binary' })
  return midiSeconds((made as Uint8Array[])[0] as Uint8Array)
}

// Source: abc2midi 4.84, LilyPond 2.24.1 and abcjs 6.7.2; see onset-tables.ts.
describe('rhythms as abc2midi, LilyPond and abcjs rendered them', () => {
  test.each(ONSET_TABLES.map(t => [t.name, t] as const))('%s', (_, table) => {
    const frames = ours(table)
    expect(frames).toHaveLength(table.seconds.length)
    // One frame is 21 us; the tables are rounded to 1 us.
    frames.forEach((f, i) => {
      expect(Math.abs(f - (table.seconds[i] as number) * RATE)).toBeLessThanOrEqual(1)
    })
  })
})

describe('rhythms as abcjs renders them now', () => {
  for (const table of ONSET_TABLES)
    test.skipIf(table.notLive !== undefined)(
      `${table.name}${table.notLive ? ` (not asked: ${table.notLive})` : ''}`,
      () => {
        const seconds = live(table.abc)
        const frames = ours(table)
        expect(seconds).toHaveLength(frames.length)
        // Its tempo is rounded to whole microseconds a quarter, ours is exact: at most 1 us a beat.
        frames.forEach((f, i) => {
          expect(Math.abs(f / RATE - (seconds[i] as number))).toBeLessThan(0.5 / RATE + 1e-5)
        })
      },
    )
})
