import { EventEmitter } from 'node:events'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { openTerminal, type Terminal } from '../../src/terminal/open-terminal.ts'
import { faultSentence } from '../../src/terminal/process-guard.ts'
import type { Key } from '../../src/terminal/tokenizer.ts'
import { type Headless, headless, UNTOUCHED } from './headless.ts'

const WATCHED = [
  'exit',
  'SIGINT',
  'SIGTERM',
  'SIGHUP',
  'SIGTSTP',
  'SIGCONT',
  'SIGWINCH',
  'uncaughtException',
  'unhandledRejection',
]
const listening = (): number[] => WATCHED.map(name => process.listenerCount(name))

/** Streams that behave like a terminal, whose reader may be slow. */
const streams = (screen: Headless) => {
  const stdin = Object.assign(new EventEmitter(), {
    raw: false,
    setRawMode: (on: boolean) => (stdin.raw = on),
    resume() {},
    pause() {},
  })
  const stdout = Object.assign(new EventEmitter(), {
    rows: 4,
    columns: 20,
    slow: false,
    writes: 0,
    drawn: Promise.resolve(),
    write(bytes: string) {
      stdout.writes += 1
      stdout.drawn = screen.write(bytes)
      return !stdout.slow
    },
  })
  return { stdin, stdout }
}

describe('an open terminal', () => {
  let screen: Headless
  let io: ReturnType<typeof streams>
  let terminal: Terminal
  let keys: Key[]
  let before: number[]

  beforeEach(() => {
    before = listening()
    screen = headless(4, 20)
    io = streams(screen)
    terminal = openTerminal({
      now: () => performance.now(),
      stdin: io.stdin as unknown as NodeJS.ReadStream,
      stdout: io.stdout as unknown as NodeJS.WriteStream,
    })
    keys = []
    terminal.onKey(key => keys.push(key))
  })
  afterEach(() => {
    terminal.close()
    vi.useRealTimers()
  })

  const frame = (text: string): void => void terminal.ink.stdout!.write(text)
  const rows = async (): Promise<string[]> => {
    await io.stdout.drawn
    return screen.rows()
  }

  it('draws frames of Ink, and again at its new size', async () => {
    frame('quarter 112\nclean')
    io.stdout.rows = 2
    io.stdout.columns = 7
    screen.resize(2, 7)
    const told: unknown[] = []
    terminal.onResize(() => told.push(terminal.size()))
    terminal.ink.stdout!.on('resize', () =>
      told.push([terminal.ink.stdout!.columns, terminal.ink.stdout!.rows]),
    )
    io.stdout.emit('resize')
    expect(told).toEqual([{ rows: 2, cols: 7 }, [7, 2]])
    expect(await rows()).toEqual(['quarter', 'clean'])
  })

  it('draws anew when the window was small for a moment, though it is as large as before', async () => {
    frame('quarter 112')
    await rows()
    await screen.write('\x1b[2J')
    expect((await rows())[0]).toBe('')
    process.emit('SIGWINCH')
    expect((await rows())[0]).toBe('quarter 112')
  })

  it('what Ink writes to clear its own output clears nothing', async () => {
    frame('quarter 112')
    frame('')
    expect((await rows())[0]).toBe('quarter 112')
  })

  it('when the terminal is slow, frames wait and the latest wins', async () => {
    io.stdout.slow = true
    frame('beat 1')
    const writes = io.stdout.writes
    for (let beat = 2; beat < 100; beat += 1) frame(`beat ${beat}`)
    terminal.patch(1, '*')
    expect(io.stdout.writes).toBe(writes)
    io.stdout.slow = false
    io.stdout.emit('drain')
    expect(io.stdout.writes).toBe(writes + 1)
    expect(await rows()).toEqual(['beat 99', '*', '', ''])
  })

  it('the cautions stand in the last row, in as many words as fit, until a key arrives', async () => {
    terminal.close()
    terminal = openTerminal({
      now: () => performance.now(),
      stdin: io.stdin as unknown as NodeJS.ReadStream,
      stdout: io.stdout as unknown as NodeJS.WriteStream,
      first: ['Rest often. Stop when it hurts.', 'Rest often.'],
    })
    frame('quarter 112\n\n\nf finish')
    expect((await rows()).at(-1)).toBe(' Rest often.')
    io.stdin.emit('data', Buffer.from('a'))
    expect(await rows()).toEqual(['quarter 112', '', '', 'f finish'])
  })

  it('a lone Escape arrives after 30 ms, stamped with its press', () => {
    vi.useFakeTimers()
    const pressed = performance.now()
    io.stdin.emit('data', Buffer.from('\x1b'))
    vi.advanceTimersByTime(29)
    expect(keys).toEqual([])
    vi.advanceTimersByTime(2)
    expect(keys).toEqual([{ id: 'Escape', at: pressed }])
  })

  it('a pedal whose bytes were late only for us is no Escape', () => {
    vi.useFakeTimers()
    io.stdin.emit('data', Buffer.from('\x1b'))
    // The timer runs late, and the rest of the key was waiting to be read: reading comes before the verdict.
    vi.advanceTimersByTime(30)
    io.stdin.emit('data', Buffer.from('[6~'))
    vi.advanceTimersByTime(1000)
    expect(keys.map(k => k.id)).toEqual(['PageDown'])
  })

  it('closed, it is as before, draws nothing and hears nothing; closing twice is fine', async () => {
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] })
    frame('quarter 112')
    expect(io.stdin.raw).toBe(true)
    terminal.close()
    terminal.close()
    frame('late frame')
    terminal.patch(0, 'late mark')
    io.stdin.emit('data', Buffer.from('a'))
    expect(keys).toEqual([])
    expect(io.stdin.raw).toBe(false)
    // Ctrl+C once more adds nothing, for as long as leaving may take.
    vi.advanceTimersByTime(2000)
    expect(listening()).toEqual(before)
    expect(io.stdin.listenerCount('data') + io.stdin.listenerCount('end')).toBe(0)
    expect(io.stdout.eventNames()).toEqual([])
    expect(await rows()).toEqual(['', '', '', ''])
    expect(screen.state()).toEqual(UNTOUCHED)
  })

  it('while another window has the keyboard the last row says so, through new frames and sizes', async () => {
    frame('quarter 112\n\n\nright: clean')
    io.stdin.emit('data', Buffer.from('\x1b[O'))
    frame('quarter 116\n\n\nright: start')
    expect(await rows()).toEqual(['quarter 116', '', '', " The pedal can't rea"])
    io.stdin.emit('data', Buffer.from('\x1b[I'))
    expect((await rows())[3]).toBe('right: start')
    io.stdin.emit('data', Buffer.from('\x1b[O'))
    expect((await rows())[3]).toContain("can't")
    io.stdin.emit('data', Buffer.from('a'))
    expect((await rows())[3]).toBe('right: start')
    expect(keys.map(k => k.id)).toEqual(['a'])
  })

  it('of more keys at once than anyone presses only the way out is heard', () => {
    io.stdin.emit('data', Buffer.from('a'.repeat(64)))
    expect(keys).toHaveLength(64)
    io.stdin.emit('data', Buffer.from('a'.repeat(65)))
    expect(keys).toHaveLength(64)
    io.stdin.emit('data', Buffer.from(`${'a'.repeat(5000)}\x03${'b'.repeat(5000)}`))
    expect(keys.slice(64).map(k => k.id)).toEqual(['C-c'])
  })

  it('Ctrl+C is heard by whoever begins to listen after it: it may come between two screens', async () => {
    io.stdin.emit('data', Buffer.from('\x03'))
    const next: string[] = []
    const gone = vi.fn()
    terminal.onKey(key => next.push(key.id))
    terminal.onKey(gone)()
    await Promise.resolve()
    expect(next).toEqual(['C-c'])
    expect(gone).not.toHaveBeenCalled()
  })

  it('a key that closes the terminal is the last one heard', () => {
    terminal.onKey(() => terminal.close())
    io.stdin.emit('data', Buffer.from('\x03ab'))
    expect(keys.map(k => k.id)).toEqual(['C-c'])
  })
})

describe('a pedal that was learned in another kind of terminal', () => {
  it.each([
    ['nothing arrives: after a minute set-up is offered', [], true],
    ['it arrives all the same: nothing is said', ['\x1b[6~'], false],
    ['only other keys arrive: set-up is offered', ['a'], true],
  ])('%s', (_, sent, offered) => {
    vi.useFakeTimers()
    const io = streams(headless(4, 60))
    const written = vi.spyOn(io.stdout, 'write').mockReturnValue(true)
    const terminal = openTerminal({
      now: () => performance.now(),
      stdin: io.stdin as unknown as NodeJS.ReadStream,
      stdout: io.stdout as unknown as NodeJS.WriteStream,
      feet: { keys: ['PageDown', 'PageUp'], learnedIn: 'a glass terminal' },
    })
    const said = (): boolean => written.mock.calls.some(([bytes]) => bytes.includes('No pedal yet'))
    for (const bytes of sent) io.stdin.emit('data', Buffer.from(bytes))
    vi.advanceTimersByTime(59_999)
    expect(said()).toBe(false)
    vi.advanceTimersByTime(1)
    expect(said()).toBe(offered)
    terminal.close()
    vi.useRealTimers()
  })
})

describe('a fault of the program', () => {
  it('is one line, whatever was thrown', () => {
    expect(faultSentence(new Error('a\nb\x1b[2J'))).toBe(
      'Gradino stopped because of a fault of its own (a b [2J). What you confirmed is on disk.',
    )
    expect(faultSentence('text')).toContain('(text)')
    expect(faultSentence(undefined)).toContain('(undefined)')
    expect(faultSentence(new Error(''))).toContain('(unknown)')
  })
})
