import { Box, Text } from 'ink'
import type { ReactElement } from 'react'
import { decimal } from '../../music/fraction.ts'
import { noteValueName } from '../../music/note-value.ts'
import { spoken } from '../../music/tempo.ts'
import { theme } from '../../terminal/theme.ts'
import { current, tempoOf, type WarmUpState } from '../../warm-up/turns.ts'
import { bigText } from '../glyphs.ts'
import { turnWords } from './words.ts'

/** Without the names of the keys, for a small window. */
const shortly = (pedals: string): string =>
  pedals
    .replaceAll(/ \([^)]*\)/g, '')
    .replace('next exercise', 'next')
    .replace('this one again', 'again')

/** `beat`: what is heard now, "count-in 3" or "measure 2, beat 1"; empty when nothing sounds. `trouble`: a sentence, or empty. */
export const WarmUpView = (p: {
  title: string
  state: WarmUpState
  /** What is said of the minutes that the plan has for it; empty or absent without a plan. */
  planned?: string
  beat: string
  trouble: string
  /** What the pedals do now, and the keys. */
  pedals: string
  keys: readonly string[]
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
        bigText(decimal(tempo.bpm)).map((row, i) => (
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
      >{`     ${p.beat === '' ? (s.phase === 'going' ? 'rest' : '') : p.beat}`}</Text>
      {gap}
      <Text wrap="truncate" color={theme.soft}>{` ${small ? shortly(p.pedals) : p.pedals}`}</Text>
      <Text wrap="truncate" color={theme.soft}>
        {` ${p.keys.filter(k => (e.tone || !k.endsWith(' tone')) && (p.naming !== undefined || !k.includes('preset'))).join('  ')}`}
      </Text>
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
