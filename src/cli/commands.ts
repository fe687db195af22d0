import { UP_TYPED } from '../ladder/rules.ts'
import type { CommandRow, TypedBehind } from './command.ts'
import { PIECE } from './piece-commands.ts'

/** Options that several commands share. */
const LADDER = [
  ['--start <tempo>', 'start tempo: 60, or dotted-quarter=60'],
  ['--goal <tempo>', 'goal tempo: 120, or dotted-quarter=80'],
  ['--step <step>', 'notch (the traditional scale), 4% or +4'],
  ['--rungs <number>', 'this many rungs in equal ratio, start and goal included'],
  ['--down', 'lead down, from a faster start to a slower goal'],
] as const

const MUSIC = [
  ['--meter <meter>', '4/4, 6/8, 2+2+3/8 ...'],
  ['--measures <number>', 'how many measures the passage has'],
  ['--pickup <note value>', 'length of the pick-up'],
  ['--count-in <measures>', 'measures of count-in'],
  ['--subdivide <number>', 'clicks per beat; otherwise 2 (3 in a dotted one) while it is slow'],
  ['--pulse <note value>', 'the note value to count and click: half, or "quarter; half from 100"'],
  ['--beats <numbers>', 'click on these beats only: 2,4, or "all; 1 from 112"'],
  ['--on <measures>', 'click for this many measures, with --off: 2, or "all; 2 from 126"'],
  ['--off <measures>', 'then be silent for this many'],
  ['--rests <measures>', 'count this many measures of rest before the entrance, with --take entrance'],
  [
    '--tempo-changes <when>',
    'play tempo changes from this share of the goal on: 60% (usually 80%), or always',
  ],
  ['--free-ritardando', 'no click while the tempo slows down'],
  ['--rhythm <name>', 'an altered rhythm, by name or ratios: long-short, 3:1, 5:1:1:1/2'],
  ['--run <note value>', 'length of the running notes to alter (16th)'],
  ['--guide <what>', 'notes: the guide taps the rhythm of an imported part; or none'],
  ['--seam <what>', 'only where joined sections meet: beat or measure'],
] as const

export const OUTPUT = ['--output <name>', 'auto, silent, or an output that gradino sound lists'] as const

/** All commands, in the order of the help. */
export const COMMANDS = [
  {
    name: 'practice [passage]',
    group: 'Practice',
    says: 'practice PIECE/PASSAGE on its ladder; with --goal alone, a quick ladder',
    options: [
      ...LADDER,
      ...MUSIC,
      ['--clean <rule>', UP_TYPED],
      ['--slips <number>', 'slips in a row that take you down a rung: 2, or never'],
      ['--day-start <share>', 'the share of the ceiling where a day begins: 97%'],
      ['--rules <preset>', 'take the rules from a preset: usual, gentle ...'],
      ['--slow-fast [what]', 'after every ten repetitions, one at the goal: beat (the usual one) or section'],
      ['--rest <how>', 'pause between repetitions: usual, or as-long as you just played'],
      ['--keys <which>', 'which keys work: all, or only the pedals'],
      ['--after <what>', 'after a repetition: wait for the pedal, or go-on by itself'],
      [
        '--take <kind>',
        'play it once, apart from the ladder: cold, entrance (only the count-in sounds), goal, beat, silent, through (last time) or slow',
      ],
      ['--end <end>', 'which end of a goal range to take: lower or upper; otherwise in turn'],
      OUTPUT,
    ],
  },
  {
    name: 'click',
    group: 'Practice',
    says: 'just the click: press to start and stop, tap to find a tempo',
    options: [
      ['--tempo <tempo>', '60 (the default), 63.5, or dotted-quarter=80'],
      ['--meter <meter>', '4/4 (the default), 6/8, 2+2+3/8 ...'],
      ['--subdivide <number>', 'clicks per beat'],
      ['--pulse <note value>', 'the note value to count and click, if not that of the tempo'],
      ['--beats <numbers>', 'click on these beats only: 2,4'],
      ['--measures-on, --on <measures>', 'click for this many measures, with --measures-off'],
      ['--measures-off, --off <measures>', 'then be silent for this many'],
      ['--count-in <measures>', 'measures of count-in (usually none)'],
      OUTPUT,
    ],
  },
  {
    name: 'read <name>',
    group: 'Practice',
    says: 'read PIECE or PIECE/PASSAGE through once, slowly; press at hard spots, and they become sections',
    options: [['--at <tempo>', 'the tempo; otherwise the notch below 60 % of the goal'], OUTPUT],
  },
  {
    name: 'warmup [name]',
    group: 'Practice',
    says: 'play a warm-up; gradino presets lists them',
    options: [OUTPUT],
  },
  {
    name: 'demo',
    group: 'Practice',
    says: 'watch a scripted player climb a short ladder',
    options: [
      ['--fast', 'all at once, without sound or a terminal'],
      ['--out <folder>', 'keep its sound, onsets, journal and last screen in this folder'],
      OUTPUT,
    ],
  },
  PIECE,
  {
    name: 'pieces',
    group: 'Pieces',
    says: 'list your pieces: goals, ceilings, dates, and where the next visit begins',
  },
  {
    name: 'today',
    group: 'Plan and progress',
    says: "print the day's plan: what to practice, when, and from which tempo",
    options: [
      ['--minutes <number>', 'how many minutes you have, rests included (40)'],
      ['--date <date>', 'plan a day to come: tomorrow, Friday, "in 6 days"'],
    ],
  },
  {
    name: 'progress [name]',
    group: 'Plan and progress',
    says: 'show how each section climbed, with a forecast',
  },
  {
    name: 'diary',
    group: 'Plan and progress',
    says: 'show what you practiced: this week, or from a day on',
    options: [
      ['--from <date>', 'the first day: Monday, "6 days ago", 2026-03-14'],
      ['--csv <file>', 'write a table; of all days, unless you name the first'],
      ['--check', 'read every line of every file and report any damage'],
    ],
  },
  {
    name: 'calendar',
    group: 'Plan and progress',
    says: 'write the days until your dates as a calendar file (iCalendar)',
    options: [
      ['--out <file>', 'the file to write; its name ends in .ics'],
      ['--minutes <number>', 'how many minutes you practice a day (40)'],
    ],
  },
  {
    name: 'note [text...]',
    group: 'Notes and lessons',
    says: 'keep a note: for yourself, for tomorrow, for the teacher, about pain, or about what went wrong',
    options: [
      ['--tomorrow', 'show it first thing tomorrow'],
      ['--teacher', 'a question for the teacher'],
      ['--pain', 'it hurts; say more or nothing'],
      ['--wrong <what>', 'what went wrong: notes, rhythm, breath or sound'],
      ['--at <place>', 'where it went wrong: a measure, or measure and beat like 43.2'],
      ['--for <name>', 'what it is about: PIECE or PIECE/PASSAGE'],
      ['--take-back [id]', "take back today's latest note, or the one with this id"],
    ],
  },
  {
    name: 'notes',
    group: 'Notes and lessons',
    says: 'list all your notes',
    options: [['--ids', 'show the id of each note, so you can take one back']],
  },
  {
    name: 'report <name>',
    group: 'Notes and lessons',
    says: 'write a page for a lesson about PIECE or PIECE/PASSAGE',
    options: [
      ['--out <file>', 'the file to write; its ending says which kind (.md, .txt)'],
      ['--from <date>', 'the first day: "2 weeks ago"; otherwise the first day you played it'],
      ['--with-notes', 'include your own notes, even those about pain'],
    ],
  },
  {
    name: 'ladder',
    group: 'Click tracks',
    says: 'print the rungs from start to goal',
    options: [...LADDER],
  },
  {
    name: 'render [passage]',
    group: 'Click tracks',
    says: 'write a click track, or a whole ladder, as a WAV or MIDI file',
    options: [
      ...LADDER,
      ...MUSIC,
      ['--out <file>', 'the file to write; its ending says which kind (.wav, .mid)'],
      ['--tempo <tempo>', 'one tempo instead of a ladder: 112, or dotted-quarter=80'],
      ['--times <number>', 'how often to repeat each tempo (1)'],
      ['--rate <number>', 'samples a second (48000)'],
      ['--onsets <file>', 'also write a table of all clicks as JSON: frame, seconds, role, measure, beat'],
    ],
  },
  {
    name: 'presets',
    group: 'Presets',
    says: 'list warm-ups, ladder rules and rhythms',
  },
  {
    name: 'preset',
    group: 'Presets',
    says: 'keep and share warm-ups, ladder rules and rhythms',
    under: [
      {
        name: 'add <file>',
        says: 'add a preset that someone shared',
        options: [['--replace', 'replace your own preset of that name']],
      },
      {
        name: 'save <name>',
        says: 'save a preset: a copy of another as you play it now, or ladder rules of your own',
        options: [
          ['--from <preset>', 'copy this one; a warm-up keeps the tempos you last used'],
          ['--step <step>', 'notch (the traditional scale), 4% or +4'],
          ['--clean <rule>', UP_TYPED],
          ['--slips <number>', 'slips in a row that take you down a rung: 2, or never'],
          ['--day-start <share>', 'the share of the ceiling where a day begins: 97%'],
          ['--words <text>', 'describe it in a few words'],
          ['--replace', 'replace your own preset of that name'],
        ],
      },
    ],
  },
  {
    name: 'setup',
    group: 'Pedal and sound',
    says: 'teach your pedals by pressing them, or change one setting',
    options: [
      ['--show', 'show your settings'],
      ['--pedals <number>', 'how many you have: 1 or 2'],
      ['--instrument <name>', 'what you play: trumpet, cello, strings ...; sets pauses, click and wording'],
      ['--after <what>', 'after a repetition: wait for the pedal, or go-on by itself'],
      ['--rest <how>', 'pause between repetitions: usual, or as-long as you just played'],
      ['--keys <which>', 'which keys work while you practice: all, or only the pedals'],
      ['--key <what=key>', 'use another key: "take back=z"; "take back=" for none, "take back=usual"'],
      ['--motion <how>', 'how the beat mark moves: glide, step from beat to beat, or still'],
      ['--letters <how>', 'alone, or with-alt: single characters work only with Alt'],
      OUTPUT,
      ['--device <name>', 'part of the name of your loudspeaker or headphones; usual = the usual one'],
      ['--awake <yes or no>', 'keep wireless headphones awake with a faint stream'],
      ['--latency <milliseconds>', 'how late you hear the click (wireless speakers)'],
      ['--a <hertz>', 'the A above middle C, for tuning tones: 440'],
      ['--transposition <note>', 'what sounds when C is written: C, Bb, A, F, Eb, or Eb4'],
      ['--minutes <number>', 'how many minutes you have on a usual day, rests included (40)'],
      ['--days <days>', 'the days you play: mon,wed,fri or mon-fri, or every day'],
      ['--last-evening <how>', 'the last evening before a date: usual (short turns), or light'],
      ['--breath <seconds>', 'how long you can play in one breath (or bow), like 8'],
      [
        '--clean <rule>',
        `clean repetitions to go up, unless the passage says otherwise: ${UP_TYPED}, or usual`,
      ],
      ['--step <step>', 'from rung to rung: notch (the traditional scale), 4%, +4, or usual'],
      ['--slips <number>', 'slips in a row that take you down a rung: 2, never, or usual'],
      ['--day-start <share>', 'the share of the ceiling where a day begins: 97%, or usual'],
      ['--rules <preset>', 'take all four from a preset: usual, gentle ...'],
      ['--steady <yes or no>', 'keep more sound ready, for a busy computer'],
    ],
  },
  {
    name: 'sound',
    group: 'Pedal and sound',
    says: "show which outputs work, and why others don't",
    options: [
      ['--test', 'play four beats on each output that works'],
      ['--choose', 'choose click and loudness by ear'],
      ['--offset', 'press with the click to measure how late you hear it (wireless headphones)'],
      ['--output <name>', 'play through this output'],
    ],
  },
  {
    name: 'completion <page>',
    group: 'Installation and help',
    says: 'print Tab completion for bash, zsh or fish: source <(gradino completion bash); or man, the manual page',
  },
] as const satisfies readonly CommandRow[]

type Row = (typeof COMMANDS)[number]
type Under<R> = R extends { readonly under: readonly (infer U)[] } ? U : never
type Word<R> = R extends { readonly name: infer N } ? (N extends `${infer W} ${string}` ? W : N) : never
type PathOf<R> = R extends { readonly under: unknown }
  ? `${Word<R> & string} ${Word<Under<R>> & string}`
  : Word<R>
type Called<R, W> = R extends unknown ? (Word<R> extends W ? R : never) : never

/** "click", "piece add": every command that does something. */
export type CommandPath = PathOf<Row>
/** The options of a command, as typed. */
export type Typed<P extends CommandPath> = TypedBehind<
  P extends `${infer A} ${infer B}` ? Called<Under<Called<Row, A>>, B> : Called<Row, P>
>
