import { attemptLater, failed, type Need, printable, type Result, sentence } from '../music/result.ts'

/** Something could not be stored or read. The message is one clear sentence for the player, nothing else. */
export class StoreError extends Error {
  override readonly name = 'StoreError'
}

/** A value, or the one sentence that says why not. */
export type Done<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly message: string }

/** As it is said on a screen. */
export const asDone = <T>(r: Result<T>): Done<T> => (r.ok ? r : { ok: false, message: sentence(r.problem) })

/** As a result like any other. */
export const asResult = <T>(done: Done<T>): Result<T> => (done.ok ? done : failed(done.message))

/** Trouble of the disk as a result, where a screen goes on after it; anything else is a fault of ours and goes on. */
export const caught = async <T>(work: () => Promise<Result<T>>): Promise<Result<T>> => {
  try {
    return await work()
  } catch (error) {
    if (error instanceof StoreError) return failed(error.message)
    throw error
  }
}

/** Several steps, any of which may go wrong, on the disk too. */
export const tried = <T>(steps: (need: Need) => Promise<T>): Promise<Result<T>> =>
  caught(() => attemptLater(steps))

export const codeOf = (error: unknown): string =>
  error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : ''

const WHY: Readonly<Record<string, (path: string) => string>> = {
  ENOSPC: path => `the disk that holds ${path} is full; make room on it and try again`,
  EDQUOT: path => `your share of the disk that holds ${path} is used up; make room and try again`,
  EACCES: path => `${path} is closed to you; change its permissions or name another folder with --home`,
  EROFS: path => `${path} is on a disk that is read-only; name another folder with --home`,
  ENOENT: path => `${path} is gone; bring it back (is a disk unplugged?) or name another folder with --home`,
  ENOTDIR: path => `a part of ${path} is a file, not a folder; name another folder with --home`,
  EISDIR: path => `${path} is a folder, not a file; move it away and try again`,
  EFTYPE: path => `${path} is a pipe or a device, not a file; move it away and try again`,
  EFBIG: path => `${path} is far too large to be one of ours; move it away and try again`,
  ELOOP: path => `${path} is a link that leads back to itself; remove it and try again`,
}
const SAME_AS: Readonly<Record<string, string>> = {
  EPERM: 'EACCES',
  EEXIST: 'ENOTDIR',
  ESTALE: 'ENOENT',
}

/**
 * "The journal cannot be written: the disk that holds … is full; make room on it and try again."
 * An error that did not come from the system is a fault of ours and is handed back as it is.
 */
export const trouble = (what: string, path: string, error: unknown): unknown => {
  const why = whyNot(path, error)
  return why === null ? error : new StoreError(`${what}: ${why}.`, { cause: error })
}

/** The reason alone: "... is a folder, not a file; move it away and try again"; null for a fault of ours. */
export const whyNot = (path: string, error: unknown): string | null => {
  const code = codeOf(error)
  if (!/^E(?!RR_)/.test(code)) return null
  const place = printable(path)
  const why = WHY[SAME_AS[code] ?? code] ?? (() => `the disk that holds ${place} reported an error (${code})`)
  return why(place)
}
