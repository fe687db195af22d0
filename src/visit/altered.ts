import { alteredClick } from '../click/by-tempo.ts'
import type { Guide } from '../click/program.ts'
import { rhythmKey } from '../ladder/key.ts'
import { alteredEnds } from '../ladder/start.ts'
import type { Form } from '../music/form.ts'
import { div, type Frac, frac } from '../music/fraction.ts'
import { type Altered, alteredNotes, groupSizes, onsetsOf } from '../music/groups.ts'
import { meterText } from '../music/meter.ts'
import { noteValueName, several } from '../music/note-value.ts'
import { measureRanges } from '../music/place.ts'
import { ok, problem, type Result, wrong } from '../music/result.ts'
import { alteredForm, guideOf, type Rhythm, rhythmText, suits } from '../music/rhythm.ts'
import { count } from '../music/words.ts'
import type { GUIDES, Target } from './subject.ts'
import { DOWN_IS_EVEN, NO_NOTES } from './words.ts'

/** What a rhythm makes of a target's music: its form, the taps of the guide, and what the screen says of it. */
type Plan = { readonly form: Form; readonly guide: Guide; readonly said: string }

const WORDS = 'two three four five six seven eight nine ten eleven twelve'.split(' ')
const inWords = (n: number): string => WORDS[n - 2] ?? String(n)

/** "16ths", "dotted eighths", "eighth triplets" (where two thirds of a value are meant), "notes of 1/20". */
const notesNamed = (length: Frac): string => {
  const name = noteValueName(length)
  if (!name.includes('/')) return several(name)
  const full = noteValueName(div(length, frac(2, 3)))
  return full.includes('/') ? `notes of ${name}` : `${full.replaceAll('-', ' ')} triplets`
}

const SHOWN = 40

/** "14 groups of four 16ths altered; m. 43 as written". */
const alteredWords = (
  { groups, length, asWritten }: Altered,
  n: number,
  numbers: readonly string[],
): string => {
  const ranges = measureRanges(asWritten, numbers)
  const rest = ranges.length > SHOWN ? `${asWritten.length} measures` : `m. ${ranges}`
  return [
    `${count(groups.length, 'group')} of ${inWords(n)} ${notesNamed(length)} altered`,
    ...(asWritten.length > 0 ? [`${rest} as written`] : []),
  ].join('; ')
}

const sizesText = (t: Target): string => {
  const all = groupSizes(t.form, t.notes)
  if (all.length === 0) return 'the even rhythm: no equal notes stand together on a beat here'
  const each = all.map(({ length, sizes }) => `${sizes.map(inWords).join(', ')} ${notesNamed(length)}`)
  return `a rhythm for the groups that stand here: ${each.join('; ')}`
}

/** The running notes where nobody says and no part was read: four to the beat. */
const runOf = (t: Target): Frac => t.run ?? div(t.goal.unit, frac(4))

/** Over notes that run from beginning to end. */
const running = (t: Target, r: Rhythm): Result<Plan> => {
  const run = runOf(t)
  const meter = t.form.meters.find(m => !suits(r, run, m.meter))
  return meter
    ? problem(
        'rhythm',
        r.name,
        `a rhythm whose groups of ${r.ratios.length} notes fill the beats of ${meterText(meter.meter)}`,
      )
    : ok({ form: alteredForm(t.form, r, run), guide: guideOf(r, run), said: '' })
}

/**
 * Over the notes of a part that was read: where no group of equal notes stands they are tapped as written, so that the
 * player hears the way from one group to the next, and that the rhythm goes on after a rest.
 */
const written = (t: Target, r: Rhythm): Result<Plan> => {
  const altered = alteredNotes(t.form, t.notes, r, t.run)
  if (!altered) return problem('rhythm', r.name, sizesText(t))
  const said = alteredWords(altered, r.ratios.length, t.numbers)
  return ok({ form: altered.form, guide: { onsets: altered.onsets }, said })
}

const planOf = (t: Target, r: Rhythm): Result<Plan> => (t.notes.length > 0 ? written(t, r) : running(t, r))

/** Whether a rhythm fits any group of the music. */
export const fits = (t: Target, r: Rhythm): boolean => planOf(t, r).ok

/** The same music in an altered rhythm: its own form, ends and key. Refused where no group of it is there. */
export const altered = (t: Target, r: Rhythm): Result<Target> => {
  if (t.direction === 'down') return wrong(DOWN_IS_EVEN)
  const plan = planOf(t, r)
  if (!plan.ok) return plan
  const { form, guide, said } = plan.value
  const { top: _, ...rest } = t
  return ok({
    ...rest,
    key: rhythmKey(t.key, rhythmText(r)),
    title: `${t.title}, ${r.words}`,
    form,
    ...alteredEnds(t.start, t.goal, r),
    click: alteredClick(t.click, r, guide),
    rhythm: r,
    said,
  })
}

type Guided = (typeof GUIDES)[number] | undefined

/**
 * The guide as asked for: "notes" taps every note as written, in whatever tempo. Asked for by the passage itself it is
 * silent where no part was read.
 */
export const guided = (t: Target, asked: Guided, usual: Guided): Result<Target> => {
  if ((asked ?? usual ?? 'none') === 'none') return ok(t)
  if (t.notes.length > 0)
    return ok({
      ...t,
      click: { ...t.click, guide: { onsets: onsetsOf(t.notes).map(n => n.at) } },
      said: 'the guide taps the notes',
    })
  return asked === undefined ? ok(t) : wrong(NO_NOTES)
}
