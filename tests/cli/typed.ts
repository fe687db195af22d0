import { join } from 'node:path'
import { vi } from 'vitest'
import { run } from '../../src/cli/run.ts'
import { newFolder } from '../folders.ts'

/** Noon of a Saturday in March: the same local day from eight hours west of Greenwich to fourteen east. */
export const NOON = '2031-03-15T12:00:00Z'

/** Exit status, standard output and standard error. */
export type Said = { readonly status: number; readonly out: string; readonly err: string }

/** What is typed as one line, as a shell takes it apart: what stands in double quotes is one word. */
export const words = (argv: readonly string[]): readonly string[] =>
  argv.length === 1 && argv[0]?.includes(' ')
    ? [...argv[0].matchAll(/"([^"]*)"|\S+/g)].map(m => m[1] ?? m[0])
    : argv

const typed = async (argv: readonly string[]): Promise<Said> => {
  let [out, err] = ['', '']
  const stdout = vi.spyOn(process.stdout, 'write').mockImplementation(s => {
    out += String(s)
    return true
  })
  const stderr = vi.spyOn(process.stderr, 'write').mockImplementation(s => {
    err += String(s)
    return true
  })
  try {
    const status = await run(argv)
    return { status, out, err }
  } finally {
    stdout.mockRestore()
    stderr.mockRestore()
  }
}

/** What is typed in a folder, with a home inside it that was not named. */
export const typedIn = async (
  folder: string,
  argv: readonly string[],
  env: Readonly<Record<string, string>> = {},
): Promise<Said> => {
  for (const [name, value] of Object.entries({ GRADINO_HOME: join(folder, 'home'), ...env }))
    vi.stubEnv(name, value)
  const before = process.cwd()
  process.chdir(folder)
  try {
    return await typed(words(argv))
  } finally {
    process.chdir(before)
    vi.unstubAllEnvs()
  }
}

/** A player with an empty home who types commands, each as a line or word by word; what is answered comes back. */
export const player = () => {
  const home = newFolder()
  const type = async (...argv: string[]): Promise<Said> => {
    vi.stubEnv('GRADINO_NOW', NOON)
    return typed(['--home', home, ...words(argv)])
  }
  return {
    home,
    type,
    json: async (...argv: string[]) => JSON.parse((await type('--json', ...words(argv))).out),
  }
}
