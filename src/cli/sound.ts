import type { Context, Outcome } from '../app/context.ts'
import { devicesOf, levelsOf, outputOf } from '../app/preferences.ts'
import { inRoom, soundingIn } from '../app/room.ts'
import { compile } from '../click/compile.ts'
import { plainForm } from '../music/form.ts'
import { frac } from '../music/fraction.ts'
import { tempo } from '../music/tempo.ts'
import { openSound } from '../sound/open-sound.ts'
import type { Device } from '../sound/outputs/output.ts'
import { type OutputReport, probeOutputs } from '../sound/probe-outputs.ts'
import { openSettings, type Settings } from '../store/settings.ts'
import { must } from './command.ts'
import type { Typed } from './commands.ts'
import { parseHow, parseOutput } from './options.ts'

const PLAYER = new URL('./player.js', import.meta.url)

/** Four beats at 120 through one output. True = it has taken them. */
const sounds = async (ctx: Context, settings: Settings, output: Device): Promise<boolean> => {
  const how = { ...devicesOf(settings), levels: levelsOf(settings) }
  const sound = await openSound({ output, now: ctx.clock.now, player: PLAYER, ...how })
  const fast = tempo(120)
  const meter = { groups: [1, 1, 1, 1], unit: frac(1, 4) }
  const program = compile(plainForm(meter, 1, fast), fast, { countIn: 0, subdivide: 1, rate: 48_000 })
  let begun = false
  sound.on(e => {
    if (e.kind === 'started') begun = true
  })
  sound.play(program, 'now')
  await new Promise<void>(resolve => ctx.clock.later(program.frames / 48 + 300, resolve))
  const played = begun && sound.output() === output
  await sound.close()
  return played
}

/** Plays on each output that works, or on the one that was named; false = nothing sounded. */
const playTest = async (
  ctx: Context,
  settings: Settings,
  working: readonly Device[],
  named: string | null,
): Promise<{ readonly lines: readonly string[]; readonly played: boolean }> => {
  const lines: string[] = []
  let played = false
  for (const name of working.filter(w => named === null || w === named)) {
    const heard = await sounds(ctx, settings, name)
    played ||= heard
    lines.push(heard ? `${name}: played four beats. Did you hear them?` : `${name}: nothing sounded.`)
  }
  const none = named === null ? 'no output works' : `${named} doesn't work`
  return { lines: lines.length > 0 ? lines : [`Nothing sounded: ${none}.`], played }
}

const COLUMN = 12
/** One output: its state, and below it what to do. */
const rowOf = (r: OutputReport): readonly string[] => {
  const name = r.name.padEnd(COLUMN)
  if (!r.works) {
    const [what = '', ...todo] = r.why.split(/(?<=\.) (?=Type:|Install)/)
    return [`${name}doesn't work: ${what}`, ...todo.map(t => `${' '.repeat(COLUMN)}${t}`)]
  }
  const plays = r.device === null ? '' : `, on ${r.device}`
  const others = r.devices.filter(d => d !== r.device)
  return [
    `${name}works, heard after about ${Math.round(r.depthMs)} ms${plays}`,
    ...(others.length > 0 ? [`${' '.repeat(COLUMN)}devices: ${others.join(', ')}`] : []),
  ]
}

/** Is a device among these that has this in its name? Any, where none was chosen. */
const has = (devices: readonly string[], wanted = ''): boolean =>
  wanted === '' || devices.some(d => d.toLowerCase().includes(wanted.toLowerCase()))

/** What is set, where it matters here. */
const settingLines = (s: Settings, reports: readonly OutputReport[]): readonly string[] => {
  const devices = reports.flatMap(r => (r.works ? r.devices : []))
  const device = s.device || undefined
  const there = has(devices, device)
  const offsets = Object.entries(s.offsets ?? {}).filter(([, ms]) => ms !== 0)
  return [
    ...(device === undefined
      ? []
      : [
          there ? `You chose the device "${device}".` : `"${device}" isn't here now; the usual device plays.`,
        ]),
    ...offsets.map(
      ([name, ms]) => `On ${name || 'a device without a name'} the screen waits ${ms} ms for the sound.`,
    ),
    ...(s.awake ? ['A faint stream stays open, so that wireless headphones stay awake.'] : []),
  ]
}

const DEPTH = [
  'About 100 ms of sound is kept ready; on a busy computer 200 or 400 ms.',
  'After three quiet minutes it shrinks again.',
]

/** Each output, in the order in which it is tried. */
const report = async (ctx: Context, t: Typed<'sound'>): Promise<Outcome> => {
  const settings = (await openSettings(ctx.home, ctx.clock.wall)).now()
  const wanted = outputOf(must(parseOutput(t.output)), settings)
  const reports = await probeOutputs({ player: PLAYER, now: ctx.clock.now })
  const working = reports.flatMap(r => (r.works ? [r.name] : []))
  const mine = reports.filter(r => r.works && (wanted === 'auto' || r.name === wanted))
  const used = (mine.find(r => r.works && has(r.devices, settings.device)) ?? mine[0])?.name
  const uses =
    used !== undefined
      ? `Gradino uses ${used}. gradino setup --output NAME or --device NAME sets another.`
      : wanted === 'silent'
        ? 'You chose silence: the click is shown, not heard.'
        : wanted !== 'auto' && working.length > 0
          ? `You chose ${wanted}, which doesn't work. Try gradino setup --output auto.`
          : 'No output works here: follow the click by eye. See above for what to do.'
  const named = t.output === undefined || t.output === 'auto' || t.output === 'silent' ? null : t.output
  const test = t.test ? await playTest(ctx, settings, working, named) : { lines: [], played: true }
  return {
    status: test.played ? 0 : 1,
    lines: [
      ...reports.flatMap(rowOf),
      `${'silent'.padEnd(COLUMN)}always works: a mark to follow by eye`,
      uses,
      ...DEPTH,
      ...settingLines(settings, reports),
      ...test.lines,
    ],
    json: reports,
  }
}

/** Click and loudness by ear. */
const choose = async (ctx: Context, t: Typed<'sound'>): Promise<Outcome> => {
  const how = must(parseHow(ctx, t.output, 'Choosing by ear'))
  const done = await inRoom(ctx, { how }, async room => {
    const { chooseScreen } = await import('../screens/sound/choose-screen.ts')
    const desk = await soundingIn(room)
    const { character, master } = await chooseScreen({ ...desk, keep: desk.louder })
    return { lines: [`The click: ${character}, ${master}.`] }
  })
  return must(done)
}

/** How late a device is heard, by pressing with it. */
const offset = async (ctx: Context, t: Typed<'sound'>): Promise<Outcome> => {
  const how = must(parseHow(ctx, t.output, 'Pressing with the click'))
  const done = await inRoom<Outcome>(ctx, { how, offset: false }, async room => {
    const { sound, settings, keep } = room
    const { offsetScreen } = await import('../screens/sound/offset-screen.ts')
    const { FEW_PRESSES, NO_SOUND_TO_PRESS_WITH, NOTHING_CHANGED, offsetLines } = await import(
      '../screens/sound/words.ts'
    )
    await sound.ready()
    if (sound.output() === 'silent') return { status: 1, lines: [NO_SOUND_TO_PRESS_WITH] }
    const found = await offsetScreen({ terminal: await room.terminal(), sound, timing: ctx.clock })
    if (found === 'left') return { lines: [NOTHING_CHANGED] }
    if (found === 'few') return { status: 1, lines: [FEW_PRESSES] }
    const device = sound.device()
    await keep({ offsets: { ...settings.now().offsets, [device ?? '']: found.ms } })
    return { lines: offsetLines(found, device) }
  })
  return must(done)
}

/** Outputs and what they are worth; `--test` plays, `--choose` and `--offset` ask the ear. */
export const soundCommand = (ctx: Context, t: Typed<'sound'>): Promise<Outcome> =>
  t.choose ? choose(ctx, t) : t.offset ? offset(ctx, t) : report(ctx, t)
