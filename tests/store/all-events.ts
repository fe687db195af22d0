import { join } from 'node:path'
import type { Home } from '../../src/store/home.ts'
import { journalFolder } from '../../src/store/journal.ts'
import { gather, type JournalRead, journalFiles, readOne } from '../../src/store/read-journal.ts'

/** All events of all machines at once: what no command does, and what the summaries are held against. */
export const allEvents = async (home: Home): Promise<JournalRead> => {
  const names = await journalFiles(home)
  return gather(await Promise.all(names.map(name => readOne(join(journalFolder(home), name)))))
}
