import { constants } from 'node:fs/promises'
import { FILE_MODE } from './durable.ts'
import { MOST_BYTES, openFile } from './read-file.ts'

/**
 * Adds lines to a file, so that they outlast a power cut when this resolves. Any number of processes may do so at once.
 * Whole records go to the file in one write; a write that was cut short is followed by the unfinished records anew,
 * never by their rest, since another process may have written between. `through` is called for each whole record.
 * Throws the system's error; then some of the records may be in the file.
 */
export const appendLines = async (
  path: string,
  lines: readonly string[],
  through: () => void = () => {},
): Promise<void> => {
  // Opened each time: a file that was deleted or replaced meanwhile would swallow what is written to the old one.
  const { O_APPEND, O_CREAT, O_WRONLY } = constants
  const { handle } = await openFile(path, O_WRONLY | O_APPEND | O_CREAT, MOST_BYTES, FILE_MODE)
  try {
    for (let tries = 0, done = 0; done < lines.length; tries++) {
      if (tries > 2) throw Object.assign(new Error('written in part, three times'), { code: 'ENOSPC' })
      // The newline in front keeps a record apart from a torn one before it.
      const records = lines.slice(done).map(line => Buffer.from(`\n${line}\n`))
      let { bytesWritten } = await handle.write(Buffer.concat(records))
      for (const record of records) {
        if (bytesWritten < record.length - 1) break
        bytesWritten -= record.length
        done++
        through()
      }
    }
    await handle.datasync()
  } finally {
    await handle.close()
  }
}
