import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

const made: string[] = []

/** An empty folder, gone after the tests of the file. */
export const newFolder = (): string => {
  const folder = mkdtempSync(join(tmpdir(), 'gradino-test-'))
  made.push(folder)
  return folder
}

export const sweepFolders = (): void => {
  for (const folder of made.splice(0)) rmSync(folder, { recursive: true, force: true })
}
