import { expect, test } from 'vitest'
import { sectionKey, takeKey } from '../../src/ladder/key.ts'
import { practiced } from './practiced.ts'
import { player } from './typed.ts'

const WEIR = 'Weir Street Overture'
/** The rung of the goal, 108, in the visits of `practiced`. */
const GOAL = 4

test('secure and ready stand beside each passage, from clean cold takes', async () => {
  const { home, type, json } = player()
  await type('piece', 'add', WEIR, '--in', '41-44', '--goal', '108')
  const shown = async () => (await json('piece', 'show', WEIR)).passages[0]
  const key = sectionKey((await shown()).id)
  const cold = (day: number, presses: string, rung = GOAL) =>
    practiced(home, [{ key: takeKey('cold', key), at: `2031-03-${day}T08:00:00Z`, presses, rung }])

  await practiced(home, [{ key, at: '2031-03-10T17:00:00Z', presses: 'CCCCC', rung: GOAL }])
  expect(await shown()).toMatchObject({ ceiling: '108', secure: null, ready: false })
  await cold(11, 'C', 1)
  await cold(12, 'N')
  expect(await shown()).toMatchObject({ secure: '96', ready: false })
  for (const command of [['pieces'], ['piece', 'show', WEIR], []])
    expect((await type(...command)).out).toContain('ceiling 108, secure 96, goal quarter = 108')
  await cold(13, 'C')
  expect(await shown()).toMatchObject({ secure: '108', ready: false })
  await cold(14, 'C')
  expect(await shown()).toMatchObject({ secure: '108', ready: true })
  for (const command of [['pieces'], ['piece', 'show', WEIR], []])
    expect((await type(...command)).out).toContain('ceiling 108, ready, goal quarter = 108')
})
