import type { Program } from '../../src/click/program.ts'
import type { Event } from '../../src/ladder/event.ts'
import { decimal } from '../../src/music/fraction.ts'
import type { Tempo } from '../../src/music/tempo.ts'
import { reduce } from '../../src/visit/reduce.ts'
import { type Action, type Effect, newSession, openingBody, type Setup } from '../../src/visit/session.ts'
import { numbered } from '../ladder/live.ts'

/** Where in a repetition something happens: at the first frame of it, or at the last one before. */
export type Place =
  | 'rest'
  | 'countIn'
  | 'beforeMusic'
  | 'music'
  | 'beforeLastMeasure'
  | 'lastMeasure'
  | 'beforeLastBeat'
  | 'lastBeat'
  | 'over'

const bpm = (t: Tempo): string => decimal(t.bpm)

/** A line of the journal in a letter: clean, not clean, stopped, taken back, unjudged and why, moved. */
const letter = (e: Event): string => {
  if (e.kind === 'verdict') return e.clean ? 'C' : e.whole ? 'N' : 'S'
  if (e.kind === 'unjudged') return `u-${e.why}`
  if (e.kind === 'move') return `to-${bpm(e.to)}`
  return e.kind === 'takeBack' ? 'back' : ''
}

const SIGNALS = new Set(['row', 'slip', 'up', 'down', 'unanswered'])

/**
 * What is heard of an effect: a repetition, at once ("plays") or behind the one that sounds ("then"), the signals in its
 * rest, and the seconds until its count-in; silence; a signal alone.
 */
const heard = (e: Effect, rate: number): string => {
  if (e.kind === 'play') {
    const { program, rep, tempo } = e.take
    const said = program.onsets.filter(o => SIGNALS.has(o.role)).map(o => o.role)
    const rest = (program.segments.find(x => x.kind === 'countIn')?.frame ?? 0) / rate
    return [
      `${e.after === 'now' ? 'plays' : 'then'} ${rep} at ${bpm(tempo)}`,
      said.length > 0 ? `(${said.join(' ')})` : '',
      rest > 0 ? `after ${rest.toFixed(1)} s` : '',
    ]
      .filter(Boolean)
      .join(' ')
  }
  if (e.kind === 'signal') return e.role
  if (e.kind === 'rest') return `waits ${e.seconds} s`
  return e.kind === 'append' ? '' : e.kind
}

/** A visit without clock, disk or sound: what is written is stored at once, and the music is where the test says. */
export const visitOf = (setup: Setup) => {
  let session = newSession(setup)
  const journal: Event[] = []
  let log: string[] = []
  let frame: number | null = null
  let pending: number | null = null
  const program = (): Program | undefined => session.current?.program
  const perform = (e: Effect): void => {
    log.push(heard(e, setup.rate))
    if (e.kind === 'stop') frame = null
    if (e.kind === 'play' && e.after === 'now') frame = 0
    if (e.kind === 'rest') pending = e.events
    if (e.kind !== 'append') return
    const opening = session.events.length === 0 && e.bodies.length > 0 ? [openingBody(setup)] : []
    const events = [...opening, ...e.bodies].map((b, i): Event => {
      const line = numbered(b, 's', journal.length + 1 + i, 's-1')
      return { ...line, time: '2031-03-10T10:00:00.000Z', offset: 60 }
    })
    journal.push(...events)
    log.push(...events.map(letter))
    const { then } = e
    apply({ kind: 'stored', events, then })
  }
  const apply = (a: Action): void => {
    const step = reduce(session, a)
    session = step.session
    for (const e of step.effects) perform(e)
  }
  const to = (place: Place): void => {
    const p = program()
    if (!p || !session.current) return
    const countIn = p.segments.find(x => x.kind === 'countIn')?.frame ?? 0
    const at = {
      rest: 0,
      countIn,
      beforeMusic: p.firstNote - 1,
      music: p.firstNote,
      beforeLastMeasure: p.verdictFrom - 1,
      lastMeasure: p.verdictFrom,
      beforeLastBeat: p.lastBeat - 1,
      lastBeat: p.lastBeat,
      over: p.end,
    }[place]
    frame = at
    const { rep } = session.current
    if (at >= p.firstNote && !session.current.entered) apply({ kind: 'entered', rep })
    if (at < p.end || session.current?.rep !== rep) return
    apply({ kind: 'over', rep })
    if (session.next) {
      frame = 0
      apply({ kind: 'started', rep: session.next.rep })
    }
  }
  return {
    session: () => session,
    journal: () => journal,
    frame: () => frame,
    /** Until this place of the repetition that sounds is heard. */
    to,
    /** So many beats later. */
    later: (beats: number): void => {
      const { current } = session
      if (current && frame !== null)
        frame += Math.round((beats * 60 * setup.rate) / Number(bpm(current.tempo)))
    },
    act: apply,
    press: (pedal: 'right' | 'left' | 'both') => apply({ kind: 'pedal', pedal, frame }),
    /** The rest after the last verdict is over. */
    rested: () => apply({ kind: 'rested', events: pending ?? -1 }),
    /** What was heard and written since it was asked last, and what is said then: "C plays 2 at 104: clean". */
    told: (): string => {
      const all = log.filter(Boolean).join(' ')
      log = []
      return `${all}: ${session.note.kind}, ${session.phase}`
    },
  }
}
export type HeardVisit = ReturnType<typeof visitOf>
