import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { parseMidi } from 'midi-file'
import { beforeAll, describe, expect, test } from 'vitest'
import { homeAt } from '../../src/store/home.ts'
import { repertoire } from '../../src/store/repertoire.ts'
import { newFolder } from '../folders.ts'
import { overture } from '../store/scene.ts'
import { type Row, soundsIn } from './bundle.ts'
import { typedIn } from './typed.ts'

/** Renders in an empty folder: what was said as data, the table of onsets, and where the sounds of the file begin. */
const rendered = async (...args: string[]) => {
  const folder = newFolder()
  const { status, out, err } = await typedIn(folder, [
    ...['--json', 'render', '--out', 'click.wav', '--onsets', 'onsets.json'],
    ...args,
  ])
  expect(err).toBe('')
  expect(status).toBe(0)
  const rows: Row[] = JSON.parse(readFileSync(join(folder, 'onsets.json'), 'utf8'))
  return { folder, said: JSON.parse(out), rows, sound: soundsIn(join(folder, 'click.wav')) }
}

/** So many beats of a length in frames (a fraction n/d), each rounded by itself from a whole frame on. */
const beats = (from: number, n: number, d: number, count: number): number[] =>
  Array.from({ length: count }, (_, i) => from + Math.round((i * n) / d))

describe('a ladder whose click changes with the rung', () => {
  test('is subdivided below 60, in two from the tempo that was named', async () => {
    const { rows } = await rendered(
      ...['--start', '54', '--goal', '120', '--rungs', '3', '--measures', '1', '--count-in', '0'],
      ...['--pulse', 'quarter; half from 100'],
    )
    // Rungs 54, 80.5 and 120 (equal ratio): four beats with their eighths, four beats, two halves.
    const clicks = rows.map(r => r.role)
    const bars = clicks.join(' ').split('downbeat').slice(1)
    expect(bars.map(b => b.trim())).toEqual(['sub beat sub beat sub beat sub', 'beat beat beat', 'beat'])
  })
})

describe('a click track at one tempo', () => {
  // A quarter at 92 and 48 kHz lasts 48000 x 60 / 92 frames.
  const QUARTER = [48_000 * 60, 92] as const
  const FIRST = Math.round((4 * QUARTER[0]) / QUARTER[1])

  test('has each beat on its own rounded frame: a measure of count-in, then the passage', async () => {
    const { rows, sound, said } = await rendered('--tempo', '92', '--measures', '12')
    const expected = [...beats(0, ...QUARTER, 4), ...beats(FIRST, ...QUARTER, 48)]
    expect(rows.map(r => r.frame)).toEqual(expected)
    expect(sound.starts).toEqual(expected)
    expect(sound).toMatchObject({ rate: 48_000, frames: FIRST + Math.round((48 * QUARTER[0]) / QUARTER[1]) })
    expect(said).toMatchObject({
      files: ['click.wav', 'onsets.json'],
      rate: 48_000,
      frames: sound.frames,
      seconds: sound.frames / 48_000,
      onsets: 52,
      rungs: [92],
    })
  })

  test('says of each onset its time, role, measure and beat', async () => {
    const { rows } = await rendered('--tempo', '92')
    expect(rows[0]).toEqual({ frame: 0, seconds: 0, role: 'countIn', measure: -1, beat: 1 })
    expect(rows[4]).toEqual({ frame: FIRST, seconds: FIRST / 48_000, role: 'downbeat', measure: 1, beat: 1 })
    expect(rows.at(-1)).toMatchObject({ role: 'beat', measure: 2, beat: 4 })
  })

  test('at another rate is the same music', async () => {
    const { sound } = await rendered('--tempo', '100', '--rate', '44100', '--measures', '3')
    expect(sound.rate).toBe(44_100)
    const quarter = [44_100 * 60, 100] as const
    expect(sound.starts).toEqual([...beats(0, ...quarter, 4), ...beats(105_840, ...quarter, 12)])
  })

  test('without a count-in begins with its first beat', async () => {
    const { sound } = await rendered('--tempo', '120', '--count-in', '0', '--measures', '1')
    expect(sound).toEqual({ rate: 48_000, frames: 96_000, starts: [0, 24_000, 48_000, 72_000] })
  })

  test('counts 6/8 in dotted quarters, and divides the beat in three', async () => {
    const { rows } = await rendered(
      ...['--tempo', 'dotted-quarter=80', '--meter', '6/8', '--subdivide', '3'],
      ...['--measures', '1', '--count-in', '1'],
    )
    // One measure of two beats lasts 1.5 s: just long enough to breathe.
    const eighths = Array.from({ length: 12 }, (_, i) => i * 12_000)
    expect(rows.map(r => r.frame)).toEqual(eighths)
    expect(rows.slice(6).map(r => r.role)).toEqual(['downbeat', 'sub', 'sub', 'beat', 'sub', 'sub'])
  })

  test('of a piece in the repertoire is counted as it is written there', async () => {
    const folder = newFolder()
    await repertoire(homeAt(join(folder, 'home'))).save(overture, null)
    const name = 'Weir Street Overture/run at the weir'
    const { status, out } = await typedIn(folder, [
      ...['--json', 'render', name, '--out', 'run.wav', '--tempo', 'dotted-quarter=60'],
    ])
    expect(status).toBe(0)
    expect(JSON.parse(out)).toMatchObject({ unit: 'dotted-quarter', rungs: [60], onsets: 2 + 8, seconds: 10 })
  })
})

describe('a whole ladder', () => {
  test('has its rungs one behind the other, each with its count-in', async () => {
    const { rows, sound, said } = await rendered('--start', '100', '--goal', '112', '--meter', '3/4')
    expect(said.rungs).toEqual([100, 104, 108, 112])
    let from = 0
    const expected = said.rungs.flatMap((bpm: number) => {
      const quarter = [48_000 * 60, bpm] as const
      const first = from + Math.round((3 * quarter[0]) / bpm)
      const all = [...beats(from, ...quarter, 3), ...beats(first, ...quarter, 6)]
      from = first + Math.round((6 * quarter[0]) / bpm)
      return all
    })
    expect(rows.map(r => r.frame)).toEqual(expected)
    expect(sound.starts).toEqual(expected)
    expect(sound.frames).toBe(from)
  })

  test('is played several times at each rung; after the first time a pick-up has the short count-in', async () => {
    const { rows, said } = await rendered(
      ...['--start', '60', '--goal', '63', '--pickup', 'quarter', '--measures', '1', '--times', '3'],
    )
    expect(said).toMatchObject({ rungs: [60, 63], times: 3 })
    // Whole measure and three beats, then three beats alone.
    const counts = rows.map(r => (r.role === 'countIn' ? 'c' : '.')).join('')
    expect(counts).toBe('ccccccc.....ccc.....ccc.....'.repeat(2))
  })

  test('is the same music as a MIDI file', async () => {
    const folder = newFolder()
    const args = ['--start', '60', '--goal', '66', '--pickup', 'eighth', '--subdivide', '2', '--times', '2']
    const said = await typedIn(folder, ['render', '--out', 'l.MID', '--onsets', 'o.json', ...args])
    expect(said).toMatchObject({ status: 0, err: '' })
    const rows: Row[] = JSON.parse(readFileSync(join(folder, 'o.json'), 'utf8'))
    const { header, tracks } = parseMidi(readFileSync(join(folder, 'l.MID')))
    const timed = tracks.flatMap(track => {
      let tick = 0
      return track.map(event => {
        tick += event.deltaTime
        return { tick, event }
      })
    })
    const tempos = timed.flatMap(({ tick, event }) =>
      event.type === 'setTempo' ? [{ tick, us: event.microsecondsPerBeat }] : [],
    )
    const seconds = timed
      .filter(x => x.event.type === 'noteOn')
      .map(x =>
        tempos.reduce((sum, { tick, us }, i) => {
          const to = Math.min(x.tick, tempos[i + 1]?.tick ?? Infinity)
          return to > tick ? sum + ((to - tick) * us) / (header.ticksPerBeat ?? 1) / 1e6 : sum
        }, 0),
      )
    expect(tempos.map(t => Math.round(6e7 / t.us))).toEqual([60, 60, 63, 63, 66, 66])
    expect(seconds).toHaveLength(rows.length)
    seconds.forEach((s, i) => {
      expect(Math.abs(s - (rows[i]?.seconds ?? 0))).toBeLessThan(0.001)
    })
  })

  test('is said in one line', async () => {
    const { out } = await typedIn(newFolder(), ['render --out l.wav --start 100 --goal 112'])
    expect(out).toBe('l.wav: 4 rungs, quarter = 100 to 112, 27.2 seconds.\n')
  })
})

describe('what cannot be rendered', () => {
  const TEMPO = ['--tempo', '92']
  test.each([
    ['an unknown kind of file', ['--out', 'click.ogg', ...TEMPO], '"click.ogg" doesn\'t work for --out'],
    ['no file', TEMPO, '--out is missing'],
    ['no music', ['--out', 'c.wav'], 'Say what to render'],
    ['a tempo in words', ['--out', 'c.wav', '--tempo', 'fast'], '"fast" doesn\'t work for the tempo'],
    ['a tempo and a ladder', ['--out', 'c.wav', ...TEMPO, '--goal', '100'], '"100" doesn\'t work for --goal'],
    [
      'a goal below the start',
      ['--out', 'c.wav', '--start', '90', '--goal', '80'],
      '"80" doesn\'t work for the goal tempo',
    ],
    [
      'a rate below 8000',
      ['--out', 'c.wav', ...TEMPO, '--rate', '7999'],
      '"7999" doesn\'t work for the rate',
    ],
    [
      'a rate above 192000',
      ['--out', 'c.wav', ...TEMPO, '--rate', '192001'],
      '"192001" doesn\'t work for the rate',
    ],
    [
      'half a frame',
      ['--out', 'c.wav', ...TEMPO, '--rate', '44100.5'],
      '"44100.5" doesn\'t work for the rate',
    ],
    ['no times', ['--out', 'c.wav', ...TEMPO, '--times', '0'], '"0" doesn\'t work for the times'],
    ['no such meter', ['--out', 'c.wav', ...TEMPO, '--meter', '4/5'], '"4/5" doesn\'t work for the meter'],
    [
      'one name for both files',
      ['--out', 'c.wav', ...TEMPO, '--onsets', './c.wav'],
      '"./c.wav" doesn\'t work for --onsets',
    ],
    [
      'more than 4 GB',
      ['--out', 'c.wav', '--tempo', '2', '--measures', '999'],
      '"2000 minutes" doesn\'t work for the length of the sound file',
    ],
    ['too slow for MIDI', ['--out', 'c.mid', '--tempo', '2'], '"quarter = 2.0" doesn\'t work for the tempo'],
    [
      'more clicks than a life',
      ['--out', 'c.wav', ...TEMPO, '--meter', '64/1', '--measures', '999', '--times', '99'],
      '"25318656" doesn\'t work for the number of clicks',
    ],
    [
      'an unknown piece',
      ['--out', 'c.wav', 'Weir Street Overture'],
      'You have no pieces yet, so no "Weir Street Overture"',
    ],
    ['an unknown option', ['--out', 'c.wav', ...TEMPO, '--loud'], "unknown option '--loud'"],
  ])('%s: one sentence, status 2, no file', async (_, args, sentence) => {
    const folder = newFolder()
    const { status, out, err } = await typedIn(folder, ['render', ...args])
    expect(err).toContain(`gradino: ${sentence}`)
    expect(err.trimEnd().split('\n')).toHaveLength(1)
    expect({ status, out }).toEqual({ status: 2, out: '' })
    expect(readdirSync(folder)).toEqual([])
  })

  test.each([
    ['a folder that is not there', 'nowhere/c.wav', 'its folder does not exist'],
    ['a file in place of a folder', 'taken/c.wav', 'a part of that path is a file'],
    ['a folder of that name', 'there.wav', 'that is a folder'],
  ])('%s: one sentence, status 1, and the other file is not written either', async (_, path, why) => {
    const folder = newFolder()
    writeFileSync(join(folder, 'taken'), '')
    mkdirSync(join(folder, 'there.wav'))
    const said = await typedIn(folder, ['render', '--out', 'c.mid', '--onsets', path, ...TEMPO])
    expect(said).toMatchObject({ status: 1, out: '' })
    expect(said.err).toMatch(new RegExp(`^gradino: Can't write .*${path}: ${why}[^\\n]*\\.\\n$`))
    expect(readdirSync(folder).sort()).toEqual(['taken', 'there.wav'])
  })

  test('leaves the file that was there', async () => {
    const folder = newFolder()
    await typedIn(folder, ['render', '--out', 'c.wav', ...TEMPO])
    const before = readFileSync(join(folder, 'c.wav'))
    await typedIn(folder, ['render', '--out', 'c.wav', ...TEMPO, '--onsets', 'nowhere/o.json'])
    expect(readFileSync(join(folder, 'c.wav')).equals(before)).toBe(true)
    await typedIn(folder, ['render', '--out', 'c.wav', '--tempo', '93'])
    expect(readFileSync(join(folder, 'c.wav')).equals(before)).toBe(false)
    expect(existsSync(join(folder, 'home'))).toBe(false)
  })
})

// Common practice, no source; computed apart from the program (a ramp: t = 60 B/(T1-T0) ln(T1/T0)).
describe('7/8 as 2+2+3, eighth = 208, then a measure that slows evenly to 156', () => {
  const folder = newFolder()
  const type = async (...args: string[]): Promise<void> => expect((await typedIn(folder, args)).err).toBe('')
  beforeAll(async () => {
    await type(`piece add "Old Mill Round" --passage seven --in 41-42 --meter 2+2+3/8 --goal eighth=208`)
    await type('piece', 'edit', 'Old Mill Round/seven', '--ramp', '42', '--tempo-mark', 'end=eighth=156')
  })
  const groupsAt = async (tempo: string, more = '') => {
    await type(
      `render "Old Mill Round/seven" --tempo ${tempo} --count-in 0 --out x.wav --onsets x.json ${more}`,
    )
    const rows: Row[] = JSON.parse(readFileSync(join(folder, 'x.json'), 'utf8'))
    const frames = rows.filter(r => r.role === 'downbeat' || r.role === 'group').map(r => r.frame)
    return frames
  }
  const exact = [0, 27692, 55385, 96923, 96923 + 0.598564 * 48000, 96923 + 1.245063 * 48000]

  test('its groups stand where they were computed', async () => {
    const at = await groupsAt('eighth=208')
    for (const [i, frame] of exact.entries())
      expect(Math.abs((at[i] as number) - frame)).toBeLessThanOrEqual(1)
  })

  test('at 75 % all of it lasts 4/3 as long, where it was said that tempos change always', async () => {
    const at = await groupsAt('eighth=156', '--tempo-changes always')
    for (const [i, frame] of exact.entries())
      expect(Math.abs((at[i] as number) - (frame * 4) / 3)).toBeLessThanOrEqual(1)
    await type('piece', 'edit', 'Old Mill Round/seven', '--tempo-changes', '70%')
    expect(await groupsAt('eighth=156')).toEqual(at)
    // Else below 80 % the tempo stays.
    await type('piece', 'edit', 'Old Mill Round/seven', '--tempo-changes', 'none')
    expect(((await groupsAt('eighth=156'))[5] as number) - (at[5] as number)).toBeLessThan(-1000)
  })

  test('what is no share is refused', async () => {
    const said = await typedIn(folder, ['piece', 'edit', 'Old Mill Round/seven', '--tempo-changes', 'often'])
    expect(said).toMatchObject({ status: 2 })
    expect(said.err.trim()).toBe(
      `gradino: "often" doesn't work for the tempo change. Try always, or a share of the goal from 1% to 100%, like 60%.`,
    )
  })
})
