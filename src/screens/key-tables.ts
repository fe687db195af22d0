import { ok, problem, type Result, wrong } from '../music/result.ts'
import { type Controls, type KeyChoice, type KeyTable, keysOf, takenKeys } from '../terminal/key-table.ts'
import type { Pedal } from '../terminal/lock.ts'
import { CLICK_KEYS } from './click/key-table.ts'
import { EDIT_KEYS } from './form/key-table.ts'
import { HOME_KEYS } from './home/key-table.ts'
import { IMPORT_KEYS } from './import/key-table.ts'
import { NOTE_ROW } from './key-rows.ts'
import { PRACTICE_KEYS } from './practice/key-table.ts'
import { READING_KEYS } from './reading/key-table.ts'
import { CHOOSE_KEYS } from './sound/choose.ts'
import { DAY_KEYS, REST_KEYS } from './today/key-table.ts'
import { WARM_UP_KEYS } from './warmup/key-table.ts'
import { keyTaken } from './words.ts'

/** While pedals are learned every key may be one; after that a note has its key here too. */
export const SETUP_KEYS: KeyTable<never> = [{ ...NOTE_ROW, on: ['plays', 'try'] }]

/** The keys of every screen. */
export const KEY_TABLES: Readonly<Record<string, KeyTable<unknown>>> = {
  practice: PRACTICE_KEYS,
  day: DAY_KEYS,
  repertoire: HOME_KEYS,
  form: EDIT_KEYS,
  import: IMPORT_KEYS,
  reading: READING_KEYS,
  'warm-up': WARM_UP_KEYS,
  click: CLICK_KEYS,
  rest: REST_KEYS,
  'set-up': SETUP_KEYS,
  'the click by ear': CHOOSE_KEYS,
}

/** Keys that mean something on some screen and can't become this pedal, and what each means. */
export const takenFor = (pedal: Pedal, choice: KeyChoice): Readonly<Record<string, string>> =>
  takenKeys(Object.values(KEY_TABLES), choice, pedal)

/**
 * "take back=z": another key for what a key does; "take back=" takes it away, "take back=usual" gives it back. Refused where
 * there is no such thing, and where the key means something else on the same screen or is a pedal.
 */
export const changedKey = (typed: string, c: Controls): Result<Readonly<Record<string, string>>> => {
  const at = typed.indexOf('=', 1)
  const name = typed.slice(0, at).trim()
  const key = typed.slice(at + 1).trim()
  const tables = Object.values(KEY_TABLES).filter(t => t.some(r => r.name === name))
  if (at < 0 || tables.length === 0)
    return problem('key', typed, 'what it does and its key, like "take back=z" (? on a screen names them)')
  const { [name]: _, ...others } = c.choice.keys
  if (key === 'usual') return ok(others)
  const other = tables
    .flat()
    .find(r => r.name !== name && keysOf(r, { ...c.choice, letters: true }).includes(key))
  if (other || key === c.right || key === c.left) return wrong(keyTaken(key, other?.name ?? 'a pedal'))
  return ok({ ...others, [name]: key })
}
