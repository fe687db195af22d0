import { must } from '../app/context.ts'
import type { ClickPlan } from '../click/by-tempo.ts'
import { CLICKED, type Clicked } from '../music/clicked.ts'
import type { Form } from '../music/form.ts'
import type { Frac } from '../music/fraction.ts'
import { meterText, pulses } from '../music/meter.ts'
import { problem } from '../music/result.ts'
import { type Typed, wholeNumber } from './options.ts'

/** What clicks, as typed or as kept with a passage. */
export type ClickedTyped = Pick<Typed, keyof Clicked>

const NAMES = {
  pulse: 'pulse',
  subdivide: 'subdivide',
  beats: 'beats',
  on: 'measures on',
  off: 'measures off',
}

/** The texts that are there, read; throws Stop with one sentence. */
export const readClicked = (t: ClickedTyped): Clicked =>
  Object.fromEntries(
    (Object.keys(NAMES) as (keyof Clicked)[]).flatMap(k => {
      const text = t[k]
      return text === undefined ? [] : [[k, must<unknown>(CLICKED[k].parse(text, NAMES[k]))]]
    }),
  )

/** Beats that no measure has are refused, and measures on without measures off. `unit` = what is counted at first. */
const checkClicked = (c: Clicked, meters: Form['meters'], unit: Frac): Clicked => {
  const units = [unit, ...(c.pulse ?? []).map(s => s.value)]
  const counts = meters.flatMap(m => units.map(u => ({ meter: m.meter, beats: pulses(m.meter, u).length })))
  const most = counts.reduce((a, b) => (b.beats > a.beats ? b : a))
  const wrong = (c.beats ?? []).flatMap(s => s.value ?? []).find(b => b > most.beats)
  if (wrong !== undefined)
    must(
      problem('beats', String(wrong), `numbers from 1 to ${most.beats} in ${meterText(most.meter)}, as 2,4`),
    )
  if ((c.on === undefined) !== (c.off === undefined))
    must(
      problem(
        c.on === undefined ? 'measures on' : 'measures off',
        '',
        '--on and --off together, as --on 2 --off 2',
      ),
    )
  return c
}

/** How a passage is clicked on its ladder: as typed, else as kept with it. Throws Stop with one sentence. */
export const clickPlan = (t: Typed, form: Form, unit: Frac, kept: Clicked = {}): ClickPlan => ({
  ...kept,
  ...checkClicked({ ...kept, ...readClicked(t) }, form.meters, unit),
  countIn: must(wholeNumber(t.countIn ?? '1', 'count-in', 1, 8)),
  ...(t.freeRitardando ? { freeRitardando: true as const } : {}),
  ...(t.down ? { toward: 'down' as const } : {}),
})
