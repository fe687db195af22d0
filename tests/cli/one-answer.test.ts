import { cpSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { sectionKey } from '../../src/ladder/key.ts'
import { practiced } from './practiced.ts'
import { player } from './typed.ts'

const WEIR = 'Weir Street Overture'

type Standing = {
  goal: string
  goalTop?: string | null
  ceiling: string | null
  secure?: string | null
  ready?: boolean
  next?: string | null
}
type Shown = Standing & { name: string; sections: (Standing & { name: string })[] }

test('where a ladder stands is the same in every command', async () => {
  const { home, json } = player()
  cpSync(join(import.meta.dirname, '../store/kept-before/data'), join(home, 'data'), { recursive: true })
  const shown: Shown[] = (await json('piece', 'show', WEIR)).passages
  const [listed] = (await json('pieces')).pieces.filter((p: { title: string }) => p.title === WEIR)
  const climbed = (await json('progress', WEIR)).sections
  const paged = (await json('report', WEIR)).sections
  let ceilings = 0
  for (const [i, p] of shown.entries()) {
    const { goal, ceiling, secure, ready, next } = p
    expect(listed.passages[i]).toMatchObject({ goal, ceiling, secure, ready, next })
    for (const s of [p, ...p.sections]) {
      const same = { goal: s.goal, ceiling: s.ceiling }
      const section = s === p ? null : s.name
      const found = climbed.find(
        (c: { passage: string; section: string | null }) => c.passage === p.name && c.section === section,
      )
      expect(found).toMatchObject(same)
      const row = paged.find((r: { key: string }) => r.key === found.key)
      const { secure, ready } = found
      if (row) expect(row).toMatchObject({ ...same, secure, ready })
      if (s.ceiling) ceilings++
    }
  }
  expect(ceilings).toBeGreaterThan(4)
  const moved = (await json('piece', 'tempo', WEIR, 'x1')).sections
  expect(moved.map((m: Standing) => m.ceiling)).toEqual(shown.flatMap(p => p.sections.map(s => s.ceiling)))
})

test('a goal that is a range is said as a range wherever a goal is said', async () => {
  const { home, type, json } = player()
  const added = await type(`piece add "${WEIR}" --in 41-44 --goal 116-124 --ready-by 2031-03-28`)
  expect(added.out).toContain('goal quarter = 116 to 124; the first visit')
  const key = sectionKey((await json('piece', 'show', WEIR)).passages[0].id)
  await practiced(home, [{ key, at: '2031-03-12T17:00:00Z', presses: 'CCCCCC' }])
  for (const command of [['pieces'], ['piece', 'show', WEIR], ['progress'], ['report', WEIR], ['today']])
    expect((await type(...command)).out, command.join(' ')).toMatch(/116(-| to )124/)
  const out = join(home, 'dates.ics')
  await type('calendar', '--out', out)
  expect(readFileSync(out, 'utf8').replaceAll('\r\n ', '')).toContain('goal quarter = 116 to 124')
  expect((await type('piece', 'tempo', WEIR, 'x0.5')).out).toContain(
    'goal quarter = 58 to 62, before quarter = 116 to 124',
  )
})

test('a goal that is open is said to be open wherever a goal is said', { timeout: 60_000 }, async () => {
  const { home, type, json } = player()
  const music = ['--in', '41-44', '--goal', '116-124', '--ready-by', '2031-03-28']
  await type('piece', 'add', WEIR, ...music)
  await type('piece', 'edit', WEIR, '--sure', 'open')
  const said = 'goal open (for now quarter = 116 to 124)'
  const added = await type('piece', 'add', WEIR, '--in', '45-48', '--goal', '116-124')
  expect(added.out).toContain(`${said}; the first visit`)
  const out = join(home, 'dates.ics')
  const everywhere = async (): Promise<readonly string[]> => {
    await type('calendar', '--out', out)
    const dates = readFileSync(out, 'utf8').replaceAll('\r\n ', '')
    const texts = [dates]
    for (const command of [
      [],
      ['pieces'],
      ['piece', 'show', WEIR],
      ['progress'],
      ['report', WEIR],
      ['today'],
    ])
      texts.push((await type(...command)).out)
    return texts
  }
  const before = await everywhere()
  const key = sectionKey((await json('piece', 'show', WEIR)).passages[0].id)
  await practiced(home, [{ key, at: '2031-03-12T17:00:00Z', presses: 'CCCCCC' }])
  for (const text of [...before, ...(await everywhere())]) {
    if (/goal|->/.test(text)) expect(text).toMatch(/\bopen\b/)
    // The number alone is never called the goal.
    expect(text).not.toMatch(/goals?:? (quarter = )?1\d\d|-> 1\d\d/)
  }
  expect(before.join('\n').split(said).length).toBeGreaterThan(5)
  for (const command of ['pieces', 'report'])
    expect((await type(command, ...(command === 'report' ? [WEIR] : []))).out).not.toMatch(/ {2}116 to/)
  expect((await json('pieces')).pieces[0].sure).toBe('open')
  // Once the conductor has said it, nothing is open any more.
  expect((await type('piece', 'tempo', WEIR, '126')).out).toMatch(/goal quarter = 126 to 134.*before open/)
  for (const text of await everywhere()) expect(text).not.toMatch(/open/)
})
