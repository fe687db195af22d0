import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { warmUpLog } from '../../src/app/play-warm-up.ts'
import { presetsOf, rhythmNamed, warmUpNamed } from '../../src/app/presets.ts'
import { checked } from '../../src/music/result.ts'
import { parseTempo, typed } from '../../src/music/tempo.ts'
import { homeAt } from '../../src/store/home.ts'
import { openJournal } from '../../src/store/journal.ts'
import { readPractice } from '../../src/store/snapshot.ts'
import { exercisesOf, movedBy, warmedUp } from '../../src/warm-up/exercises.ts'
import { player } from '../cli/typed.ts'

const MORNINGS = {
  v: 1,
  kind: 'warm-up',
  name: 'mornings',
  title: 'Mornings',
  items: [
    {
      name: 'Thirds',
      words: 'Slurred.',
      meter: '4/4',
      measures: 2,
      tempos: ['56', '60'],
      keys: 'rotate',
      exercise: 'thirds',
    },
  ],
}
const shared = (home: string, preset: unknown): string => {
  const path = join(home, 'shared.json')
  writeFileSync(path, JSON.stringify(preset))
  return path
}
const stored = (home: string): string => join(home, 'data/presets')

describe('a preset that a teacher has shared', () => {
  test('is kept, listed with its words, and found by name', async () => {
    const { home, type, json } = player()
    const added = await type('preset', 'add', shared(home, MORNINGS))
    expect(added.status, added.err).toBe(0)
    expect((await type('presets')).out).toMatch(/mornings +Mornings: Thirds \(your own\)/)
    expect((await json('warmup', 'mornings')).title).toBe('Mornings')
    expect((await json('presets')).filter((p: { own: boolean }) => p.own)).toHaveLength(1)
  })

  test('of rhythms serves practice, and of rules the ladder', async () => {
    const { home, type } = player()
    const rhythm = { v: 1, kind: 'rhythm', name: 'my-limp', words: 'a limp', ratios: '4:1' }
    expect((await type('preset', 'add', shared(home, rhythm))).status).toBe(0)
    expect(rhythmNamed(await presetsOf(homeAt(home)))('my-limp')).toMatchObject({ value: { ratios: [4, 1] } })
    const elsewhere = await presetsOf(homeAt(join(home, 'elsewhere')))
    expect(rhythmNamed(elsewhere)('my-limp')).toMatchObject({
      problem: { accepted: expect.stringContaining('long-short') },
    })
    await type('piece', 'add', 'Weir Street Overture', '--in', '41-44', '--goal', '120')
    const edited = await type('piece', 'edit', 'weir/41-44', '--rhythm', 'my-limp')
    expect([edited.status, edited.out]).toEqual([0, expect.stringContaining('my-limp put in')])
  })

  test('with a name that is taken needs --replace; one of the program’s own names is refused', async () => {
    const { home, type, json } = player()
    await type('preset', 'add', shared(home, MORNINGS))
    const file = shared(home, { ...MORNINGS, title: 'Evenings' })
    const again = await type('preset', 'add', file)
    expect([again.status, again.err]).toEqual([2, expect.stringContaining('--replace')])
    expect((await json('warmup', 'mornings')).title).toBe('Mornings')
    expect((await type('preset', 'add', file, '--replace')).status).toBe(0)
    expect((await json('warmup', 'mornings')).title).toBe('Evenings')
    const builtIn = await type(
      'preset',
      'add',
      shared(home, { ...MORNINGS, name: 'first-minutes' }),
      '--replace',
    )
    expect([builtIn.status, builtIn.err]).toEqual([2, expect.stringContaining('another name')])
    expect(readdirSync(stored(home))).toEqual(['mornings.json'])
  })

  test.each([
    [{ ...MORNINGS, name: '../../oops' }, /"\.\.\/\.\.\/oops".* for the name.*small letters/],
    [{ ...MORNINGS, items: [] }, /items/],
    ['not a preset', /preset, kind/],
  ])('that is wrong is refused in one sentence and not kept: %#', async (preset, said) => {
    const { home, type } = player()
    const { status, err } = await type('preset', 'add', shared(home, preset))
    expect([status, err]).toEqual([2, expect.stringMatching(said)])
    expect(err.trim().split('\n')).toHaveLength(1)
    expect(existsSync(stored(home))).toBe(false)
  })

  test('whose file was damaged since is named in the list and hurts nothing', async () => {
    const { home, type } = player()
    mkdirSync(stored(home), { recursive: true })
    writeFileSync(join(stored(home), 'torn.json'), '{"v": 1, "kin')
    const { status, out } = await type('presets')
    expect(status).toBe(0)
    expect(out).toMatch(/torn\.json is not used. .* for the preset.*written as JSON/)
    expect((await type('warmup', 'mornings', '--plain')).err).toMatch(
      /"mornings".* for the warm-up.*first-minutes/,
    )
  })
})

describe('save as a preset', () => {
  test('rules of a ladder', async () => {
    const { home, type } = player()
    expect(
      (await type('preset', 'save', 'patient', '--step', '3%', '--clean', '4-of-5', '--slips', '0')).status,
    ).toBe(0)
    const kept = JSON.parse(readFileSync(join(stored(home), 'patient.json'), 'utf8'))
    expect(kept).toMatchObject({ kind: 'ladder', step: '3%', clean: '4-of-5', slips: 0 })
    expect(kept.words).toBe('3%, 4-of-5, never down')
    for (const wrong of [['--step', '3'], ['--slips', '12'], ['--clean', 'often'], []])
      expect((await type('preset', 'save', 'other', ...wrong)).status, wrong.join(' ')).toBe(2)
  })

  test('a warm-up takes the tempos last used with it', async () => {
    const { home, type, json } = player()
    await type('preset', 'add', shared(home, MORNINGS))
    await playedOnce(home, '2031-03-14T12:00:00Z', 2)
    await type('preset', 'save', 'my-mornings', '--from', 'mornings', '--words', 'Mine')
    const saved = await json('warmup', 'my-mornings')
    expect(saved).toMatchObject({ title: 'Mine', items: [{ tempos: ['60', '66'] }] })
  })
})

/** Plays the first exercise of the warm-up once, so many marks faster than it is proposed. */
const playedOnce = async (home: string, time: string, marks: number): Promise<string | null> => {
  const at = homeAt(home)
  const exercises = await ofDay(home, time)
  const [first] = exercises
  if (!first?.tempos[0]) throw new Error('no exercise')
  let name = 0
  const journal = await openJournal(at, {
    wall: () => Date.parse(time),
    offset: () => 0,
    chance: () => `${Date.parse(time).toString(36)}${++name}`,
  })
  const log = warmUpLog(journal)
  const { warmUp, item, key } = first
  const tempo = movedBy(first.tempos[0], first.shift + marks)
  await log.begin({ warmUp, item, key, tempo })
  await log.turn(0, tempo)
  await journal.close()
  return key
}
const ofDay = async (home: string, time: string) =>
  exercisesOf(checked(warmUpNamed(await presetsOf(homeAt(home)), 'mornings')), {
    today: time.slice(0, 10),
    remembered: warmedUp((await readPractice(homeAt(home))).visits),
    tuning: { a: 442, transposition: 'Bb' },
  })

describe('a warm-up', () => {
  test('remembers: the next day another key, at the tempo last used; both stand in the diary', async () => {
    const { home, type } = player()
    await type('preset', 'add', shared(home, MORNINGS))
    expect(await playedOnce(home, '2031-03-13T12:00:00Z', 1)).toBe('C major')
    expect(await playedOnce(home, '2031-03-14T12:00:00Z', 1)).toBe('G major')
    const [next] = await ofDay(home, '2031-03-15T12:00:00Z')
    expect(next?.key).toBe('D major')
    expect(typed(movedBy(next?.tempos[0] ?? tempo('1'), next?.shift ?? 0))).toBe('60')
    expect(next?.notes[0]).toMatch(/^D-F# E-G F#-A G-B A-C# B-D C#-E D-F#$/)
    const diary = (await type('diary', '--from', '2031-03-10')).out
    expect(diary).toContain('Warm-up, Thirds, C major, from quarter = 58')
    expect(diary).toContain('Warm-up, Thirds, G major, from quarter = 60')
  })

  test('says the tone as written and as it sounds, at the A that was set', async () => {
    const { home, type } = player()
    const beside = { ...MORNINGS, items: [{ ...MORNINGS.items[0], tone: 'tonic' }] }
    await type('preset', 'add', shared(home, beside))
    const [e] = await ofDay(home, '2031-03-15T12:00:00Z')
    expect(e?.tone?.words).toBe('tone: C 4 as written, B flat 3 at concert pitch; A = 442 Hz')
    expect(e?.tone?.hz).toBeCloseTo(442 * 2 ** (-11 / 12), 9)
  })
})

test('setup keeps the A and the transposition, and refuses what is neither', async () => {
  const { type, json } = player()
  expect((await type('setup', '--a', '442', '--transposition', 'Bb')).out).toContain(
    'A = 442 Hz; a written C sounds B flat',
  )
  expect(await json('setup', '--show')).toMatchObject({ a: 442, transposition: 'Bb' })
  expect((await type('setup', '--a', '300')).status).toBe(2)
  expect((await type('setup', '--transposition', 'H')).status).toBe(2)
})

const tempo = (s: string) => {
  const t = parseTempo(s)
  if (!t.ok) throw new Error(s)
  return t.value
}
