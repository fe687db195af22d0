import { existsSync, mkdirSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { beforeAll, describe, expect, test, vi } from 'vitest'
import { newFolder } from '../folders.ts'
import { gradino, type Row, soundsIn } from './bundle.ts'
import { type Said, typedIn } from './typed.ts'

type DemoRow = Row & { readonly tempo?: string; readonly rung?: number; readonly repetition?: number }

/** A line of the journal, read here without the program's own reader. */
type Line = {
  readonly id: string
  readonly k: string
  readonly of?: string
  readonly rep?: number
  readonly whole?: boolean
  readonly clean?: boolean
  readonly tempo?: { readonly bpm: { readonly n: number; readonly d: number } }
}
type Verdict = {
  readonly rep: number
  readonly bpm: number
  readonly clean: boolean
  readonly whole: boolean
}

const KEPT = ['demo.wav', 'journal.jsonl', 'onsets.json', 'screen.txt']

const folder = newFolder()
const text = (name: string, run = 'kept'): string => readFileSync(join(folder, run, name), 'utf8')
const once = <T>(f: () => T): (() => T) => {
  let known: { readonly value: T } | undefined
  return () => {
    known ??= { value: f() }
    return known.value
  }
}
const heard = once(() => soundsIn(join(folder, 'kept', 'demo.wav')))
const table = once((): DemoRow[] => JSON.parse(text('onsets.json')))
const journal = (): Line[] =>
  text('journal.jsonl')
    .trimEnd()
    .split('\n')
    .map(line => JSON.parse(line))

/** The verdicts that stand, in order. */
const verdicts = (): Verdict[] => {
  const takenBack = journal().flatMap(l => (l.k === 'takeBack' ? [l.of] : []))
  return journal()
    .filter(l => l.k === 'verdict' && !takenBack.includes(l.id))
    .map(l => ({
      rep: l.rep ?? 0,
      bpm: (l.tempo?.bpm.n ?? 0) / (l.tempo?.bpm.d ?? 1),
      clean: l.clean === true,
      whole: l.whole === true,
    }))
}

/** Verdicts just before each change of tempo, with the two tempos. */
const changes = () =>
  verdicts().flatMap((v, i, all) => {
    const before = all[i - 1]
    return before && before.bpm !== v.bpm ? [{ from: before.bpm, to: v.bpm, earlier: all.slice(0, i) }] : []
  })

let said: Said
/** Milliseconds that the demonstration had the real clock wait. */
let waited = 0
beforeAll(async () => {
  mkdirSync(join(folder, 'tmp'))
  const later = vi.spyOn(globalThis, 'setTimeout')
  said = await typedIn(folder, ['demo', '--fast', '--out', 'kept', '--json'], { TMPDIR: join(folder, 'tmp') })
  waited = later.mock.calls.reduce((sum, [, ms = 0]) => sum + ms, 0)
  later.mockRestore()
})

describe('the demonstration in virtual time', () => {
  test('waits for no clock of this world, needs no terminal and no device, and leaves all its files', () => {
    expect(said).toMatchObject({ status: 0, err: '' })
    const { frames, rate } = heard()
    expect(waited).toBeLessThan((1000 * frames) / rate / 10)
    expect(readdirSync(join(folder, 'kept')).sort()).toEqual(KEPT)
    expect([...JSON.parse(said.out).files].sort()).toEqual(KEPT.map(name => join('kept', name)))
  })

  test('leaves nothing else: its journal was in a temporary place', () => {
    expect(readdirSync(join(folder, 'tmp'))).toEqual([])
    expect(existsSync(join(folder, 'home'))).toBe(false)
  })

  test('lasts at most a minute and a half', () => {
    const { frames, rate } = heard()
    expect(frames / rate).toBeGreaterThan(45)
    expect(frames / rate).toBeLessThan(90)
  })

  test('the sounds in the file begin where the table says, each and no other', () => {
    const { starts, rate } = heard()
    expect(table().length).toBeGreaterThan(100)
    expect(starts).toEqual(table().map(r => r.frame))
    for (const r of table()) expect(r.seconds).toBe(r.frame / rate)
  })

  test('within a repetition the beats stand at their tempo, none drifts', () => {
    const reps = new Set(table().map(r => r.repetition))
    for (const rep of reps) {
      const [first, ...rest] = table().filter(
        r => r.repetition === rep && (r.role === 'downbeat' || r.role === 'beat'),
      )
      if (!first) continue
      const beat = (60 * 48_000) / Number(first.tempo)
      for (const r of rest) {
        const index = 2 * (r.measure - first.measure) + r.beat - first.beat
        expect(r.frame).toBe(first.frame + Math.round(index * beat))
      }
    }
    expect(reps.size).toBeGreaterThan(8)
  })

  test('each repetition sounds at the tempo that the journal has for it, on that rung', () => {
    const rungs: number[] = JSON.parse(said.out).rungs
    for (const v of verdicts()) {
      const heard = table().filter(r => r.repetition === v.rep)
      expect(new Set(heard.map(r => Number(r.tempo)))).toEqual(new Set([v.bpm]))
      expect(new Set(heard.map(r => rungs[(r.rung ?? 0) - 1]))).toEqual(new Set([v.bpm]))
    }
  })

  test('after the breakdown nothing of that repetition is heard', () => {
    const [cut] = verdicts().filter(v => !v.whole)
    const measures = table().filter(r => r.repetition === cut?.rep && r.role !== 'countIn' && r.measure > 0)
    expect(Math.max(...measures.map(r => r.measure))).toBe(2)
  })
})

describe('the journal of the demonstration, counted by hand', () => {
  test('a rung up only after three clean in a row at its tempo, each a whole repetition of its own', () => {
    const rises = changes().filter(c => c.to > c.from)
    expect(rises.length).toBeGreaterThan(0)
    for (const { from, earlier } of rises) {
      const three = earlier.slice(-3)
      expect(three.map(v => v.bpm)).toEqual([from, from, from])
      expect(three.every(v => v.clean && v.whole)).toBe(true)
      expect(new Set(three.map(v => v.rep)).size).toBe(3)
    }
  })

  test('a rung down only after two slips in a row, and one slip alone changes nothing', () => {
    const falls = changes().filter(c => c.to < c.from)
    expect(falls.length).toBeGreaterThan(0)
    for (const { earlier } of falls) expect(earlier.slice(-2).map(v => v.clean)).toEqual([false, false])
    const all = verdicts()
    const alone = all.findIndex((v, i) => !v.clean && all[i - 1]?.clean && all[i + 1]?.clean)
    expect(all[alone + 1]?.bpm).toBe(all[alone]?.bpm)
  })

  test('a verdict is taken back and given anew', () => {
    const [takeBack] = journal().filter(l => l.k === 'takeBack')
    const wrong = journal().find(l => l.id === takeBack?.of)
    expect(wrong).toMatchObject({ k: 'verdict', clean: false })
    expect(verdicts().find(v => v.rep === wrong?.rep)).toMatchObject({ clean: true })
  })

  test('the summary says the same', () => {
    const done = changes().filter(c => c.to > c.from)
    const all = verdicts()
    expect(JSON.parse(said.out)).toMatchObject({
      piece: 'Weir Street Overture',
      measures: '41-44',
      climbed: done.map(c => c.from),
      ceiling: Math.max(...done.map(c => c.from)),
      drops: changes().filter(c => c.to < c.from).length,
      verdicts: { clean: all.filter(v => v.clean).length, notClean: all.filter(v => !v.clean).length },
    })
  })
})

describe('the last screen', () => {
  test('is a practice screen of 80 by 24, without colors, that says what it is', () => {
    const rows = text('screen.txt').trimEnd().split('\n')
    expect(rows.length).toBeLessThanOrEqual(24)
    expect(Math.max(...rows.map(r => r.length))).toBeLessThanOrEqual(80)
    expect(text('screen.txt')).not.toContain('\u001b')
    expect(rows[0]).toMatch(/^ Demonstration: Weir Street Overture {3}m\. 41-44 +any key ends it$/)
    expect(rows.join('\n')).toContain('two of three in a row')
    expect(rows.join('\n')).toMatch(/here > +132 +ceiling/)
  })
})

describe('given again', () => {
  test('it is the same to the byte as a program of its own, even where continuous integration runs it', () => {
    gradino(folder, ['demo', '--fast', '--out', 'again'], { CI: 'true', FORCE_COLOR: '3' })
    for (const name of ['demo.wav', 'onsets.json', 'screen.txt'])
      expect(
        readFileSync(join(folder, 'again', name)).equals(readFileSync(join(folder, 'kept', name))),
        name,
      ).toBe(true)
  })

  test('in a home that was named its journal stays there, and only its own visit is copied', async () => {
    for (const run of ['one', 'two'])
      await typedIn(folder, ['--home', 'mine', 'demo', '--fast', '--out', run])
    const files = readdirSync(join(folder, 'mine', 'data', 'journal'), { recursive: true }) as string[]
    const kept = files
      .filter(f => f.endsWith('.jsonl'))
      .map(f => readFileSync(join(folder, 'mine', 'data', 'journal', f), 'utf8'))
      .join('\n')
      .split('\n')
      .filter(Boolean)
    const copies = ['one', 'two'].map(run => text('journal.jsonl', run).trimEnd().split('\n'))
    expect(kept).toEqual(copies.flat())
    expect(copies[1]?.length).toBe(journal().length)
  })

  test('without --out it says in three sentences how far it came', async () => {
    expect((await typedIn(folder, ['demo', '--fast'])).out.trimEnd().split('\n')).toEqual([
      'Reached today: quarter = 132, clean three in a row.',
      'Not reached yet: the goal, quarter = 160. You are at quarter = 132.',
      'Tomorrow starts at quarter = 132.',
    ])
  })
})

describe('what cannot be shown', () => {
  test.each([
    ['without a terminal', ['demo'], 2, 'The demonstration needs a terminal'],
    [
      'a device in virtual time',
      ['demo', '--fast', '--output', 'aplay'],
      2,
      '"aplay" doesn\'t work for --output',
    ],
    [
      'a folder in a folder that is not there',
      ['demo', '--fast', '--out', 'no/where'],
      1,
      "Can't write no/where",
    ],
    [
      'a file in place of the folder',
      ['demo', '--fast', '--out', 'kept/demo.wav'],
      1,
      "Can't write kept/demo.wav",
    ],
  ])('%s: one sentence', async (_, args, status, sentence) => {
    const { err, ...rest } = await typedIn(folder, args)
    expect(err).toContain(`gradino: ${sentence}`)
    expect(err.trimEnd().split('\n')).toHaveLength(1)
    expect(rest).toEqual({ status, out: '' })
  })
})
