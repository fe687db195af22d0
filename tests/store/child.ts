import { type ChildProcess, spawn } from 'node:child_process'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { buildSync } from 'esbuild'

/** A fixture as a program of its own in a folder, bundled as the program itself is. Gives its path. */
export const bundled = (name: string, folder: string): string => {
  const outfile = join(folder, `${name}.mjs`)
  buildSync({
    entryPoints: [fileURLToPath(new URL(`./fixtures/${name}.ts`, import.meta.url))],
    outfile,
    bundle: true,
    platform: 'node',
    target: 'node20',
    format: 'esm',
    logLevel: 'warning',
  })
  return outfile
}

export type Child = {
  readonly process: ChildProcess
  /** Whole lines of stdout so far. */
  readonly lines: () => readonly string[]
  /** Resolves with the first line. */
  readonly begun: Promise<string>
  /** Resolves with exit code and stderr when it has ended and all its output is here. */
  readonly ended: Promise<{ code: number | null; errors: string }>
}

export const start = (program: string, ...args: readonly string[]): Child => {
  const child = spawn(process.execPath, [program, ...args], { stdio: ['ignore', 'pipe', 'pipe'] })
  let [out, errors] = ['', '']
  child.stderr.on('data', chunk => (errors += chunk))
  const lines = () => out.split('\n').slice(0, -1)
  const begun = new Promise<string>(resolve => {
    child.stdout.on('data', chunk => {
      out += chunk
      const [first] = lines()
      if (first !== undefined) resolve(first)
    })
  })
  const ended = new Promise<{ code: number | null; errors: string }>(resolve => {
    child.once('close', code => resolve({ code, errors }))
  })
  return { process: child, lines, begun, ended }
}
