import { describe, expect, it } from 'vitest'
import ladders from '../../presets/ladders.json'
import rhythms from '../../presets/rhythms.json'
import warmUps from '../../presets/warm-ups.json'
import { sentence } from '../../src/music/result.ts'
import { checkPreset } from '../../src/warm-up/preset.ts'

const item = { name: 'Thirds', words: 'Slurred.', meter: '4/4', measures: 2, tempos: ['60'] }
const warmUp = (...items: object[]) => ({ v: 1, kind: 'warm-up', name: 'mine', title: 'Mine', items })

describe('presets', () => {
  it('that come with the program are all in order, each name once', () => {
    const all = [...warmUps, ...ladders, ...rhythms]
    for (const p of all) expect(checkPreset(p), p.name).toMatchObject({ ok: true })
    expect(new Set(all.map(p => p.name)).size).toBe(all.length)
  })

  it('a short one is enough', () => {
    const read = checkPreset(warmUp(item))
    expect(read).toMatchObject({ ok: true, value: { items: [{ times: 1 }] } })
  })

  it.each([
    [warmUp({ ...item, keys: ['H major'] }), /^In items, 1, keys.*"?H major"?.*doesn't work. Try .*key/],
    [warmUp({ ...item, keys: 'all' }), /^In items, 1, keys "all" .* rotate, or a list of keys/],
    [
      warmUp({ ...item, mode: 'dorian' }),
      /^In items, 1, mode "dorian" .* major, harmonic minor, melodic minor/,
    ],
    [warmUp({ ...item, exercise: 'gong' }), /^In items, 1, exercise "gong" .* long-tones, scale/],
    [warmUp({ ...item, lengths: [4] }), /^In items, 1, measures .* or else lengths/],
    [warmUp({ ...item, minutes: 0 }), /^In items, 1, minutes "0" .* 0.5 to 60/],
    [warmUp({ ...item, tone: 'tonic' }), /^In items, 1, tone "tonic" .* no keys/],
    [warmUp({ ...item, tone: 'H4' }), /^In items, 1, tone "H4" .* C5 or Bb3/],
    [warmUp(item, item), /for the items.* exercises of different names/],
    [{ ...warmUp(item), rest: 'long' }, /^"long".* for the rest.* as-long/],
    [{ ...warmUp(item), v: 2 }, /^"2".* for the v.* newer Gradino/],
  ])('a wrong one is refused by its field: %#', (found, said) => {
    const p = checkPreset(found)
    expect(!p.ok && sentence(p.problem)).toMatch(said)
  })
})
