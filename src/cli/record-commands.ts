import type { Command } from 'commander'
import type { CalendarTyped } from './calendar.ts'
import type { DiaryTyped } from './diary.ts'
import type { NoteTyped } from './note.ts'
import type { NotesTyped } from './notes.ts'
import type { Action } from './preset-commands.ts'
import type { ReportTyped } from './report.ts'

/** `diary`, `note`, `notes`, `report`, `calendar`. */
export const withRecords = (program: Command, action: Action): void => {
  program
    .command('diary')
    .description('what was practiced: this week, or from a day on')
    .option('--from <date>', 'the first day: 2026-03-14')
    .option('--csv <file>', 'as a table; of everything, where no day is named')
    .option('--check', 'read every line of every file and say what is damaged')
    .action(action(async (ctx, t: DiaryTyped) => (await import('./diary.ts')).diaryCommand(ctx, t)))
  program
    .command('note [text...]')
    .description('a note of your own: as it is, for tomorrow, for the teacher, of pain, or what went wrong')
    .option('--tomorrow', 'the first thing tomorrow')
    .option('--teacher', 'a question for the teacher')
    .option('--pain', 'any pain? a word is enough, and none is needed')
    .option('--wrong <what>', 'what went wrong: notes, rhythm, breath or sound')
    .option('--at <place>', 'where it went wrong: a measure, or measure and beat as 43.2')
    .option('--for <name>', 'PIECE or PIECE/PASSAGE')
    .option('--take-back [id]', 'take back the latest note of today, or the one of this id')
    .action(
      action(async (ctx, words: string[], t: NoteTyped) =>
        (await import('./note.ts')).noteCommand(ctx, words, t),
      ),
    )
  program
    .command('notes')
    .description('all notes')
    .option('--ids', 'with the id of each, to take one back')
    .action(action(async (ctx, t: NotesTyped) => (await import('./notes.ts')).notesCommand(ctx, t)))
  program
    .command('report <name>')
    .description('a page for a lesson: PIECE, or PIECE/PASSAGE')
    .option('--out <file>', 'the file to write: its ending says which kind (.md, .txt)')
    .option('--from <date>', 'the first day; else the first on which it was played')
    .option('--with-notes', 'with your own notes, those of pain too')
    .action(
      action(async (ctx, name: string, t: ReportTyped) =>
        (await import('./report.ts')).reportCommand(ctx, name, t),
      ),
    )
  program
    .command('calendar')
    .description('the days until the date as iCalendar')
    .option('--out <file>', 'the file to write: its name ends in .ics')
    .option('--minutes <number>', 'minutes of practice a day (40)')
    .action(action(async (ctx, t: CalendarTyped) => (await import('./calendar.ts')).calendarCommand(ctx, t)))
}
