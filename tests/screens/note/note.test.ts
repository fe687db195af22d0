import { stripVTControlCharacters } from 'node:util'
import { describe, expect, test } from 'vitest'
import type { NoteBody } from '../../../src/repertoire/note.ts'
import type { Notebook } from '../../../src/screens/desk.ts'
import { NOTE_ROW } from '../../../src/screens/key-rows.ts'
import { noteRows } from '../../../src/screens/note/note.ts'
import { covered } from '../../../src/screens/overlay.ts'
import { keyLock } from '../../../src/screens/practice/key-lock.ts'
import type { State as Practice } from '../../../src/screens/practice/reduce.ts'
import { practiceOverlay } from '../../../src/screens/practice/screen.ts'
import { FEET, type KeyTable, pressed } from '../../../src/terminal/key-table.ts'
import { USUAL_LOCK } from '../../../src/terminal/lock.ts'
import type { PlainTerminal } from '../../../src/terminal/open-plain.ts'
import { rowText } from '../../../src/terminal/painted.tsx'
import { runScreen } from '../../../src/terminal/run-screen.tsx'
import { TWO } from '../controls.ts'
import { setup, stage, virtualClock } from '../practice/stage.ts'

type Did = 'start' | 'stop' | 'end' | 'ask'
const TABLE: KeyTable<Did> = [
  ...FEET,
  { name: 'wait', keys: ['w'], does: 'stop' },
  { name: 'leave', keys: ['q', 'C-c'], does: 'end' },
  { name: 'ask', keys: ['a'], does: 'ask' },
  NOTE_ROW,
]

/** A screen on which something sounds, a hand on the keyboard, and a notebook. */
const desk = async (notebook?: Partial<Notebook>) => {
  const clock = virtualClock()
  const said: string[] = []
  const kept: NoteBody[] = []
  const did: Did[] = []
  let typed: string | null = null
  let left: string | null = null
  let ends = (): void => {}
  let tell: (key: { id: string; at: number }) => void = () => {}
  const terminal = {
    ink: null,
    line: (text: string) => void said.push(text),
    typing: (text: string | null) => {
      typed = text
    },
    size: () => ({ rows: 24, cols: 80 }),
    onResize: () => () => {},
    onKey: (f: typeof tell) => {
      tell = f
      return () => {}
    },
  } as unknown as PlainTerminal
  const keep = async (body: NoteBody): Promise<string> => {
    kept.push(body)
    return 'Noted.'
  }
  const screen = covered<{ readonly sounds: boolean }, Did, Did, string>(
    { terminal, controls: TWO, notebook: { keep, ...notebook } },
    {
      state: { sounds: false },
      reduce: (_, a) => {
        did.push(a)
        return { state: { sounds: a === 'start' }, effects: a === 'end' || a === 'ask' ? [a] : [] }
      },
      key: (_, key) => {
        const press = pressed(TABLE, '', key.id, TWO)
        return press === null ? null : press.kind === 'pedal' ? 'start' : press.does
      },
      perform: (e, run) => {
        if (e === 'end') run.end('over')
      },
      open: run => {
        ends = () => run.end('over')
        return []
      },
      view: () => [],
      topics: () => ({}),
    },
    {
      table: TABLE,
      subject: () => ({ about: { key: 'section run even' }, says: 'the run', place: 'm. 43, beat 2' }),
      stops: s => (s.sounds ? 'stop' : null),
      asks: e => (e === 'ask' ? 'pain' : null),
    },
  )
  void runScreen(terminal, clock, screen).then(how => {
    left = how
  })
  const press = async (...ids: readonly string[]): Promise<void> => {
    for (const id of ids) {
      tell({ id, at: clock.now() })
      await clock.run(10)
    }
  }
  await clock.run(0)
  return {
    press,
    clock,
    said,
    kept,
    did,
    end: () => ends(),
    typed: () => typed,
    left: () => left,
  }
}

describe('a note on a screen', () => {
  test('begins with the place where the music stopped, and is kept with what it is about', async () => {
    const d = await desk()
    await d.press('n')
    expect(d.typed()).toBe('m. 43, beat 2: ')
    await d.press('Q', 'w', 'Space', '2', 'Enter')
    expect(d.kept).toEqual([{ kind: 'note', text: 'm. 43, beat 2: Qw 2', key: 'section run even' }])
    expect(d.said.at(-1)).toBe('Noted.')
    expect(d.did).toEqual([])
  })

  test('what sounds stops first; where nothing sounds nothing is done', async () => {
    const d = await desk()
    await d.press('PageDown', 'n')
    expect(d.did).toEqual(['start', 'stop'])
    await d.press('Escape')
    await d.clock.run(USUAL_LOCK)
    await d.press('n')
    expect(d.did).toEqual(['start', 'stop'])
  })

  test('Escape keeps nothing and says so where something was typed; without a word Enter keeps nothing either', async () => {
    const d = await desk()
    await d.press('n', 'x', 'Escape')
    expect(d.said.at(-1)).toBe('The note was not kept.')
    await d.clock.run(USUAL_LOCK)
    await d.press('n', 'Enter')
    expect(d.kept).toEqual([])
    expect(d.typed()).toBeNull()
  })

  test('a foot or a finger that is still on the key that closed it gives the screen no press', async () => {
    const d = await desk()
    await d.press('n', 'x', 'PageDown')
    expect(d.kept).toHaveLength(1)
    // The system repeats a held key after 660 ms, then every 40.
    await d.clock.run(640)
    for (let i = 0; i < 20; i++) {
      await d.press('PageDown')
      await d.clock.run(30)
    }
    expect(d.did).toEqual([])
    await d.clock.run(USUAL_LOCK)
    await d.press('PageDown')
    expect(d.did).toEqual(['start'])
  })

  test('Tab goes through what it can be: for tomorrow, for the teacher, pain, and round', async () => {
    for (const [n, kind] of ['note', 'tomorrow', 'teacher', 'pain', 'note'].entries()) {
      const d = await desk()
      await d.press('n', ...Array<string>(n).fill('Tab'), 'x', 'Enter')
      expect(d.kept.map(k => k.kind)).toEqual([kind])
    }
  })

  test('where it is asked whether something hurts, the answer needs no word', async () => {
    const d = await desk()
    await d.press('a')
    expect(d.said.at(-1)).toContain('Something hurts')
    await d.press('Enter')
    expect(d.kept).toEqual([{ kind: 'pain', text: '', key: 'section run even' }])
  })

  test('what can’t be stored stays as it was typed, with the reason', async () => {
    let full = true
    const d = await desk({
      keep: async () => {
        if (full) throw new Error("Can't store the note: the disk is full.")
        return 'Noted.'
      },
    })
    await d.press('n', 'x', 'Enter')
    expect(d.said.at(-1)).toContain('the disk is full')
    expect(d.said).not.toContain('Noted.')
    expect(d.typed()).toBe('m. 43, beat 2: x')
    full = false
    await d.clock.run(USUAL_LOCK)
    await d.press('Enter')
    expect(d.said.at(-1)).toBe('Noted.')
  })

  test('it is said only once it is on disk', async () => {
    let stored = (): void => {}
    const d = await desk({
      keep: () =>
        new Promise(resolve => {
          stored = () => resolve('Noted.')
        }),
    })
    await d.press('n', 'x', 'Enter')
    await d.clock.run(1000)
    expect(d.said).not.toContain('Noted.')
    stored()
    await d.clock.run(10)
    expect(d.said.at(-1)).toBe('Noted.')
  })

  test('what ends by itself under an open note waits for it', async () => {
    const d = await desk()
    await d.press('n', 'x')
    d.end()
    await d.clock.run(5000)
    expect(d.left()).toBeNull()
    await d.press('y', 'Enter')
    expect(d.kept.map(k => k.text)).toEqual(['m. 43, beat 2: xy'])
    expect(d.left()).toBe('over')
  })

  test('Ctrl+C leaves the note, and is the screen’s', async () => {
    const d = await desk()
    await d.press('n', 'x', 'C-c')
    expect(d.typed()).toBeNull()
    expect(d.kept).toEqual([])
    expect(d.left()).toBe('over')
  })
})

test('in any window the note is whole: what is asked, what was typed, what the keys do', () => {
  const open = {
    about: {},
    says: 'Weir Street Overture, run at the weir, m. 41-44',
    as: 'teacher',
    line: { text: `${'long '.repeat(30)}end`, cursor: 153 },
    busy: false,
    refused: '',
  } as const
  for (const size of [
    { cols: 160, rows: 48 },
    { cols: 80, rows: 24 },
    { cols: 40, rows: 12 },
  ]) {
    const rows = noteRows(open, size).map(r => stripVTControlCharacters(rowText(r)))
    for (const row of rows) expect([...row].length).toBeLessThanOrEqual(size.cols)
    const text = rows.join(' ').replaceAll(/\s+/g, ' ')
    expect(text).toContain('A question for the teacher, Weir Street Overture, run at the weir, m. 41-44:')
    expect(text).toContain('long end_')
    for (const key of ['Enter keeps it', 'Tab: pain', 'Escape leaves it']) expect(text).toContain(key)
  }
})

describe('a note while a passage is practiced', () => {
  const stateOf = (s: Awaited<ReturnType<typeof stage>>): Practice =>
    ({ session: s.conductor.session(), typing: '', ended: null }) as Practice
  const notes = practiceOverlay({ controls: TWO, keyLock: keyLock(false) })
  const note = async (s: Awaited<ReturnType<typeof stage>>): Promise<void> => {
    const stops = notes.stops?.(stateOf(s))
    if (stops?.kind === 'visit') s.conductor.act(stops.action)
    await s.conductor.settled()
    await s.clock.run(10)
  }

  test('stops the repetition that sounds: it waits, the row stays, nothing is judged', async () => {
    const s = await stage(setup())
    await s.play('CC')
    expect(s.row()).toBe(2)
    await s.clock.run(6000)
    expect(s.conductor.session().current).toMatchObject({ entered: true, over: false })
    const before = s.journal.filter(e => e.kind === 'verdict').length
    await note(s)
    expect(s.conductor.session().phase).toBe('hold')
    expect(s.row()).toBe(2)
    expect(s.journal.filter(e => e.kind === 'verdict')).toHaveLength(before)
  })

  test('leaves a verdict open that is asked for', async () => {
    const s = await stage(setup())
    await s.press('right')
    await s.clock.run(8000)
    expect(s.conductor.session().note.kind).toBe('waiting')
    await note(s)
    expect(s.conductor.session().note.kind).toBe('waiting')
    await s.press('right')
    expect(s.row()).toBe(1)
  })

  test('knows the place where the music stopped, until the next repetition is judged', async () => {
    const s = await stage(setup())
    await s.press('right')
    await s.press('left', 'middle')
    expect(notes.subject?.(stateOf(s))?.place).toMatch(/^m\. 41/)
    await s.clock.run(6000)
    await s.play('C')
    expect(notes.subject?.(stateOf(s))?.place).toBeUndefined()
  })

  test('is not made while only the pedals work: the word that opens the keys has an n in it', () => {
    const lock = keyLock(true)
    const { locked } = practiceOverlay({ controls: TWO, keyLock: lock })
    expect(locked?.()).toBe(true)
    for (const id of 'open') lock.passes(id, TWO)
    expect(locked?.()).toBe(false)
  })
})
