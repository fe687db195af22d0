import { Box, Text } from 'ink'
import type { ReactElement } from 'react'
import { beatsOf } from '../../click/beats.ts'
import { breathsAt, measures } from '../../music/form.ts'
import { compare, type Frac } from '../../music/fraction.ts'
import { theme } from '../../terminal/theme.ts'
import { type BeatStrip, beatStrip, placeInMeasure, signsIn, stripText } from '../beat-strip.ts'
import { bigText, GLYPH_ROWS } from '../glyphs.ts'
import { columnsOf, roomOf, type Size, TOO_SMALL } from '../sizes.ts'
import { StripLine } from '../strip-line.tsx'
import { offered, passOf, type State } from './reduce.ts'
import { ahead, heardMeasure, markedText, placeText, TASK, tempoText } from './words.ts'

/** All that the screen of a reading shows. */
export type Shown = {
  readonly state: State
  /** Frame of the present passage that is heard; null = nothing sounds. */
  readonly frame: number | null
  readonly sound: string
  /** What the pedals do now, and the other keys. */
  readonly pedals: string
  readonly keys: readonly string[]
  readonly size: Size
}

/** Rows before the number, and between it and the strip. */
const HEAD = 4
const GAP = 2
const LEFT = 5
const STRIP = { small: 26, full: 48, large: 84 } as const

const digitRows = (size: Size): number => (roomOf(size) === 'large' ? 2 : 1) * GLYPH_ROWS
const height = (size: Size): number => HEAD + digitRows(size) + GAP + 9
const top = (size: Size): number => Math.max(0, Math.floor((size.rows - height(size)) / 2))
const left = (size: Size): number => Math.floor((size.cols - columnsOf(size)) / 2)

/** Row of the beat strip (0 = top); null where there is none to draw over. */
export const stripRow = (size: Size): number | null => {
  const room = roomOf(size)
  return room === 'full' || room === 'large' ? top(size) + HEAD + digitRows(size) + GAP : null
}

const unitOf = (s: State, index: number): Frac => {
  const { music, tempo, counted } = passOf(s)
  const from = measures(music.form)[index]?.from
  const mark = from && music.form.marks.findLast(m => compare(m.at, from) <= 0)
  return counted ?? (mark && mark !== music.form.marks[0] ? mark.tempo.unit : tempo.unit)
}

/** The measure that is heard; before the first note the first one. */
const strip = (p: Shown, width: number, traveling: boolean): BeatStrip => {
  const { program, music, tempo } = passOf(p.state)
  const { index } = heardMeasure(p.state, p.frame)
  const bar = measures(music.form)[index]
  if (!bar) return { row: '', mark: null }
  const unit = unitOf(p.state, index)
  const at =
    p.frame === null
      ? null
      : placeInMeasure(beatsOf(program), p.frame, program.end, bar.meter, unit, traveling)
  const signs = signsIn(bar, breathsAt(music.form, tempo))
  return beatStrip({ meter: bar.meter, unit, width, at, signs })
}

/** The whole row of the strip with the mark between the beats, to follow by eye where nothing sounds. */
export const eyeRow = (p: Shown): string => {
  const room = roomOf(p.size)
  const drawn = stripText(strip(p, STRIP[room === 'none' ? 'small' : room], true))
  return `${' '.repeat(left(p.size) + LEFT)}${drawn}    ${placeText(p.state, p.frame)}`
}

/** The number of the measure as large digits; a number that is no number in letters. */
const Measure = ({
  name,
  letter,
  counting,
  large,
}: {
  name: string
  letter: string
  counting: boolean
  large: boolean
}): ReactElement => {
  const lines = (large ? 2 : 1) * GLYPH_ROWS
  const digits = /^\d{1,5}/.exec(name)?.[0] ?? ''
  const rows = bigText(digits, lines)
  const words = `${digits === '' ? `measure ${name}` : name.slice(digits.length)}${letter === '' ? '' : `   ${letter}`}${counting ? '   count-in' : ''}`
  return (
    <Box flexDirection="column">
      {Array.from({ length: lines }, (_, i) => (
        <Text key={i} bold wrap="truncate" {...(counting ? { color: theme.soft } : {})}>
          {`${' '.repeat(LEFT)}${rows[i] ?? ''}${i === lines - 1 && words.trim() !== '' ? `   ${words.trim()}` : ''}`}
        </Text>
      ))}
    </Box>
  )
}

const Question = ({ s, rows, columns }: { s: State; rows: number; columns: number }): ReactElement => {
  const all = offered(s)
  const room = Math.max(1, rows - 2)
  const shown = all.length > room ? all.slice(0, room - 1) : all
  return (
    <Box flexDirection="column" marginLeft={LEFT} height={rows}>
      <Text bold>{all.length === 1 ? 'Store this as a section?' : 'Store these as sections?'}</Text>
      <Text> </Text>
      {shown.map(x => (
        <Text key={x.name} bold color={theme.mark} wrap="truncate">{`  ${x.name}`}</Text>
      ))}
      {shown.length < all.length ? <Text>{`  and ${all.length - shown.length} more`}</Text> : null}
      {all.length <= room - 2 ? (
        <Text color={theme.soft} wrap="truncate">
          {`  ${markedText(s, columns - LEFT - 4)}`}
        </Text>
      ) : null}
    </Box>
  )
}

const asking = (s: State): boolean => s.phase === 'offer' || s.phase === 'storing'

const underNote = (s: State, width: number): string => {
  if (asking(s)) return ''
  return s.phase === 'ready' && s.marks.length === 0 ? TASK : markedText(s, width)
}

const Small = (p: Shown): ReactElement => {
  const { state: s, size } = p
  const { name, letter } = heardMeasure(s, p.frame)
  return (
    <Box flexDirection="column" width={size.cols}>
      <Text wrap="truncate">{passOf(s).title}</Text>
      {asking(s) ? (
        <Text bold wrap="wrap">{`Store as sections: ${offered(s)
          .map(x => x.name)
          .join(', ')}?`}</Text>
      ) : (
        <>
          <Text
            bold
            wrap="truncate"
          >{`m. ${name}${letter === '' ? '' : ` (${letter})`}   ${tempoText(s)}`}</Text>
          <StripLine strip={strip(p, STRIP.small, false)} left={1} label="" />
        </>
      )}
      <Text wrap="truncate">{markedText(s, size.cols)}</Text>
      <Text wrap="wrap" bold>
        {s.note === '' ? ' ' : s.note}
      </Text>
      <Text wrap="wrap">{p.pedals}</Text>
      <Text wrap="wrap" color={theme.soft}>
        {p.keys.join('  ')}
      </Text>
    </Box>
  )
}

/** One slow reading: the measure large, its beats, what was marked; at the end the sections that come of it. */
export const ReadingView = (p: Shown): ReactElement => {
  const { state: s, size } = p
  const room = roomOf(size)
  if (room === 'none') return <Text wrap="wrap">{TOO_SMALL}</Text>
  if (room === 'small') return <Small {...p} />
  const indent = ' '.repeat(LEFT)
  const width = columnsOf(size)
  const { name, letter, counting } = heardMeasure(s, p.frame)
  return (
    <Box flexDirection="column" width={width} marginLeft={left(size)} marginTop={top(size)}>
      <Text wrap="truncate">{` ${passOf(s).title}`}</Text>
      <Text wrap="truncate" color={theme.soft}>{` ${tempoText(s)}`}</Text>
      <Text> </Text>
      <Text> </Text>
      {asking(s) ? (
        <Question s={s} rows={digitRows(size) + GAP + 1} columns={width} />
      ) : (
        <>
          <Measure name={name} letter={letter} counting={counting} large={room === 'large'} />
          <Text> </Text>
          <Text wrap="truncate" color={theme.mark}>{`${indent}${ahead(s, p.frame)}`}</Text>
          <StripLine strip={strip(p, STRIP[room], false)} left={LEFT} label={placeText(s, p.frame)} />
        </>
      )}
      <Text> </Text>
      <Text wrap="truncate" bold>{`${indent}${s.note}`}</Text>
      <Text wrap="truncate">{`${indent}${underNote(s, width - LEFT)}`}</Text>
      <Text> </Text>
      <Text wrap="truncate">{`${indent}${p.pedals}`}</Text>
      <Text wrap="truncate" color={theme.soft}>{`${indent}${p.sound}`}</Text>
      <Text wrap="truncate" color={theme.soft}>{`${indent}${p.keys.join('  ')}`}</Text>
    </Box>
  )
}
