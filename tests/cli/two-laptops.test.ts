import { appendFileSync, cpSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { describe, expect, test, vi } from 'vitest'
import { sectionKey } from '../../src/ladder/key.ts'
import { homeAt } from '../../src/store/home.ts'
import { practiced } from './practiced.ts'
import { player } from './typed.ts'

const WEIR = 'Weir Street Overture'
const PASSAGE = [WEIR, '--passage', 'run at the weir', '--in', '41-44', '--start', '92', '--goal', '108']

type Player = ReturnType<typeof player>

const filesOf = (p: Player): readonly string[] => {
  const { data } = homeAt(p.home)
  return readdirSync(data, { recursive: true, encoding: 'utf8' }).filter(name => /\.jsonl?$/.test(name))
}

/** What a sync tool does: files that only one has are copied, of files that both have the other's is kept beside. */
const sync = (from: Player, to: Player, part = 1): void => {
  const [source, target] = [homeAt(from.home).data, homeAt(to.home).data]
  for (const name of filesOf(from)) {
    const text = readFileSync(join(source, name), 'utf8')
    const there = filesOf(to).includes(name) ? readFileSync(join(target, name), 'utf8') : ''
    if (there === text) continue
    if (text.startsWith(there)) {
      mkdirSync(dirname(join(target, name)), { recursive: true })
      writeFileSync(join(target, name), text.slice(0, Math.floor(part * text.length)))
    } else if (!there.startsWith(text)) {
      writeFileSync(join(target, name.replace(/\.json/, ' (conflict).json')), text)
    }
  }
}

/** All that the player is told about what was practiced. */
const told = async (p: Player) => {
  const { days, weeks } = await p.json('diary', '--from', '2031-01-01')
  return { days, weeks, show: await p.json('piece', 'show', WEIR) }
}

/** Two laptops with the same repertoire: `away` was set up from a copy of `desk`. */
const laptops = async () => {
  const [desk, away] = [player(), player()]
  await desk.type('piece', 'add', ...PASSAGE)
  cpSync(homeAt(desk.home).data, homeAt(away.home).data, { recursive: true })
  const key = sectionKey((await desk.json('piece', 'show', WEIR)).passages[0].id)
  return { desk, away, key }
}

describe('two laptops and a folder that is kept the same on both', () => {
  test('tell the same after the sync, whichever was practiced on, and while it is under way nothing false', async () => {
    const { desk, away, key } = await laptops()
    await practiced(desk.home, [{ key, at: '2031-03-10T17:00:00Z', presses: 'CCCNCC' }])
    // A hotel eight hours to the west, in the evening there; 96 and 100 are passed.
    await practiced(away.home, [
      { key, at: '2031-03-12T03:30:00Z', offset: -480, presses: 'CCCCCC', rung: 1 },
    ])
    expect((await away.json('piece', 'show', WEIR)).passages[0].ceiling).toBe('100')
    sync(away, desk, 0.8)
    const half = await told(desk)
    expect(half.show.passages[0].ceiling).toBe('96')
    sync(away, desk)
    sync(desk, away)
    const [here, there] = [await told(desk), await told(away)]
    expect(there).toEqual(here)
    expect(here.show.passages[0].ceiling).toBe('100')
    expect(here.days.map((d: { date: string }) => d.date)).toEqual(['2031-03-10', '2031-03-11'])
    for (const p of [desk, away]) expect(await p.type('diary', '--check')).toMatchObject({ status: 0 })
  })

  test('rows of one laptop do not go on with those of the other', async () => {
    const { desk, away, key } = await laptops()
    await practiced(desk.home, [{ key, at: '2031-03-12T10:00:00Z', presses: 'CC' }])
    await practiced(away.home, [{ key, at: '2031-03-12T10:00:10Z', presses: 'CC' }])
    sync(away, desk)
    sync(desk, away)
    const [here, there] = [await told(desk), await told(away)]
    expect(there).toEqual(here)
    expect(here.show.passages[0].ceiling).toBeNull()
    expect(here.days[0]).toMatchObject({ visits: 2, repetitions: 4 })
  })

  test('a laptop that was copied whole and then went on writes into a file of the same name', async () => {
    const { desk, away, key } = await laptops()
    await practiced(desk.home, [{ key, at: '2031-03-10T17:00:00Z', presses: 'CCC' }])
    // The whole folder, the name of the machine too, as a backup that is restored elsewhere.
    cpSync(desk.home, away.home, { recursive: true })
    await practiced(desk.home, [{ key, at: '2031-03-11T17:00:00Z', presses: 'CCCC' }])
    await practiced(away.home, [{ key, at: '2031-03-12T17:00:00Z', presses: 'CCCCCC' }])
    sync(desk, away)
    sync(away, desk)
    const [here, there] = [await told(desk), await told(away)]
    expect(there).toEqual(here)
    expect(here.days.map((d: { repetitions: number }) => d.repetitions)).toEqual([3, 4, 6])
    expect(filesOf(desk).some(name => name.includes('conflict'))).toBe(true)
  })

  test('a clock that was years ahead keeps what was reached and does not stop the days', async () => {
    const { desk, away, key } = await laptops()
    await practiced(away.home, [{ key, at: '2040-01-01T10:00:00Z', presses: 'CCCCCCCCC' }])
    await practiced(desk.home, [{ key, at: '2031-03-14T10:00:00Z', presses: 'CCC' }])
    sync(away, desk)
    sync(desk, away)
    const [here, there] = [await told(desk), await told(away)]
    expect(there).toEqual(here)
    // 97 % of 100: a new day, not "where it stopped" for years to come.
    expect(here.show.passages[0]).toMatchObject({ ceiling: '100', next: '96' })
  })

  test('the zone of the laptop changes nothing of what was practiced', async () => {
    const { desk, key } = await laptops()
    await practiced(desk.home, [
      { key, at: '2031-03-12T02:30:00Z', offset: 60, presses: 'CCC' },
      { key, at: '2031-03-12T20:30:00Z', offset: 540, presses: 'CCC' },
    ])
    const seen = []
    for (const zone of ['Europe/Rome', 'Asia/Tokyo', 'America/Los_Angeles']) {
      vi.stubEnv('TZ', zone)
      seen.push((await told(desk)).days)
    }
    expect(seen[0].map((d: { date: string }) => d.date)).toEqual(['2031-03-11', '2031-03-13'])
    expect(seen[1]).toEqual(seen[0])
    expect(seen[2]).toEqual(seen[0])
  })

  test('a torn line at the end of a copy does not glue itself to what comes later', async () => {
    const { desk, away, key } = await laptops()
    await practiced(away.home, [{ key, at: '2031-03-11T17:00:00Z', presses: 'CCCC' }])
    sync(away, desk, 0.9)
    const torn = filesOf(desk).find(name => name.endsWith('.jsonl')) ?? ''
    const text = readFileSync(join(homeAt(desk.home).data, torn), 'utf8')
    const whole = readFileSync(join(homeAt(away.home).data, torn), 'utf8')
    appendFileSync(join(homeAt(desk.home).data, torn), whole.slice(text.length))
    expect(await told(desk)).toEqual(await told(away))
  })
})
