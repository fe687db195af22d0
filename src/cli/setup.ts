import type { Context, Outcome } from '../app/context.ts'
import { airWord, bows, FAMILY_NAMES, settingsFor } from '../app/instruments.ts'
import { controlsOf, levelsOf, OUTPUTS } from '../app/preferences.ts'
import { climbIn, ladderNamed, type Presets, presetsOf } from '../app/presets.ts'
import { notebookOf } from '../app/room.ts'
import { DAY_MINUTES } from '../music/day.ts'
import { parseWeek, weekText, weekWords } from '../music/day-words.ts'
import { wholeNumber } from '../music/fraction.ts'
import { parseTransposition, spokenNote } from '../music/pitch.ts'
import { attempt, given, ok, problem, type Result } from '../music/result.ts'
import { parseCapacity } from '../repertoire/breath-advice.ts'
import { CLIMB } from '../repertoire/fields.ts'
import { MOTIONS } from '../screens/beat.ts'
import { changedKey } from '../screens/key-tables.ts'
import { lightWords } from '../screens/today/words.ts'
import { CLIMB_KEYS, openSettings, type Settings, USUAL } from '../store/settings.ts'
import { terminalKind } from '../terminal/learn.ts'
import { keyLabel } from '../terminal/words.ts'
import { ifSaid, must, Stop } from './command.ts'
import type { Typed } from './commands.ts'
import { oneOf } from './options.ts'

/** How a ladder is climbed: as in a preset, and what is said besides. */
const climbs = (t: Typed<'setup'>, presets: Presets): Partial<Settings> => {
  const read = (text: string, k: (typeof CLIMB_KEYS)[number]): Result<string> =>
    text.toLowerCase() === USUAL ? ok(USUAL) : CLIMB[k].kind.read(text, CLIMB[k].label, { today: '' })
  const rules = ifSaid(t.rules, name => ladderNamed(presets, name))
  const own = CLIMB_KEYS.map(k => [k, ifSaid(t[k]?.trim(), text => read(text, k))])
  return { ...(rules && climbIn(rules)), ...given(Object.fromEntries(own)) }
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

const between = (field: string, least: number, most: number, accepted: string) => (text: string) => {
  const n = Number(text)
  return n >= least && n <= most ? ok(n) : problem(field, text, `${accepted} from ${least} to ${most}`)
}

/** The changes that the options ask for; a value that is not accepted ends the command. */
const changes = (t: Typed<'setup'>, now: Settings, presets: Presets): Partial<Settings> => {
  const { least, most } = DAY_MINUTES
  const one = <const W extends string>(k: keyof typeof t, words: readonly W[], field: string = k) =>
    ifSaid(t[k] as string | undefined, s => oneOf(s, field, words))
  const of = <V>(k: keyof typeof t, words: Readonly<Record<string, V>>) =>
    words[one(k, Object.keys(words)) ?? '']
  const YES = { yes: true, no: false }
  const latency = ifSaid(t.latency, between('latency', -1000, 1000, 'milliseconds'))
  const a = ifSaid(t.a, between('A', 380, 480, 'hertz for the A above middle C,'))
  ifSaid(t.transposition, parseTransposition)
  const plays = ifSaid(t.instrument, s => settingsFor(s, now))
  const changed = given({
    rest: one('rest', ['usual', 'as-long']),
    keys: one('keys', ['all', 'pedals']),
    changedKeys: ifSaid(t.key, s => changedKey(s, controlsOf(now))),
    letters: one('letters', ['alone', 'with-alt']),
    motion: one('motion', MOTIONS),
    pedals: of('pedals', { 1: 1, 2: 2 } as const),
    after: one('after', ['wait', 'go-on']),
    output: one('output', OUTPUTS),
    device: t.device?.trim().replace(/^usual$/, ''),
    awake: of('awake', YES),
    latency,
    minutes: ifSaid(t.minutes, s => wholeNumber(s, 'minutes', least, most)),
    days: ifSaid(t.days, s => attempt(need => weekText(need(parseWeek(s))))),
    lastEvening: one('lastEvening', ['usual', 'light'], 'last evening'),
    breath: ifSaid(t.breath, s => parseCapacity(s, '--breath')),
    ...climbs(t, presets),
    steady: of('steady', YES),
    a,
    transposition: t.transposition?.trim(),
  })
  return { ...plays, ...changed }
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
  const { setupScreen } = await import('../screens/setup/screen.ts')
  const { stdin, stdout } = process
  const terminal = openTerminal({ now: ctx.clock.now, stdin, stdout, feet: 'any' })
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
  const follows = ifSaid(plays, kind => settingsFor(kind, settings.now()))
  await settings.change({ ...feet, learnedIn: terminalKind(process.env), ...follows })
  return told()
}
