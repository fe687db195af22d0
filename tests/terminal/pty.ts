import { writeSync } from 'node:fs'
import { basename, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { spawn } from '@lydell/node-pty'
import { build } from 'esbuild'
import { newFolder } from '../folders.ts'
import { type Headless, headless } from './headless.ts'

/** A program running in a pseudo-terminal, and the screen that a player would see. */
export type Pty = {
  pid: number
  rows(): string[]
  state: Headless['state']
  /** Resolves as soon as the screen shows it, if only for a moment; rejects with the screen after `ms`. */
  waitFor(what: string | RegExp | ((rows: readonly string[]) => boolean), ms?: number): Promise<void>
  /** Bytes typed by the player; an array is sent piece by piece, 5 ms apart. */
  send(bytes: string | readonly (string | Buffer)[]): Promise<void>
  resize(rows: number, cols: number): void
  /** Everything the program wrote so far. */
  output(): string
  exit: Promise<{ code: number; signal: number }>
  /** Ends what still runs. For `afterEach`; harmless when all is over. */
  dispose(): void
}

/** Behind what ends a synchronized update. */
const FRAME_ENDS = /(?<=\[\?2026l)/

const pause = (ms: number): Promise<void> => new Promise(done => setTimeout(done, ms))

/** Starts `file` with its arguments. The environment is ours plus `env`; undefined takes a name out. */
export const startInPty = (
  file: string,
  args: readonly string[],
  o: { rows?: number; cols?: number; env?: Record<string, string | undefined>; cwd?: string } = {},
): Pty => {
  const { rows = 24, cols = 80 } = o
  const screen = headless(rows, cols)
  const env = Object.fromEntries(
    Object.entries({ ...process.env, TERM: 'xterm-256color', NODE_ENV: undefined, ...o.env }).filter(
      ([, value]) => value !== undefined,
    ),
  )
  const child = spawn(file, [...args], {
    name: 'xterm-256color',
    rows,
    cols,
    cwd: o.cwd ?? process.cwd(),
    env,
  })
  let output = ''
  let over = false
  let drawn: Promise<void> = Promise.resolve()
  const watching = new Set<() => void>()
  child.onData(data => {
    output += data
    // Whoever waits looks at each frame that is whole: what the next one wipes away was seen.
    const pieces = data.split(FRAME_ENDS)
    drawn = new Promise(done => {
      for (const [i, piece] of pieces.entries())
        screen.terminal.write(piece, () => {
          if (!screen.state().synchronized) for (const look of watching) look()
          if (i === pieces.length - 1) done()
        })
    })
  })
  const { fd } = child as unknown as { readonly fd: number }
  /**
   * As much as the terminal takes, and the rest when it takes more: the stream of the library would wait for that and read
   * nothing meanwhile, so a program that writes as long would never read on.
   */
  const poured = async (bytes: Buffer): Promise<void> => {
    for (let rest = bytes; rest.length > 0 && !over; ) {
      try {
        rest = rest.subarray(writeSync(fd, rest))
      } catch (error) {
        if ((error as NodeJS.ErrnoException).code !== 'EAGAIN') return
        await pause(2)
      }
    }
  }
  const exit = new Promise<{ code: number; signal: number }>(done => {
    child.onExit(({ exitCode, signal }) => {
      over = true
      void drawn.then(() => done({ code: exitCode, signal: signal ?? 0 }))
    })
  })

  return {
    pid: child.pid,
    rows: screen.rows,
    state: screen.state,
    output: () => output,
    exit,
    resize(r, c) {
      screen.resize(r, c)
      child.resize(c, r)
    },
    async send(bytes) {
      if (typeof bytes === 'string') return poured(Buffer.from(bytes))
      for (const piece of bytes) {
        await poured(Buffer.from(piece))
        await pause(5)
      }
    },
    async waitFor(what, ms = 15_000) {
      const seen = (): boolean => {
        const all = screen.rows()
        if (typeof what === 'function') return what(all)
        const text = all.join('\n')
        return typeof what === 'string' ? text.includes(what) : what.test(text)
      }
      await drawn
      if (seen()) return
      await new Promise<void>((found, lost) => {
        const over = (): void => {
          watching.delete(look)
          clearTimeout(late)
        }
        const look = (): void => {
          if (!seen()) return
          over()
          found()
        }
        const late = setTimeout(() => {
          over()
          if (seen()) return found()
          const shown = screen.rows().join('\n')
          lost(new Error(`${String(what)} did not appear within ${ms} ms; the screen:\n${shown}`))
        }, ms)
        watching.add(look)
      })
    },
    dispose() {
      if (!over) child.kill('SIGKILL')
    },
  }
}

/** Bundles a fixture (TypeScript, with Ink) into a temporary file that `node` runs, and returns its path. */
export const bundleFixture = (url: URL): Promise<string> => {
  const source = fileURLToPath(url)
  const outfile = join(newFolder(), `${basename(source).replace(/\.tsx?$/, '')}.mjs`)
  return build({
    entryPoints: [source],
    outfile,
    bundle: true,
    platform: 'node',
    target: 'node20',
    format: 'esm',
    jsx: 'automatic',
    define: { 'process.env.NODE_ENV': '"production"' },
    plugins: [
      {
        name: 'no-devtools',
        setup(b) {
          b.onResolve({ filter: /^react-devtools-core$/ }, () => ({ path: 'stub', namespace: 'stub' }))
          b.onLoad({ filter: /.*/, namespace: 'stub' }, () => ({ contents: 'export default {}' }))
        },
      },
    ],
    banner: {
      js: "import { createRequire as __createRequire } from 'node:module'; const require = __createRequire(import.meta.url);",
    },
    logLevel: 'error',
  }).then(() => outfile)
}
