import { CLICK_ROLES, type Onset, type Program, type Role } from '../../click/program.ts'
import { CHARACTERS, DEFAULT_LEVELS, DYNAMICS, type Levels } from '../../click/voices.ts'
import type { KeyTable } from '../../terminal/key-table.ts'
import { key, NOTE_ROW } from '../key-rows.ts'
import { CHARACTER_WORDS, ROW_WORDS } from './words.ts'

/** What can be chosen, from top to bottom. */
export const ROWS = ['character', 'master', ...CLICK_ROLES] as const
export type LevelName = (typeof ROWS)[number]

export type SoundChoice = { readonly levels: Levels; readonly row: LevelName }

export type Action = { readonly kind: 'row' | 'change'; readonly by: 1 | -1 } | { readonly kind: 'leave' }

const row = (by: 1 | -1): Action => ({ kind: 'row', by })
const change = (by: 1 | -1): Action => ({ kind: 'change', by })

/** What each key does where the click is chosen by ear. No pedal is listened to. */
export const CHOOSE_KEYS: KeyTable<Action> = [
  { ...key('the line above', 'Up', row(-1)), pedal: 'any' },
  { ...key('the line below', 'Down', row(1)), pedal: 'any' },
  { ...key('the choice before', 'Left', change(-1)), pedal: 'any' },
  { ...key('the next choice', 'Right', change(1)), pedal: 'any' },
  key('softer', '-', change(-1)),
  key('louder', '+', change(1)),
  key('leave', ['f', 'q'], { kind: 'leave' }),
  { ...key('take it', 'Enter', { kind: 'leave' }), pedal: 'any' },
  key('back', 'Escape', { kind: 'leave' }),
  NOTE_ROW,
  key('leave the program', 'C-c', { kind: 'leave' }),
]

const beside = <T>(all: readonly T[], now: T, by: 1 | -1): T => all[all.indexOf(now) + by] ?? now

export const levelOf = ({ levels }: SoundChoice, row: Exclude<LevelName, 'character'>): Levels['master'] =>
  row === 'master' ? levels.master : (levels.roles[row] ?? DEFAULT_LEVELS.roles[row] ?? 'mf')

/** The row above or below; the same at the ends. */
export const moved = (c: SoundChoice, by: 1 | -1): SoundChoice => ({ ...c, row: beside(ROWS, c.row, by) })

/** The row's value one step on: another click, going around, or louder and softer. */
export const changed = (c: SoundChoice, by: 1 | -1): SoundChoice => {
  const { levels, row } = c
  if (row === 'character') {
    const at = CHARACTERS.indexOf(levels.character) + by + CHARACTERS.length
    return { ...c, levels: { ...levels, character: CHARACTERS[at % CHARACTERS.length] ?? levels.character } }
  }
  const value = beside(DYNAMICS, levelOf(c, row), by)
  if (row === 'master') return { ...c, levels: { ...levels, master: value } }
  return { ...c, levels: { ...levels, roles: { ...levels.roles, [row]: value } } }
}

export const rowLine = (c: SoundChoice, row: LevelName): string => {
  const value = row === 'character' ? CHARACTER_WORDS[c.levels.character] : levelOf(c, row)
  return `${c.row === row ? '>' : ' '} ${(ROW_WORDS[row] ?? row).padEnd(18)} ${value}`
}

/**
 * Two measures of 4/4 with eighth notes, in which the chosen role is heard where music has it: a group begins on beat
 * 3, the first measure is a count-in or a counted rest, the guide taps between the beats, a breath stands before beat 4.
 */
export const sample = (row: LevelName, rate: number): Program => {
  const half = Math.round(rate * 0.375)
  const onsets: Onset[] = []
  for (let i = 0; i < 16; i++) {
    const [measure, beat] = [1 + Math.floor(i / 8), 1 + Math.floor((i % 8) / 2)]
    const add = (role: Role): void => void onsets.push({ frame: i * half, role, measure, beat })
    const before = measure === 1 && (row === 'countIn' || row === 'rest') ? row : null
    if (i % 2 === 1) {
      if (row === 'guide') add('guide')
      else if (!before) add('sub')
    } else add(before ?? (beat === 1 ? 'downbeat' : row === 'group' && beat === 3 ? 'group' : 'beat'))
    if (row === 'breath' && i % 8 === 6) add('breath')
  }
  const frames = 16 * half
  const last = 14 * half
  return {
    rate,
    frames,
    onsets,
    segments: [{ kind: 'passage', frame: 0 }],
    firstNote: 0,
    verdictFrom: last,
    lastBeat: last,
    end: frames,
  }
}
