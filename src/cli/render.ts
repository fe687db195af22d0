import { extname, resolve } from 'node:path'
import type { Context, Outcome } from '../app/context.ts'
import { findTarget } from '../app/find-target.ts'
import { readNow } from '../app/now.ts'
import { type OutFile, writeFiles } from '../app/write-files.ts'
import { clickAt } from '../click/by-tempo.ts'
import { compile } from '../click/compile.ts'
import type { Placed } from '../click/program.ts'
import { DEFAULT_LEVELS } from '../click/voices.ts'
import { type MidiPart, midiFile } from '../files/midi.ts'
import { onsetsJson } from '../files/onsets.ts'
import { wavOf } from '../files/wav.ts'
import { rungs } from '../ladder/rungs.ts'
import { quickStart } from '../ladder/start.ts'
import { measures, waitsIn } from '../music/form.ts'
import { decimal, wholeNumber } from '../music/fraction.ts'
import { pulses } from '../music/meter.ts'
import { noteValueName } from '../music/note-value.ts'
import { placeAt, placeWords } from '../music/place.ts'
import { ok, problem, type Result } from '../music/result.ts'
import { parseTempo, spoken, type Tempo } from '../music/tempo.ts'
import { formAt } from '../visit/sounding.ts'
import type { Target } from '../visit/subject.ts'
import { must, Stop } from './command.ts'
import type { Typed } from './commands.ts'
import { parseAsked, parseSeam, parseSteps } from './options.ts'

/** More clicks than this in one file are a mistake of the keyboard (they would last days), and would fill the memory. */
const MOST_CLICKS = 1_000_000

type Chunks = OutFile['chunks']

/** One repetition behind the other: as they stand in the score, and as they are heard at a rate (frames a second). */
type Track = {
  readonly parts: readonly MidiPart[]
  readonly timeline: readonly Placed[]
  readonly rate: number
}

const wav = ({ timeline, rate }: Track): Result<Chunks> => {
  const made = wavOf(timeline, { rate, channels: 1, levels: DEFAULT_LEVELS })
  return made.ok ? ok(made.value.chunks()) : made
}
const midi = ({ parts }: Track): Result<Chunks> => {
  const made = midiFile(parts)
  return made.ok ? ok([made.value]) : made
}

/** What each ending of a file name stands for. */
const FORMATS: Readonly<Record<string, (track: Track) => Result<Chunks>>> = {
  '.wav': wav,
  '.mid': midi,
  '.midi': midi,
}

const ACCEPTED = 'a file name that ends in .wav, .mid or .midi'

/** One tempo, or the rungs of a ladder, and the music that is clicked at them. */
const musicOf = async (
  ctx: Context,
  name: string | undefined,
  t: Typed<'render'>,
): Promise<{ target: Target; tempos: readonly Tempo[] }> => {
  // A file may be cut at its first beat, so here, other than in practice, a count-in can be left out.
  const { countIn, ...rest } = t
  const without = countIn?.trim() === '0'
  const now = await readNow(ctx)
  const presets = await now.presets()
  const find = async (typed: Typed<'render'>): Promise<Target> => {
    const target = must(await findTarget(now, name, must(parseAsked(typed, presets)), must(parseSeam(typed))))
    return without ? { ...target, click: { ...target.click, countIn: 0 } } : target
  }
  const all = without ? rest : t
  if (t.tempo !== undefined) {
    const ladder = (['start', 'goal', 'step', 'rungs'] as const).find(k => t[k] !== undefined)
    if (ladder) return must(problem(`--${ladder}`, t[ladder] ?? '', 'either --tempo or a ladder, not both'))
    const at = must(parseTempo(t.tempo))
    return { target: await find(name === undefined ? { ...all, goal: t.tempo } : all), tempos: [at] }
  }
  if (name === undefined && t.goal === undefined)
    throw new Stop(2, 'Say what to render: --tempo TEMPO, --goal TEMPO for a ladder, or PIECE/PASSAGE.')
  const target = await find(all)
  const start = target.start ?? quickStart(target.goal)
  return { target, tempos: must(rungs(start, target.goal, must(parseSteps(t)))) }
}

/** Every tempo in turn, so many times each, one behind the other. */
const trackOf = (target: Target, tempos: readonly Tempo[], times: number, rate: number): Track => {
  const clickOf = (tempo: Tempo) => clickAt(target.click, target.form, tempo, target.goal)
  const once = tempos.map(tempo => {
    const { pulse, subdivide } = clickOf(tempo)
    return measures(target.form).reduce(
      (n, m) => n + pulses(m.meter, pulse ?? tempo.unit).length * subdivide,
      0,
    )
  })
  const clicks = times * once.reduce((a, b) => a + b, 0)
  if (clicks > MOST_CLICKS) must(problem('number of clicks', String(clicks), `at most ${MOST_CLICKS}`))
  const parts = tempos.flatMap(tempo =>
    Array.from({ length: times }, (_, i) => ({
      form: formAt(target, tempo),
      tempo,
      options: { ...clickOf(tempo), again: i > 0 },
    })),
  )
  let at = 0
  const timeline = parts.map((part, i): Placed => {
    const program = compile(part.form, part.tempo, { ...part.options, rate })
    at += program.frames
    return { id: i + 1, at: at - program.frames, program }
  })
  return { parts, timeline, rate }
}

const duration = (seconds: number): string => {
  const whole = Math.round(seconds)
  return whole < 60
    ? `${seconds.toFixed(1)} seconds`
    : `${Math.floor(whole / 60)} min ${String(whole % 60).padStart(2, '0')} s`
}

/** A file has no pedal. */
const waitLines = ({ form, numbers }: Target): readonly string[] => {
  const places = waitsIn(form).map(w => placeWords(placeAt(w.at, { form, numbers })))
  return places.length === 0
    ? []
    : [`Nothing waits for the pedal in a file: the written time is added at ${places.join('; ')}.`]
}

/** Writes a click track at one tempo, or a whole ladder, and if asked the table of its onsets. */
export const renderCommand = async (
  ctx: Context,
  name: string | undefined,
  t: Typed<'render'>,
): Promise<Outcome> => {
  const out = t.out ?? ''
  const format = FORMATS[extname(out).toLowerCase()] ?? must<never>(problem('--out', out, ACCEPTED))
  if (t.onsets !== undefined && resolve(t.onsets) === resolve(out))
    must(problem('--onsets', t.onsets, 'another file than --out'))
  const rate = must(wholeNumber(t.rate ?? '48000', 'rate', 8000, 192_000))
  const times = must(wholeNumber(t.times ?? '1', 'times', 1, 99))
  const { target, tempos } = await musicOf(ctx, name, t)
  const track = trackOf(target, tempos, times, rate)
  const { timeline } = track
  const table = t.onsets === undefined ? [] : [{ path: t.onsets, chunks: [onsetsJson(timeline, rate)] }]
  await writeFiles([{ path: out, chunks: must(format(track)) }, ...table])

  const frames = timeline.reduce((sum, p) => sum + p.program.frames, 0)
  const files = [out, ...table.map(f => f.path)]
  const [first, last] = [tempos[0] ?? target.goal, tempos.at(-1) ?? target.goal]
  const what =
    tempos.length === 1
      ? spoken(first)
      : `${tempos.length} rungs, ${spoken(first)} to ${decimal(last.bpm)}${times > 1 ? `, ${times} times each` : ''}`
  return {
    lines: [
      `${files.join(', ')}: ${what}, ${duration(frames / rate)}.`,
      ...waitLines(target),
      ...(target.said ? [`  ${target.said}`] : []),
    ],
    json: {
      files,
      rate,
      frames,
      seconds: frames / rate,
      onsets: timeline.reduce((sum, p) => sum + p.program.onsets.length, 0),
      unit: noteValueName(first.unit),
      rungs: tempos.map(r => Number(decimal(r.bpm))),
      times,
      said: target.said ?? null,
    },
  }
}
