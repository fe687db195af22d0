import { expect, test } from 'vitest'
import { contextFrom } from '../../src/app/context.ts'
import { findTarget } from '../../src/app/find-target.ts'
import { readNow } from '../../src/app/now.ts'
import { builtIn } from '../../src/app/presets.ts'
import type { Typed } from '../../src/cli/commands.ts'
import { parseAsked } from '../../src/cli/options.ts'
import { slipsText, upText } from '../../src/ladder/rules.ts'
import { stepText } from '../../src/ladder/rungs.ts'
import { checked } from '../../src/music/result.ts'
import { homeAt } from '../../src/store/home.ts'
import { player } from './typed.ts'

const WEIR = 'Weir Street Overture'
const ADD = ['piece', 'add', WEIR, '--in', '41-44', '--start', '60', '--goal', '120'] as const

/** Somebody with one passage, and how its ladder, or a quick one, is climbed. */
const withPassage = async (...options: readonly string[]) => {
  const p = player()
  await p.type(...ADD, '--passage', 'the bridge', ...options)
  const climbed = async (t: Typed<'practice'> = {}, name: string | undefined = `${WEIR}/the bridge`) => {
    const now = await readNow({ ...contextFrom({}, {}), home: homeAt(p.home, {}) })
    const of = checked(
      await findTarget(now, t.goal === undefined ? name : undefined, checked(parseAsked(t, builtIn()))),
    )
    return [upText(of.rules.up), stepText(of.step), slipsText(of.rules.slips), of.dayStart ?? null]
  }
  return { ...p, climbed }
}

test('what the player sets holds for every ladder, the quick ones too', async () => {
  const { type, climbed } = await withPassage()
  expect(await climbed()).toEqual(['3-in-a-row', 'notch', '2', null])
  const { out } = await type('setup --clean "4 in a row" --step 3% --slips never --day-start 90%')
  expect(out).toContain(
    'Your ladders: to go up four in a row, step 3%, never down, a day begins at 90% of your ceiling',
  )
  expect(await climbed()).toEqual(['4-in-a-row', '3%', 'never', 0.9])
  expect(await climbed({ goal: '96' })).toEqual(['4-in-a-row', '3%', 'never', 0.9])
})

test('a passage may say otherwise, and what is asked for this time comes first', async () => {
  const { type, climbed } = await withPassage('--clean', '2-in-a-row', '--slips', '3')
  await type('setup', '--clean', '4-in-a-row', '--step', '+4')
  expect(await climbed()).toEqual(['2-in-a-row', '+4', '3', null])
  expect(await climbed({ clean: '5-in-all', slips: 'never', dayStart: '85%' })).toEqual([
    '5-in-all',
    '+4',
    'never',
    0.85,
  ])
})

test('all of it as in a preset, and back to the usual way', async () => {
  const { type, climbed } = await withPassage()
  await type('preset', 'save', 'evening', '--clean', '4-of-5', '--slips', 'never', '--day-start', '85%')
  await type('setup', '--rules', 'evening')
  expect(await climbed()).toEqual(['4-of-5', 'notch', 'never', 0.85])
  await type('setup', '--clean', 'usual', '--slips', 'usual', '--day-start', 'usual')
  expect(await climbed()).toEqual(['3-in-a-row', 'notch', '2', null])
})

test('what is no rule is said, with what to type instead', async () => {
  const { type } = await withPassage()
  for (const [option, typed, says] of [
    ['--clean', 'often', '3-in-a-row'],
    ['--step', 'big', 'notch'],
    ['--slips', 'no', 'never'],
    ['--day-start', '20%', 'from 80% to 100%'],
    ['--rules', 'none', 'gentle'],
  ] as const) {
    const said = await type('setup', option, typed)
    expect([said.status, said.out]).toEqual([2, ''])
    expect(said.err).toContain(says)
  }
})
