import { copyFile, link, rename, rm } from 'node:fs/promises'
import { join } from 'node:path'
import { isDeepStrictEqual } from 'node:util'
import * as z from 'zod'
import { parseDayStart, parseSlips, parseUp } from '../ladder/rules.ts'
import { parseStep } from '../ladder/rungs.ts'
import { DAY_MINUTES } from '../music/day.ts'
import { parseWeek } from '../music/day-words.ts'
import { parseTransposition } from '../music/pitch.ts'
import { ok, printable, problem, type Result, sentence } from '../music/result.ts'
import { FILE_MODE, writeDurably } from './durable.ts'
import { ensureFolder, type Home } from './home.ts'
import { readIfThere } from './read-file.ts'
import { StoreError, trouble } from './trouble.ts'
import { changedAlways, newerWroteThem, notReadBack, SETTINGS_NEWER, settingsDamaged } from './words.ts'

const DYNAMIC = z.enum(['off', 'pp', 'p', 'mf', 'f', 'ff'], 'off, pp, p, mf, f or ff')
const key = z
  .string('the name of a key')
  .min(1, 'the name of a key')
  .max(40, 'the name of a key')
  .transform(printable)
const word = z.string('a word').min(1, 'a word').max(80, 'a word').transform(printable)
const HERTZ = 'hertz from 380 to 480'
const TRANSPOSITION = 'what sounds when C is written, like C, Bb, F or Eb4'
const MINUTES = `minutes from ${DAY_MINUTES.least} to ${DAY_MINUTES.most}`
const SECONDS = 'seconds from 1 to 600'
const DAYS = 'days of the week like mon,wed,fri, or every day'
const LOCK = 'milliseconds from 400 to 2000'
const MILLISECONDS = 'milliseconds from -1000 to 1000'

/** As Gradino does it where the player has said nothing. */
export const USUAL = 'usual'
export const CLIMB_KEYS = ['clean', 'step', 'slips', 'dayStart'] as const

const climb = (parse: (s: string) => Result<unknown>) =>
  z
    .string(USUAL)
    .superRefine((s, ctx) => {
      const read = s === USUAL ? null : parse(s)
      if (read && !read.ok) ctx.addIssue({ code: 'custom', message: `${read.problem.accepted}, or ${USUAL}` })
    })
    .default(USUAL)

/** What the player prefers. What is absent is left to the parts that use it. */
const fields = z.object({
  /** Key ids that the pedals send. */
  right: key.default('PageDown'),
  left: key.default('PageUp'),
  pedals: z.union([z.literal(1), z.literal(2)], 'how many you have: 1 or 2').default(2),
  /** How long one press of a pedal is one press, as measured when it was learned, milliseconds. */
  lock: z.int(LOCK).min(400, LOCK).max(2000, LOCK).exactOptional(),
  /** The kind of terminal in which the pedals were learned. */
  learnedIn: word.exactOptional(),
  /** After a repetition: wait for the pedal, or go on by itself. */
  after: z.enum(['wait', 'go-on'], 'wait or go-on').default('wait'),
  levels: z
    .looseObject(
      {
        master: DYNAMIC,
        roles: z.record(z.string(), DYNAMIC),
        character: z.enum(['wood', 'bright', 'unpitched'], 'wood, bright or unpitched'),
      },
      'loudness of each click',
    )
    .exactOptional(),
  /** Sound output by name. */
  output: word.exactOptional(),
  /** A part of the name of the device that plays; empty = the usual one. */
  device: z.string('a word').max(80, 'a word').transform(printable).exactOptional(),
  /** Added to the moment at which a click is heard through a device, milliseconds; for those not named, `latency`. */
  offsets: z
    .record(z.string().max(200), z.number(MILLISECONDS).min(-1000, MILLISECONDS).max(1000, MILLISECONDS))
    .exactOptional(),
  /** A faint stream stays open between the clicks, so that wireless headphones do not fall asleep. */
  awake: z.boolean('true or false').default(false),
  latency: z.number(MILLISECONDS).min(-1000, MILLISECONDS).max(1000, MILLISECONDS).default(0),
  /** What is played; rest, click and some words follow from it when it is said. */
  instrument: word.exactOptional(),
  /** Between two repetitions: some seconds, or as long as what was played. */
  rest: z.enum(['usual', 'as-long'], 'usual or as-long').default('usual'),
  /** While practicing, the keys that do something: all, or only the pedals. */
  keys: z.enum(['all', 'pedals'], 'all or pedals').default('all'),
  /** How the mark of the beat moves: on between the beats, from beat to beat, or not at all. */
  motion: z.enum(['glide', 'step', 'still'], 'glide, step or still').default('glide'),
  /** Other keys than the usual ones, by what they do ("take back"); an empty one is none. */
  changedKeys: z
    .record(
      z.string().max(60),
      z.string('the name of a key').max(40, 'the name of a key').transform(printable),
    )
    .default({}),
  /** Whether a single character does something alone, or only together with Alt. */
  letters: z.enum(['alone', 'with-alt'], 'alone or with-alt').default('alone'),
  /** The A above middle C, hertz, and what sounds when C is written ("Bb"): for tones to tune to. */
  a: z.number(HERTZ).min(380, HERTZ).max(480, HERTZ).default(440),
  transposition: z
    .string(TRANSPOSITION)
    .refine(s => parseTransposition(s).ok, TRANSPOSITION)
    .default('C'),
  /** A longer queue of sound from the start: no gaps on a busy computer, a slower answer to the pedal. */
  steady: z.boolean('true or false').default(false),
  /** Minutes there are on a usual day, rests included. */
  minutes: z.int(MINUTES).min(DAY_MINUTES.least, MINUTES).max(DAY_MINUTES.most, MINUTES).exactOptional(),
  /** The days of the week on which the player plays, as asked once; absent = not asked yet, so every day. */
  days: z
    .string(DAYS)
    .refine(s => parseWeek(s).ok, DAYS)
    .exactOptional(),
  /** How a ladder is climbed where its passage does not say; see ladder/rules.ts. */
  clean: climb(parseUp),
  step: climb(parseStep),
  slips: climb(parseSlips),
  dayStart: climb(parseDayStart),
  /** The last evening before a date: with short turns, or light. */
  lastEvening: z.enum(['usual', 'light'], 'usual or light').default('usual'),
  /** Seconds that the player can play in one breath or with one bow. */
  breath: z.number(SECONDS).min(1, SECONDS).max(600, SECONDS).exactOptional(),
  /** The cautions of the first screen have been shown. */
  cautionsShown: z.boolean('true or false').exactOptional(),
})

/** Unknown keys of the file stay in it. */
const schema = z.looseObject({
  v: z.literal(1, '1 (a newer Gradino wrote this)').default(1),
  ...fields.shape,
})
export type Settings = Readonly<z.infer<typeof fields>>

export type SettingsStore = {
  /** As last read or stored. */
  readonly now: () => Settings
  /** One sentence when the file was damaged or newer at the last look. */
  readonly note: () => string | null
  /** Stores some of the settings. Rejects with StoreError; then those before are in the file and in use. */
  readonly change: (part: Partial<Settings>) => Promise<void>
}

const CANNOT = "Can't store the settings"

type Read = Result<z.infer<typeof schema>>

const check = (found: unknown): Read => {
  const read = schema.safeParse(found)
  if (read.success) return ok(read.data)
  const issue = read.error.issues[0]
  const field = issue?.path.join(', ') || 'file'
  const got = issue?.path.reduce<unknown>((at, k) => (at as Record<PropertyKey, unknown>)?.[k], found)
  const text = typeof got === 'string' ? got : (JSON.stringify(got) ?? '')
  return problem(field, text.slice(0, 60), issue?.message ?? 'settings')
}

const parse = (text: string): Read => {
  try {
    return check(JSON.parse(text))
  } catch {
    return problem('file', text.slice(0, 60), 'settings written as JSON')
  }
}

const isNewer = (text: string): boolean => {
  try {
    return JSON.parse(text)?.v > 1
  } catch {
    return false
  }
}

/** Of a newer program's settings all that is understood here. */
const lenient = (text: string): Settings => {
  const usable = Object.entries(JSON.parse(text)).filter(([k, v]) => check({ [k]: v }).ok)
  return schema.parse(Object.fromEntries(usable))
}

const textOf = async (path: string): Promise<string | null> => {
  try {
    return await readIfThere(path)
  } catch (error) {
    throw trouble("Can't read the settings", path, error)
  }
}

/**
 * Preferences in `config/settings.json`. The library that writes them was measured to leave a torn file, without an
 * error, when the disk is full: so the file is checked before it is opened and after it was written, and the last
 * good text is kept beside it. `wall` gives milliseconds since 1970. Throws StoreError when the file cannot be read.
 */
export const openSettings = async (home: Home, wall: () => number): Promise<SettingsStore> => {
  const path = join(home.config, 'settings.json')
  const copy = `${path}.good`

  /** Puts a damaged file aside, whole, and the last good text in its place. */
  const repair = async (why: string): Promise<string> => {
    const aside = `${path}.bad-${new Date(wall()).toISOString().replace(/[-:.]/g, '')}`
    const good = await textOf(copy)
    const usable = good !== null && parse(good).ok
    try {
      if (!usable) await rename(path, aside)
      else {
        await link(path, aside).catch(() => copyFile(path, aside))
        await writeDurably(path, good)
      }
    } catch (error) {
      throw trouble(`The settings are damaged and can't be repaired`, home.config, error)
    }
    return settingsDamaged(why, aside, usable)
  }

  /** The settings and what to say about them; a damaged file is repaired first. */
  const load = async (): Promise<{ settings: Settings; note: string | null; text: string | null }> => {
    const text = await textOf(path)
    if (text === null) return { settings: schema.parse({}), note: null, text }
    if (isNewer(text)) return { settings: lenient(text), note: SETTINGS_NEWER, text }
    const read = parse(text)
    if (read.ok) return { settings: read.value, note: null, text }
    const note = await repair(sentence(read.problem).replace(/\.$/, ''))
    return { ...(await load()), note }
  }

  /** One write by the library. True when the file then reads back with what was to be stored. */
  const write = async (part: Partial<Settings>): Promise<boolean> => {
    const { default: Conf } = await import('conf')
    const options = { cwd: home.config, configName: 'settings', configFileMode: FILE_MODE }
    new Conf({ ...options, accessPropertiesByDotNotation: false }).set({ v: 1, ...part })
    const read = parse((await textOf(path)) ?? '')
    if (!read.ok) throw new StoreError(notReadBack(CANNOT))
    return Object.entries(part).every(([k, v]) => isDeepStrictEqual(read.value[k], v))
  }

  let last = await load()

  const change = async (part: Partial<Settings>): Promise<void> => {
    await ensureFolder(home.config, CANNOT)
    last = await load()
    const { settings: before, text } = last
    if (text !== null && isNewer(text)) throw new StoreError(newerWroteThem(CANNOT))
    const wanted = check({ ...before, ...part })
    if (!wanted.ok) throw new StoreError(`The settings were not stored. ${sentence(wanted.problem)}`)
    try {
      if (text !== null && (await textOf(copy)) !== text) await writeDurably(copy, text)
      // Another process may write at the same moment; the later one wins, and the earlier one tries again.
      for (let tries = 1; !(await write(part)); tries++)
        if (tries === 3) throw new StoreError(changedAlways(CANNOT))
    } catch (error) {
      // A rename needs no room on the disk.
      const left = await textOf(path)
      if (left === null || !parse(left).ok)
        await (text === null ? rm(path, { force: true }) : rename(copy, path))
      throw trouble(CANNOT, home.config, error)
    }
    const stored = (await textOf(path)) ?? ''
    await writeDurably(copy, stored).catch(() => {})
    last = { ...(await load()), note: last.note }
  }

  let chain: Promise<unknown> = Promise.resolve()
  /** What still waits for its turn. */
  let next: { part: Partial<Settings>; readonly done: Promise<void> } | null = null
  const same = (a: Partial<Settings>, b: Partial<Settings>): boolean =>
    isDeepStrictEqual(Object.keys(a), Object.keys(b))
  return {
    now: () => last.settings,
    note: () => last.note,
    change: part => {
      // Louder, louder, louder: only the last is worth a write.
      if (next && same(next.part, part)) {
        next.part = part
        return next.done
      }
      const done: Promise<void> = chain.then(() => {
        const wanted = mine.part
        if (next === mine) next = null
        return change(wanted)
      })
      const mine = { part, done }
      next = mine
      chain = done.catch(() => {})
      return done
    },
  }
}
