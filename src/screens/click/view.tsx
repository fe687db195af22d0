import { Box, Text } from 'ink'
import type { ReactElement } from 'react'
import { beatsOf } from '../../click/beats.ts'
import { decimal } from '../../music/fraction.ts'
import { noteValueName } from '../../music/note-value.ts'
import { spoken } from '../../music/tempo.ts'
import { type BeatStrip, beatStrip, placeInMeasure, stripText } from '../beat-strip.ts'
import { bigText, GLYPH_ROWS } from '../glyphs.ts'
import { inRows } from '../home/layout.ts'
import { columnsOf, roomOf, type Size, TOO_SMALL } from '../sizes.ts'
import { StripLine } from '../strip-line.tsx'
import { theme } from '../theme.ts'
import type { Heard } from './feed.ts'
import { clickOf, clickText, markBeside, noteOf, pedalHint, type State } from './reduce.ts'

/** All that the screen of the click shows. */
export type Shown = {
  readonly state: State
  readonly heard: Heard | null
  /** Another click begins at the next bar line. */
  readonly turning: boolean
  readonly sound: string
  readonly pedals: 1 | 2
  /** Names of the pedal keys. */
  readonly keys: { readonly right: string; readonly left: string }
  /** What the other keys do. */
  readonly hints: readonly string[]
  readonly size: Size
}

/** Rows before the digits, and between them and the strip. */
const HEAD = 3
const GAP = 3
const LEFT = 5
const STRIP = { small: 30, full: 52, large: 92 } as const

const digitRows = (size: Size): number => (roomOf(size) === 'large' ? 2 : 1) * GLYPH_ROWS

/** Rows of the whole composition, for its place in the middle of a larger window. */
const height = (size: Size): number => HEAD + digitRows(size) + GAP + 9
const top = (size: Size): number => Math.max(0, Math.floor((size.rows - height(size)) / 2))
const left = (size: Size): number => Math.floor((size.cols - columnsOf(size)) / 2)

/** Row of the beat strip (0 = top); null where the window is too small to draw over it. */
export const stripRow = (size: Size): number | null => {
  const room = roomOf(size)
  return room === 'full' || room === 'large' ? top(size) + HEAD + digitRows(size) + GAP : null
}

/** The measure that is heard, or one at rest. */
const strip = (p: Shown, width: number, traveling: boolean): BeatStrip => {
  const { meter, tempo, pulse } = p.heard?.click ?? clickOf(p.state)
  const unit = pulse ?? tempo.unit
  const { heard } = p
  const at =
    heard && placeInMeasure(beatsOf(heard.program), heard.frame, heard.program.end, meter, unit, traveling)
  return beatStrip({ meter, unit, width, at })
}

const label = (p: Shown): string => {
  const at = p.heard && beatsOf(p.heard.program).findLast(b => b.frame <= (p.heard as Heard).frame)
  if (!at) return ''
  return at.measure < 0 ? 'count-in' : `measure ${at.measure}`
}

/** The whole row of the strip with the mark between the beats, to follow by eye where nothing sounds. */
export const eyeRow = (p: Shown): string => {
  const room = roomOf(p.size)
  const width = STRIP[room === 'none' ? 'small' : room]
  return `${' '.repeat(left(p.size) + LEFT)}${stripText(strip(p, width, true))}    ${label(p)}`
}

const beside = (s: State): string => {
  const [below, above] = [markBeside(s.tempo, -1), markBeside(s.tempo, 1)]
  return [below === null ? '' : `[ ${below}`, above === null ? '' : `] ${above}`].filter(Boolean).join('   ')
}

const unitName = (s: State): string => noteValueName(s.tempo.unit).replaceAll('-', ' ')

const Tempo = ({ s, large }: { s: State; large: boolean }): ReactElement => {
  const rows = bigText(decimal(s.tempo.bpm), large ? 2 * GLYPH_ROWS : GLYPH_ROWS)
  return (
    <Box flexDirection="column">
      {rows.map((row, i) => (
        <Text key={i} bold wrap="truncate">
          {`${' '.repeat(LEFT)}${row}${i === rows.length - 1 ? `   ${unitName(s)}` : ''}`}
        </Text>
      ))}
    </Box>
  )
}

const Small = (p: Shown): ReactElement => (
  <Box flexDirection="column" width={p.size.cols}>
    <Text bold wrap="truncate">{`${spoken(p.state.tempo)}   ${clickText(p.state)}`}</Text>
    <Text> </Text>
    <StripLine strip={strip(p, STRIP.small, false)} left={1} label="" />
    <Text> </Text>
    <Text bold wrap="wrap">
      {noteOf(p.state) || (p.turning ? 'from the next bar line' : ' ')}
    </Text>
    <Text wrap="wrap">{pedalHint(p.state.going, p.pedals, p.keys)}</Text>
    <Text wrap="wrap" color={theme.soft}>
      {p.sound}
    </Text>
    <Text wrap="wrap" color={theme.soft}>
      {p.hints.join('  ')}
    </Text>
  </Box>
)

/** Just the click: its tempo large, the beats of its measure, and what the keys do. */
export const ClickView = (p: Shown): ReactElement => {
  const { state: s, size } = p
  const room = roomOf(size)
  if (room === 'none') return <Text wrap="wrap">{TOO_SMALL}</Text>
  if (room === 'small') return <Small {...p} />
  const indent = ' '.repeat(LEFT)
  return (
    <Box flexDirection="column" width={columnsOf(size)} marginLeft={left(size)} marginTop={top(size)}>
      <Text wrap="truncate">{` The click   ${clickText(s)}`}</Text>
      <Text> </Text>
      <Text> </Text>
      <Tempo s={s} large={room === 'large'} />
      <Text> </Text>
      <Text
        wrap="truncate"
        color={theme.mark}
      >{`${indent}${p.turning ? 'from the next bar line' : ''}`}</Text>
      <Text> </Text>
      <StripLine strip={strip(p, STRIP[room], false)} left={LEFT} label={label(p)} />
      <Text> </Text>
      <Text wrap="truncate" bold>{`${indent}${noteOf(s)}`}</Text>
      <Text> </Text>
      <Text wrap="truncate">{`${indent}${pedalHint(s.going, p.pedals, p.keys)}`}</Text>
      <Text wrap="truncate" color={theme.soft}>{`${indent}${p.sound}`}</Text>
      <Text wrap="truncate" color={theme.soft}>{`${indent}${beside(s)}`}</Text>
      {inRows(p.hints.join('  '), columnsOf(size) - LEFT - 1).map(line => (
        <Text key={line} wrap="truncate" color={theme.soft}>{`${indent}${line}`}</Text>
      ))}
    </Box>
  )
}
