import type { Context, Outcome } from '../app/context.ts'
import { airWord, bows, FAMILY_NAMES, settingsFor } from '../app/instruments.ts'
import { controlsOf, levelsOf, OUTPUTS } from '../app/preferences.ts'
import { climbIn, ladderNamed, type Presets, presetsOf } from '../app/presets.ts'
import { notebookOf } from '../app/room.ts'
import { DAY_MINUTES } from '../music/day.ts'
import { wholeNumber } from '../music/fraction.ts'
import { parseTransposition, spokenNote } from '../music/pitch.ts'
import { problem } from '../music/result.ts'
import { parseWeek, weekText, weekWords } from '../music/week.ts'
import { parseCapacity } from '../repertoire/breath-advice.ts'
import { CLIMB } from '../repertoire/fields.ts'
import { changedKey } from '../screens/key-tables.ts'
import { MOTIONS } from '../screens/motion.ts'
import { lightWords } from '../screens/today/words.ts'
import { CLIMB_KEYS, openSettings, type Settings, USUAL } from '../store/settings.ts'
import { keyLabel } from '../terminal/key-label.ts'
import { terminalKind } from '../terminal/learn.ts'
import { must, Stop } from './command.ts'
import type { Typed } from './commands.ts'
import { oneOf } from './options.ts'

/** How a ladder is climbed: as in a preset, and what is said besides. */
const climbs = (t: Typed<'setup'>, presets: Presets): Partial<Settings> => {
  const rules = t.rules === undefined ? {} : climbIn(must(ladderNamed(presets, t.rules)))
  const said = CLIMB_KEYS.flatMap(k => {
    const text = t[k]?.trim()
    if (text === undefined) return []
    return [
      [
        k,
        text.toLowerCase() === USUAL ? USUAL : must(CLIMB[k].kind.read(text, CLIMB[k].label, { today: '' })),
      ],
    ]
  })
  return { ...rules, ...Object.fromEntries(said) }
}

/** "To go up: four in a row; back: after 2 slips ...", as far as it is not the usual way. */
const climbLine = (s: Settings): readonly string[] => {
  const said = [
    s.clean === USUAL ? '' : `to go up ${CLIMB.clean.kind.says?.(s.clean, { today: '' })}`,
    s.step === USUAL ? '' : `step ${s.step}`,
    s.slips === USUAL ? '' : s.slips === 'never' ? 'never down' : `down after ${s.slips} slips`,
    s.dayStart === USUAL ? '' : `a day begins at ${s.dayStart} of your ceiling`,
  ].filter(Boolean)
  return said.length > 0 ? [`Your ladders: ${said.join(', ')}; a passage may say otherwise.`] : []
}

/** The changes that the options ask for; a value that is not accepted ends the command. */
const changes = (t: Typed<'setup'>, now: Settings, presets: Presets): Partial<Settings> => {
  const latency = Number(t.latency)
  if (t.latency !== undefined && !(latency >= -1000 && latency <= 1000))
    must(problem('latency', t.latency, 'milliseconds from -1000 to 1000'))
  const a = Number(t.a)
  if (t.a !== undefined && !(a >= 380 && a <= 480))
    must(problem('A', t.a, 'hertz for the A above middle C, from 380 to 480'))
  if (t.transposition !== undefined) must(parseTransposition(t.transposition))
  return {
    ...(t.instrument === undefined ? {} : must(settingsFor(t.instrument, now))),
    ...(t.rest === undefined ? {} : { rest: must(oneOf(t.rest, 'rest', ['usual', 'as-long'])) }),
    ...(t.keys === undefined ? {} : { keys: must(oneOf(t.keys, 'keys', ['all', 'pedals'])) }),
    ...(t.key === undefined ? {} : { changedKeys: must(changedKey(t.key, controlsOf(now))) }),
    ...(t.letters === undefined ? {} : { letters: must(oneOf(t.letters, 'letters', ['alone', 'with-alt'])) }),
    ...(t.motion === undefined ? {} : { motion: must(oneOf(t.motion, 'motion', MOTIONS)) }),
    ...(t.pedals === undefined
      ? {}
      : { pedals: must(oneOf(t.pedals, 'pedals', ['1', '2'])) === '1' ? 1 : 2 }),
    ...(t.after === undefined ? {} : { after: must(oneOf(t.after, 'after', ['wait', 'go-on'])) }),
    ...(t.output === undefined ? {} : { output: must(oneOf(t.output, 'output', OUTPUTS)) }),
    ...(t.device === undefined ? {} : { device: t.device.trim() === 'usual' ? '' : t.device.trim() }),
    ...(t.awake === undefined ? {} : { awake: must(oneOf(t.awake, 'awake', ['yes', 'no'])) === 'yes' }),
    ...(t.latency === undefined ? {} : { latency }),
    ...(t.minutes === undefined
      ? {}
      : { minutes: must(wholeNumber(t.minutes, 'minutes', DAY_MINUTES.least, DAY_MINUTES.most)) }),
    ...(t.days === undefined ? {} : { days: weekText(must(parseWeek(t.days))) }),
    ...(t.lastEvening === undefined
      ? {}
      : { lastEvening: must(oneOf(t.lastEvening, 'last evening', ['usual', 'light'])) }),
    ...(t.breath === undefined ? {} : { breath: must(parseCapacity(t.breath, '--breath')) }),
    ...climbs(t, presets),
    ...(t.steady === undefined ? {} : { steady: must(oneOf(t.steady, 'steady', ['yes', 'no'])) === 'yes' }),
    ...(t.a === undefined ? {} : { a }),
    ...(t.transposition === undefined ? {} : { transposition: t.transposition.trim() }),
  }
}

/** What is played, and what follows from it. */
const instrumentLine = (s: Settings): string => {
  const rest = s.rest === 'as-long' ? 'pauses as long as what you just played' : 'short pauses'
  const what = `${rest}, a ${levelsOf(s).character} click${bows(s) ? ', and bow slips instead of breath' : ''}`
  return s.instrument === undefined
    ? `What do you play? gradino setup --instrument trumpet sets pauses, click and wording; now: ${what}.`
    : `You play: ${s.instrument}; ${what}.`
}

const lines = (s: Settings): string[] => [
  instrumentLine(s),
  s.keys === 'pedals'
    ? 'While you practice, only the pedals work; type open for the other keys.'
    : 'While you practice, all keys work; k locks all but the pedals.',
  ...(s.motion === 'glide'
    ? []
    : [`The mark of the beat ${s.motion === 'step' ? 'moves from beat to beat' : 'stands still'}.`]),
  ...(s.letters === 'alone' ? [] : ['Single characters work only with Alt.']),
  ...Object.entries(s.changedKeys).map(([name, key]) =>
    key === '' ? `No key for: ${name}.` : `${keyLabel(key)}: ${name}.`,
  ),
  s.pedals === 1
    ? `One pedal: ${keyLabel(s.right)}.`
    : `Right pedal (clean): ${keyLabel(s.right)}. Left pedal (not clean): ${keyLabel(s.left)}.`,
  s.after === 'wait'
    ? 'After a repetition it waits for the pedal.'
    : 'After a repetition it goes on by itself, after a gap of at least one measure.',
  `Sound: ${s.output ?? 'auto'}${s.latency === 0 ? '' : `, heard ${s.latency} ms later than the device says`}${s.device ? `, on "${s.device}"` : ''}${s.steady ? ', with a longer queue' : ''}${s.awake ? ', kept awake' : ''}.`,
  ...(s.minutes === undefined ? [] : [`A usual day has ${s.minutes} minutes.`]),
  ...(s.days === undefined ? [] : [`Days you play: ${weekWords(must(parseWeek(s.days)))}.`]),
  ...(s.lastEvening === 'usual' ? [] : [lightWords(true)]),
  ...climbLine(s),
  ...(s.breath === undefined ? [] : [`In one ${airWord(s) ?? 'breath'} you play ${s.breath} s.`]),
  `Tones to tune to: A = ${s.a} Hz; ${s.transposition === 'C' ? 'they sound as written' : `a written C sounds ${spokenNote(s.transposition)}`}.`,
]

/** With options: stores them. With `--show`, or without a terminal: says what is set. Else the pedals are learned on screen. */
export const setupCommand = async (ctx: Context, t: Typed<'setup'>): Promise<Outcome> => {
  const settings = await openSettings(ctx.home, ctx.clock.wall)
  const wanted = changes(t, settings.now(), await presetsOf(ctx.home))
  const told = (): Outcome => {
    const note = settings.note()
    return { lines: [...(note === null ? [] : [note]), ...lines(settings.now())], json: settings.now() }
  }
  if (Object.keys(wanted).length > 0) {
    await settings.change(wanted)
    return told()
  }
  if (t.show || ctx.json) return told()
  if (!ctx.tty) throw new Stop(2, 'Teaching the pedals needs a terminal; --show shows your settings.')
  const { openTerminal } = await import('../terminal/open-terminal.ts')
  const { setupScreen } = await import('../screens/setup/screen.tsx')
  const io = { now: ctx.clock.now, stdin: process.stdin, stdout: process.stdout }
  const terminal = openTerminal({ ...io, feet: 'any' })
  const kinds = settings.now().instrument === undefined ? FAMILY_NAMES : []
  const learned = await setupScreen({
    terminal,
    timing: ctx.clock,
    kinds,
    controls: controlsOf(settings.now()),
    notebook: notebookOf(ctx),
  }).finally(terminal.close)
  if (learned === null) return { lines: ['Nothing was changed.', ...lines(settings.now())] }
  const { plays, ...feet } = learned
  const rest = plays === undefined ? {} : must(settingsFor(plays, settings.now()))
  await settings.change({ ...feet, learnedIn: terminalKind(process.env), ...rest })
  return told()
}
