import type { Context, Outcome } from '../app/context.ts'
import { devicesOf, levelsOf, outputOf } from '../app/preferences.ts'
import { compile } from '../click/compile.ts'
import { plainForm } from '../music/form.ts'
import { frac } from '../music/fraction.ts'
import { tempo } from '../music/tempo.ts'
import { openSound } from '../sound/open-sound.ts'
import { probeOutputs } from '../sound/probe-outputs.ts'
import { openSettings } from '../store/settings.ts'

const PLAYER = new URL('./player.js', import.meta.url)

/** Four beats at 80, through the output that would be used. */
const playTest = async (ctx: Context, typed: string | undefined): Promise<string> => {
  const settings = (await openSettings(ctx.home, ctx.clock.wall)).now()
  const sound = await openSound({
    output: outputOf(typed, settings),
    now: ctx.clock.now,
    player: PLAYER,
    ...devicesOf(settings),
    levels: levelsOf(settings),
  })
  const eighty = tempo(80)
  const meter = { groups: [1, 1, 1, 1], unit: frac(1, 4) }
  const program = compile(plainForm(meter, 1, eighty), eighty, { countIn: 0, subdivide: 1, rate: 48_000 })
  sound.play(program, 'now')
  await new Promise<void>(resolve => ctx.clock.later(program.frames / 48 + 700, resolve))
  const name = sound.output()
  await sound.close()
  return name === 'silent'
    ? 'Nothing sounded: no output works.'
    : `Four beats at quarter = 80 were played through ${name}.`
}

/** Each output, in the order in which it is tried: works, or why not. `--test` plays. */
export const soundCommand = async (
  ctx: Context,
  t: { readonly test?: boolean; readonly output?: string },
): Promise<Outcome> => {
  const reports = await probeOutputs({ player: PLAYER, now: ctx.clock.now })
  const first = reports.find(r => r.works)
  const rows = reports.map(r =>
    r.works
      ? `${r.name.padEnd(10)} works, about ${Math.round(r.depthMs)} ms from the program to the ear`
      : `${r.name.padEnd(10)} does not work: ${r.why}`,
  )
  const used = first
    ? `Without another choice ${first.name} is used.`
    : 'No output works here: the click is shown, not heard. The rows above say why.'
  const played = t.test ? [await playTest(ctx, t.output)] : []
  return {
    lines: [...rows, `${'silent'.padEnd(10)} works always: a clock to follow by eye`, used, ...played],
    json: reports,
  }
}
