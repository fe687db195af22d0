import { ALL_CAUTIONS } from '../../screens/words.ts'
import { everyCommand, type Told, type ToldOption } from './told.ts'

/** Text that troff takes as it is: a backslash, a dash, and a line that begins like a request are escaped. */
const plain = (text: string): string =>
  text
    .replaceAll('\\', '\\e')
    .replaceAll('-', '\\-')
    .replace(/^([.'])/gm, '\\&$1')

const option = (o: ToldOption): string => `.TP\n.B ${plain(o.flags)}\n${plain(o.says)}`

const commandText = (t: Told): string =>
  [
    `.SS "gradino ${plain(`${t.path.join(' ')} ${t.named}`.trim())}"`,
    plain(t.says.replace(/^./, c => c.toUpperCase()).replace(/([^.])$/, '$1.')),
    ...t.options.filter(o => !o.spelled.includes('--help')).map(option),
  ].join('\n')

/** The manual page, in the man macros of troff: section 1, as man-pages(7) orders its parts. */
export const manPage = (told: Told, version: string): string => {
  const groups = [...new Set(told.under.map(t => t.group))]
  const typed = (t: Told): readonly Told[] => everyCommand(t).filter(c => c.under.length === 0)
  return `.TH GRADINO 1 "" "gradino ${plain(version)}" "Gradino"
.SH NAME
gradino \\- climb a tempo ladder in the practice room, hands\\-free
.SH SYNOPSIS
.B gradino
[\\fIcommand\\fR] [\\fIoptions\\fR]
.SH DESCRIPTION
An exact click, a foot pedal that says clean or not clean, and a ladder of tempos from a comfortable one to the goal.
It remembers your ceiling, and the next day starts one step below it.
Without a command, it opens the day.
.SH OPTIONS
${told.options.map(option).join('\n')}
${groups
  .map(
    g =>
      `.SH "${g.replace(/:$/, '').toUpperCase()}"\n${told.under
        .filter(t => t.group === g)
        .flatMap(typed)
        .map(commandText)
        .join('\n')}`,
  )
  .join('\n')}
.SH CAUTIONS
${plain(ALL_CAUTIONS.join('\n'))}
.SH ENVIRONMENT
.TP
.B GRADINO_HOME
One folder for everything. Without it, data and settings live in your system's usual folders.
.TP
.B NO_COLOR
Set it to anything to turn color off.
.SH "EXIT STATUS"
0: done. 1: it could not be done (device, disk, lock). 2: a wrong option, name or value, or a screen without a terminal.
`
}
