import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { DAY_MINUTES } from '../../src/music/day.ts'
import { type DayFile, readDay, writeDay } from '../../src/store/day-file.ts'
import { type Home, homeAt } from '../../src/store/home.ts'
import { machineId } from '../../src/store/machine.ts'
import { NOTES } from '../../src/store/notes.ts'
import { readPresets, storePreset } from '../../src/store/presets.ts'
import { decode } from '../../src/store/record.ts'
import { newFolder } from '../folders.ts'
import { names, newHome } from './scene.ts'

/** What a field of a stored shape may be at its edge, and what it may not be one beyond. */
type Edges = readonly [field: string, within: readonly unknown[], beyond: readonly unknown[]]

const x = (n: number): string => 'x'.repeat(n)
const many = (n: number): readonly string[] => Array.from({ length: n }, (_, i) => `p${i}`)
const home: Home = homeAt(newFolder())

describe('the plan of a day', () => {
  const day = { date: '2031-03-12', minutes: 45 }
  const read = async (part: object): Promise<DayFile | null> => {
    mkdirSync(home.data, { recursive: true })
    writeFileSync(join(home.data, 'day.json'), JSON.stringify({ v: 1, ...day, ...part }))
    return readDay(home)
  }
  const over = (n: number, part: object = {}) =>
    Array.from({ length: n }, () => ({ name: 'rest #1', at: 1080, ...part }))

  test.each<Edges>([
    ['v', [1], [0, 2, '1', null]],
    ['date', ['2032-02-29'], ['2031-02-29', '12 March', 3]],
    ['minutes', [DAY_MINUTES.least, DAY_MINUTES.most], [DAY_MINUTES.least - 1, DAY_MINUTES.most + 1, 40.5]],
    ['order', [[], [x(400)], many(500)], [[x(401)], many(501), 'rest']],
    ['skipped', [[], [x(400)], many(500)], [[x(401)], many(501)]],
    ['wanted', [[], [x(400)], many(500)], [[x(401)], many(501)]],
    ['asked', [[], [x(400)], many(1000)], [[x(401)], many(1001)]],
    [
      'over',
      [over(0), over(500), over(1, { minutes: 0 }), over(1, { minutes: DAY_MINUTES.most })],
      [over(501), over(1, { minutes: -1 }), over(1, { minutes: DAY_MINUTES.most + 1 }), over(1, { at: 'x' })],
    ],
    [
      'choice',
      [
        null,
        { kind: 'some' },
        { kind: 'lower', share: 0.01 },
        { kind: 'lower', share: 1 },
        { kind: 'later', on: '2031-03-13' },
      ],
      [
        { kind: 'lower', share: 0 },
        { kind: 'lower', share: 1.01 },
        { kind: 'later', on: 'soon' },
        { kind: 'all' },
        'some',
      ],
    ],
  ])('%s has its limits; beyond them there is no plan', async (field, within, beyond) => {
    for (const value of within) {
      const kept = await read({ [field]: value })
      expect(kept, JSON.stringify(value)).not.toBeNull()
      if (field !== 'v') expect(kept).toMatchObject({ [field]: value })
    }
    for (const value of beyond) expect(await read({ [field]: value }), JSON.stringify(value)).toBeNull()
  })

  test('what is absent is empty; a choice of an older program is understood; texts hold no control characters', async () => {
    expect(await read({})).toEqual({
      ...day,
      order: [],
      skipped: [],
      over: [],
      asked: [],
      wanted: [],
      choice: null,
    })
    expect((await read({ choice: { k: 'lower', share: 0.5 } }))?.choice).toEqual({
      kind: 'lower',
      share: 0.5,
    })
    expect((await read({ order: ['a\u001b[2Jb'] }))?.order).toEqual(['a [2Jb'])
  })

  test('is a text that a player can read, a line for each thing', async () => {
    const kept = await read({ order: ['rest #1'] })
    const again = newHome()
    await writeDay(again, kept as DayFile)
    const lines = (await import('node:fs')).readFileSync(join(again.data, 'day.json'), 'utf8').split('\n')
    expect(lines.slice(0, 3)).toEqual(['{', '  "v": 1,', '  "date": "2031-03-12",'])
    expect(lines.at(-1)).toBe('')
  })
})

const labels = { v: 1, id: 'desk0001-000002', time: '2031-03-14T15:00:00.000Z', offset: 60 }
const quarter = (n: number, d = 1) => ({ unit: { n: 1, d: 4 }, bpm: { n, d } })
const up = { k: 'row', n: 3 }
const rules = { up, slips: 2, top: 5 }
const opening = {
  ...labels,
  id: 'desk0001-000001',
  visit: 'desk0001-000001',
  k: 'visit',
  key: 'section p0000001 even',
  rungs: [quarter(92), quarter(96)],
  at: 0,
  rules,
}
const verdict = {
  ...labels,
  visit: 'desk0001-000001',
  k: 'verdict',
  rep: 1,
  tempo: quarter(92),
  whole: true,
  clean: true,
}

/** What a line with this part is. A part that is undefined is not written. */
const found = (line: object): string => {
  const one = decode(JSON.stringify(line))
  return typeof one === 'string' ? one : 'kept'
}
const sessions = (session: string, number = '000002') => ({
  id: `${session}-${number}`,
  visit: `${session}-000001`,
})

describe('a line of the journal', () => {
  test.each<Edges>([
    ['offset', [1440, -1440, 0], [1441, -1441, 0.5, '60']],
    ['rep', [0, 1, 999_999_999_999], [-1, 0.5, '1', null]],
    [
      'tempo',
      [quarter(1), quarter(1, 100_000), quarter(100_000_000)],
      [quarter(0), quarter(1, 0), quarter(1.5), 92],
    ],
    ['whole', [true, false], [1, null]],
    ['clean', [true, false], ['yes', null]],
    ['place', ['', '43.2', x(4000)], [43, null]],
    ['air', [0.01, 600], [0, 0.009, 600.01, '7', null]],
    [
      'time',
      ['2032-02-29T23:59:59.999Z', '2031-03-14T15:00:00Z'],
      ['2031-02-29T15:00:00.000Z', '2031-03-14', 15],
    ],
    ['v', [1], [0, -1, 1.5, '1', null]],
    ['k', [], [1, null]],
  ])('%s of a verdict has its limits; beyond them the line is damaged', (field, within, beyond) => {
    for (const value of within)
      expect(found({ ...verdict, [field]: value }), JSON.stringify(value)).toBe('kept')
    for (const value of beyond)
      expect(found({ ...verdict, [field]: value }), JSON.stringify(value)).toBe('damaged')
  })

  test('names have four to forty letters and digits, numbers six to twelve digits', () => {
    for (const part of [sessions('abcd'), sessions(x(40)), sessions('desk', '123456789012')])
      expect(found({ ...verdict, ...part }), JSON.stringify(part)).toBe('kept')
    for (const part of [
      sessions('abc'),
      sessions(x(41)),
      sessions('Desk'),
      sessions('desk', '00002'),
      sessions('desk', '1234567890123'),
    ])
      expect(found({ ...verdict, ...part }), JSON.stringify(part)).toBe('damaged')
  })

  test.each<Edges>([
    ['rungs', [[quarter(92)]], [[], [92], null]],
    ['at', [0, 1], [-1, 2, 0.5]],
    ['heard', [0, 5], [-1, 0.5]],
    [
      'rules',
      [
        { ...rules, slips: 0 },
        { ...rules, top: 1 },
        { ...rules, up: { k: 'row', n: 1 } },
        { ...rules, up: { k: 'total', n: 8 } },
        { ...rules, up: { k: 'most', n: 1, of: 1 } },
        { ...rules, find: true },
        { ...rules, capped: true },
      ],
      [
        { ...rules, slips: -1 },
        { ...rules, top: 0 },
        { ...rules, up: { k: 'row', n: 0 } },
        { ...rules, up: { k: 'most', n: 4 } },
        { ...rules, up: { k: 'most', n: 4, of: 0 } },
        { ...rules, up: { k: 'often', n: 4 } },
        { ...rules, find: false },
        { ...rules, capped: 1 },
        { up, slips: 2 },
      ],
    ],
    ['key', ['section p0000001 even'], [7, null]],
  ])('%s of an opening has its limits', (field, within, beyond) => {
    for (const value of within)
      expect(found({ ...opening, [field]: value }), JSON.stringify(value)).toBe('kept')
    for (const value of beyond)
      expect(found({ ...opening, [field]: value }), JSON.stringify(value)).toBe('damaged')
  })

  test('one that is no object, or has no kind that is known here', () => {
    for (const line of ['', 'null', '7', '"text"', '[]', '{}']) expect(decode(line)).toBe('damaged')
    expect(found({ ...verdict, k: 'trill' })).toBe('newer')
    expect(found({ ...verdict, k: 'toString' })).toBe('newer')
    expect(found({ ...verdict, v: 2, id: 'whatever it will be' })).toBe('newer')
    expect(found({ ...verdict, k: 'trill', offset: 1441 })).toBe('damaged')
  })
})

describe('a note', () => {
  const note = { ...labels, k: 'note', text: 'soft reed' }
  const read = (part: object): string => {
    const one = NOTES.decode(JSON.stringify({ ...note, ...part }))
    return typeof one === 'string' ? one : 'kept'
  }
  // A text is at most 400 characters when it is typed; four times that is what a file may hold of it.
  test.each<Edges>([
    ['text', [x(1600), 'é'], [x(1601), '', '  ', 7]],
    ['piece', ['', x(1600)], [x(1601), null]],
    ['key', ['', x(1600)], [x(1601), null]],
    ['offset', [1440, -1440], [1441, -1441]],
    [
      'id',
      ['abcd-000001', `${x(40)}-123456789012`],
      ['abc-000001', `${x(41)}-000001`, 'abcd-00001', 'abcd-1234567890123'],
    ],
  ])('%s has its limits', (field, within, beyond) => {
    for (const value of within) expect(read({ [field]: value }), JSON.stringify(value)).toBe('kept')
    for (const value of beyond) expect(read({ [field]: value }), JSON.stringify(value)).toBe('damaged')
  })

  test('of pain and of what went wrong needs no text, but one that is there', () => {
    expect(read({ k: 'pain', text: '' })).toBe('kept')
    expect(read({ k: 'pain', text: undefined })).toBe('damaged')
    expect(read({ k: 'wrong', what: 'bow', text: '' })).toBe('kept')
    expect(read({ k: 'wrong', what: 'luck' })).toBe('damaged')
    expect(read({ k: 'wrong', what: 'bow', place: x(1601) })).toBe('damaged')
    for (const k of ['note', 'tomorrow', 'teacher']) expect(read({ k, text: ' ' })).toBe('damaged')
  })
})

describe('a preset of the player', () => {
  test('is called by small letters, digits and hyphens, at most forty', async () => {
    for (const name of ['a', '7', 'at-the-weir', x(40)]) {
      const stored = await storePreset(home, name, '{}', true)
      expect(stored, name).toEqual({ ok: true, value: join(home.data, 'presets', `${name}.json`) })
    }
    for (const name of ['', '-a', x(41), 'Evening', 'a b', '../a', 'a.json', 'ä'])
      await expect(storePreset(home, name, '{}', true), name).rejects.toThrow(RangeError)
  })

  test('is any .json file of its folder that is not hidden, in the order of names, and no larger than 200,000 bytes', async () => {
    const at = newHome()
    expect(await readPresets(at)).toEqual([])
    const folder = join(at.data, 'presets')
    mkdirSync(folder, { recursive: true })
    const put = (name: string, text = '{}') => writeFileSync(join(folder, name), text)
    for (const name of ['b.json', 'a.json', '.c.json', 'd.json.bak', 'e.txt', 'json']) put(name)
    put('most.json', x(200_000))
    put('too-much.json', x(200_001))
    const read = await readPresets(at)
    expect(read.map(p => [p.path, p.text.length, p.why])).toEqual([
      [join(folder, 'a.json'), 2, null],
      [join(folder, 'b.json'), 2, null],
      [join(folder, 'most.json'), 200_000, null],
      [join(folder, 'too-much.json'), 0, expect.stringMatching(/too-much\.json is far too large/)],
    ])
  })

  test('is not replaced unasked, and the sentence says how', async () => {
    const at = newHome()
    await storePreset(at, 'evening', 'first', false)
    expect(await storePreset(at, 'evening', 'second', false)).toEqual({
      ok: false,
      message: 'You have a preset evening already; --replace puts this one in its place.',
    })
  })
})

test('the name of the machine is read from a small file only', async () => {
  const at = newHome()
  mkdirSync(at.config, { recursive: true })
  const put = (text: string) => writeFileSync(join(at.config, 'machine'), text)
  put(`desk${' '.repeat(996)}`)
  expect(await machineId(at, names())).toBe('desk')
  put(`desk${' '.repeat(997)}`)
  await expect(machineId(at, names())).rejects.toThrow(
    /^Can't store the name of this machine: .* far too large/,
  )
})
