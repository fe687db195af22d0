import { beatsOf } from '../../click/program.ts'
import { sectionKey } from '../../ladder/key.ts'
import type { Done } from '../../store/trouble.ts'
import { type Controls, keyHelp, keyHints, pressed } from '../../terminal/key-table.ts'
import { LINGER } from '../../terminal/lock.ts'
import type { Screen, ScreenRun } from '../../terminal/run-screen.tsx'
import { placeLasts } from '../beat.ts'
import { newWalk } from '../choosing.ts'
import { loudness, type SoundingDesk, watchSleep } from '../desk.ts'
import type { Chapter } from '../help.ts'
import type { Subject } from '../note/note.ts'
import { runCovered } from '../overlay.ts'
import { layoutOf } from '../sizes.ts'
import { keyNames } from '../words.ts'
import { READING_KEYS } from './key-table.ts'
import { listed, markText, type Stretch } from './marks.ts'
import {
  type Action,
  closing,
  type Effect,
  newReading,
  offered,
  type Pass,
  passOf,
  reduce,
  type State,
} from './reduce.ts'
import { field, readingSheet, type Shown, tempoText } from './view.ts'
import { offerHint, offerSaid, passageSaid, pedalHint, readingPedals, TASK } from './words.ts'

/** After the written end a press still marks the last beats: the foot comes later than the ear. Seconds. */
const GRACE = 1.2

/** What a reading needs. */
export type ReadingParts = SoundingDesk & {
  readonly passes: readonly Pass[]
  /** Keeps stretches as sections of a passage; gives the names of those that were not there before. */
  readonly store: (pass: Pass, stretches: readonly Stretch[]) => Promise<Done<readonly string[]>>
}

type Left = { readonly lines: readonly string[] }

/** A reading as a screen, and the frame of the present passage that is heard (null = nothing sounds). */
export const theReading = (o: ReadingParts) => {
  const { sound, timing, lock, controls } = o
  const keys = keyNames(controls)
  const walk = newWalk(controls.pedals, timing.now())
  const loud = loudness(o)
  let id: number | null = null
  let cancel = (): void => {}
  /** Where the beat was drawn last. */
  let beatAt: number | null = null
  /** Whether one pedal has gone on from storing to leaving. */
  let leaving = false

  const frameAt = (s: State, t: number): number | null =>
    id === null || s.phase !== 'going' ? null : sound.frameAt(id, t)
  const frame = (s: State): number | null => frameAt(s, timing.now())

  /** Wakes at the next beat that is heard, and after the end. */
  const watch = (run: ScreenRun<State, Action, Left>): void => {
    cancel()
    const s = run.state()
    if (id === null || s.phase !== 'going') return
    const { program } = passOf(s)
    const now = sound.frameAt(id, timing.now()) ?? -2
    const end = program.end + Math.round(GRACE * program.rate)
    const next = beatsOf(program).find(b => b.frame > now + 1)?.frame ?? end
    const at = sound.heardAt(id, next)
    if (at === null) return
    cancel = timing.later(Math.max(1, at - timing.now()), () => {
      if ((frame(run.state()) ?? 0) >= end - 1) run.act({ kind: 'over' })
      else run.changed()
      watch(run)
    })
  }
  const hint = (s: State): string =>
    s.phase === 'offer' && controls.pedals === 1
      ? offerHint(leaving, walk.press('right', timing.now()), keys.right)
      : pedalHint(s.phase, controls.pedals, keys)
  const shown = (s: State): Shown => ({
    state: s,
    frame: frame(s),
    sound: loud.line(),
    pedals: hint(s),
    keys: keyHints(READING_KEYS, s.phase, controls.choice),
    motion: o.motion,
    size: o.terminal.size(),
  })
  /** One pedal: a press goes on to the other answer, and takes the one that has stood. */
  const answer = (at: number, run: ScreenRun<State, Action, Left>): Action | null => {
    const does = walk.press('right', at)
    walk.touch(at)
    if (does === 'take') return { kind: leaving ? 'leave' : 'store' }
    if (does === 'next') leaving = !leaving
    run.changed()
    return null
  }

  const screen: Screen<State, Action, Effect, Left> = {
    state: newReading(o.passes),
    reduce,
    key: (s, key, run) => {
      const press = pressed(READING_KEYS, s.phase, key.id, controls)
      if (press?.kind === 'key') {
        const { does } = press
        if (does.kind !== 'louder') return { kind: does.kind }
        if (loud.change(does.by)) run.changed()
        return null
      }
      if (!press || lock.press(press.pedal, key.at) !== 'accepted') return null
      if (s.phase !== 'offer') return { kind: 'press', frame: frameAt(s, key.at) }
      // A press that was meant for the music does not answer the question that comes up under it.
      if (key.at - run.since() < LINGER) return null
      if (controls.pedals === 1) return answer(key.at, run)
      return press.pedal === 'right' ? { kind: 'store' } : null
    },
    perform: async (e, run) => {
      if (e.kind === 'play') {
        id = sound.play(e.program, 'now')
        watch(run)
      } else if (e.kind === 'silence') {
        id = null
        sound.stop()
      } else if (e.kind === 'store') {
        const done = await o.store(e.pass, e.stretches)
        run.act(done.ok ? { kind: 'stored', names: done.value } : { kind: 'refused', text: done.message })
      } else run.end({ lines: closing(run.state()) })
    },
    shows: s => {
      if (s.phase !== 'offer') {
        leaving = false
        walk.touch(timing.now())
      }
      return s.phase
    },
    wakes: (s, now) => (s.phase === 'offer' ? walk.wakes(now) : null),
    open: run => {
      loud.open(run.changed)
      return [
        sound.on(e => {
          if (e.kind === 'started') watch(run)
          else if (e.kind === 'trouble' && e.what !== 'underrun') run.act({ kind: 'lost' })
          run.changed()
        }),
        // What was heard before the sleep has no place in what is heard after it.
        watchSleep(timing, () => run.act({ kind: 'slept' })),
        () => cancel(),
      ]
    },
    view: s => {
      const drawn = readingSheet(shown(s))
      beatAt = drawn.beatAt
      return drawn.rows
    },
    topics: s => ({
      task: TASK,
      note: s.note,
      // Said once a passage and once an offer.
      [`${s.phase} ${s.at}`]:
        s.phase === 'ready'
          ? passageSaid(passOf(s).title, tempoText(s))
          : s.phase === 'offer'
            ? offerSaid(listed(offered(s).map(x => x.name)))
            : '',
      pedals: hint(s),
    }),
    eye: s => {
      const [at, l, p] = [frame(s), layoutOf(o.terminal.size()), shown(s)]
      if (o.motion !== 'glide' || at === null || l === null || beatAt === null) return null
      const { program } = passOf(s)
      const lasts = placeLasts(beatsOf(program), at, program.end, program.rate)
      return { row: beatAt, text: field(p, l).join('\n'), in: lasts }
    },
  }
  return { screen, frame }
}

/** The passage, and the spot that was marked last. */
const subjectOf = (s: State): Subject => {
  const { id, piece, title, music } = passOf(s)
  const about = { piece, key: sectionKey(id) }
  return { about, says: title, ...(s.latest ? { place: markText(s.latest, music) } : {}) }
}

/** What the pedals and the keys of a reading do. */
export const readingHelp = (c: Controls): readonly Chapter[] => [
  {
    title: 'The pedals',
    entries: [['', TASK], ...readingPedals(c.pedals, keyNames(c))],
  },
  { title: 'The keys', entries: keyHelp(READING_KEYS, c.choice) },
]

/** One slow reading, drawn or as lines, to its end or until the player leaves. The caller opens and closes terminal and sound. */
export const readingScreen = (o: ReadingParts): Promise<Left> =>
  runCovered(o, theReading(o).screen, {
    table: READING_KEYS,
    on: s => s.phase,
    chapters: readingHelp(o.controls),
    sounds: s => s.phase === 'going',
    subject: subjectOf,
    stops: s => (s.phase === 'going' ? ({ kind: 'noted' } as const) : null),
  })
