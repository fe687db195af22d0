import { type ClickPlan, movedClicked } from '../click/by-tempo.ts'
import { downKey, quickKey, seamKey } from '../ladder/key.ts'
import { type Climb, DEFAULT_RULES } from '../ladder/rules.ts'
import { rungs } from '../ladder/rungs.ts'
import type { Ladder } from '../ladder/standing.ts'
import { JOIN_RULES, quickStart } from '../ladder/start.ts'
import { type Clicked, parseClicked } from '../music/clicked.ts'
import { type Form, measures, plainForm } from '../music/form.ts'
import { compare, equal, type Frac, zero } from '../music/fraction.ts'
import { cutNotes, longRests } from '../music/groups.ts'
import { type Meter, measureLength, meterText, pulses } from '../music/meter.ts'
import { noteValueName, parseLength } from '../music/note-value.ts'
import { attempt, checked, ok, problem, type Result, wrong } from '../music/result.ts'
import type { Rhythm } from '../music/rhythm.ts'
import { joined, type Span, seam } from '../music/sections.ts'
import { spoken, type Tempo } from '../music/tempo.ts'
import { count } from '../music/words.ts'
import { climbOf, ladderOf, musicOf, spanOf } from '../repertoire/ladder-of.ts'
import { cutPassage, lettersOfPassage, passageNotes, tempoThere } from '../repertoire/passage-form.ts'
import { isOpen, type Passage, type Piece, type Section } from '../repertoire/piece.ts'
import { altered, guided } from './altered.ts'
import { GUIDES, placeText, type Target, type Wishes } from './subject.ts'
import { ownMusic } from './words.ts'

/** A rhythm by its name or ratios, as the presets know it. */
export type RhythmNamed = (name: string) => Result<Rhythm>

/** What is practiced of a piece: a passage, one of its sections, or several as one. */
export type Selection = {
  readonly piece: Piece
  readonly passage: Passage
  /** None = the whole passage. */
  readonly sections: readonly Section[]
  /** Only where the last section meets those before. */
  readonly seam?: 'beat' | 'measure'
}

/** Step, direction and rules: as asked for, else the usual ones. */
const climbed = (
  a: Wishes,
  usual: Pick<Ladder, 'step' | 'rules' | 'dayStart'> = climbOf(a.usual ?? {}, DEFAULT_RULES),
): Pick<Target, 'step' | 'direction' | 'rules' | 'dayStart' | 'fast'> => ({
  step: a.step ?? usual.step,
  direction: a.down ? 'down' : 'up',
  fast: a.fast ?? null,
  rules: { ...usual.rules, up: a.up ?? usual.rules.up, slips: a.slips ?? usual.rules.slips },
  ...(usual.dayStart === undefined ? {} : { dayStart: usual.dayStart }),
  ...(a.dayStart === undefined ? {} : { dayStart: a.dayStart }),
})

/** Beats that no measure has are refused, and measures on without measures off. `unit` = what is counted at first. */
const checkClicked = (c: Clicked, meters: Form['meters'], unit: Frac): Result<Clicked> => {
  const units = [unit, ...(c.pulse ?? []).map(s => s.value)]
  const counts = meters.flatMap(m => units.map(u => ({ meter: m.meter, beats: pulses(m.meter, u).length })))
  const most = counts.reduce((a, b) => (b.beats > a.beats ? b : a))
  const beat = (c.beats ?? []).flatMap(s => s.value ?? []).find(b => b > most.beats)
  if (beat !== undefined)
    return problem(
      'beats',
      String(beat),
      `numbers from 1 to ${most.beats} in ${meterText(most.meter)}, like 2,4`,
    )
  if ((c.on === undefined) !== (c.off === undefined))
    return problem(
      c.on === undefined ? 'measures on' : 'measures off',
      '',
      '--on and --off together, like --on 2 --off 2',
    )
  return ok(c)
}

/** How a passage is clicked on its ladder: as asked for, else as kept with it. */
export const clickPlan = (a: Wishes, form: Form, unit: Frac, kept: Clicked = {}): Result<ClickPlan> => {
  const clicked = checkClicked({ ...kept, ...a.clicked }, form.meters, unit)
  if (!clicked.ok) return clicked
  return ok({
    ...clicked.value,
    countIn: a.countIn ?? 1,
    ...(a.freeRitardando ? { freeRitardando: true as const } : {}),
    ...(a.down ? { toward: 'down' as const } : {}),
  })
}

/** Start and goal as asked for, else as kept. */
const endsOf = (
  a: Wishes,
  kept: { start: Tempo | null; goal: Tempo },
  leads: Ladder['direction'] = 'up',
): Result<typeof kept> => {
  if (a.goal === undefined && a.start === undefined) return ok(kept)
  const goal = a.goal ?? kept.goal
  const ends = { start: a.start ?? kept.start, goal }
  if (a.start === undefined)
    return a.down && leads === 'up'
      ? problem('start tempo', '', '--start with the faster tempo from which the ladder leads down')
      : ok(ends)
  const all = rungs(a.start, goal, { kind: 'notch' }, a.down ? 'down' : 'up')
  return all.ok ? ok(ends) : all
}

const inRhythm = (t: Target, r: Rhythm | undefined): Result<Target> => (r ? altered(t, r) : ok(t))

/** What `sections` are on their ladder, and what they are called. */
const partOf = ({ passage, sections: own, seam: by }: Selection, usual?: Climb) => {
  const ladder = ladderOf(passage, own, usual)
  const names = own.map(s => s.name).join('+')
  if (own.length === 0) return { ladder, name: '', span: null }
  if (own.length === 1) return { ladder, name: `, section ${names}`, span: spanOf(passage, own) }
  const spans: readonly Span[] = own.map(s => spanOf(passage, [s]))
  const [last, before] = [spans.at(-1), spans.slice(0, -1)]
  if (!by || !last) return { ladder, name: `, sections ${names}`, span: spans.reduce(joined) }
  const joins = own.map(s => ({ id: s.id, goal: musicOf(passage, [s]).goal }))
  return {
    ladder: { ...ladder, key: seamKey(own.map(s => s.id)), rules: JOIN_RULES, joins } satisfies Ladder,
    name: `, seam of ${names}`,
    span: seam(musicOf(passage).form, before.reduce(joined), last, by),
  }
}

/** What is kept of a passage, on the ladder of what is practiced of it. */
export const passageTarget = (s: Selection, wishes: Wishes, rhythmNamed: RhythmNamed): Result<Target> =>
  attempt(need => {
    const { piece, passage: p } = s
    const { ladder, name, span } = partOf(s, wishes.usual)
    const leads = ladder.direction
    const a = leads === 'down' ? { ...wishes, down: true } : wishes
    const whole = musicOf(p)
    const { from, to } = span ?? { from: zero, to: whole.form.length }
    const kept = cutPassage(whole, from, to)
    const notes = cutNotes(passageNotes(p), from, to)
    const rests = a.rests ?? (equal(from, zero) ? p.rests : undefined)
    const own = (['meter', 'measures', 'pickup'] as const).find(k => a[k] !== undefined)
    if (own) need(wrong(ownMusic(own)))
    const { start, goal } = need(endsOf(a, kept, leads))
    const letters = lettersOfPassage(p)
    const target: Target = {
      key: a.down && leads === 'up' ? downKey(ladder.key) : ladder.key,
      title: `${piece.title}   ${placeText(p)}${name}`,
      music: p.note ?? '',
      readyBy: p.readyBy ?? piece.readyBy ?? null,
      form: a.changesFrom === undefined ? kept.form : { ...kept.form, changesFrom: a.changesFrom },
      numbers: kept.numbers,
      ...(letters ? { beside: letters } : {}),
      start,
      goal,
      ...(kept.top && a.goal === undefined && !a.down ? { top: kept.top } : {}),
      ...(a.goal === undefined && isOpen(piece) ? { open: true } : {}),
      ...climbed(a, ladder),
      ...(ladder.joins ? { joins: ladder.joins } : {}),
      click: need(
        clickPlan(
          a,
          kept.form,
          goal.unit,
          movedClicked(checked(parseClicked(p)), at => tempoThere(at, whole, kept)),
        ),
      ),
      rhythm: null,
      run: a.run ?? (p.run === undefined ? null : checked(parseLength(p.run))),
      rhythms: (p.rhythms ?? []).map(r => need(rhythmNamed(r))),
      notes,
      ...(rests === undefined ? {} : { rests }),
      ...(notes.length > 0 ? { longRests: longRests(kept.form, notes) } : {}),
      origin: { piece, passage: p, sections: s.sections, from },
    }
    const guide = GUIDES.find(g => g === p.guide)
    return need(inRhythm(need(guided(target, a.guide, guide)), a.rhythm))
  })

/** The meter, measures and pick-up of a quick ladder or a click track: 4/4 and two measures, where nobody says. */
const quickMusic = (a: Wishes): Result<{ meter: Meter; measures: number; pickup: Frac | null }> => {
  const { meter = { groups: [1, 1, 1, 1], unit: { n: 1, d: 4 } }, measures: bars = 2, pickup = null } = a
  return pickup && compare(pickup, measureLength(meter)) >= 0
    ? problem('pick-up', noteValueName(pickup), `a note value shorter than a measure of ${meterText(meter)}`)
    : ok({ meter, measures: bars, pickup })
}

/** A ladder over so many measures of one meter, with nothing kept but its ceiling. */
export const quickTarget = (a: Wishes & { readonly goal: Tempo }): Result<Target> =>
  attempt(need => {
    const { start, goal } = need(endsOf(a, { start: null, goal: a.goal }))
    const music = need(quickMusic(a))
    const form = plainForm(music.meter, music.measures, goal, music.pickup ?? zero)
    const pickup = music.pickup ? `, pick-up ${noteValueName(music.pickup).replaceAll('-', ' ')}` : ''
    const measured = count(music.measures, 'measure')
    const key = quickKey({ ...music, unit: goal.unit })
    const quick: Target = {
      key: a.down ? downKey(key) : key,
      title: `Quick ladder   ${measured} of ${meterText(music.meter)}${pickup}, to ${spoken(goal)}`,
      music: '',
      readyBy: null,
      form,
      numbers: measures(form).map(m => String(m.number)),
      start: start ?? quickStart(goal),
      goal,
      ...climbed(a),
      click: need(clickPlan(a, form, goal.unit)),
      rhythm: null,
      run: a.run ?? null,
      rhythms: [],
      notes: [],
      ...(a.rests === undefined ? {} : { rests: a.rests }),
    }
    return need(inRhythm(need(guided(quick, a.guide, undefined)), a.rhythm))
  })
