import { describe, expect, test } from 'vitest'
import { contextFrom } from '../../src/app/context.ts'
import { findTarget } from '../../src/app/find-target.ts'
import { readNow } from '../../src/app/now.ts'
import { builtIn } from '../../src/app/presets.ts'
import type { Typed } from '../../src/cli/commands.ts'
import { parseAsked } from '../../src/cli/options.ts'
import { clickAt } from '../../src/click/by-tempo.ts'
import { sectionKey } from '../../src/ladder/key.ts'
import { frac } from '../../src/music/fraction.ts'
import { meterText } from '../../src/music/meter.ts'
import { sentence } from '../../src/music/result.ts'
import { tempo, typed } from '../../src/music/tempo.ts'
import type { Piece } from '../../src/repertoire/piece.ts'
import type { Home } from '../../src/store/home.ts'
import { repertoire } from '../../src/store/repertoire.ts'
import { newHome, overture } from '../store/scene.ts'

const weir = overture.passages[1] as Piece['passages'][number]
const piece: Piece = {
  ...overture,
  passages: [
    {
      ...weir,
      start: 'dotted-quarter=60',
      changes: [{ at: '43', meter: '9/8' }],
      tempos: [
        { at: '41', tempo: 'dotted-quarter=92' },
        { at: '43', tempo: 'dotted-quarter=46' },
      ],
      sections: [
        { id: 's0000001', name: 'up', from: '41', to: '42.2' },
        { id: 's0000002', name: 'down', from: '42.2', to: 'end' },
      ],
    },
  ],
}

/** What is practiced, as the options say; rejects with what is said of a problem. */
const asTyped = async (home: Home, name: string, t: Typed<'practice'>) => {
  const asked = parseAsked(t, builtIn())
  const found = asked.ok
    ? await findTarget(await readNow({ ...contextFrom({}, {}), home }), name, asked.value)
    : asked
  if (!found.ok) throw new Error(sentence(found.problem))
  return found.value
}

const target = async (name: string, t: Typed<'practice'> = {}) => {
  const home = newHome()
  expect(await repertoire(home).save(piece, null)).toMatchObject({ ok: true })
  return asTyped(home, name, t)
}

describe('what is practiced, by name', () => {
  test('a passage has all its meters and tempos', async () => {
    const t = await target('weir/run')
    expect(t).toMatchObject({ key: sectionKey(weir.id), music: 'crescendo into 43' })
    expect(t.numbers).toEqual(['41', '42', '43', '44'])
    expect(t.form.meters.map(m => meterText(m.meter))).toEqual(['6/8', '9/8'])
    expect(t.form.marks.map(m => typed(m.tempo))).toEqual(['dotted-quarter=92', 'dotted-quarter=46'])
  })

  test('a section has its own key, music and first measure, and the ladder’s ends of where it begins', async () => {
    const up = await target('weir/run at the weir/up')
    expect(up).toMatchObject({ key: sectionKey('s0000001'), numbers: ['41', '42'] })
    expect(up.title).toBe('Weir Street Overture   run at the weir, m. 41-44, section up')
    expect([up.form.pickup, up.form.length]).toEqual([frac(0), frac(9, 8)])
    const down = await target('weir/run/down')
    expect(down).toMatchObject({ key: sectionKey('s0000002'), numbers: ['42', '43', '44'] })
    expect(down.form.pickup).toEqual(frac(3, 8))
    expect([down.start && typed(down.start), typed(down.goal)]).toEqual([
      'dotted-quarter=60',
      'dotted-quarter=92',
    ])
  })

  test('a goal typed for a section is that section’s', async () => {
    expect(typed((await target('weir/run/down', { goal: '132' })).goal)).toBe('132')
    await expect(target('weir/run/down', { start: '160' })).rejects.toThrow(/at or above the start/)
  })

  test('a section that is not there is refused with those that are', async () => {
    const refused = target('weir/run/coda')
    await expect(refused).rejects.toThrow(/^No section is called .* You have .*\/up, .*\/down\.$/)
  })
})

describe('how it is clicked', () => {
  const BEATS = { beats: 'all; 1 from dotted-quarter=84' }
  const beatsAt = (t: Awaited<ReturnType<typeof target>>, bpm: number) =>
    clickAt(t.click, t.form, tempo(bpm, t.goal.unit), t.goal).only?.beats

  const kept = async (name: string, t: Typed<'practice'> = {}) => {
    const home = newHome()
    const [p] = piece.passages
    const clicked = { ...piece, passages: [{ ...(p as typeof weir), ...BEATS, rests: 8 }] }
    expect(await repertoire(home).save(clicked, null)).toMatchObject({ ok: true })
    return asTyped(home, name, t)
  }

  test('as the passage says, unless something else is typed', async () => {
    const t = await kept('weir/run')
    expect([beatsAt(t, 83), beatsAt(t, 84)]).toEqual([undefined, [1]])
    const other = await kept('weir/run', { beats: '2' })
    expect([beatsAt(other, 83), beatsAt(other, 84)]).toEqual([[2], [2]])
  })

  test('a section that begins at another written tempo, and sections that are joined, change on the same rung', async () => {
    // From 43 on the music runs at half the tempo: the passage at 84 is at 42 there.
    const home = newHome()
    const sections = [
      { id: 's0000003', name: 'half', from: '43', to: '43.2' },
      { id: 's0000004', name: 'rest', from: '43.2', to: 'end' },
    ]
    const passages = [{ ...(piece.passages[0] as typeof weir), ...BEATS, sections }]
    expect(await repertoire(home).save({ ...piece, passages }, null)).toMatchObject({ ok: true })
    for (const name of ['weir/run/half', 'weir/run/half+rest']) {
      const t = await asTyped(home, name, {})
      expect([beatsAt(t, 41.9), beatsAt(t, 42)]).toEqual([undefined, [1]])
    }
  })

  test('rests are counted before the passage and a section that begins with it, in a run from the entry', async () => {
    expect((await kept('weir/run')).rests).toBe(8)
    expect((await kept('weir/run/up')).rests).toBe(8)
    expect((await kept('weir/run/down')).rests).toBeUndefined()
    expect((await kept('weir/run', { rests: '4', take: 'entrance' })).rests).toBe(4)
    await expect(kept('weir/run', { rests: '4' })).rejects.toThrow('--take entrance')
  })

  test('beats that no measure has, or measures on without measures off, are refused', async () => {
    await expect(target('weir/run', { beats: 'all; 4 from 112' })).rejects.toThrow('from 1 to 3 in 9/8')
    await expect(target('weir/run', { on: '2' })).rejects.toThrow('--on and --off together')
  })
})
