import { describe, expect, test } from 'vitest'
import { contextFrom, Stop } from '../../src/commands/context.ts'
import { findTarget } from '../../src/commands/target.ts'
import { sectionKey } from '../../src/ladder/key.ts'
import { frac } from '../../src/music/fraction.ts'
import { meterText } from '../../src/music/meter.ts'
import { typed } from '../../src/music/tempo.ts'
import type { Piece } from '../../src/store/piece.ts'
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

const target = async (name: string, t = {}) => {
  const home = newHome()
  expect(await repertoire(home).save(piece, null)).toMatchObject({ ok: true })
  return findTarget({ ...contextFrom({}, {}), home }, name, t)
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
    await expect(target('weir/run/down', { start: '160' })).rejects.toThrow(/not below the start/)
  })

  test('a section that is not there is refused with those that are', async () => {
    const refused = target('weir/run/coda')
    await expect(refused).rejects.toThrow(Stop)
    await expect(refused).rejects.toThrow(/^section: .* accepted: .*\/up, .*\/down\.$/)
  })
})
