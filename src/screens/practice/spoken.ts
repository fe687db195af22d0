import { type Controls, keyHelp } from '../../terminal/key-table.ts'
import type { Topics } from '../../terminal/run-screen.tsx'
import { keyLabel } from '../../terminal/words.ts'
import { momentOf } from '../../visit/moment.ts'
import { pedalLines } from '../../visit/pedal-table.ts'
import { rungOf } from '../../visit/session.ts'
import { askedHint } from '../../visit/slot.ts'
import type { Chapter, Entry } from '../help.ts'
import { BESIDE_KEYS, OFTEN_KEYS } from './key-table.ts'
import { restNow } from './now.ts'
import type { Shown } from './view.ts'
import * as say from './words.ts'

const pedalEntries = ({ right, left, pedals }: Controls): readonly Entry[] => [
  pedals === 2 ? ['right, left', `${keyLabel(right)}, ${keyLabel(left)}`] : ['the pedal', keyLabel(right)],
  ...pedalLines(pedals).map(({ when, does }): Entry => [when, does]),
  ...(pedals === 1 ? say.ONE_PEDAL_CHOOSES.map((line): Entry => ['', line]) : []),
]

/** What the pedals and the keys of the practice screen do. */
export const practiceHelp = (c: Controls): readonly Chapter[] => [
  { title: 'The pedals', entries: pedalEntries(c) },
  { title: 'The keys', entries: keyHelp(OFTEN_KEYS, c.choice) },
  { title: 'Beside the ladder', entries: keyHelp(BESIDE_KEYS, c.choice) },
]

/** What a visit says as lines: one for each thing that changes, none for what only moves. */
export const visitTopics = ({ session: s, frame, beside, choice, wrongs, keys }: Shown): Topics => {
  const done = s.phase === 'done'
  const click = say.clickedLine(s, rungOf(s.ladder))
  return {
    pedals: s.phase === 'ready' ? say.pedalHint(momentOf(s, null), s.setup.pedals, keys) : '',
    beside,
    note: s.note.kind === 'heard' ? '' : say.noteText(s.note),
    // Once in a visit: the keys stay the same.
    ...(wrongs && say.asksWhat(s.note) ? { wrongs: say.askedWords(wrongs) } : {}),
    slot: choice === '' ? askedHint(s, keys) : '',
    choice,
    ladder: done ? '' : `${say.tempoLine(s, rungOf(s.ladder))}: ${say.rowWords(s)}`,
    ...(done || click === '' ? {} : { click: say.clickSaid(click) }),
    rest: restNow(s, frame),
  }
}
