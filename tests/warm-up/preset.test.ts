import { describe, expect, it } from 'vitest'
import ladders from '../../presets/ladders.json'
import rhythms from '../../presets/rhythms.json'
import warmUps from '../../presets/warm-ups.json'
import { decimal, frac } from '../../src/music/fraction.ts'
import { sentence } from '../../src/music/result.ts'
import { quickness, rhythmText } from '../../src/music/rhythm.ts'
import { checkPreset, rhythmOf } from '../../src/warm-up/preset.ts'

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

const presets = rhythms.map(found => {
  const p = checkPreset(found)
  if (!p.ok || p.value.kind !== 'rhythm') throw new Error(JSON.stringify(found))
  return { ...rhythmOf(p.value), usual: p.value.usual === true }
})
/** The steps from a note of the group to the next that are quick: after every note that is as short as any. */
const quickSteps = (ratios: readonly number[]): number[] =>
  ratios.flatMap((r, i) => (r === Math.min(...ratios) ? [i] : []))

describe('the rhythms that come with the program', () => {
  it('are for groups of two, three, four and six, and no two are the same', () => {
    expect([...new Set(presets.map(p => p.ratios.length))].sort()).toEqual([2, 3, 4, 6])
    expect(new Set(presets.map(p => p.name)).size).toBe(presets.length)
    expect(new Set(presets.map(rhythmText)).size).toBe(presets.length)
  })

  it('the usual ones of each group make every step quick in at least one', () => {
    for (const n of [2, 3, 4, 6]) {
      const usual = presets.filter(p => p.usual && p.over === 1 && p.ratios.length === n)
      const quick = new Set(usual.flatMap(p => quickSteps(p.ratios)))
      expect([...quick].sort(), `groups of ${n}`).toEqual([...Array(n).keys()])
    }
  })

  it('a stop on each note of each group adds a whole group’s time and changes no speed', () => {
    const stops = presets.filter(p => p.over > 1)
    expect(stops).toHaveLength(2 + 3 + 4 + 6)
    for (const p of stops) {
      expect(quickness(p), p.name).toEqual(frac(1))
      expect(p.ratios.reduce((a, b) => a + b, 0)).toBe(2 * p.ratios.length)
    }
  })

  it('are as much quicker as the sum by number and shortest says', () => {
    const said = presets.filter(p => p.over === 1).map(p => [rhythmText(p), decimal(quickness(p))])
    expect(Object.fromEntries(said)).toEqual({
      '3:1': '2',
      '1:3': '2',
      '2:1': '1.5',
      '1:2': '1.5',
      '2:1:1': '1.333',
      '1:2:1': '1.333',
      '1:1:2': '1.333',
      '3:1:1:1': '1.5',
      '1:1:1:3': '1.5',
      '2:2:1:1': '1.5',
      '1:1:2:2': '1.5',
      '5:1:1:1:1:1': '1.667',
      '1:1:1:1:1:5': '1.667',
      '2:2:2:1:1:1': '1.5',
      '1:1:1:2:2:2': '1.5',
    })
  })

  it.each([
    [{ ...rhythms[0], ratios: '1:1' }, /^"1:1".* for the ratios.* 2 to 12 lengths/],
    [{ ...rhythms[0], name: 'Long Short' }, /for the name.* small letters/],
    [{ ...rhythms[0], usual: 'yes' }, /for the usual.* true or false/],
    [{ ...rhythms[0], kind: 'tune' }, /^In preset, kind "tune" .* warm-up, ladder, rhythm\.$/],
    [{ ...rhythms[0], kind: 'constructor' }, /^In preset, kind/],
  ])('a wrong one is refused by the field that is wrong: %#', (found, said) => {
    const p = checkPreset(found)
    expect(!p.ok && sentence(p.problem)).toMatch(said)
  })
})
