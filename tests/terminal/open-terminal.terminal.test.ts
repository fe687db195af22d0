import { readFileSync } from 'node:fs'
import { afterEach, beforeAll, describe, expect, it } from 'vitest'
import { UNTOUCHED } from './headless.ts'
import { bundleFixture, type Pty, startInPty } from './pty.ts'

const OURS = { ...UNTOUCHED, alternate: true, cursorShown: false, autowrap: false, paste: true, focus: true }

let stand = ''
let pty: Pty
beforeAll(async () => {
  stand = await bundleFixture(new URL('./fixtures/stand.tsx', import.meta.url))
})
afterEach(() => pty.dispose())

type Options = Parameters<typeof startInPty>[2]
const open = async (o?: Options): Promise<Pty> => {
  pty = startInPty(process.execPath, [stand], { env: { CI: 'true' }, ...o })
  await pty.waitFor('last row')
  return pty
}

/** Runs the program below a plain shell, which tells afterwards how it ended and how it left the terminal. */
const openBelowShell = async (env: Record<string, string> = {}, by = ''): Promise<{ pid: number }> => {
  const line = `${by} "$NODE" "$STAND"; echo "status $?"; stty -a; echo done`
  pty = startInPty('/bin/sh', ['-c', line], {
    rows: 30,
    cols: 120,
    env: { CI: 'true', NODE: process.execPath, STAND: stand, ...env },
  })
  await pty.waitFor('last row')
  return { pid: Number(/pid (\d+)/.exec(pty.rows().join('\n'))![1]) }
}

const expectRestored = async (status: number): Promise<string> => {
  await pty.waitFor('done')
  const screen = pty.rows().join('\n')
  expect(pty.state()).toEqual(UNTOUCHED)
  expect(screen).toContain(`status ${status}`)
  expect(screen).toMatch(/[ ;]icanon/)
  expect(screen).toMatch(/[ ;]echo /)
  expect(screen).not.toContain('last row')
  return screen
}

describe.skipIf(process.platform === 'win32')('a program that owns the terminal', () => {
  it('draws at once, to the last cell, though CI is set', async () => {
    await open({ rows: 10, cols: 60 })
    expect(pty.state()).toEqual(OURS)
    expect(pty.rows()[0]).toBe('Weir Street Overture')
    expect(pty.rows()[9]).toBe('last row'.padEnd(60, '.'))
  })

  it('hears keys in pieces and keys in one piece', async () => {
    await open()
    await pty.send(['\x1b', '[', '6', '~'])
    await pty.send('\x1b[6~\x1b[5~aa')
    await pty.send([Buffer.of(0xc3), Buffer.of(0xa9)])
    await pty.send(['\x1b[200~x', 'y\r\x1b[201~', '\x1b[<0;1;1M', '\x1b[1;5P'])
    await pty.waitFor('heard: PageDown PageDown PageUp a a é Paste C-F1')
    await pty.send('\x1b')
    await pty.waitFor('C-F1 Escape')
  })

  it('fills a new size and leaves nothing of the old', async () => {
    await open({ rows: 12, cols: 40 })
    for (const [rows, cols] of [
      [20, 70],
      [8, 30],
    ] as const) {
      pty.resize(rows, cols)
      await pty.waitFor(`size ${cols}x${rows}`)
      expect(pty.rows()).toHaveLength(rows)
      expect(pty.rows().at(-1)).toBe('last row'.padEnd(cols, '.'))
      expect(pty.rows().filter(row => row.startsWith('last row'))).toHaveLength(1)
    }
  })

  it('keeps the traveling mark through new frames until it is taken away', async () => {
    await open()
    await pty.send('p')
    await pty.waitFor('|----*----|')
    await pty.waitFor('heard: p')
    expect(pty.rows()[4]).toBe('|----*----|')
    await pty.send('P')
    await pty.waitFor('|---------|')
  })

  it('shows colors, and none with NO_COLOR', async () => {
    const colored = /\[38;[25];/
    await open({ env: { CI: 'true', COLORTERM: 'truecolor' } })
    expect(pty.output()).toMatch(colored)
    pty.dispose()
    await open({ env: { CI: 'true', COLORTERM: 'truecolor', NO_COLOR: '1' } })
    expect(pty.output()).not.toMatch(colored)
  })

  /** Ended, though perhaps its new parent has not yet taken notice. */
  const ended = (pid: number): boolean => {
    try {
      process.kill(pid, 0)
      return process.platform === 'linux' && / Z /.test(readFileSync(`/proc/${pid}/stat`, 'utf8'))
    } catch {
      return true
    }
  }
  const endsSoon = async (pid: number): Promise<boolean> => {
    for (const end = performance.now() + 3000; performance.now() < end; ) {
      if (ended(pid)) return true
      await new Promise(done => setTimeout(done, 20))
    }
    process.kill(pid, 'SIGKILL')
    return false
  }

  it('ends when its terminal is closed', async () => {
    const { pid } = await openBelowShell()
    process.kill(pty.pid, 'SIGKILL')
    expect(await endsSoon(pid)).toBe(true)
  })

  it.skipIf(process.platform !== 'linux')(
    'ends when its terminal is closed, though no signal says so',
    async () => {
      const { pid } = await openBelowShell({}, 'setsid --wait')
      process.kill(pty.pid, 'SIGKILL')
      expect(await endsSoon(pid)).toBe(true)
    },
  )
})

describe.skipIf(process.platform === 'win32')('the terminal is given back', () => {
  it('at Ctrl+C, also in one piece with letters', async () => {
    await openBelowShell()
    await pty.send('ab\x03')
    await expectRestored(0)
  })

  it.each([
    ['SIGINT', 130],
    ['SIGTERM', 143],
    ['SIGHUP', 129],
    ['SIGQUIT', 131],
  ] as const)('by %s, and the shell learns that it was a signal', async (signal, status) => {
    const { pid } = await openBelowShell()
    process.kill(pid, signal)
    await expectRestored(status)
  })

  it.each([
    ['in the program', 'x', 'the pendulum [2J fell'],
    ['in a promise', 'y', 'nobody waited'],
    ['in a view', 'z', 'a broken view'],
  ])('after a fault %s, with one sentence', async (_, key, message) => {
    await openBelowShell()
    await pty.send(key)
    const screen = await expectRestored(1)
    expect(screen.slice(0, screen.indexOf('status')).trim()).toBe(
      `Gradino stopped because of a fault of its own (${message}). What you confirmed is on disk.`,
    )
  })

  it('with the place of the fault only when asked for', async () => {
    await openBelowShell({ GRADINO_DEBUG: '1' })
    await pty.send('x')
    await expectRestored(1)
    expect(pty.output()).toMatch(/\n\s+at .*stand/)
  })

  it('when the program exits by itself', async () => {
    await openBelowShell()
    await pty.send('e')
    await expectRestored(7)
  })
})

describe.skipIf(process.platform === 'win32')('stopping and going on', () => {
  const OF_THE_SHELL = { alternate: false, cursorShown: true, autowrap: true, synchronized: false }
  const startShell = async (): Promise<void> => {
    pty = startInPty('/bin/bash', ['--norc', '--noprofile', '-i'], {
      rows: 30,
      cols: 120,
      env: { CI: 'true', PS1: 'shell> ', NODE: process.execPath, STAND: stand },
    })
    await pty.waitFor('shell>')
    await pty.send('"$NODE" "$STAND"\r')
    await pty.waitFor('returns 0')
  }
  /** What the shell shows, without what it showed before. */
  const shellSays = async (command: string, answer: string | RegExp): Promise<void> => {
    await pty.send(`printf '\\033[H\\033[2J'; ${command}\r`)
    await pty.waitFor(answer)
    expect(pty.state()).toMatchObject(OF_THE_SHELL)
  }

  it.each(['Ctrl+Z', 'a stop sent from elsewhere'])(
    '%s and fg: the shell, then screen and keys again',
    async how => {
      await startShell()
      const pid = Number(/pid (\d+)/.exec(pty.rows().join('\n'))![1])
      for (const round of [1, 2]) {
        await pty.send('\x1b[6~')
        await pty.waitFor(`heard:${' PageDown'.repeat(round)}`)
        if (how === 'Ctrl+Z') await pty.send('\x1a')
        else process.kill(pid, 'SIGTSTP')
        await pty.waitFor('Stopped')
        await shellSays('stty -a', /icanon[\s\S]*[ ;]echo /)
        await shellSays('jobs', 'Stopped')
        if (round === 2) pty.resize(25, 60)
        await pty.send('fg\r')
        await pty.waitFor(round === 1 ? 'size 120x30' : 'size 60x25')
        await pty.waitFor(`returns ${round}`)
        expect(pty.state()).toEqual(OURS)
        expect(pty.rows().at(-1)).toMatch(/^last row\.+$/)
      }
      await pty.send('\x03')
      await pty.waitFor('shell>')
      await shellSays('echo status $?', 'status 0')
    },
  )

  it('stopped without warning, fg still brings screen and keys back', async () => {
    await startShell()
    const pid = Number(/pid (\d+)/.exec(pty.rows().join('\n'))![1])
    process.kill(pid, 'SIGSTOP')
    await pty.waitFor('Stopped')
    await pty.send('fg\r')
    await pty.waitFor('returns 1')
    await pty.send('a\x1b[5~')
    await pty.waitFor('heard: a PageUp')
    expect(pty.state()).toEqual(OURS)
    expect(pty.rows()[0]).toBe('Weir Street Overture')
  })

  it('sent to the background it stays stopped and does not draw over the shell', async () => {
    await startShell()
    await pty.send('\x1a')
    await pty.waitFor('Stopped')
    // Going on it wants its screen back, which stops it; a shell that has not seen that would not wake it again.
    await pty.send('bg\r')
    for (let look = 1; look < 40; look++) {
      await shellSays(`jobs; echo "look $((${look}))"`, `look ${look}`)
      if (pty.rows().join('\n').includes('Stopped')) break
    }
    await shellSays('echo "still $((40 + 2))"', 'still 42')
    await pty.send('fg\r')
    await pty.waitFor('last row')
    await pty.send('a')
    await pty.waitFor('heard: a')
    expect(pty.state()).toEqual(OURS)
  })

  it('without a shell to stop for, Ctrl+Z comes back by itself', async () => {
    await open()
    await pty.send('\x1a')
    await pty.waitFor('returns 1')
    await pty.send('a')
    await pty.waitFor('heard: a')
    expect(pty.state()).toEqual(OURS)
  })
})
