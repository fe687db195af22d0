import { spawnSync } from 'node:child_process'

/** Milliseconds that a bare process needs to start and end on a quiet machine. */
const QUIET = 60
const TRIES = 3

/**
 * Milliseconds that stand here and now for so many on a quiet machine: longer by as much as a bare process takes longer.
 * Each of the promises that are measured so begins with a process that starts.
 */
export const hereAndNow = (ms: number): number => {
  const began = performance.now()
  for (let i = 0; i < TRIES; i++) spawnSync(process.execPath, ['-e', '0'])
  return ms * Math.max(1, (performance.now() - began) / TRIES / QUIET)
}
