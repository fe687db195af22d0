import { afterAll, afterEach, vi } from 'vitest'
import { sweepFolders } from './folders.ts'

/*
 * Files of tests follow each other in one process, so each leaves it as it was. A helper cannot see to that itself: it is
 * loaded once, and what it would ask for holds for the first file only.
 */
afterEach(() => {
  vi.useRealTimers()
  vi.restoreAllMocks()
  vi.unstubAllEnvs()
})
afterAll(sweepFolders)
