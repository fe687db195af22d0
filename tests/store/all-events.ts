import { join } from 'node:path'
import type { Event } from '../../src/ladder/event.ts'
import type { Home } from '../../src/store/home.ts'
import { JOURNAL, journalFolder, type Uncounted, visitsIn } from '../../src/store/journal.ts'
import { byTime, logFiles, parseLog, type Records, readLogFile } from '../../src/store/log.ts'

/** Each visit begins with its opening and is in order of its numbers; visits by the time of their opening. */
type JournalRead = Uncounted & { readonly visits: readonly (readonly Event[])[] }

export const parseJournal = (text: string, file: string): Records<Event> => parseLog(JOURNAL, text, file)

/** Many files as one journal. */
export const gather = (files: readonly Records<Event>[]): JournalRead => {
  const all = visitsIn(files)
  return {
    visits: all
      .filter(visit => visit[0]?.kind === 'visit')
      .sort((a, b) => byTime(a[0] as Event, b[0] as Event)),
    damaged: files.flatMap(f => f.damaged),
    unknown: files.reduce((sum, f) => sum + f.unknown, 0),
    unopened: all.filter(visit => visit[0]?.kind !== 'visit').reduce((sum, visit) => sum + visit.length, 0),
  }
}

/** All events of all machines at once: what no command does, and what the summaries are held against. */
export const allEvents = async (home: Home): Promise<JournalRead> => {
  const names = await logFiles(home, JOURNAL)
  return gather(await Promise.all(names.map(name => readLogFile(JOURNAL, join(journalFolder(home), name)))))
}
