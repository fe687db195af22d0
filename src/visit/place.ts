import { layOut } from '../click/clicks.ts'
import type { CompileOptions } from '../click/program.ts'
import type { Form } from '../music/form.ts'
import { compare, div, frac } from '../music/fraction.ts'
import { beatPlaceAt } from '../music/place.ts'
import { type Rhythm, writtenForm } from '../music/rhythm.ts'
import type { Tempo } from '../music/tempo.ts'

/** What was played: the form at this tempo, how it was clicked, and what its measures are called. */
type Played = {
  readonly form: Form
  readonly tempo: Tempo
  readonly click: Omit<CompileOptions, 'rate'>
  readonly numbers: readonly string[]
  readonly rhythm: Rhythm | null
}

/**
 * A beat of the music (0 = its first one, in the note value that is counted) as a place of the part: "43.2" is the second
 * beat of the written meter, "43+3/16" lies between. The same reading as in the files, whatever was counted.
 */
export const placeOfBeat = ({ form, tempo, click, numbers, rhythm }: Played, beat: number): string => {
  const { beats, unheard } = layOut(form, tempo, click)
  const all = [...beats.filter(b => b.role !== 'sub'), ...unheard].sort((a, b) => compare(a.at, b.at))
  const at = all[beat]?.at
  const over = rhythm?.over ?? 1
  return at ? beatPlaceAt(div(at, frac(over)), { form: writtenForm(form, over), numbers }) : ''
}
