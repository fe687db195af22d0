import { Box, Text } from 'ink'
import type { ReactElement } from 'react'
import { compareHard, directionOf, harder } from '../../ladder/direction.ts'
import { decimal } from '../../music/fraction.ts'
import { noteValueName } from '../../music/note-value.ts'
import { inUnit, sameTempo, type Tempo } from '../../music/tempo.ts'
import { fastWords } from '../../visit/fast.ts'
import { momentOf } from '../../visit/moment.ts'
import { rungOf, type Session } from '../../visit/session.ts'
import { slotHint, slotText, withSlot } from '../../visit/slot.ts'
import { tally } from '../../visit/tally.ts'
import { bigNumber } from '../glyphs.ts'
import { StripLine } from '../strip-line.tsx'
import { theme } from '../theme.ts'
import { wrapped } from '../today/wrap.ts'
import { heading } from './heading.ts'
import { STRIP_LEFT, STRIP_WIDTH, strip } from './strip.ts'
import {
  clickedLine,
  clickLine,
  type KeyNames,
  LOCKED,
  needed,
  noteWithHint,
  pedalHint,
  rowWords,
  tempoLine,
} from './words.ts'

/** All that the practice screen shows beside the session itself. */
export type Shown = {
  readonly session: Session
  /** Frame of the current take that is heard; null = nothing sounds. */
  readonly frame: number | null
  readonly seconds: number
  /** Whole minutes left in the slot; null = there is none. */
  readonly minutesLeft?: number | null
  /** "Weir Street Overture   m. 41-44", and the days to the date, if there is one. */
  readonly title: string
  readonly date: string
  /** The player's own words on the music. */
  readonly music: string
  /** What a cold take would be, while it can still be one; else empty. */
  readonly cold: string
  /** The keys that say after a slip what went wrong; null = nothing is kept. */
  readonly wrongs: readonly string[] | null
  /** What the keys do, and what one pedal can choose now; empty where a press has one meaning. */
  readonly hints: readonly string[]
  readonly choice: string
  /** All keys but the pedals are locked. */
  readonly locked?: boolean
  /** What is offered beside the ladder, and its key; else empty. */
  readonly beside: string
  readonly keys: KeyNames
  /** Today's verdicts before this visit. */
  readonly earlier: { readonly clean: number; readonly verdicts: number }
  /** Something about the sound that the player should know, else empty. */
  readonly sound: string
  /** Digits typed so far for a tempo by hand. */
  readonly typing: string
  readonly size: { readonly rows: number; readonly cols: number }
}

/** Row of the beat strip on a screen of this size (0 = top); null where there is none to draw over. */
export const stripRow = (size: { readonly rows: number; readonly cols: number }): number | null =>
  size.cols < COLS || size.rows < ROWS ? null : STRIP_ROW + Math.floor((size.rows - ROWS) / 2)

/** The screen is composed for this size and stands in the middle of a larger one. */
const COLS = 80
const ROWS = 24
const LEFT = 52
const LADDER_ROWS = 13
const STRIP_ROW = 17

const Big = ({ tempo, lines }: { tempo: Tempo; lines: number }): ReactElement => {
  const rows = bigNumber(decimal(tempo.bpm))
  const unit = noteValueName(tempo.unit).replaceAll('-', ' ')
  return (
    <Box flexDirection="column">
      {rows.slice(0, lines).map((row, i) => (
        <Text key={i} bold wrap="truncate">
          {`     ${row}${i === rows.length - 1 ? `   ${unit}` : ''}`}
        </Text>
      ))}
    </Box>
  )
}

/** The clean ones so far, three rows high: full, heard but not yet stored, and still to come. */
const Row = ({ s }: { s: Session }): ReactElement => {
  const { ladder, setup } = s
  const { n } = needed(ladder, setup.opening.rules)
  const full = Math.min(ladder.row, Math.max(n, ladder.row))
  const hollow = s.note.k === 'heard' ? 1 : 0
  const marks = Array.from({ length: Math.max(n, full) }, (_, i) =>
    i < full ? 'full' : i < full + hollow ? 'heard' : 'open',
  )
  const line = (row: number): ReactElement[] =>
    marks.map((m, i) => {
      const text = m === 'full' ? ' ▐█▌ ' : m === 'heard' ? ' ▐ ▌ ' : row === 2 ? ' ▁▁▁ ' : '     '
      return m === 'full' ? (
        <Text key={i} color={theme.good}>
          {text}
        </Text>
      ) : (
        <Text key={i}>{text}</Text>
      )
    })
  return (
    <Box flexDirection="column">
      {[0, 1, 2].map(row => (
        <Text key={row} wrap="truncate">
          {'    '}
          {line(row)}
        </Text>
      ))}
      <Text wrap="truncate">{`     ${rowWords(s)}`}</Text>
    </Box>
  )
}

type Rung = { readonly tempo: Tempo; readonly text: string; readonly here: boolean; readonly passed: boolean }

/** The ladder, top first, at most `most` lines: the goal, what lies around the present rung, the start. */
export const ladderLines = (s: Session, most: number): readonly Rung[] => {
  const { rungs, at, ceiling: today } = s.ladder
  const { top, goal } = s.setup
  const capped = s.setup.opening.rules.capped === true
  const last = rungs.at(-1) as Tempo
  // What is played apart has one rung, which may be neither end of a range.
  const ranged = top !== undefined && rungs.some(t => sameTempo(t, s.setup.goal) || sameTempo(t, top))
  const direction = directionOf(rungs)
  const ceiling =
    today && s.setup.ceiling ? harder(today, s.setup.ceiling, direction) : (today ?? s.setup.ceiling)
  const all = rungs.map((tempo, i): Rung => {
    const passed = today !== null && compareHard(tempo, today, direction) <= 0
    const isCeiling = ceiling !== null && sameTempo(tempo, ceiling)
    // What is played apart from the ladder has one rung, at which the goal need not be.
    const isGoal = !capped && sameTempo(tempo, ranged || rungs.length === 1 ? s.setup.goal : last)
    const before = isGoal
      ? 'goal'
      : i === rungs.length - 1 && (rungs.length > 1 || capped)
        ? capped
          ? 'for now'
          : 'upper'
        : i === at
          ? 'here'
          : isCeiling
            ? 'ceiling'
            : i === 0
              ? 'start'
              : ''
    const on = isGoal && top && i === rungs.length - 1 ? `to ${decimal(inUnit(top, tempo.unit).bpm)}` : ''
    const after = isCeiling && before !== 'ceiling' ? 'ceiling' : passed && i !== at ? 'passed' : on
    const text = `${before.padStart(8)} ${i === at ? '>' : ' '} ${decimal(tempo.bpm).padStart(6)}  ${after}`
    return { tempo, text, here: i === at, passed }
  })
  const around = new Set([
    rungs.length - 1,
    0,
    at,
    ...all.flatMap((r, i) => (ceiling && sameTempo(r.tempo, ceiling) ? [i] : [])),
  ])
  const above: readonly Rung[] = capped
    ? [
        {
          tempo: goal,
          text: `${'goal'.padStart(8)}   ${decimal(goal.bpm).padStart(6)}`,
          here: false,
          passed: false,
        },
      ]
    : []
  const room = most - above.length
  for (let d = 1; around.size < Math.min(room, all.length); d++)
    for (const i of [at + d, at - d]) if (i >= 0 && i < all.length && around.size < room) around.add(i)
  return [...above, ...all.filter((_, i) => around.has(i)).reverse()]
}

const Ladder = ({ s, most }: { s: Session; most: number }): ReactElement => (
  <Box flexDirection="column" width={COLS - LEFT} minHeight={LADDER_ROWS}>
    {ladderLines(s, most).map(r => (
      <Text
        key={r.text}
        bold={r.here}
        wrap="truncate"
        {...(r.here ? { color: theme.mark } : r.passed ? { color: theme.good } : {})}
      >
        {r.text}
      </Text>
    ))}
  </Box>
)

const minutes = (seconds: number): string =>
  seconds < 60 ? `${Math.floor(seconds)} s` : `${Math.floor(seconds / 60)} min`

const Strip = ({ s, frame, width }: { s: Session; frame: number | null; width: number }): ReactElement => {
  const drawn = strip(s, frame, width)
  return <StripLine strip={drawn} left={STRIP_LEFT} label={drawn.label} />
}

const counted = (p: Shown): string => {
  const { clean, verdicts, here } = tally(p.session)
  const all = p.earlier.verdicts + verdicts
  const judged =
    all === 0
      ? p.session.setup.ends
        ? 'no verdict yet'
        : 'no verdict yet today'
      : `${p.earlier.clean + clean} of ${all} clean today${p.session.setup.ends ? '' : `, ${here} on this rung`}`
  return [judged, minutes(p.seconds), fastWords(p.session), slotText(p.session.slot, p.minutesLeft ?? 0)]
    .filter(Boolean)
    .join(', ')
}

/** What was understood; before the first press what could come first. */
const said = (p: Shown): string =>
  p.session.phase === 'ready' && p.session.note.k === 'start'
    ? p.cold
    : withSlot(p.session, noteWithHint(p.session.note, p.locked ? null : p.wrongs))

/** What the pedals do now. */
const hint = ({ session: s, frame, keys, choice }: Shown): string =>
  choice !== ''
    ? choice
    : s.slot === 'asks'
      ? slotHint(s.setup.pedals, keys)
      : pedalHint(momentOf(s, frame), s.setup.pedals, keys)

const noteColor = (s: Session): { color?: string } =>
  s.note.k === 'trouble' || s.note.k === 'slip' || s.note.k === 'cut' || s.note.k === 'down'
    ? { color: theme.bad }
    : s.note.k === 'clean' || s.note.k === 'up' || s.note.k === 'goal'
      ? { color: theme.good }
      : {}

/** Rows from which the sentences leave room for the title. */
const ROWS_FOR_TITLE = 14
/** Rows from which a window that is too narrow for the whole screen still has room for the large tempo. */
const ROWS_FOR_BIG = 18

/** Down to 40x12: what is played, tempo, row, beat and what the pedals do. */
const Small = (p: Shown): ReactElement => {
  const { session: s, size } = p
  const tempo = s.hearing?.tempo ?? rungOf(s.ladder)
  const drawn = strip(s, p.frame, size.cols - 2)
  return (
    <Box flexDirection="column" width={size.cols} height={size.rows}>
      {size.rows >= ROWS_FOR_TITLE && <Text wrap="truncate">{heading(p.title, '', size.cols)}</Text>}
      {size.rows >= ROWS_FOR_BIG && <Big tempo={tempo} lines={7} />}
      <Text bold>{[tempoLine(s, tempo), clickedLine(s, tempo)].filter(Boolean).join(', ')}</Text>
      <Text>{rowWords(s)}</Text>
      <StripLine strip={drawn} left={1} label="" />
      <Text wrap="truncate">{` ${drawn.label}`}</Text>
      <Text wrap="wrap">{hint(p)}</Text>
      <Text wrap="wrap" {...noteColor(s)}>
        {p.typing !== '' ? `tempo ${p.typing}_` : said(p)}
      </Text>
      {p.beside !== '' && <Text wrap="wrap">{p.beside}</Text>}
      <Box flexGrow={1} />
      <Text wrap="wrap" color={theme.soft}>
        {p.locked ? LOCKED : p.hints.filter(h => /back|wait|finish|leave|help|Alt/.test(h)).join('  ')}
      </Text>
    </Box>
  )
}

/** What is said of the music, in two rows at most. */
const musicRows = (text: string): readonly string[] => {
  const [first, ...others] = wrapped(text, COLS - 2)
  return others.length === 0 ? [first ?? ''] : [first ?? '', others.join(' ').trim()]
}

/** The practice screen. Readable from two meters: tempo, row, beat. From half a meter: the rest. */
export const PracticeView = (p: Shown): ReactElement => {
  const { session: s, size } = p
  if (size.cols < 40 || size.rows < 12)
    return <Text wrap="wrap">The window is too small to practice by: at least 40 columns and 12 rows.</Text>
  if (size.cols < COLS || size.rows < ROWS) return <Small {...p} />
  const [music = ' ', second = ' '] = musicRows(p.music)
  return (
    <Box
      flexDirection="column"
      width={COLS}
      marginLeft={Math.floor((size.cols - COLS) / 2)}
      marginTop={Math.floor((size.rows - ROWS) / 2)}
    >
      <Text wrap="truncate">{` ${heading(p.title, p.date, COLS - 2)}`}</Text>
      <Text color={theme.soft} wrap="truncate">{` ${music}`}</Text>
      <Text color={theme.soft} wrap="truncate">{` ${second}`}</Text>
      <Box>
        <Box flexDirection="column" width={LEFT}>
          <Big tempo={s.hearing?.tempo ?? rungOf(s.ladder)} lines={7} />
          <Text wrap="truncate">{`     ${clickLine(s, s.hearing?.tempo ?? rungOf(s.ladder))}`}</Text>
          <Row s={s} />
        </Box>
        <Ladder s={s} most={LADDER_ROWS} />
      </Box>
      <Text> </Text>
      <Strip s={s} frame={p.frame} width={STRIP_WIDTH} />
      <Text wrap="truncate">{`     ${p.beside}`}</Text>
      <Text wrap="truncate" {...noteColor(s)} bold>
        {`     ${p.typing !== '' ? `tempo by hand: ${p.typing}_   Enter takes it, Escape leaves it` : said(p)}`}
      </Text>
      <Text wrap="truncate">{`     ${hint(p)}`}</Text>
      <Text wrap="truncate" color={theme.soft}>{`     ${p.sound}`}</Text>
      <Text wrap="truncate">{`     ${counted(p)}`}</Text>
      <Text wrap="truncate" color={theme.soft}>{`     ${p.locked ? LOCKED : p.hints.join('  ')}`}</Text>
    </Box>
  )
}
