import { Box, Text } from 'ink'
import type { ReactElement } from 'react'
import { decimal } from '../../music/fraction.ts'
import { noteValueName } from '../../music/note-value.ts'
import { spoken } from '../../music/tempo.ts'
import { current, lengthOf, tempoOf, turnsOf, type WarmUpState } from '../../warm-up/turns.ts'
import { bigNumber } from '../glyphs.ts'
import { theme } from '../theme.ts'

const HINT = 'right pedal: next exercise   left pedal: this one again'
const SHORT = 'right: next   left: again'
const KEYS = '[ ] tempo   + - loudness   w wait   f finish'

/** "turn 2 of 6, 8 beats" or "minute 2 of 5". */
export const turnWords = (s: WarmUpState): string => {
  const e = current(s)
  const turns = turnsOf(e)
  const at =
    e.minutes === null
      ? `turn ${Math.min(s.turn + 1, turns)} of ${turns}`
      : `minute ${Math.min(Math.floor(s.heard / 60) + 1, Math.ceil(e.minutes))} of ${e.minutes}`
  const beats = lengthOf(s)
  return beats === null ? at : `${at}, ${beats} ${beats === 1 ? 'beat' : 'beats'}`
}

/** Of the minutes that the plan of the day has for it; when they are over it goes on until the player leaves. */
export const plannedWords = (left: number): string =>
  left > 0 ? `${left} min left` : 'its minutes are over   f: what comes next'

/** `beat`: what is heard now, "count-in 3" or "measure 2, beat 1"; empty when nothing sounds. `trouble`: a sentence, or empty. */
export const WarmUpView = (p: {
  title: string
  state: WarmUpState
  /** What is said of the minutes that the plan has for it; empty or absent without a plan. */
  planned?: string
  beat: string
  trouble: string
  /** What is typed of a name for a preset; null = nothing is asked; absent where none is saved. */
  naming?: string | null
  size: { cols: number; rows: number }
}): ReactElement => {
  const { state: s } = p
  const e = current(s)
  const tempo = tempoOf(s)
  // All rows that there may be, one free, with figures seven rows high; without them six fewer.
  const wide = p.size.cols >= 78
  const rows = 19 + Math.ceil(e.words.length / 70) + e.notes.length + (e.tone ? 1 : 0)
  const large = wide && p.size.rows >= rows
  const small = !wide || p.size.rows < rows - 6
  const gap = small ? null : <Text> </Text>
  const place = `exercise ${s.exercise + 1} of ${s.exercises.length}`
  return (
    <Box
      flexDirection="column"
      width={Math.min(78, p.size.cols)}
      marginLeft={Math.max(0, Math.floor((p.size.cols - 78) / 2))}
    >
      <Text wrap="truncate">{` ${p.title}   ${place}`}</Text>
      {gap}
      <Text bold>{` ${e.item}${e.heading === '' ? '' : `   ${e.heading}`}`}</Text>
      <Box marginLeft={1} flexDirection="column">
        {!small && <Text wrap="wrap">{e.words}</Text>}
        {e.notes.map(line => (
          <Text key={line} wrap="truncate">
            {line}
          </Text>
        ))}
        {e.tone && (
          <Text wrap="truncate" color={theme.soft}>{`${s.toneOn ? '' : '(off) '}${e.tone.words}`}</Text>
        )}
      </Box>
      {gap}
      {large ? (
        bigNumber(decimal(tempo.bpm)).map((row, i) => (
          <Text
            key={i}
            bold
            wrap="truncate"
          >{`     ${row}${i === 6 ? `   ${noteValueName(tempo.unit).replaceAll('-', ' ')}` : ''}`}</Text>
        ))
      ) : (
        <Text bold>{` ${spoken(tempo)}`}</Text>
      )}
      {gap}
      <Text wrap="truncate">{`     ${[turnWords(s), p.planned].filter(Boolean).join('   ')}`}</Text>
      <Text
        bold
        color={theme.mark}
      >{`     ${p.beat === '' ? (s.phase === 'going' ? 'rest' : 'either pedal starts') : p.beat}`}</Text>
      {gap}
      <Text wrap="truncate" color={theme.soft}>{` ${small ? SHORT : HINT}`}</Text>
      <Text
        wrap="truncate"
        color={theme.soft}
      >{` ${KEYS}${e.tone ? '   o tone' : ''}${p.naming === undefined ? '' : '   p save as a preset'}`}</Text>
      {p.naming != null && (
        <Text
          wrap="truncate"
          bold
        >{` name of the preset: ${p.naming}_   Enter saves it, Escape leaves it`}</Text>
      )}
      {p.trouble !== '' && <Text wrap="wrap">{` ${p.trouble}`}</Text>}
    </Box>
  )
}
