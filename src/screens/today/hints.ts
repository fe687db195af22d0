import { keyLabel } from '../../terminal/key-label.ts'
import { type Controls, keyHints } from '../../terminal/key-table.ts'
import { BAR } from '../home/cells.tsx'
import { inPhrases } from '../page.ts'
import { type Walk, walkHint } from '../walk.ts'
import { DAY_KEYS } from './key-table.ts'
import { atStop, isClosed, lineAt, menuOf, questionAt, type State } from './reduce.ts'

/** What the pedals and keys do now. */
export const hints = (s: State, c: Controls, walk: Walk, now: number, small = false): readonly string[] => {
  const keys = keyHints(DAY_KEYS, 'day', c.choice)
  const leaving = keys.filter(k => /pieces|note|help|leave/.test(k)).join('  ')
  if (menuOf(s))
    return [
      `   ${walkHint(walk, now, c, { take: 'this one', next: 'next' })}`,
      `   Escape: ${s.view === 'close' ? 'the day' : 'not now'}`,
    ]
  if (isClosed(s)) {
    const pedal =
      c.pedals === 1
        ? `pedal (${keyLabel(c.right)}): ${walk.press('right', now) === 'take' ? 'leave' : 'choose, then leave'}   `
        : ''
    return [`   ${pedal}${leaving}`]
  }
  const line = lineAt(s)
  const answer = c.pedals === 1 ? 'answer at the keyboard' : 'answer'
  const take = questionAt(s) ? answer : atStop(s) ? 'stop' : line?.state === 'done' ? 'once more' : 'begin'
  if (small && c.pedals === 2) return [`   Enter: ${take}  ${leaving}`]
  const pedals = `   ${walkHint(walk, now, c, { take, next: 'next line' })}`
  return small ? [pedals] : [pedals, `   ${keys.join('  ')}`]
}

/** The same in whole rows. */
export const hintRows = (all: readonly string[], width: number): readonly string[] =>
  all.flatMap(h => inPhrases(h.trim(), width - BAR)).map(h => `${' '.repeat(BAR)}${h}`)
