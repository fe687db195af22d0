import { type KeyChoice, type KeyTable, takenKeys } from '../terminal/key-table.ts'
import type { Pedal } from '../terminal/lock.ts'
import { CLICK_KEYS } from './click/key-table.ts'
import { EDIT_KEYS } from './edit/key-table.ts'
import { HOME_KEYS } from './home/key-table.ts'
import { PRACTICE_KEYS } from './practice/key-table.ts'
import { READING_KEYS } from './reading/key-table.ts'
import { DAY_KEYS } from './today/key-table.ts'
import { REST_KEYS } from './today/rest-keys.ts'
import { WARM_UP_KEYS } from './warmup/key-table.ts'

/** The keys of every screen. */
export const KEY_TABLES: Readonly<Record<string, KeyTable<unknown>>> = {
  practice: PRACTICE_KEYS,
  day: DAY_KEYS,
  repertoire: HOME_KEYS,
  form: EDIT_KEYS,
  reading: READING_KEYS,
  'warm-up': WARM_UP_KEYS,
  click: CLICK_KEYS,
  rest: REST_KEYS,
}

/** Keys that mean something on some screen and can't become this pedal, and what each means. */
export const takenFor = (pedal: Pedal, choice: KeyChoice): Readonly<Record<string, string>> =>
  takenKeys(Object.values(KEY_TABLES), choice, pedal)
