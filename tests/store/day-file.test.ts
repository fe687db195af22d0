import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, expect, test } from 'vitest'
import { readDay, writeDay } from '../../src/store/day-file.ts'
import { homeAt } from '../../src/store/home.ts'

const made: string[] = []
afterEach(() => {
  for (const home of made.splice(0)) rmSync(home, { recursive: true, force: true })
})
const newHome = () => {
  const folder = mkdtempSync(join(tmpdir(), 'gradino-day-file-'))
  made.push(folder)
  return homeAt(folder)
}
const day = {
  date: '2031-03-12',
  minutes: 45,
  order: ['rest #1'],
  skipped: ['rest #1'],
  over: [{ name: 'fundamentals #1', at: 1080 }],
  asked: ['abc 2031-03-10'],
  wanted: ['e4582fff'],
  choice: { kind: 'lower' as const, share: 0.9 },
}

test('a day that was written before there was more to choose is read as it was', async () => {
  const home = newHome()
  const { wanted: _, choice: __, ...before } = day
  await writeDay(home, day)
  writeFileSync(join(home.data, 'day.json'), JSON.stringify({ v: 1, ...before }))
  expect(await readDay(home)).toEqual({ ...before, wanted: [], choice: null })
})

test('what was made of a day is read back', async () => {
  const home = newHome()
  expect(await readDay(home)).toBeNull()
  await writeDay(home, day)
  expect(await readDay(home)).toEqual(day)
})

test.each([
  '',
  '{',
  '[]',
  '{"v":2}',
  '{"v":1,"date":"tomorrow","minutes":40}',
  '{"v":1,"date":"2031-03-12","minutes":"x"}',
])('a file that says %j is none', async text => {
  const home = newHome()
  await writeDay(home, day)
  writeFileSync(join(home.data, 'day.json'), text)
  expect(await readDay(home)).toBeNull()
})
