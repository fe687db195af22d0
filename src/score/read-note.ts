import { type Frac, toNumber, zero } from '../music/fraction.ts'
import type { BreathFacts, NoteFacts, Pitch, SlurEnd, Step } from './score.ts'
import { clean, exact } from './text.ts'
import { attr, child, childrenOf, type Element, textOf } from './xml.ts'

const SHARPS: readonly Step[] = ['F', 'C', 'G', 'D', 'A', 'E', 'B']
const FLATS = [...SHARPS].reverse()
const isStep = (s: string): s is Step => SHARPS.includes(s as Step)

/** What a key signature does to each step, in semitones. */
export type KeySignature = ReadonlyMap<Step, number>
export const NO_KEY: KeySignature = new Map()

/** By fifths ("-3" = three flats), or step by step where the signature is not traditional. */
export const readKey = (el: Element): KeySignature => {
  const fifths = Number(textOf(el, 'fifths') || Number.NaN)
  if (Number.isInteger(fifths) && Math.abs(fifths) <= 14) {
    const order = fifths > 0 ? SHARPS : FLATS
    const key = new Map<Step, number>()
    for (let i = 0; i < Math.abs(fifths); i++) {
      const step = order[i % 7] as Step
      key.set(step, (key.get(step) ?? 0) + Math.sign(fifths))
    }
    return key
  }
  const steps = childrenOf(el, 'key-step').map(c => c.text.trim())
  const alters = childrenOf(el, 'key-alter').map(c => Number(c.text))
  return new Map(
    steps.flatMap((s, i) => (isStep(s) && Number.isFinite(alters[i]) ? [[s, alters[i] as number]] : [])),
  )
}

const readPitch = (el: Element): Pitch | null => {
  const step = textOf(el, 'step')
  const octave = Number(textOf(el, 'octave') || Number.NaN)
  const written = textOf(el, 'alter')
  const alter = written === '' ? zero : exact(written)
  if (!isStep(step) || !Number.isInteger(octave) || octave < 0 || octave > 9 || !alter) return null
  return Math.abs(toNumber(alter)) <= 4 ? { step, alter: toNumber(alter), octave } : null
}

/** A note element apart from its place: its length is worked out by the measure. A pitch that makes no sense is none. */
export const readNote = (el: Element, length: Frac, keyOf: (staff: number) => KeySignature): NoteFacts => {
  const pitchEl = child(el, 'pitch')
  const pitch = pitchEl ? readPitch(pitchEl) : null
  const staff = Number(textOf(el, 'staff')) || 1
  const ties = childrenOf(el, 'tie')
  const stops = (t: Element) => attr(t, 'type') === 'stop'
  const tied = ties.length > 0 ? ties : notationsOf(el).filter(n => n.name === 'tied')
  return {
    kind: child(el, 'rest') ? 'rest' : pitch ? 'pitched' : 'unpitched',
    pitch,
    length,
    chord: child(el, 'chord') !== undefined,
    grace: child(el, 'grace') !== undefined,
    cue: child(el, 'cue') !== undefined,
    continued: tied.some(stops),
    voice: textOf(el, 'voice') || '1',
    staff,
    foreign: pitch !== null && pitch.alter !== (keyOf(staff).get(pitch.step) ?? 0),
  }
}

const NOTHING = { breaths: [], slurs: [] }

const notationsOf = (el: Element): readonly Element[] => childrenOf(el, 'notations').flatMap(n => n.children)

/** Breaths, caesuras, fermatas and slur ends written on a note that begins at `from`. */
export const readNotations = (
  el: Element,
  from: Frac,
): { readonly breaths: readonly BreathFacts[]; readonly slurs: readonly Omit<SlurEnd, 'end'>[] } => {
  if (!child(el, 'notations')) return NOTHING
  const all = notationsOf(el)
  const articulations = all.filter(n => n.name === 'articulations').flatMap(n => n.children)
  const of = (list: readonly Element[], name: string, kind: BreathFacts['kind']): readonly BreathFacts[] =>
    list.filter(n => n.name === name).map(n => ({ kind, shape: clean(n.text), from }))
  return {
    breaths: [
      ...of(articulations, 'breath-mark', 'breath'),
      ...of(articulations, 'caesura', 'caesura'),
      ...of(all, 'fermata', 'fermata'),
    ],
    slurs: [...slurEnds(all, 'stop'), ...slurEnds(all, 'start')],
  }
}

/** Those that stop come first: a note may end one slur and begin the next of the same number. */
const slurEnds = (notations: readonly Element[], type: SlurEnd['type']): readonly Omit<SlurEnd, 'end'>[] =>
  notations
    .filter(n => n.name === 'slur' && attr(n, 'type') === type)
    .map(n => ({ type, number: clean(attr(n, 'number') ?? '1') }))
