import { rmSync } from 'node:fs'
import { mkdir, open, rename, rm, stat } from 'node:fs/promises'
import { printable } from '../music/result.ts'
import { temporary } from '../store/durable.ts'
import { codeOf, StoreError } from '../store/trouble.ts'

/** A file that the player asked for: its bytes come in pieces, so that a long one never stands in memory whole. */
export type OutFile = { readonly path: string; readonly chunks: Iterable<string | Uint8Array> }

const WHY: Readonly<Record<string, string>> = {
  ENOENT: 'its folder does not exist; make it first, or name another place',
  ENOTDIR: 'a part of that path is a file, not a folder; name another place',
  EEXIST: 'there is something else of that name; name another place',
  EISDIR: 'that is a folder; name a file',
  EACCES: 'that place is closed to you; name another one',
  EPERM: 'that place is closed to you; name another one',
  EROFS: 'that disk is read-only; name another place',
  ENOSPC: 'the disk is full; make room and try again',
  EDQUOT: 'your share of the disk is used up; make room and try again',
}

/** One sentence for an error of the system; a fault of ours stays what it is. */
const cannot = (path: string, error: unknown): unknown => {
  const code = codeOf(error)
  if (!/^E(?!RR_)/.test(code)) return error
  return new StoreError(
    `Can't write ${printable(path)}: ${WHY[code] ?? `the disk reported an error (${code})`}.`,
  )
}

const ENDINGS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const

/** Takes temporary files and folders away when a signal ends the program; returns how to stop watching. */
export const clearAtSignal = (paths: ReadonlySet<string>): (() => void) => {
  const release = (): void => {
    for (const signal of ENDINGS) process.off(signal, end)
  }
  const end = (signal: NodeJS.Signals): void => {
    for (const path of paths) rmSync(path, { recursive: true, force: true })
    release()
    process.kill(process.pid, signal)
  }
  for (const signal of ENDINGS) process.on(signal, end)
  return release
}

/** A folder of that name would only be noticed when all is written and gets its name. */
const refuseFolder = async (path: string): Promise<void> => {
  const found = await stat(path).catch(() => null)
  if (found?.isDirectory()) throw Object.assign(new Error('a folder'), { code: 'EISDIR' })
}

const fill = async (path: string, chunks: OutFile['chunks']): Promise<void> => {
  const handle = await open(path, 'wx')
  try {
    for (const chunk of chunks) await handle.writeFile(chunk)
    await handle.sync()
  } finally {
    await handle.close()
  }
}

/**
 * Writes all the files, or leaves everything as it was: each under a temporary name beside its place, and only when
 * all are whole do they get their names. Throws StoreError with one sentence.
 */
export const writeFiles = async (files: readonly OutFile[]): Promise<void> => {
  const begun = new Set<string>()
  const release = clearAtSignal(begun)
  let at = ''
  try {
    const whole: { readonly beside: string; readonly path: string }[] = []
    for (const { path, chunks } of files) {
      at = path
      await refuseFolder(path)
      const beside = temporary(path)
      begun.add(beside)
      await fill(beside, chunks)
      whole.push({ beside, path })
    }
    for (const { beside, path } of whole) {
      at = path
      await rename(beside, path)
    }
  } catch (error) {
    for (const file of begun) await rm(file, { force: true }).catch(() => {})
    throw cannot(at, error)
  } finally {
    release()
  }
}

/** Makes a folder where files are to be kept, unless it is there. Throws StoreError with one sentence. */
export const outFolder = async (folder: string): Promise<void> => {
  const found = await stat(folder).catch(() => null)
  if (found?.isDirectory()) return
  try {
    // Not those above it too: in some places (/proc) Node was measured to try that for ever.
    await mkdir(folder)
  } catch (error) {
    throw cannot(folder, error)
  }
}
