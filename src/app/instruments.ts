import type { Character } from '../click/voices.ts'
import { ok, problem, type Result } from '../music/result.ts'
import type { AirWord } from '../repertoire/breath-advice.ts'
import type { Settings } from '../store/settings.ts'
import { levelsOf } from './preferences.ts'

/**
 * What follows from what is played. Rest: brass as long as what was played. Click: bright above loud or low sounds, low
 * wood under high and soft ones, unpitched where a player tunes by ear all the time. Common practice and a choice; no
 * source. Each of them can be set apart afterwards.
 */
const FAMILIES = {
  woodwind: {
    rest: 'usual',
    character: 'wood',
    members: 'flute, piccolo, oboe, english horn, clarinet, bass clarinet, saxophone, bassoon, recorder',
  },
  brass: {
    rest: 'as-long',
    character: 'bright',
    members: 'horn, trumpet, cornet, flugelhorn, trombone, bass trombone, euphonium, baritone, tuba',
  },
  strings: { rest: 'usual', character: 'unpitched', members: 'violin, viola, cello, double bass' },
  voice: { rest: 'usual', character: 'unpitched', members: 'singer, soprano, mezzo, alto, tenor, bass' },
  keyboard: { rest: 'usual', character: 'wood', members: 'piano, organ, harpsichord, accordion' },
  plucked: { rest: 'usual', character: 'wood', members: 'guitar, harp, lute, mandolin' },
  percussion: {
    rest: 'usual',
    character: 'bright',
    members: 'timpani, marimba, xylophone, vibraphone, snare drum, drums',
  },
} as const satisfies Readonly<
  Record<string, { rest: Settings['rest']; character: Character; members: string }>
>

type Family = keyof typeof FAMILIES

export const FAMILY_NAMES = Object.keys(FAMILIES) as readonly Family[]

const familyOf = (instrument: string | undefined): Family | undefined => {
  const name = instrument?.trim().toLowerCase().replaceAll('-', ' ')
  return FAMILY_NAMES.find(f => f === name || FAMILIES[f].members.split(', ').some(m => m === name))
}

/** Whether the bow goes wrong where others lose their breath. */
export const bows = (s: Pick<Settings, 'instrument'>): boolean => familyOf(s.instrument) === 'strings'

const WITHOUT_AIR: readonly (Family | undefined)[] = ['keyboard', 'plucked', 'percussion']

/** What is planned and measured where the music is cut into breaths; null where nothing is. */
export const airWord = (s: Pick<Settings, 'instrument'>): AirWord | null => {
  const family = familyOf(s.instrument)
  return WITHOUT_AIR.includes(family) ? null : family === 'strings' ? 'bow' : 'breath'
}

/** The settings that follow from an instrument or a family of them; loudnesses stay. */
export const settingsFor = (instrument: string, now: Settings): Result<Partial<Settings>> => {
  const family = familyOf(instrument)
  if (!family)
    return problem(
      'instrument',
      instrument,
      `an instrument, like trumpet or cello, or one of ${FAMILY_NAMES.join(', ')}`,
    )
  const { rest, character } = FAMILIES[family]
  return ok({
    instrument: instrument.trim().toLowerCase(),
    rest,
    levels: { ...levelsOf(now), character },
  })
}
