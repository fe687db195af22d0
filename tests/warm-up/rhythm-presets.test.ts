import { describe, expect, it } from 'vitest'
import rhythms from '../../presets/rhythms.json'
import { decimal, frac } from '../../src/music/fraction.ts'
import { sentence } from '../../src/music/result.ts'
import { quickness, rhythmText } from '../../src/music/rhythm.ts'
import { checkPreset, rhythmOf } from '../../src/warm-up/preset.ts'

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
